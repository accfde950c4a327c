package valving

import (
	"errors"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/dyno"
	"trunnion/chassis/part"
	"trunnion/chassis/study"
)

// Speeds are those of an order, the usual ones of a test of production dampers: common
// practice, no source. [m/s]
var Speeds = []float64{0.05, 0.13, 0.26, 0.39, 0.52, 1.04}

// Ask is what is wanted of both axles.
type Ask struct {
	Build, Load string
	Low         [2]float64 // damping ratio up to the knee, softest and hardest click [-]
	High        [2]float64 // at HighAt, softest and hardest click; secant [-]
	Knee        float64    // damper speed up to which force rises in proportion [m/s]
	HighAt      float64    // damper speed of High [m/s]
	Split       float64    // rebound over bump force [-]
	Positions   int        // clicks that are ordered
	Tolerance   dyno.Tolerance
}

// Usual is an order without a word: a car for road and some track days. Its ratios, knee
// and split are common practice, no source.
var Usual = Ask{Low: [2]float64{0.25, 0.65}, High: [2]float64{0.15, 0.28}, Knee: 0.08, HighAt: 0.52, Split: 1.8, Positions: 5, Tolerance: dyno.Club}

// Order is what is asked of the builder.
type Order struct {
	Ask     Ask
	Build   *car.Build
	Dampers []Damper
}

// Damper is the order of one damper, of both of an axle where they are alike.
type Damper struct {
	Corner    int
	Sided     bool
	Part      *car.DamperSpec
	Critical  float64 // coefficient of a damping ratio of 1, at the damper [N s/m]
	Positions []Position
	// Bound is the bump force at which the gas no longer holds the oil behind the piston
	// of a single tube without a base valve; NaN: not a single tube, or piston, rod or
	// pressure not known. [N]
	Bound float64
	// Least is the absolute pressure at which Bound is Hardest; NaN where it is not known. [Pa]
	Least   float64
	Hardest float64 // greatest bump force of the order [N]
	// Reached is the damper speed from which the hardest click's bump force, carried on,
	// passes Bound; NaN where it is not known. [m/s]
	Reached float64
}

// Position is one click of the order.
type Position struct {
	Click     int
	Low, High float64 // damping ratios [-]
	Points    []Point
}

// Point is one line of the order.
type Point struct {
	Speed   float64    // [m/s]
	Force   [2]float64 // bump, rebound, positive, gas and friction taken off [N]
	Allowed [2]float64 // either way [N]
	Present [2]float64 // of the damper fitted, at that click; NaN: not known [N]
}

// Errors of an order.
var (
	ErrNothing = errors.New("no corner of the build has a damper and a known rate and mass")
	ErrFalls   = errors.New("force would fall above the knee: raise the high ratio or its speed, or lower the low ratio or the knee")
	ErrAsk     = errors.New("a ratio, a speed or the split is not above 0, or the hardest is below the softest")
)

// Critical is the damper coefficient of a damping ratio of 1 [N s/m]:
//
//	C = 2·√(k·m)/r_d²
//
// tangent wheel rate k [N/m], sprung corner mass m [kg], damper travel over wheel
// travel r_d [-]. Source: critical damping of one degree of freedom.
func Critical(rate, mass, motion float64) float64 {
	return 2 * math.Sqrt(rate*mass) / (motion * motion)
}

// Mean is the mean of bump and rebound force at a damper speed [N]:
//
//	F = ζ_low·C·v up to the knee v_k, then F(v_k) + s·(v − v_k),
//	s = (ζ_high·C·v_h − ζ_low·C·v_k)/(v_h − v_k)
//
// The line is carried on above v_h. Source: derived here.
func Mean(critical, low, high, knee, highAt, speed float64) float64 {
	if speed <= knee {
		return low * critical * speed
	}
	at := low * critical * knee
	return at + (high*critical*highAt-at)/(highAt-knee)*(speed-knee)
}

// Strokes splits a mean force into bump and rebound, whose ratio is split [N].
func Strokes(mean, split float64) [2]float64 {
	return [2]float64{2 * mean / (1 + split), 2 * mean * split / (1 + split)}
}

// check refuses what no damper can be.
func (a *Ask) check() error {
	for i := range 2 {
		if !(a.Low[i] > 0) || !(a.High[i] > 0) {
			return ErrAsk
		}
		if a.High[i]*a.HighAt < a.Low[i]*a.Knee {
			return ErrFalls
		}
	}
	if !(a.Knee > 0) || !(a.HighAt > a.Knee) || !(a.Split > 0) || a.Positions < 1 || a.Low[1] < a.Low[0] || a.High[1] < a.High[0] {
		return ErrAsk
	}
	return nil
}

