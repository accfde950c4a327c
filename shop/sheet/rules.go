package sheet

import (
	"math"
	"strconv"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// sunk is how much lower an axle stands against the car as it arrived [m]; NaN
// when it is not known.
func (m *maker) sunk(axle int) float64 {
	if m.before == nil || m.before == m.build {
		return 0
	}
	sum := 0.0
	for _, i := range []int{2 * axle, 2*axle + 1} {
		was, is := m.get("arch-height", m.before.ID, m.Load, i), m.get("arch-height", m.build.ID, m.Load, i)
		if was == nil || is == nil {
			return math.NaN()
		}
		sum += was.Value - is.Value
	}
	return sum / 2
}

// slope is the change of the dipped beam's slope, nose down positive [-].
func (m *maker) slope() float64 {
	slope, _ := LampSlope(m.sunk(0)-m.sunk(1), m.Job.Car.Wheelbase.Value)
	return slope
}

func (m *maker) alignment() Part {
	a := &m.hand.Alignment
	t := &Table{Columns: []string{"Alignment", "before", "after"}, Wide: []int{1, 2}}
	changed := m.before != m.build && (math.Abs(m.sunk(0)) > 2e-3 || math.Abs(m.sunk(1)) > 2e-3)
	some := a.Before != [2]string{} || a.After != [2]string{}
	if !some && !changed {
		return Part{}
	}
	for i, name := range []string{"front", "rear"} {
		t.Rows = append(t.Rows, []string{name, or(a.Before[i], notMeasured), or(a.After[i], notMeasured)})
		if a.After[i] == "" && changed {
			m.miss("alignment at the new height is not measured")
		}
	}
	if a.By != "" {
		t.Note = "Measured by " + a.By
		if a.Date != "" {
			t.Note += ", " + a.Date
		}
		t.Note += "."
	}
	return Part{Table: t}
}

// lamps says what the new height does to lamps and sensors, and who may see to
// it.
func (m *maker) lamps() Part {
	if m.before == m.build {
		return Part{}
	}
	front, rear := m.sunk(0), m.sunk(1)
	if math.IsNaN(front) || math.IsNaN(rear) {
		return Part{Words: "The change of height is not known: have lamps and sensors checked."}
	}
	length := func(v float64) string {
		return quantity.Format(math.Abs(v), quantity.Length, m.System, 0)
	}
	way := func(v float64) string {
		if v < 0 {
			return "higher"
		}
		return "lower"
	}
	slope, angle := LampSlope(front-rear, m.Job.Car.Wheelbase.Value)
	pairs := []Pair{
		{"height", "front " + length(front) + " " + way(front) + ", rear " + length(rear) + " " + way(rear)},
	}
	beam := "dipped beam " + strconv.FormatFloat(math.Abs(slope)/quantity.Percent, 'f', 2, 64) + " % "
	if slope >= 0 {
		beam += "lower: it reaches less far"
	} else {
		beam += "higher: it dazzles"
	}
	beam += " (" + strconv.FormatFloat(math.Abs(angle)/quantity.Degree, 'f', 2, 64) + "°, " + quantity.Format(math.Abs(slope)*10, quantity.Length, m.System, 0) + " at 10 m)"
	pairs = append(
		pairs,
		Pair{"lamps", beam + ". Have aim and automatic levelling set at the final height by whoever may do so here."},
		Pair{"sensors", "Camera, radar and height sensors, where the car has them, are set to the old height. Have them checked, and calibrated where the maker asks for it, by somebody equipped for it."},
	)
	return Part{Pairs: pairs}
}

// limits are the rules that were looked up, with the figure beside each. What
// follows from it is decided by a licensed person.
func (m *maker) limits() Part {
	if len(m.hand.Limits) == 0 {
		return Part{}
	}
	t := &Table{Columns: []string{"Rule", "asks for", "this car", "source, date", "decided by a licensed person"}, Wide: []int{0, 3}}
	for i := range m.hand.Limits {
		l := &m.hand.Limits[i]
		t.Rows = append(t.Rows, []string{l.Says, m.asks(l), m.figureFor(l.Figure), l.From + ", " + l.Dated, "…………………………"})
	}
	t.Note = "Rules change: read the text in force where the car is used. The figures are measured or computed here; what they mean is for the authority or a licensed engineer or tester."
	return Part{Table: t}
}

func (m *maker) asks(l *jobfile.Limit) string {
	kind := quantity.Length
	if l.Figure == "bump-travel-kept" || l.Figure == "lamp-slope" {
		kind = quantity.Share
	}
	text := ""
	if l.Least.Known() {
		text = "at least " + quantity.Format(l.Least.Value, kind, m.System, 0)
	}
	if l.Most.Known() {
		if text != "" {
			text += ", "
		}
		text += "at most " + quantity.Format(l.Most.Value, kind, m.System, quantity.Auto)
	}
	return or(text, quantity.Nothing)
}

// figureFor is the measured or computed figure that a rule asks about.
func (m *maker) figureFor(name string) string {
	worst := func(code string, least bool) string {
		var got *figure.Value
		for axle := range 2 {
			if v := m.worse(code, m.build, m.Load, axle, least); v != nil && (got == nil || (v.Value < got.Value) == least) {
				got = v
			}
		}
		if got == nil {
			return notKnown
		}
		return m.tell.Value(got) + " " + spaced(figure.CornerNames[got.Place.Corner])
	}
	switch name {
	case "arch-height":
		return worst("arch-height", true)
	case "droop-left":
		return worst("travel-to-open", true)
	case "bump-left":
		return worst("travel-to-stop", true)
	case "bump-travel-kept":
		return worst("makers-bump-kept", true)
	case "spring-loose":
		return worst("spring-gap-open", false)
	case "height-change":
		f, r := m.sunk(0), m.sunk(1)
		if math.IsNaN(f) || math.IsNaN(r) {
			return notKnown
		}
		return "front " + quantity.Format(-f, quantity.Length, m.System, 0) + ", rear " + quantity.Format(-r, quantity.Length, m.System, 0)
	case "lamp-slope":
		return "changed by " + strconv.FormatFloat(-m.slope()/quantity.Percent, 'f', 2, 64) + " %; aim " + notMeasured + " here"
	}
	return notMeasured
}
