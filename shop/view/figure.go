package view

import (
	"math"
	"strconv"
	"strings"
	"time"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/geom"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Speed is a speed of the car, to show and to send.
type Speed struct {
	Shown string `json:"shown"`
	Value string `json:"value"`
}

// Cell is a figure in a row, one a build.
type Cell struct {
	Verdict string `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Text    string `json:"text"`
	Word    string `json:"word"`
	Detail  string `json:"detail,omitempty"`
	ValueID string `json:"valueId,omitempty"`
	State   string `json:"state" enum:"ok,estimated,outside,unknown"`
	Reason  string `json:"reason,omitempty"`
	Tier    string `json:"tier" enum:"static,modes,screening,time"`
}

// Tidy is a plain number with six digits: more is noise, and JSON the longer for it.
func Tidy(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil || math.IsNaN(out) || math.IsInf(out, 0) {
		return 0
	}
	return out
}

// State is how far a value can be relied on, as a code.
func State(v *figure.Value) string {
	switch {
	case v == nil || v.State == figure.Unknown || math.IsNaN(v.Value):
		return "unknown"
	case v.State == "":
		return "ok"
	}
	return string(v.State)
}

// Length is a length [m] as a plain number in the unit shown.
func (s *Trial) Length(v float64) float64 {
	u := quantity.Shown(quantity.Length, s.System)
	return Tidy(u.FromSI(v))
}

// KnownLength is Length of a length that may not be known.
func (s *Trial) KnownLength(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	x := s.Length(v)
	return &x
}

// Point is a point in the unit shown.
func (s *Trial) Point(p geom.Vec) []float64 {
	return []float64{s.Length(p.X), s.Length(p.Y), s.Length(p.Z)}
}

// Force is a force [N] as a plain number in the unit shown.
func (s *Trial) Force(v float64) float64 {
	u := quantity.Shown(quantity.Force, s.System)
	return math.Round(u.FromSI(v)*10) / 10
}

// Speed is a speed to show and to send back.
func (s *Trial) Speed(v float64) Speed {
	shown := quantity.Format(v, quantity.SpeedRoad, s.System, 0)
	return Speed{Shown: shown, Value: shown}
}

// Cell shows a value in a row.
func (s *Trial) Cell(v *figure.Value, verdict finding.Verdict) Cell {
	c := Cell{Verdict: string(verdict), Word: wording.Verdict(verdict), State: State(v), Tier: "static"}
	if v == nil {
		c.Text, c.Reason = quantity.Nothing, "not computed"
		c.Verdict, c.Word = string(finding.Unknown), wording.Verdict(finding.Unknown)
		return c
	}
	c.Tier, c.Text, c.Reason = string(v.Tier), s.Teller.Value(v), s.Teller.Doubt(v)
	switch {
	case c.State == "unknown" && strings.HasPrefix(v.Reason, figure.None):
		c.Verdict, c.Word = string(finding.NoLimit), wording.Verdict(finding.NoLimit)
	case c.State == "unknown":
		c.Text = quantity.Nothing
	default:
		c.ValueID = desk.ValueID(v)
	}
	return c
}

// Verdict is how a value is judged.
func (s *Trial) Verdict(v *figure.Value) finding.Verdict {
	for i := range s.Findings {
		if s.Findings[i].Value == v {
			return s.Findings[i].Verdict
		}
	}
	verdict, _ := finding.One(s.Answer, v)
	return verdict
}

// Where is a place without its build.
func (s *Trial) Where(p *figure.Place) string {
	q := *p
	q.Build = ""
	if q.Direction == "mean" {
		q.Direction, q.Velocity, q.HasClick = "", 0, false
	}
	return s.Teller.Place(q)
}

// Has reports whether a road was driven or estimated in a load state.
func (s *Trial) Has(road string, speed float64, load string, tier figure.Tier) bool {
	for i := range s.Answer.Values {
		if v := &s.Answer.Values[i]; v.Tier == tier && v.Place.Road == road && desk.SameSpeed(v.Place.Speed, speed) && v.Place.Load == load {
			return true
		}
	}
	return false
}

// Spaced writes the dashes of an id as spaces.
func Spaced(text string) string { return strings.ReplaceAll(text, "-", " ") }

// When is a time as it is shown: the day and the minute, of this machine.
func When(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format("2 Jan 2006, 15:04")
}

// Listed is a list that is never null.
func Listed[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Cut is the beginning of a text, of at most so many letters.
func Cut(text string, most int) string {
	text = strings.ToValidUTF8(text, "\uFFFD")
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// Sentence is what a question was refused with, as a sentence of the page.
func Sentence(text string) string {
	text = wording.Upper(text)
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}