// Target makes the order from a study of the build.
func Target(a *study.Answer, ask Ask) (*Order, error) {
	if err := ask.check(); err != nil {
		return nil, err
	}
	b, l, err := a.Find(ask.Build, ask.Load)
	if err != nil {
		return nil, err
	}
	c := &a.Cases[b][l]
	o := &Order{Ask: ask, Build: a.Job.Builds[b]}
	for i := range 4 {
		d := o.Build.Corner[i].Damper
		mass := c.SprungMass(i)
		if d == nil || !(mass > 0) || !(c.State.Rate[i] > 0) {
			continue
		}
		sided := !o.Build.Alike(car.AxleOf(i))
		if i&1 == 1 && !sided {
			continue
		}
		_, motion, _ := c.System.Corner[i].DamperTravel.At(c.State.Travel[i])
		one := Damper{Corner: i, Sided: sided, Part: d, Critical: Critical(c.State.Rate[i], mass, motion)}
		if err := one.order(&ask); err != nil {
			return nil, err
		}
		o.Dampers = append(o.Dampers, one)
	}
	if len(o.Dampers) == 0 {
		return nil, ErrNothing
	}
	return o, nil
}

// order fills the positions, from the hardest click to the softest.
func (d *Damper) order(ask *Ask) error {
	surface, err := corner.ClicksOf(d.Part)
	if err != nil {
		return err
	}
	for k := range ask.Positions {
		t := 0.0 // hard
		if ask.Positions > 1 {
			t = float64(k) / float64(ask.Positions-1)
		}
		p := Position{
			Click: int(math.Round(t * float64(d.Part.ClickMost))),
			Low:   even(ask.Low, t), High: even(ask.High, t),
		}
		if k > 0 && p.Click == d.Positions[len(d.Positions)-1].Click {
			continue
		}
		for _, v := range Speeds {
			q := Point{Speed: v, Force: Strokes(Mean(d.Critical, p.Low, p.High, ask.Knee, ask.HighAt, v), ask.Split), Present: [2]float64{math.NaN(), math.NaN()}}
			for s, stroke := range dyno.Strokes {
				q.Allowed[s] = ask.Tolerance.Allowed(q.Force[s])
				if surface == nil {
					continue
				}
				if f, outside, err := surface.At(stroke, v, dyno.Setting{p.Click}); err == nil && !outside {
					q.Present[s] = d.Part.Scale.Value * f.Value
				}
			}
			p.Points = append(p.Points, q)
			d.Hardest = math.Max(d.Hardest, q.Force[0])
		}
		d.Positions = append(d.Positions, p)
	}
	d.cavitation(ask)
	return nil
}

// even is the ratio a share of the way from the hardest click to the softest, in equal
// steps of the ratio.
func even(ratios [2]float64, softer float64) float64 {
	return ratios[1] * math.Pow(ratios[0]/ratios[1], softer)
}

// cavitation holds the order's bump forces against what the gas holds.
func (d *Damper) cavitation(ask *Ask) {
	p := d.Part
	d.Bound, d.Least, d.Reached = math.NaN(), math.NaN(), math.NaN()
	single := p.Construction == "single-tube" || p.Construction == "single-tube-inverted"
	if !single || !p.Piston.Known() || !p.Rod.Known() || !(p.Piston.Value > p.Rod.Value) {
		return
	}
	d.Least = d.Hardest / part.BumpForceBound(1, p.Piston.Value, p.Rod.Value)
	if !p.GasPressure.Known() {
		return
	}
	pressure := p.GasPressure.Value
	if !p.GasAbsolute {
		pressure += part.AtmospherePressure
	}
	d.Bound = part.BumpForceBound(pressure, p.Piston.Value, p.Rod.Value)
	low, high := even(ask.Low, 0), even(ask.High, 0)
	mean := d.Bound * (1 + ask.Split) / 2
	if at := low * d.Critical * ask.Knee; mean <= at {
		d.Reached = mean / (low * d.Critical)
	} else if slope := (high*d.Critical*ask.HighAt - at) / (ask.HighAt - ask.Knee); slope > 0 {
		d.Reached = ask.Knee + (mean-at)/slope
	}
}
