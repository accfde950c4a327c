package linkage

import (
	"cmp"
	"math"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// linkageFigure is a figure of a linkage as it is shown.
type linkageFigure struct {
	group, id, label, si string
	tight                bool
	of                   func(*linkage.Figures) float64 // NaN: does not apply
}

// linkageFigures are the columns of a linkage that are drawn, in the order shown: their
// group, the column, what its head leaves unsaid, and whether the axis hugs the line.
var linkageFigures = []struct {
	group, id, column, more string
	tight                   bool
}{
	{"ratios", "spring-ratio", "spring_ratio", "", true},
	{"ratios", "spring-slope", "spring_ratio_slope_per_m", "change of the spring ratio", false},
	{"ratios", "damper-ratio", "damper_ratio", "", true},
	{"ratios", "damper-slope", "damper_ratio_slope_per_m", "change of the damper ratio", false},
	{"ratios", "bar-ratio", "bar_ratio", "", true},
	{"ratios", "bar-slope", "bar_ratio_slope_per_m", "change of the bar ratio", false},
	{"angles", "camber", "camber_rad", "camber, top outward", true},
	{"angles", "toe", "toe_rad", "", true},
	{"angles", "caster", "caster_rad", "", true},
	{"angles", "inclination", "inclination_rad", "inclination of the steering axis", true},
	{"ground", "half-track", "half_track_m", "", true},
	{"ground", "roll-centre", "roll_centre_m", "roll centre over the ground", false},
	{"ground", "scrub", "scrub_m", "", true},
	{"ground", "trail", "trail_m", "", true},
}

func (m *page) shownFigures() []linkageFigure {
	columns := map[string]wording.Column[linkage.Figures]{}
	for _, c := range wording.LinkageColumns() {
		columns[c.Name] = c
	}
	list := make([]linkageFigure, 0, len(linkageFigures)+2)
	for _, f := range linkageFigures {
		c := columns[f.column]
		list = append(list, linkageFigure{f.group, f.id, cmp.Or(f.more, c.Head), c.SI, f.tight, c.Of})
	}
	brake, drive := wording.SupportNames(m.axle)
	support := &m.moved.Support
	list = append(list, linkageFigure{"support", "brake-support", brake, wording.Part, false, support.Brake})
	if !support.DriveGiven || support.DriveShare != 0 {
		list = append(list, linkageFigure{"support", "drive-support", drive, wording.Part, false, support.Drive})
	}
	return list
}

// known leaves out what an axle does not have.
func (m *page) knownFigures() []linkageFigure {
	var out []linkageFigure
	for _, f := range m.shownFigures() {
		for i := range m.moved.Curves.Points {
			if v := f.of(&m.moved.Curves.Points[i]); !math.IsNaN(v) && !math.IsInf(v, 0) {
				out = append(out, f)
				break
			}
		}
	}
	return out
}

// frames places every joint at every travel.
func (m *page) frames(h *linkage.Hardpoints) {
	out := m.out
	figures := m.knownFigures()
	for _, f := range figures {
		out.Heads = append(out.Heads, wording.Upper(f.label))
	}
	start := 0.0
	if m.strip.Known {
		start = m.strip.Rest
	}
	start += m.study.Lower
	best := math.Inf(1)
	for i := range m.moved.Curves.Points {
		p := &m.moved.Curves.Points[i]
		places, err := m.moved.Linkage.Places([2]float64{p.Travel, p.Other}, p.Steer)
		if err != nil {
			continue // it locked there: said above
		}
		if b := h.Beam; b != nil {
			// A beam swings about the bushes at the body.
			places = append(places, linkage.Place{Name: "bush", At: b.Bush}, linkage.Place{Name: "bush", At: geom.Mirror(b.Bush)})
		}
		if c := h.Corner; c != nil && c.Pivots != nil {
			places = append(places, linkage.Place{Name: "inner pivot", At: c.Pivots.Inner}, linkage.Place{Name: "outer pivot", At: c.Pivots.Outer})
		}
		if len(out.Points) == 0 {
			m.lines(places, h)
		}
		if off := math.Abs(p.Travel - start); off < best-1e-9 {
			best, out.Start = off, len(out.Frames)
		}
		f := Frame{Travel: m.Length(p.Travel), Shown: quantity.Format(p.Travel, quantity.Length, m.System, quantity.Auto), At: [][]float64{}, Values: []string{}}
		for _, q := range places {
			f.At = append(f.At, m.Point(q.At))
		}
		f.Roll = m.KnownLength(p.Contact.Z + p.RollCentre)
		says := []string{"at " + f.Shown}
		for _, k := range figures {
			text := m.Teller.With(k.si, k.of(p))
			f.Values = append(f.Values, text)
			if k.id == "camber" || k.id == "toe" || k.id == "roll-centre" {
				says = append(says, k.label+" "+text)
			}
		}
		f.Says = strings.Join(says, ", ")
		out.Frames = append(out.Frames, f)
	}
}

// lines names the places and joins those that a part joins.
func (m *page) lines(places []linkage.Place, h *linkage.Hardpoints) {
	out := m.out
	seen := map[string]int{}
	for k, p := range places {
		name := p.Name
		if _, twice := seen[name]; twice {
			name += " right"
		}
		seen[name] = k
		out.Points = append(out.Points, strings.ReplaceAll(name, "-", " "))
	}
	width := view.UsualTyre
	if t := &m.Answer.Job.Car.Axle[m.axle].Tyre.Width; t.Known() {
		width = t.Value
	}
	for _, side := range []string{"", " right"} {
		hub, ok := seen["wheel centre"+side]
		contact, ok2 := seen["contact"+side]
		if ok && ok2 {
			out.Wheels = append(out.Wheels, Wheel{Hub: hub, Contact: contact, Radius: m.Length(h.Radius()), Width: m.Length(width)})
		}
	}
	join := func(from, to, kind, name string) {
		a, ok := seen[from]
		b, ok2 := seen[to]
		if ok && ok2 {
			out.Lines = append(out.Lines, Line{From: a, To: b, Kind: kind, Name: strings.ReplaceAll(name, "-", " ")})
		}
	}
	for k := range places {
		base, ok := strings.CutSuffix(out.Points[k], " inner")
		base, right := strings.CutSuffix(base, " inner right")
		if !ok && !right {
			continue
		}
		side := ""
		if right {
			side = " right"
		}
		raw, _ := strings.CutSuffix(places[k].Name, " inner")
		kind := "rod"
		switch {
		case base == "spring" || base == "damper":
			kind = base
		case strings.HasSuffix(raw, " front pivot") || strings.HasSuffix(raw, " rear pivot"):
			kind = "arm"
		}
		join(raw+" inner"+side, raw+" outer"+side, kind, base)
		if kind == "rod" || kind == "arm" {
			join(raw+" outer"+side, "wheel centre"+side, "carrier", "carrier")
		}
	}
	join("top mount", "strut low", "strut", "strut")
	join("strut low", "wheel centre", "carrier", "carrier")
	for _, side := range []string{"", " right"} {
		join("bush"+side, "wheel centre"+side, "arm", "arm of the beam")
		if h.Beam != nil || h.Axle != nil || h.Corner != nil && h.Corner.Pivots != nil {
			join("spring outer"+side, "wheel centre"+side, "carrier", "seat of the spring")
			join("damper outer"+side, "wheel centre"+side, "carrier", "foot of the damper")
		}
	}
	join("inner pivot", "wheel centre", "arm", "arm")
	join("outer pivot", "wheel centre", "arm", "arm")
	if h.Axle != nil {
		join("wheel centre", "wheel centre right", "arm", "axle")
	}
}

// groups heads the charts.
var linkageGroups = []struct{ id, title, note string }{
	{"ratios", "Motion ratios", "Travel of spring, damper and drop link over that of the wheel, and how the ratio changes: a ratio that rises with bump makes the spring stiffer at the wheel."},
	{"angles", "Camber, toe and caster", "Of the left wheel to the body; toe-in and a top that leans outward are positive."},
	{"ground", "On the ground", "A half-track that changes with travel scrubs the tyre; a roll centre that falls faster than the car leans it more."},
	{"support", "Under braking and power", "How much of what braking or power moves the links carry past the springs. 100 %: the car would not dive or squat there."},
}

// curves draw every figure over the travel, as measured and as changed.
func (m *page) curves() {
	length := quantity.Units(quantity.Length, m.System)
	for _, g := range linkageGroups {
		group := view.ChartGroup{ID: g.id, Title: g.title, Note: g.note, Charts: []view.Chart{}}
		for _, f := range m.knownFigures() {
			if f.group != g.id {
				continue
			}
			c := view.Chart{
				ID: "linkage-" + f.id, Title: wording.Upper(f.label), Kind: "line", X: view.Axis{Label: "wheel travel, bump positive", Unit: length},
				Y: view.Axis{Label: f.label, Unit: m.Teller.Label(f.si), Tight: f.tight}, Series: []view.Series{}, Marks: m.rules(),
			}
			add := func(name string, moved *axles.Moved) {
				line := view.Series{Name: name, X: []float64{}, Y: []float64{}}
				for i := range moved.Curves.Points {
					p := &moved.Curves.Points[i]
					if v := f.of(p); !math.IsNaN(v) && !math.IsInf(v, 0) {
						line.X, line.Y = append(line.X, m.Length(p.Travel)), append(line.Y, view.Tidy(m.Teller.Plain(f.si, v)))
					}
				}
				if len(line.X) > 1 {
					c.Series = append(c.Series, line)
				}
			}
			add("as measured", m.plain)
			if m.moved != m.plain {
				add("as changed", m.moved)
			}
			group.Add(c)
		}
		if len(group.Charts) > 0 {
			m.out.Charts = append(m.out.Charts, group)
		}
	}
}

// effects say what changes do to the wheel where it stands.
func (m *page) effects() {
	m.out.From = "from travel 0, where the points were measured"
	if m.moved.Standing {
		m.out.From = "from where “" + m.Teller.Build(m.build) + "” stands, " + m.Teller.With("m", m.moved.Rest) + " of travel, both wheels’ mean"
	}
	add := func(c *axles.LinkageChange, asked bool) {
		one := Effect{Label: m.Teller.LinkageChange(c.Code, c.By), Asked: asked, Cells: []string{}}
		if c.Err != nil {
			one.Why = m.Teller.StrutFault(c.Err)
			m.out.Effects = append(m.out.Effects, one)
			return
		}
		change := func(si string, is, was float64) string {
			by := m.Teller.With(si, is-was)
			if is-was > 0 {
				by = "+" + by
			}
			return m.Teller.With(si, is) + " (" + by + ")"
		}
		one.Cells = append(one.Cells, change("rad", c.Is.Camber, c.Was.Camber), change("rad", c.Is.Toe, c.Was.Toe), change("m", c.Is.HalfTrack, c.Was.HalfTrack), change("m", c.Is.RollCentre, c.Was.RollCentre))
		rod := quantity.Nothing
		if !math.IsNaN(c.Rod) {
			rod = m.Teller.With("m", c.Rod)
		}
		one.Cells = append(one.Cells, rod)
		m.out.Effects = append(m.out.Effects, one)
	}
	if m.moved.Asked != nil {
		add(m.moved.Asked, true)
	}
	for i := range m.moved.Tried {
		add(&m.moved.Tried[i], false)
	}
}

// motions set measured tables beside the points.
func (m *page) motions() {
	for i := range m.moved.Motions {
		t := &m.moved.Motions[i]
		one := Motion{Part: t.Part, Heads: []string{}, Rows: [][]string{}}
		if !t.Table {
			if math.IsNaN(t.PointsRatio) {
				continue
			}
			one.Text = "No motion table was measured for the " + t.Part + ": the points give its motion. At travel 0 its ratio is " + m.Teller.Figure("1", t.PointsRatio) + "."
			m.out.Motions = append(m.out.Motions, one)
			continue
		}
		one.Text = m.Teller.Disagreement(t)
		for _, c := range wording.MotionColumns() {
			head := wording.Upper(c.Head)
			if u := m.Teller.Label(c.SI); u != "" {
				head += " [" + u + "]"
			}
			one.Heads = append(one.Heads, head)
		}
		for k := range t.Rows {
			var row []string
			for _, c := range wording.MotionColumns() {
				text := quantity.Nothing
				if v := c.Of(&t.Rows[k]); !math.IsNaN(v) {
					text = m.Teller.Figure(c.SI, v)
				}
				row = append(row, text)
			}
			one.Rows = append(one.Rows, row)
		}
		m.out.Motions = append(m.out.Motions, one)
	}
}
