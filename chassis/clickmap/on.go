package clickmap

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/clicks"
	"trunnion/chassis/dyno"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/modes"
	"trunnion/chassis/part"
	"trunnion/chassis/study"
)

// on is one corner of a car at rest, to try clicks on.
type on struct {
	corner    int
	sys       equilibrium.System
	state     *equilibrium.State
	body      modes.Body
	scale     float64 // factor on the damper's curves [-]
	single    float64 // damping ratio over the coefficient at the damper [m/(N s)]
	low, high float64 // band of a ratio over its value [-]
}

func newOn(a *study.Answer, c *study.Case, load, i int, build, loadID string) *on {
	items := a.Job.Loads[load].Items
	o := &on{corner: i, sys: c.System, state: &c.State, scale: c.System.Corner[i].CurveScale}
	o.body = modes.BodyOf(&o.sys, equilibrium.Of(items, nil), a.Job.Car.InertiaRoll.At(nil), a.Job.Car.InertiaPitch.At(nil), items...)
	main := a.Get("damping-ratio", build, loadID, i)
	o.low, o.high = ratioOf(main)
	o.single = math.NaN()
	if s := o.sys.Corner[i].Secant(a.Options.MainSpeed); main != nil && s > 0 {
		o.single = main.Value / s
	}
	return o
}

// click is what one setting gives here.
//
//	ζ = C·(ζ_0/C_0)
//
// C is the damper's secant at a speed, ζ_0 and C_0 those of the study at its main
// speed and the build's own click: nothing else in a ratio moves with a click.
func (o *on) click(f *clicks.Surface, click int, speeds Speeds) (Click, error) {
	out := Click{Click: click, Measured: f.Measured(dyno.Setting{click})}
	curve, force, err := law(f, click)
	if err != nil {
		return out, err
	}
	for k, v := range speeds {
		var c [2]float64
		wide := 0.0
		for s, stroke := range dyno.Strokes {
			b, outside := curve.Of(stroke).At(v)
			out.Outside[k] = out.Outside[k] || outside
			out.Force[s][k] = Figure{o.scale * b.Value, o.scale * (b.Value - b.Half), o.scale * (b.Value + b.Half)}
			c[s] = o.scale * b.Value / v
			wide = math.Max(wide, between(b))
		}
		out.Ratio[k] = o.ratio(0.5*(c[0]+c[1]), wide)
		out.Apart[0][k], out.Apart[1][k] = o.ratio(c[0], wide), o.ratio(c[1], wide)
		if out.Modes[k], err = o.modes(&force, v); err != nil {
			return out, fmt.Errorf("modes at click %d: %w", click, err)
		}
	}
	return out, nil
}

// between is how much wider a force is than a reading, as a share: of a click that was
// not measured.
func between(b dyno.Band) float64 {
	if !(b.Value > 0) {
		return 0
	}
	share := b.Half / b.Value
	return math.Sqrt(math.Max(0, share*share-dyno.Repeats*dyno.Repeats))
}

// ratio is the damping ratio of a coefficient [N s/m], wider by a share.
func (o *on) ratio(coefficient, wide float64) Figure {
	z := o.single * coefficient
	return Figure{z, z * (1 - math.Hypot(1-o.low, wide)), z * (1 + math.Hypot(o.high-1, wide))}
}

// modes are those of the car with both wheels of the axle at a curve.
func (o *on) modes(curve *part.DamperCurve, speed float64) (Modes, error) {
	axle := car.AxleOf(o.corner)
	sys := o.sys
	for _, i := range []int{2 * axle, 2*axle + 1} {
		sys.Corner[i].Curve = *curve
	}
	lin := modes.Linearise(&sys, o.state, o.body, speed)
	list, err := lin.Modes()
	var m Modes
	hop := car.AxleNames[axle] + "-hop"
	for i := range list {
		switch list[i].Name {
		case "heave":
			m.Heave = list[i].Ratio
		case "roll":
			m.Roll = list[i].Ratio
		case "pitch":
			m.Pitch = list[i].Ratio
		case hop:
			m.Hop = list[i].Ratio
		}
	}
	return m, err
}
