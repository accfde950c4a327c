package study

import (
	"math"
	"slices"

	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
)

const (
	// SteerAt is the lateral acceleration at which understeer in a bend is given:
	// the end of what most people ever drive. Common practice, no source. [m/s2]
	SteerAt = 4.0
	// usualTopSpeed stands where a car's is not known: common practice, no source.
	// [m/s]
	usualTopSpeed = 55.0
)

// topSpeed is how fast steadiness is looked at [m/s].
func (s *setup) topSpeed() float64 {
	if s.job.Car.TopSpeed.Known() && s.job.Car.TopSpeed.Value > 0 {
		return s.job.Car.TopSpeed.Value
	}
	return usualTopSpeed
}

// speedsOf are the speeds at which yaw is looked at: those of the brief's roads,
// and the top speed where it is known; without both, the usual one.
func (s *setup) speedsOf() []float64 {
	var out []float64
	if s.job.Brief != nil {
		for i := range s.job.Brief.Roads {
			for _, v := range s.job.Brief.Roads[i].Speeds {
				if v.Value > 0 {
					out = append(out, v.Value)
				}
			}
		}
	}
	if s.job.Car.TopSpeed.Known() && s.job.Car.TopSpeed.Value > 0 || len(out) == 0 {
		out = append(out, s.topSpeed())
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// yawCar is the car of a point for steering: its tyres' loads there.
//
//	I_z = q·I_pitch,sprung + Σ m_u·(x² + y²)     q about 1: common practice, no source
func (s *setup) yawCar(c *cornering.Car, p *cornering.Point, l int, d, own figure.Draw) stability.Car {
	return s.yawCarLess(c, p, l, 0, 0, d, own)
}

// yawCarLess is that car without a mass that its tyres carry and that does not
// turn with it, at a place behind the front axle: the weight of a trailer on the
// coupling.
func (s *setup) yawCarLess(c *cornering.Car, p *cornering.Point, l int, hung, behind float64, d, own figure.Draw) stability.Car {
	m := c.MassesLess(hung, behind)
	out := stability.Car{Mass: m.Whole, ToFront: m.Behind, ToRear: m.Wheelbase - m.Behind}
	out.YawInertia = s.bends.YawInertia.At(own)*s.pitchInertia(m, l, hung != 0, d) + m.UnsprungYaw
	for a := range 2 {
		scale := s.bends.TyreScale.At(own)
		if a == 0 {
			scale *= s.bends.AxleScale.At(own)
		}
		ax := &s.job.Car.Axle[a]
		tyre := stability.Tyre{Scale: scale}
		if ax.Cornering.Known() {
			// Empty, the mean of both wheels.
			tyre = stability.Known(ax.Cornering.At(d), s.emptyLoad(a))
		}
		right := s.tyreOf(c.Build(), 2*a+1, tyre, d, own)
		out.Axle[a] = stability.Axle{Load: [2]float64{p.Load[2*a], p.Load[2*a+1]}, Tyre: s.tyreOf(c.Build(), 2*a, tyre, d, own), Right: &right}
		if ax.LiftArea.Known() {
			out.Axle[a].Lift = ax.LiftArea.At(d)
		}
	}
	return out
}

// pitchInertia is the sprung inertia about the common centre, payload in and the
// coupling load out where that is asked for [kg m2].
func (s *setup) pitchInertia(m cornering.Masses, l int, noNose bool, d figure.Draw) float64 {
	out := s.job.Car.InertiaPitch.At(d)
	items := s.job.Loads[l].Items
	for i := range items {
		if noNose && i == s.job.Loads[l].Trailer.Nose {
			continue
		}
		dx := items[i].Behind.At(d) - m.SprungBehind
		out += items[i].Mass.At(d) * dx * dx
	}
	return out
}

// steer fills the figures of steering and yaw.
func (s *setup) steer(o *bent, l int, d, own figure.Draw) {
	n := o.numbers
	straight := s.yawCar(o.car, o.car.Rest(), l, d, own)
	slow := straight.At(0)
	n[cUndersteer] = slow.Gradient()
	n[cCritical] = straight.Critical(CriticalEnd)
	if p, err := o.car.At(SteerAt, 0, nil); err == nil {
		o.steady = p
		n[cUndersteerBend] = s.bendGradient(o.car, &p, l, d, own)
		n[cSteer0] = -o.car.Steer(&p, 0) / SteerAt
		n[cSteer0+1] = o.car.Steer(&p, 1) / SteerAt
	}
	for k, v := range s.speeds {
		r := straight.Response(v)
		n[cYaw0+yawEach*k+yawSettling] = r.Settling()
		n[cYaw0+yawEach*k+yawFrequency] = r.Frequency
		if r.Swings {
			n[cYaw0+yawEach*k+yawDamping] = r.Damping
		}
	}
}

func (s *setup) bendGradient(c *cornering.Car, p *cornering.Point, l int, d, own figure.Draw) float64 {
	y := s.yawCar(c, p, l, d, own)
	return stability.SteadyGradient(y.Axle, [2]float64{p.Side[0] + p.Side[1], p.Side[2] + p.Side[3]}, p.Lateral)
}

// Yaw returns a build in a load state ready for speed, its tyres loaded as they
// are straight ahead. The answer is only read.
func (a *Answer) Yaw(build, load string) (*stability.Car, error) {
	c, err := a.Cornering(build, load)
	if err != nil {
		return nil, err
	}
	_, l, err := a.Find(build, load)
	if err != nil {
		return nil, err
	}
	y := a.ready.yawCar(c, c.Rest(), l, nil, nil)
	return &y, nil
}

// YawSpeeds are the speeds at which yaw is given, and the one up to which it is
// looked at [m/s].
func (a *Answer) YawSpeeds() (speeds []float64, top float64) {
	if a.ready == nil {
		return nil, 0
	}
	return a.ready.speeds, a.ready.topSpeed()
}

// SteadyGradient is the understeer gradient of a point of a sweep [rad/(m/s2)].
func (a *Answer) SteadyGradient(build, load string, c *cornering.Car, p *cornering.Point) (float64, error) {
	_, l, err := a.Find(build, load)
	if err != nil {
		return math.NaN(), err
	}
	return a.ready.bendGradient(c, p, l, nil, nil), nil
}
