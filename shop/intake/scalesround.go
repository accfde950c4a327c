package intake

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
)

// ReadingTyped is one reading of the four corners as typed, each figure with its
// unit; what is empty was not read.
type ReadingTyped struct {
	Loads   []string `json:"loads" maxItems:"4" doc:"front left, front right, rear left, rear right"`
	Heights []string `json:"heights" maxItems:"4" doc:"hub to arch"`
}

// RoundTyped is a round at the scales as typed: what was turned, done and read.
// Corners stand in the order front left, front right, rear left, rear right.
type RoundTyped struct {
	Loads      []string       `json:"loads" maxItems:"4" doc:"on the pads, each with its unit; empty: not read"`
	Heights    []string       `json:"heights" maxItems:"4" doc:"hub to arch"`
	Again      []ReadingTyped `json:"again,omitempty" maxItems:"20" doc:"the same car read again, bounced between"`
	Turned     []string       `json:"turned,omitempty" maxItems:"4" doc:"turns since the round before, up positive, as -1 1/8; empty: as was asked"`
	Total      string         `json:"total,omitempty" maxLength:"60" doc:"that the scales themselves show"`
	LastTotal  string         `json:"lastTotal,omitempty" maxLength:"60" doc:"of the last weighing in this state"`
	Turned180  *ReadingTyped  `json:"turned180,omitempty" doc:"the car turned about on the same pads; in the order of the car's corners"`
	Pressed    *ReadingTyped  `json:"pressed,omitempty" doc:"after it was pressed down and let go"`
	Lifted     *ReadingTyped  `json:"lifted,omitempty" doc:"after it was lifted and let go"`
	PadLevels  []string       `json:"padLevels,omitempty" maxItems:"4" doc:"height of each pad's top against any one level"`
	PadErrors  []string       `json:"padErrors,omitempty" maxItems:"4" doc:"of each pad under one common weight"`
	Pressures  []string       `json:"pressures,omitempty" maxItems:"4" doc:"of the tyres"`
	Ballast    string         `json:"ballast,omitempty" maxLength:"300" doc:"in words"`
	Fuel       string         `json:"fuel,omitempty" maxLength:"300" doc:"in words"`
	BarsOff    string         `json:"barsOff,omitempty" maxLength:"3" doc:"yes, no, or nothing where it was not said"`
	ClicksSoft string         `json:"clicksSoft,omitempty" maxLength:"3"`
	Settled    string         `json:"settled,omitempty" maxLength:"3"`
	AsStated   string         `json:"asStated,omitempty" maxLength:"3" doc:"driver, ballast and fuel are as the load state says"`
	Confirmed  string         `json:"confirmed,omitempty" maxLength:"3" doc:"yes: what looked odd was read again and is right"`
	Note       string         `json:"note,omitempty" maxLength:"2000"`
}

// FieldFault is something typed that cannot be read, and where.
type FieldFault struct {
	Field string `json:"field" doc:"loads.0, heights.2, turned.1, again.0.loads.3, wishes.front, …"`
	Text  string `json:"text"`
}

// Weighing is what was read in one round at the scales, and what was turned
// since the round before.
type Weighing struct {
	Line    int        // of its first reading; 0 where it comes from no file
	Turned  [4]float64 // collars, up positive; NaN: as was asked [-]
	Session scales.Session
}

// mostText bounds what one figure may be typed as.
const mostText = 60

