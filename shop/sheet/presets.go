package sheet

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// presets are the ways to set the car, each with what it will feel like against
// the way it leaves.
func (m *maker) presets() Part {
	if len(m.hand.Presets) == 0 {
		return Part{}
	}
	t := &Table{Columns: []string{"setting", "clicks, front / rear", "tyres", "bars, front / rear", "what it does"}, Wide: []int{4}}
	t.Rows = append(t.Rows, []string{"as it leaves", m.clicks(m.asLeft()), or(m.asLeft().Pressures, quantity.Nothing), bars(m.asLeft().BarHole), "its setting at the handover"})
	for i := range m.hand.Presets {
		p := &m.hand.Presets[i]
		t.Rows = append(t.Rows, []string{p.Name, m.clicks(p), or(p.Pressures, quantity.Nothing), bars(p.BarHole), m.feel(p)})
	}
	t.Note = "Clicks are counted from fully closed, clockwise, by hand and without force: close first, then open by that many."
	return Part{Table: t}
}

// asLeft is the setting in which the car leaves, as a preset.
func (m *maker) asLeft() *jobfile.Preset {
	s := &m.build.Setup
	p := &jobfile.Preset{Name: "as it leaves", Click: s.Click, HasClick: s.HasClick, Pressures: s.Pressures, BarHole: s.BarHole}
	if p.Pressures == "" {
		f, r := m.hand.Tyres[0].Cold, m.hand.Tyres[1].Cold
		if p.Pressures = f; r != f && r != "" {
			p.Pressures = f + " / " + r
		}
	}
	return p
}

func (m *maker) clicks(p *jobfile.Preset) string {
	return wording.Sides(m.click(p, 0), m.click(p, 1), "") + " / " + wording.Sides(m.click(p, 2), m.click(p, 3), "")
}

func (m *maker) click(p *jobfile.Preset, i int) string {
	switch most := clicksOf(&m.build.Corner[i]); {
	case !p.HasClick[i]:
		return quantity.Nothing
	case most > 0 && p.Click[i] > most:
		// A click beyond what is counted is not printed as a setting.
		m.miss("the preset " + p.Name + " asks for a click that the damper does not have")
		return strconv.Itoa(p.Click[i]) + " is beyond the last, " + strconv.Itoa(most)
	default:
		return strconv.Itoa(p.Click[i])
	}
}

// clicksAlike reports that no setting of the car has other clicks on its left than
// on its right.
func (m *maker) clicksAlike() bool {
	for _, p := range append([]jobfile.Preset{*m.asLeft()}, m.hand.Presets...) {
		for l := 0; l < 4; l += 2 {
			if p.Click[l] != p.Click[l+1] || p.HasClick[l] != p.HasClick[l+1] {
				return false
			}
		}
	}
	return true
}

func bars(hole [2]string) string {
	if hole[0] == "" && hole[1] == "" {
		return quantity.Nothing
	}
	return or(hole[0], quantity.Nothing) + " / " + or(hole[1], quantity.Nothing)
}

// ratio is the damping ratio at a preset's clicks, of the worse side of the axle as
// in the table before: between clicks that were computed by a straight line; NaN
// where it is not known.
func (m *maker) ratio(p *jobfile.Preset, axle int) float64 {
	worse := math.Inf(1)
	for i := 2 * axle; i < 2*axle+2; i++ {
		if !p.HasClick[i] {
			return math.NaN()
		}
		worse = math.Min(worse, m.ratioAt(i, p.Click[i]))
	}
	return worse
}

func (m *maker) ratioAt(corner, click int) float64 {
	low, high := math.Inf(-1), math.Inf(1)
	var atLow, atHigh float64
	for i := range m.Answer.Values {
		v := &m.Answer.Values[i]
		p := &v.Place
		if v.Code != "damping-ratio" || p.Build != m.build.ID || p.Load != m.Load || p.Corner != corner || !p.HasClick || p.Direction != "mean" ||
			p.Velocity != m.Answer.Options.MainSpeed || v.State == figure.Unknown {
			continue
		}
		c := float64(p.Click)
		if c <= float64(click) && c > low {
			low, atLow = c, v.Value
		}
		if c >= float64(click) && c < high {
			high, atHigh = c, v.Value
		}
	}
	switch {
	case math.IsInf(low, 0) || math.IsInf(high, 0):
		return math.NaN()
	case low == high:
		return atLow
	}
	return atLow + (atHigh-atLow)*(float64(click)-low)/(high-low)
}

