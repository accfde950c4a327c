package clickmap

import (
	"context"
	"errors"
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/clicks"
	"trunnion/chassis/corner"
	"trunnion/chassis/dyno"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
	"trunnion/chassis/study"
)

// Speeds are the low, mid and high damper speeds of a map [m/s].
type Speeds [3]float64

// UsualSpeeds are where the map is read without a word: body movement, the speed of
// the ratio that is judged, and short bumps. No standard fixes them: common practice,
// no source.
var UsualSpeeds = Speeds{0.05, 0.13, 0.26}

// Mid is the place in Speeds at which clicks are compared.
const Mid = 1

// Ask is what is looked at.
type Ask struct {
	Build, Load string
	Speeds      Speeds
	Ratio       float64     // wanted damping ratio at the mid speed, mean of both strokes; 0: none [-]
	Force       float64     // wanted force at the mid speed; 0: none [N]
	Stroke      dyno.Stroke // of that force
	Steps       int         // positions of the suggested ladder
}

// UsualSteps is how many positions a ladder of equal steps has without a word. Chosen.
const UsualSteps = 5

// Map is what clicks are worth on one build in one load state.
type Map struct {
	Ask    Ask
	Build  *car.Build
	Wheels []Wheel
	Unlike []Unlike // axles whose sides are damped unlike
	Seen   []Seen   // how fast the dampers move on the brief's roads; empty: not driven
}

// Wheel is the map of one damper: of both of an axle where they are alike.
type Wheel struct {
	Corner    int
	Sided     bool // the other side of the axle has its own map
	Damper    *car.DamperSpec
	Surface   *clicks.Surface
	Critical  float64 // coefficient of a damping ratio of 1, at the damper [N s/m]
	Now       int     // the build's click, from closed
	Clicks    []Click
	Authority [2][3]clicks.Authority // by stroke and speed, forces with the factor on the curves in
	CrossTalk float64                // at the mid speed [-]
	Main      dyno.Stroke            // the stroke that the knob moves more
	Faults    []dyno.StepFault
	Ladder    []Step
	Wanted    []Wanted

	scale float64 // factor on the damper's curves [-]
}

// Curve is both strokes of a click as this car's damper gives them.
func (w *Wheel) Curve(click int) (dyno.Curve, error) {
	c, err := w.Surface.Curve(dyno.Setting{click})
	if err != nil {
		return c, err
	}
	for _, stroke := range dyno.Strokes {
		b := c.Of(stroke)
		force, half := make([]float64, len(b.Force)), make([]float64, len(b.Half))
		for i := range b.Force {
			force[i], half[i] = w.scale*b.Force[i], w.scale*b.Half[i]
		}
		if *b, err = dyno.NewBranch(b.Speed, force, half); err != nil {
			return c, err
		}
	}
	return c, nil
}

// Figure is a figure with its 95 % range; NaN where it is not known.
type Figure struct {
	Value, Low, High float64 // [SI]
}

// Click is one setting.
type Click struct {
	Click    int
	Measured bool
	Force    [2][3]Figure // bump, rebound, positive [N]
	Worth    [2][3]Figure // more force than the next softer click; NaN at the softest [N]
	Ratio    [3]Figure    // of the corner, mean of bump and rebound [-]
	Apart    [2][3]Figure // of the corner, in bump and in rebound alone [-]
	Modes    [3]Modes     // of the whole car, both wheels of the axle at this click, the other axle as set
	Outside  [3]bool      // faster than the damper was measured there
}

// Modes are damping ratios of whole movements [-].
type Modes struct {
	Heave, Roll, Pitch, Hop float64 // Hop of this axle's wheels together [-]
}

// ErrNoClicks is returned for a build without an adjuster that was measured at two
// clicks.
var ErrNoClicks = errors.New("no damper of the build has clicks with curves")

// Of makes the map from a study of the build.
func Of(ctx context.Context, a *study.Answer, ask Ask) (*Map, error) {
	b, l, err := a.Find(ask.Build, ask.Load)
	if err != nil {
		return nil, err
	}
	c := &a.Cases[b][l]
	m := &Map{Ask: ask, Build: a.Job.Builds[b]}
	for i := range 4 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := m.Build.Corner[i].Damper
		if d == nil || d.ClickMost == 0 || len(d.Curves) < 2 || !m.Build.Setup.HasClick[i] {
			continue
		}
		sided := m.sided(i &^ 1)
		if i&1 == 1 && !sided {
			continue
		}
		w, err := m.wheel(a, c, l, i)
		if err != nil {
			return nil, fmt.Errorf("damper %s: %w", d.ID, err)
		}
		w.Sided = sided
		m.Wheels = append(m.Wheels, w)
	}
	if len(m.Wheels) == 0 {
		return nil, ErrNoClicks
	}
	return m, m.unlike(ctx, a)
}