// Weigh reads what was typed. What cannot be read is named, and counts as not
// read.
func (r *RoundTyped) Weigh() (Weighing, []FieldFault) {
	w := weigher{}
	out := Weighing{Session: scales.NewSession()}
	s := &out.Session
	first := scales.Unread()
	w.reading("", r.Loads, r.Heights, &first, &s.Mixed)
	if anyRead(&first) || len(r.Again) > 0 {
		s.Settled = append(s.Settled, first)
	}
	for k := range r.Again {
		again := scales.Unread()
		w.reading(fmt.Sprintf("again.%d.", k), r.Again[k].Loads, r.Again[k].Heights, &again, &s.Mixed)
		if anyRead(&again) {
			s.Settled = append(s.Settled, again)
		}
	}
	if r.Turned180 != nil {
		about := scales.Unread()
		w.reading("turned180.", r.Turned180.Loads, r.Turned180.Heights, &about, &s.Mixed)
		if anyRead(&about) {
			s.Reversed = append(s.Reversed, about)
		}
	}
	if r.Pressed != nil {
		w.reading("pressed.", r.Pressed.Loads, r.Pressed.Heights, &s.Pressed, &s.Mixed)
	}
	if r.Lifted != nil {
		w.reading("lifted.", r.Lifted.Loads, r.Lifted.Heights, &s.Lifted, &s.Mixed)
	}
	w.four("padLevels", r.PadLevels, quantity.Length, &s.Pads, nil)
	levelled(&s.Pads)
	w.four("padErrors", r.PadErrors, quantity.Mass, &s.PadChange, nil)
	w.four("pressures", r.Pressures, quantity.Pressure, &s.Pressures, nil)
	s.Total = w.one("lastTotal", r.LastTotal, quantity.Mass)
	s.Shown = w.one("total", r.Total, quantity.Mass)
	w.tick("barsOff", r.BarsOff, &s.BarsOff)
	w.tick("clicksSoft", r.ClicksSoft, &s.Soft)
	w.tick("settled", r.Settled, &s.Rolled)
	w.tick("asStated", r.AsStated, &s.AsStated)
	var again scales.Answer
	w.tick("confirmed", r.Confirmed, &again)
	s.Confirmed = again == scales.Yes
	s.Typos = r.typos()
	for i := range 4 {
		out.Turned[i] = math.NaN()
		if text := at(r.Turned, i); strings.TrimSpace(text) != "" {
			v, err := Turns(text)
			if err != nil {
				w.fault(fmt.Sprintf("turned.%d", i), err)
				continue
			}
			out.Turned[i] = v
		}
	}
	return out, w.faults
}

// typos are what could have been meant by the loads and heights of a round.
func (r *RoundTyped) typos() []scales.Typo {
	var list []scales.Typo
	both := func(loads, heights []string) {
		for i := range 4 {
			list = append(list, typosOf(at(loads, i), quantity.Mass, i)...)
			list = append(list, typosOf(at(heights, i), quantity.Length, i)...)
		}
	}
	both(r.Loads, r.Heights)
	for k := range r.Again {
		both(r.Again[k].Loads, r.Again[k].Heights)
	}
	if r.Turned180 != nil {
		both(r.Turned180.Loads, r.Turned180.Heights)
	}
	return list
}

// Empty reports that no load and no height was typed.
func (r *RoundTyped) Empty() bool {
	for i := range 4 {
		if strings.TrimSpace(at(r.Loads, i)) != "" || strings.TrimSpace(at(r.Heights, i)) != "" {
			return false
		}
	}
	return true
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return ""
}

func anyRead(r *scales.Reading) bool {
	for i := range 4 {
		if !math.IsNaN(r.Load[i]) || !math.IsNaN(r.Height[i]) {
			return true
		}
	}
	return false
}

// levelled takes pad levels against their mean.
func levelled(v *[4]float64) {
	mean := 0.25 * (v[0] + v[1] + v[2] + v[3])
	if math.IsNaN(mean) {
		return
	}
	for i := range v {
		v[i] -= mean
	}
}

type weigher struct{ faults []FieldFault }

func (w *weigher) fault(field string, err error) {
	w.faults = append(w.faults, FieldFault{Field: field, Text: err.Error()})
}

func (w *weigher) reading(under string, loads, heights []string, out *scales.Reading, mixed *bool) {
	w.four(under+"loads", loads, quantity.Mass, &out.Load, mixed)
	w.four(under+"heights", heights, quantity.Length, &out.Height, nil)
}