func (m *maker) ratios(p *jobfile.Preset) string {
	f, r := m.ratio(p, car.Front), m.ratio(p, car.Rear)
	if math.IsNaN(f) && math.IsNaN(r) {
		return ""
	}
	two := func(v float64) string {
		if math.IsNaN(v) {
			return notKnown
		}
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return two(f) + " / " + two(r)
}

// forWorkshop are the figures that an owner does not read: frequencies and ratios, before and after, and of every
// preset.
func (m *maker) forWorkshop() []Part {
	t := &Table{Columns: []string{"At the worse side of each axle", "as it arrived", "as it leaves"}}
	for _, row := range workshops {
		was, is := m.worse(row.code, m.before, m.Load, row.axle, row.least), m.worse(row.code, m.build, m.Load, row.axle, row.least)
		t.Rows = append(t.Rows, []string{row.label, m.shown(was), m.shown(is)})
	}
	m.onlyLeaves(t)
	at := "Damping over critical at " + quantity.Format(m.Answer.Options.MainSpeed, quantity.SpeedDamper, m.System, 0) + " of the damper, the mean of bump and rebound."
	var list []string
	for _, p := range append([]jobfile.Preset{*m.asLeft()}, m.hand.Presets...) {
		if text := m.ratios(&p); text != "" {
			list = append(list, p.Name+" "+text)
		}
	}
	if len(list) > 1 {
		at += " Front / rear: " + strings.Join(list, "; ") + "."
	}
	return []Part{{Table: t}, {Words: at}, m.findings(true)}
}

// feel is what a preset does: computed first, then the workshop's own words.
func (m *maker) feel(p *jobfile.Preset) string {
	text := ""
	left := m.asLeft()
	var changed []string
	known := false
	for a, where := range []string{"in front", "at the rear"} {
		is, was := m.ratio(p, a), m.ratio(left, a)
		if math.IsNaN(is) || math.IsNaN(was) || was <= 0 {
			continue
		}
		known = true
		change := is/was - 1
		// A tenth is about what a driver notices: common practice, no source.
		switch percent := strconv.Itoa(int(math.Round(math.Abs(change)/quantity.Percent))) + " % "; {
		case change > 0.1:
			changed = append(changed, percent+"more damping "+where)
		case change < -0.1:
			changed = append(changed, percent+"less damping "+where)
		}
	}
	if len(changed) > 0 {
		text = strings.Join(changed, ", ")
	} else if known {
		text = "damping unchanged"
	}
	if tyres := m.tyres(p); tyres != "" {
		if text != "" {
			text += "; "
		}
		text += tyres
	}
	for _, more := range []string{p.Feel, p.Order} {
		if more != "" {
			if text != "" {
				text += "; "
			}
			text += more
		}
	}
	return or(text, quantity.Nothing)
}

// tyres is what a preset's pressures do to the tyres' rates against the way the car
// leaves; empty where either says no pressure, or they hardly differ.
func (m *maker) tyres(p *jobfile.Preset) string {
	is, ok := jobfile.ReadPressures(p.Pressures)
	was, known := jobfile.ReadPressures(m.asLeft().Pressures)
	if !ok || !known {
		return ""
	}
	var changed []string
	for a, where := range []string{"in front", "at the rear"} {
		rate := m.Job.Car.TyreRate(m.build, 2*a, nil)
		change := part.RateAt(rate, was[a], is[a])/rate - 1
		// Less than a fiftieth is within what gauges differ by: common practice, no source.
		switch percent := strconv.Itoa(int(math.Round(math.Abs(change)/quantity.Percent))) + " % "; {
		case change > 0.02:
			changed = append(changed, percent+"stiffer "+where)
		case change < -0.02:
			changed = append(changed, percent+"softer "+where)
		}
	}
	if len(changed) == 0 {
		return ""
	}
	if front, ok := strings.CutSuffix(changed[0], " in front"); ok && len(changed) == 2 && changed[1] == front+" at the rear" {
		return "tyres " + front
	}
	return "tyres " + strings.Join(changed, ", ")
}

// wayBack is how the car is put back to the way it left.
func (m *maker) wayBack() Part {
	if len(m.hand.Presets) == 0 {
		return Part{}
	}
	return Part{Words: "To restore: " + m.home()}
}

func (m *maker) home() string {
	left := m.asLeft()
	text := ""
	for a, where := range []string{"front", "rear"} {
		if l, r := 2*a, 2*a+1; left.HasClick[l] || left.HasClick[r] {
			if text != "" {
				text += "; "
			}
			text += where + ": close both by hand, then " + wording.Sides(out(left, l), out(left, r), "") + " out"
		}
	}
	if left.Pressures != "" {
		text += "; tyres " + left.Pressures
	}
	if b := bars(left.BarHole); b != quantity.Nothing {
		text += "; bars " + b
	}
	if text == "" {
		return "nothing on this car is set by hand."
	}
	return strings.TrimPrefix(text, "; ") + "."
}

// out is how far a damper is opened in a setting.
func out(p *jobfile.Preset, i int) string {
	if !p.HasClick[i] {
		return "none"
	}
	return strconv.Itoa(p.Click[i])
}

// card is the presets for the pocket.
func (m *maker) card() {
	c := &m.sheet.Card
	c.Title = m.Job.Car.Name
	c.Under = or(m.Job.Info.Plate, "job "+m.Job.Info.Number)
	c.Home = m.home()
	c.Foot = "Change one thing at a time and note it."
	if m.clicksAlike() {
		c.Foot = "Both sides alike. " + c.Foot
	}
	c.Table = Table{Columns: []string{"setting", "clicks F / R", "tyres", "bars F / R"}}
	left := m.asLeft()
	for _, p := range append([]jobfile.Preset{*left}, m.hand.Presets...) {
		c.Table.Rows = append(c.Table.Rows, []string{p.Name, m.clicks(&p), or(p.Pressures, quantity.Nothing), bars(p.BarHole)})
	}
}