// sided reports an axle whose sides have dampers, parts or clicks of their own.
func (m *Map) sided(left int) bool {
	set := &m.Build.Setup
	return !m.Build.Alike(car.AxleOf(left)) || set.Click[left] != set.Click[left+1] || set.HasClick[left] != set.HasClick[left+1]
}

// wheel maps the damper of one corner.
func (m *Map) wheel(a *study.Answer, c *study.Case, load, i int) (Wheel, error) {
	d := m.Build.Corner[i].Damper
	w := Wheel{Corner: i, Damper: d, Now: m.Build.Setup.Click[i]}
	var err error
	if w.Surface, err = corner.ClicksOf(d); err != nil {
		return w, err
	}
	w.Faults = w.Surface.Set().Faults()
	at := newOn(a, c, load, i, m.Build.ID, m.Ask.Load)
	w.Critical, w.scale = 1/at.single, at.scale
	hard, soft := w.Surface.Range(0)
	for n := hard; n <= soft; n++ {
		one, err := at.click(w.Surface, n, m.Ask.Speeds)
		if err != nil {
			return w, err
		}
		w.Clicks = append(w.Clicks, one)
	}
	for k := range w.Clicks {
		w.Clicks[k].worth(w.Clicks, k)
	}
	w.follow(hard)
	for s, stroke := range dyno.Strokes {
		for k, v := range m.Ask.Speeds {
			r, err := w.Surface.AuthorityOf(0, stroke, v, dyno.Setting{})
			if err != nil {
				return w, err
			}
			for _, b := range []*dyno.Band{&r.Hard, &r.Soft} {
				b.Value *= at.scale
				b.Half *= at.scale
			}
			w.Authority[s][k] = r
		}
	}
	if w.CrossTalk, w.Main, err = w.Surface.CrossTalk(0, m.Ask.Speeds[Mid], dyno.Setting{}); err != nil {
		return w, err
	}
	w.Ladder = ladder(w.Clicks, m.Ask.Steps)
	w.Wanted = wanted(w.Clicks, &m.Ask)
	return w, nil
}

// follow keeps heave and pitch the same two movements from click to click, outward from
// the build's own: where the axles are damped unlike, each mode holds some of both, and
// which holds more changes along the ladder.
func (w *Wheel) follow(hard int) {
	now := min(max(w.Now-hard, 0), len(w.Clicks)-1)
	match := func(k, from int) {
		for v := range w.Clicks[k].Modes {
			m, was := &w.Clicks[k].Modes[v], &w.Clicks[from].Modes[v]
			if math.Abs(m.Heave-was.Heave)+math.Abs(m.Pitch-was.Pitch) > math.Abs(m.Pitch-was.Heave)+math.Abs(m.Heave-was.Pitch) {
				m.Heave, m.Pitch = m.Pitch, m.Heave
			}
		}
	}
	for k := now + 1; k < len(w.Clicks); k++ {
		match(k, k-1)
	}
	for k := now - 1; k >= 0; k-- {
		match(k, k+1)
	}
}

// worth is the step from the next softer click.
func (c *Click) worth(all []Click, k int) {
	for s := range c.Worth {
		for v := range c.Worth[s] {
			c.Worth[s][v] = Figure{math.NaN(), math.NaN(), math.NaN()}
			if k+1 < len(all) {
				softer := &all[k+1].Force[s][v]
				half := math.Hypot(c.Force[s][v].High-c.Force[s][v].Value, softer.High-softer.Value)
				by := c.Force[s][v].Value - softer.Value
				c.Worth[s][v] = Figure{by, by - half, by + half}
			}
		}
	}
}

// ratioOf is the band of a corner's damping ratio over its value, from the study: all in
// a ratio but the force is common to a corner, so its band keeps its proportion.
func ratioOf(v *figure.Value) (low, high float64) {
	if v == nil || !v.HasBand || !(v.Value > 0) {
		return 1, 1
	}
	return v.Low / v.Value, v.High / v.Value
}

// law is the force law of a setting.
func law(f *clicks.Surface, click int) (dyno.Curve, part.DamperCurve, error) {
	at := dyno.Setting{click}
	c, err := f.Curve(at)
	if err != nil {
		return c, part.DamperCurve{}, err
	}
	return c, corner.Law(&c, !f.Measured(at)), nil
}