// four reads four figures; mixed, where it is asked for, is set when two of them
// have different units.
func (w *weigher) four(field string, typed []string, kind quantity.Kind, out *[4]float64, mixed *bool) {
	unit := ""
	for i := range 4 {
		text := strings.TrimSpace(at(typed, i))
		out[i] = math.NaN()
		if text == "" || text == "-" || text == "–" {
			continue
		}
		v, err := figureOf(text, kind)
		if err != nil {
			w.fault(fmt.Sprintf("%s.%d", field, i), err)
			continue
		}
		out[i] = v.Value
		if unit != "" && unit != v.Unit && mixed != nil {
			*mixed = true
		}
		unit = v.Unit
	}
}

func (w *weigher) one(field, typed string, kind quantity.Kind) float64 {
	if strings.TrimSpace(typed) == "" {
		return math.NaN()
	}
	v, err := figureOf(typed, kind)
	if err != nil {
		w.fault(field, err)
		return math.NaN()
	}
	return v.Value
}

func (w *weigher) tick(field, typed string, out *scales.Answer) {
	switch strings.ToLower(strings.TrimSpace(typed)) {
	case "":
		*out = scales.Unsaid
	case "yes":
		*out = scales.Yes
	case "no":
		*out = scales.No
	default:
		w.fault(field, fmt.Errorf("%q is neither yes nor no", cutShort(typed)))
	}
}

func figureOf(text string, kind quantity.Kind) (quantity.Typed, error) {
	if len(text) > mostText {
		return quantity.Typed{}, fmt.Errorf("%q is too long for a figure", cutShort(text))
	}
	return quantity.Parse(text, kind)
}

// Turns reads a number of turns: 1.5, -1/4, 2+1/8 or -1 1/8.
func Turns(text string) (float64, error) {
	fault := fmt.Errorf("%q is no number of turns: 1.5, -1/4, 2+1/8 or -1 1/8", cutShort(text))
	clean := strings.NewReplacer("−", "-", "–", "-", "\u00a0", " ").Replace(strings.TrimSpace(text))
	if len(clean) > mostText {
		return 0, fault
	}
	sign := 1.0
	if rest, ok := strings.CutPrefix(clean, "-"); ok {
		sign, clean = -1, rest
	} else if rest, ok := strings.CutPrefix(clean, "+"); ok {
		clean = rest
	}
	parts := strings.FieldsFunc(clean, func(r rune) bool { return r == ' ' || r == '+' })
	if last := len(parts) - 1; last > 0 && (parts[last] == "turn" || parts[last] == "turns") {
		parts = parts[:last]
	}
	sum := 0.0
	for k, p := range parts {
		top, bottom, fraction := strings.Cut(strings.Replace(p, ",", ".", 1), "/")
		if k > 0 && !fraction || k > 1 {
			return 0, fault
		}
		v, err := strconv.ParseFloat(top, 64)
		if err == nil && fraction {
			var d float64
			d, err = strconv.ParseFloat(bottom, 64)
			v /= d
		}
		if err != nil || math.IsNaN(v) || v < 0 || v > 100 || strings.ContainsAny(p, "-xXpPeEnN_") {
			return 0, fault
		}
		sum += v
	}
	if len(parts) == 0 {
		return 0, fault
	}
	return sign * sum, nil
}

// Kept is what a job holds of a build after it was fitted, as a round typed;
// nil where it holds nothing.
func Kept(load, height [4]figure.Input, barsOn bool) *RoundTyped {
	r := &RoundTyped{Loads: make([]string, 4), Heights: make([]string, 4), BarsOff: "yes"}
	for i := range 4 {
		r.Loads[i], r.Heights[i] = typedOf(&load[i], quantity.Mass), typedOf(&height[i], quantity.Length)
	}
	if r.Empty() {
		return nil
	}
	if barsOn {
		r.BarsOff = "no"
	}
	return r
}

func typedOf(in *figure.Input, kind quantity.Kind) string {
	if !in.Known() {
		return ""
	}
	if _, err := quantity.Parse(in.Typed, kind); err == nil {
		return in.Typed
	}
	return quantity.Format(in.Value, kind, quantity.Metric, 2)
}
