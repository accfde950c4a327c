package wording

import (
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
)

// Teller words one answer for one reader.
type Teller struct {
	System quantity.System

	answer *study.Answer
	builds map[string]string
	loads  map[string]string
	nobody map[string]bool // load states with nothing in them
}

// New makes a teller. The answer may be nil: then builds and load states are
// called by their ids.
func New(answer *study.Answer, system quantity.System) *Teller {
	if answer == nil {
		return OfJob(nil, nil, system)
	}
	t := OfJob(answer.Job.Builds, answer.Job.Loads, system)
	t.answer = answer
	return t
}

// OfJob makes a teller that knows the names of a job's builds and load states, and no
// answer.
func OfJob(builds []*car.Build, loads []car.Load, system quantity.System) *Teller {
	t := &Teller{System: system, builds: map[string]string{}, loads: map[string]string{}, nobody: map[string]bool{}}
	for _, b := range builds {
		t.builds[b.ID] = b.Name
	}
	for i := range loads {
		l := &loads[i]
		t.loads[l.ID] = l.Name
		t.nobody[l.ID] = len(l.Items) == 0
	}
	return t
}

// System reads the name of a system of units: metric, imperial or mixed.
func System(name string) (quantity.System, error) {
	switch strings.ToLower(name) {
	case "metric", "":
		return quantity.Metric, nil
	case "imperial":
		return quantity.Imperial, nil
	case "mixed":
		return quantity.Mixed, nil
	}
	return 0, fmt.Errorf("units are metric, imperial or mixed, not %q", name)
}

// SystemName is the name that System reads.
func SystemName(s quantity.System) string {
	switch s {
	case quantity.Imperial:
		return "imperial"
	case quantity.Mixed:
		return "mixed"
	case quantity.Metric:
	}
	return "metric"
}

// Amount is a figure with its unit: "10.3 mm". code may be empty where the SI
// unit alone says what it is.
func (t *Teller) Amount(code, si string, v float64) string {
	return unitOf(code, si, t.System).format(v)
}

// Rough is an amount in SI units as an owner reads it: to two digits in the unit shown,
// and no finer than that unit is shown elsewhere.
func (t *Teller) Rough(code, si string, v float64) string {
	u := unitOf(code, si, t.System)
	shown := u.reading(v)
	if shown == 0 {
		return u.format(v)
	}
	places := int(math.Floor(math.Log10(math.Abs(shown))))
	digits := min(u.digits, max(0, 1-places))
	if places > 1 {
		step := math.Pow(10, float64(places-1))
		v *= math.Round(shown/step) * step / shown
	}
	return u.with(u.number(v, digits))
}

// Unit is the label of the unit a code is shown in; empty for a pure number.
func (t *Teller) Unit(code string) string { return unitOf(code, siOf(code), t.System).label }

// Number is a value of a code without its unit.
func (t *Teller) Number(code string, v float64) string {
	u := unitOf(code, siOf(code), t.System)
	return u.number(v, u.digits)
}

// Value is a value with its unit and band: "10.3 mm (4 to 16)"; a signed distance
// has its side: "9.8 mm clear", "21.5 mm into the stop". Without a value it is
// "not known", or "none" where there is nothing to know.
func (t *Teller) Value(v *figure.Value) string {
	switch {
	case v != nil && v.State == figure.Unknown && strings.HasPrefix(v.Reason, figure.None):
		return "none"
	case missing(v):
		return "not known"
	}
	u := unitOf(v.Code, siOf(v.Code), t.System)
	s, ok := sided[v.Code]
	if !ok {
		return u.format(v.Value) + u.band(v.Low, v.High, v.HasBand)
	}
	word := s.good
	if s.turn(v.Value) < 0 {
		word = s.bad
	}
	text := u.format(math.Abs(v.Value)) + " " + word
	if band := s.span(u, v, s.good, s.bad); band != "" {
		text += " (" + band + ")"
	}
	return text
}

// Cell is a value without unit and band for a table whose row names it: "10.3". A
// signed distance has its side only where it is the wrong one: "21.5 into".
func (t *Teller) Cell(v *figure.Value) string {
	if missing(v) {
		return quantity.Nothing
	}
	u := unitOf(v.Code, siOf(v.Code), t.System)
	text := u.number(Sided(v.Code, v.Value), u.digits)
	return joined([]string{text, Side(v.Code, v.Value)})
}

// Doubt is why a value is not to be taken as it stands: its reason, or that it
// rests on estimates; empty when there is none.
func (t *Teller) Doubt(v *figure.Value) string {
	switch {
	case v == nil:
		return "not computed"
	case v.Reason != "":
		// "none" has been said as the value.
		return strings.TrimLeft(strings.TrimPrefix(v.Reason, figure.None), ": ")
	case v.State == figure.FromGuesses:
		return "rests on estimates"
	case v.State == figure.Outside:
		return "beyond what was measured"
	}
	return ""
}

func missing(v *figure.Value) bool {
	return v == nil || v.State == figure.Unknown || math.IsNaN(v.Value)
}

// get is the value of a code at a finding's place, or nil.
func (t *Teller) get(code string, p *figure.Place) *figure.Value {
	if t.answer == nil {
		return nil
	}
	return t.answer.Get(code, p.Build, p.Load, p.Corner)
}

// Span is the band of a value by the words of its sides, without unit: "6 to 14";
// empty where it has none.
func (t *Teller) Span(v *figure.Value) string {
	if missing(v) {
		return ""
	}
	u := unitOf(v.Code, siOf(v.Code), t.System)
	if s, ok := sided[v.Code]; ok {
		return s.span(u, v, s.good, s.brief)
	}
	return trimmed(u.band(v.Low, v.High, v.HasBand))
}

// trimmed takes the brackets off a band.
func trimmed(band string) string {
	if len(band) < 3 {
		return ""
	}
	return band[2 : len(band)-1]
}
