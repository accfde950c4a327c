package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/clickmap"
	"trunnion/chassis/dyno"
	"trunnion/chassis/figure"
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
	return append(out, "bump alone", "rebound alone", "heave", "roll", "pitch", "hop", "note")
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

// ClickSeen says how fast a damper moves on a road, and what a click is worth there.
func (t *Teller) ClickSeen(s *clickmap.Seen) string {
	text := fmt.Sprintf("%s at %s, %s, %s: %s of the time slower than %s, %s faster than %s.",
		Upper(strings.ReplaceAll(s.Road, "-", " ")), t.Amount("road", "m/s", s.Speed), lower(t.Load(s.Load)), car.AxleNames[car.AxleOf(s.Corner)], WholePerCent(s.Slow), t.Shaft(0.05), WholePerCent(s.Fast), t.Shaft(0.15))
	for k := range s.Ones {
		one := &s.Ones[k]
		text += fmt.Sprintf(" %s of the time slower than %s", WholePerCent(clickmap.Reached[k]), t.Shaft(one.Speed))
		switch {
		case one.Outside:
			text += ", faster than the damper was measured."
		case math.IsNaN(one.Worth[0].Value):
			text += "; no click is harder."
		default:
			text += fmt.Sprintf(": there one click harder is %s more in bump and %s in rebound.", t.newton(one.Worth[0].Value), t.newton(one.Worth[1].Value))
		}
	}
	return text
}

// Words of the picture of damper speeds on roads.
const (
	SeenTitle = "How much of the time at which damper velocity"
	SeenShare = "Share of the time"
)

// Unlike says what an axle with unlike dampers does to the car, and what cannot be said.
func (t *Teller) Unlike(m *clickmap.Map, u *clickmap.Unlike) []string {
	axle := car.AxleNames[u.Axle]
	var strokes []string
	for k, s := range u.Force {
		firmer, share := "left", s.Apart()
		if share < 0 {
			firmer, share = "right", -share
		}
		strokes = append(strokes, fmt.Sprintf("%s %s left and %s right (%s %s firmer)", dyno.Strokes[k], t.newton(s.Left), t.newton(s.Right), firmer, WholePerCent(share)))
	}
	out := []string{fmt.Sprintf("%s dampers, left and right apart at %s: %s.", Upper(axle), t.Shaft(m.Ask.Speeds[clickmap.Mid]), strings.Join(strokes, "; "))}
	for _, p := range u.Over {
		where := t.Place(figure.Place{Corner: figure.NoCorner, Event: p.Event, Speed: p.Speed})
		text := fmt.Sprintf("%s, the same under both sides: the unlike dampers alone lean the body by up to %s, pitch it by %s and for a moment part the %s tyres' loads by %s.",
			Upper(where), t.lean(p.ByDampers), t.lean(p.Pitch), axle, t.newton(p.Load))
		out = append(out, text+fmt.Sprintf(" The whole lean is %s; with both dampers at their mean it is %s.", t.lean(p.Roll), t.lean(p.Even)))
	}
	return append(out, "From the inputs as entered, without a range. The model has no brakes and no steering here: it cannot say how far the car pulls. A wheel braked to the limit of its grip pulls back by its load times the grip, so loads that part over bumps are where a pull would come from.")
}

// lean is an angle of the body, to a hundredth of a degree.
func (t *Teller) lean(angle float64) string {
	return quantity.Format(angle, quantity.Angle, t.System, 2)
}

// ClickMoves are the names of the movements of a click.
var ClickMoves = [4]string{"Heave", "Roll", "Pitch", "Wheel hop"}

// ClickMovements are the damping ratios of a click's movements at the middle speed, in
// the order of ClickMoves.
func ClickMovements(c *clickmap.Click) []string {
	var out []string
	m := &c.Modes[clickmap.Mid]
	for _, v := range []float64{m.Heave, m.Roll, m.Pitch, m.Hop} {
		out = append(out, quantity.Format(v, quantity.Ratio, quantity.Metric, 2))
	}
	return out
}

// ClickWheelName is the place of a map's damper.
func (t *Teller) ClickWheelName(w *clickmap.Wheel) string {
	if w.Sided {
		return Upper(Corner(w.Corner))
	}
	return Upper(car.AxleNames[car.AxleOf(w.Corner)])
}

// ClickSays is the force and the ratio of a click at the middle speed.
func (t *Teller) ClickSays(m *clickmap.Map, c *clickmap.Click) string {
	const mid = clickmap.Mid
	z := func(v float64) string { return quantity.Format(v, quantity.Ratio, quantity.Metric, 2) }
	text := fmt.Sprintf("%s in bump and %s in rebound at %s; damping ratio %s (%s to %s).", t.newton(c.Force[0][mid].Value), t.newton(c.Force[1][mid].Value), t.Shaft(m.Ask.Speeds[mid]),
		z(c.Ratio[mid].Value), z(c.Ratio[mid].Low), z(c.Ratio[mid].High))
	if !c.Measured {
		text += " Between clicks measured."
	}
	return text
}

// ClickStep is what a click adds over the next softer one, bump and rebound, at one of
// the map's speeds.
func (t *Teller) ClickStep(c *clickmap.Click, speed int) string {
	u := unitOf("", "N", t.System)
	return u.number(c.Worth[0][speed].Value, u.digits) + " / " + u.format(c.Worth[1][speed].Value)
}

// SeenRoad names a road that dampers were seen on.
func (t *Teller) SeenRoad(s *clickmap.Seen) string {
	return fmt.Sprintf("%s, %s, %s", Upper(spaced(s.Road)), t.Amount("road", "m/s", s.Speed), lower(t.Load(s.Load)))
}

// Swept says where a damper's curves are from.
func Swept(d *car.DamperSpec) string {
	switch {
	case d.Swept != "":
		return "Curves read from " + d.Swept + "."
	case d.Guess:
		return "Curves estimated: read a sweep of this damper."
	}
	return "Curves as typed in the job."
}

// ClicksNeeded says what a damper lacks for a click map.
func ClicksNeeded(d *car.DamperSpec) string {
	switch n := len(d.Curves); {
	case d.ClickMost == 0 && n > 0:
		return fmt.Sprintf("%s: the number of clicks from closed to open, and a curve at two of them. It has one curve; if it has no adjuster, there is nothing to map.", d.ID)
	case d.ClickMost == 0:
		return d.ID + ": the number of clicks from closed to open, and bump and rebound force over damper speed at two of them."
	case n == 1:
		return fmt.Sprintf("%s: bump and rebound force over damper speed at a second of its %d clicks.", d.ID, d.ClickMost)
	}
	return fmt.Sprintf("%s: bump and rebound force over damper speed at two of its %d clicks.", d.ID, d.ClickMost)
}
