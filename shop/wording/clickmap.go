package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/clickmap"
	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// ClicksTitle heads a click map.
func (t *Teller) ClicksTitle(name string, m *clickmap.Map) string {
	return fmt.Sprintf("%s, “%s”, %s: what each click is worth. Clicks count from closed: 0 is the hardest.", name, t.Build(m.Build.ID), lower(t.Load(m.Ask.Load)))
}

// ClickWheel heads the map of one damper.
func (t *Teller) ClickWheel(w *clickmap.Wheel) string {
	where := Upper(car.AxleNames[car.AxleOf(w.Corner)])
	if w.Sided {
		where = Upper(Corner(w.Corner))
	}
	return fmt.Sprintf("%s, %s, click %d now", where, w.Damper.ID, w.Now)
}

// ClickColumns are the headings of a map's table: forces and steps at the middle speed,
// the corner's ratio at all three, the rest at the middle one.
func (t *Teller) ClickColumns(m *clickmap.Map) []string {
	f := unitOf("", "N", t.System).label
	out := []string{"click", "bump " + f, "rebound " + f, "step " + f}
	for _, v := range m.Ask.Speeds {
		out = append(out, "ratio "+t.Shaft(v))
	}
	return append(out, "bump alone", "rebound alone", "heave", "roll", "pitch", "hop", "")
}

// ClickRow is one click's row.
func (t *Teller) ClickRow(c *clickmap.Click) []string {
	u := unitOf("", "N", t.System)
	z := func(v float64) string { return quantity.Format(v, quantity.Ratio, quantity.Metric, 2) }
	mid := clickmap.Mid
	step := "–"
	if w := c.Worth; !math.IsNaN(w[0][mid].Value) {
		step = u.number(w[0][mid].Value, u.digits) + " / " + u.number(w[1][mid].Value, u.digits)
	}
	out := []string{strconv.Itoa(c.Click), u.number(c.Force[0][mid].Value, u.digits), u.number(c.Force[1][mid].Value, u.digits), step}
	for _, r := range c.Ratio {
		out = append(out, fmt.Sprintf("%s (%s to %s)", z(r.Value), z(r.Low), z(r.High)))
	}
	m := &c.Modes[mid]
	var notes []string
	if !c.Measured {
		notes = append(notes, "between clicks measured")
	}
	if c.Outside[0] || c.Outside[1] || c.Outside[2] {
		notes = append(notes, "faster than measured")
	}
	return append(out, z(c.Apart[0][mid].Value), z(c.Apart[1][mid].Value), z(m.Heave), z(m.Roll), z(m.Pitch), z(m.Hop), strings.Join(notes, ", "))
}

// ClicksNote says what the columns are.
func (t *Teller) ClicksNote(m *clickmap.Map) string {
	return fmt.Sprintf("Forces, steps (bump / rebound, over the next softer click) and movements at %s of the damper. Ratio: of the corner on its spring, mean of bump and rebound, with its 95 %% range. Heave, roll, pitch and hop: of the whole car with both dampers of the axle at that click and the other axle as it is set; where the axles are damped unlike, heave and pitch are each mostly one axle's.",
		t.Shaft(m.Ask.Speeds[clickmap.Mid]))
}

// ClickAuthority says what the knob does from its softest to its hardest click.
func (t *Teller) ClickAuthority(w *clickmap.Wheel) []string {
	var out []string
	hard, soft := w.Surface.Range(0)
	for s, stroke := range dyno.Strokes {
		var parts []string
		for _, a := range w.Authority[s] {
			parts = append(parts, fmt.Sprintf("%.2f times at %s (%s to %s)", a.Times, t.Shaft(a.Speed), t.newton(a.Soft.Value), t.newton(a.Hard.Value)))
		}
		out = append(out, fmt.Sprintf("Click %d to %d, %s: %s.", soft, hard, stroke, strings.Join(parts, ", ")))
	}
	return append(out, fmt.Sprintf("Cross-talk: the knob moves the other stroke by %s of what it moves %s.", PerCent(w.CrossTalk), w.Main))
}

// ClickFaults are the steps that are dead, stuck, reversed or uneven.
func (t *Teller) ClickFaults(w *clickmap.Wheel) []string {
	var out []string
	for i := range w.Faults {
		out = append(out, t.StepFault(&w.Faults[i], w.Surface.Set().Adjusters))
	}
	return out
}

// ClickLadder suggests positions that feel evenly apart.
func (t *Teller) ClickLadder(w *clickmap.Wheel) string {
	if len(w.Ladder) < 2 {
		return "No ladder of equal steps: the ratio does not rise from the softest to the hardest click."
	}
	var parts []string
	for _, s := range w.Ladder {
		parts = append(parts, fmt.Sprintf("%d (%.2f)", s.Click, s.Ratio))
	}
	return "Equal steps of the damping ratio, softest first: click " + strings.Join(parts, ", ") + ". That equal ratios feel equal is common practice, no source."
}

// ClickWanted names the click nearest to what is wanted.
func (t *Teller) ClickWanted(w *clickmap.Wanted) string {
	say := func(v float64) string {
		if w.Ratio {
			return fmt.Sprintf("ratio %.2f", v)
		}
		return t.newton(v) + " in " + string(w.Stroke)
	}
	text := fmt.Sprintf("Nearest to %s: click %d, %s.", say(w.Want), w.Click, say(w.Is))
	if !w.Within {
		text += " The clicks measured do not reach it; the builder would have to."
	}
	return text
}

// ClickSeen says how fast a damper moves on a road.
func (t *Teller) ClickSeen(s *clickmap.Seen) string {
	return fmt.Sprintf("%s at %s, %s, %s: %s of the time slower than %s, %s faster than %s.",
		Upper(strings.ReplaceAll(s.Road, "-", " ")), t.Amount("road", "m/s", s.Speed), lower(t.Load(s.Load)), car.AxleNames[car.AxleOf(s.Corner)], PerCent(s.Slow), t.Shaft(0.05), PerCent(s.Fast), t.Shaft(0.15))
}
