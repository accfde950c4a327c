package cornering

import "trunnion/chassis/equilibrium"

// Linear is the textbook's car in roll: springs without stops, rigid tyres, a
// roll axis that stays. The full model stands beside it; this one says what
// each part of the load transfer comes from.
type Linear struct {
	Sprung     float64    // mass [kg]
	Share      [2]float64 // of it on each axle [-]
	Arm        float64    // its centre of gravity above the roll axis at rest: the arm of the inertia force [m]
	LeanArm    float64    // the same as weighed: the arm of the weight as the body leans, see equilibrium.Lean [m]
	RollCentre [2]float64 // height [m]
	Track      [2]float64 // [m]
	Stiffness  [2]float64 // in roll, of each axle [N m/rad]
	Unsprung   [2]float64 // mass of each axle [kg]
	HubHeight  [2]float64 // of that mass [m]
	Gravity    float64    // [m/s2]
}

// Parts are what the load transfer of an axle is made of.
type Parts struct {
	Elastic   float64 // through springs and bars [N]
	Geometric float64 // through the roll centre [N]
	Unsprung  float64 // of the masses that move with the wheels [N]
}

// Sum is the whole load moved from one wheel to the other [N].
func (p Parts) Sum() float64 { return p.Elastic + p.Geometric + p.Unsprung }

// Gradient is the roll per lateral acceleration [rad/(m/s2)].
//
//	φ/a_y = m·d/(K_f + K_r − m·g·d_φ)
//
// Source: D. Barton, J. Fieldhouse, Automotive Chassis Engineering, 2018, p. 174.
func (l *Linear) Gradient() float64 {
	return l.Sprung * l.Arm / (l.Stiffness[0] + l.Stiffness[1] - l.Sprung*l.Gravity*l.LeanArm)
}

// Geometric and unsprung load transfer of an axle [N] at a lateral acceleration
// [m/s2]; the elastic part follows from the roll angle [rad].
//
//	ΔF·t = K·φ + m_s·a_y·z + m_u·a_y·h_u
//
// Source: as Gradient; W. F. Milliken, D. L. Milliken, Race Car Vehicle Dynamics,
// 1995, ch. 18 (from memory).
func (l *Linear) at(axle int, lateral, roll float64) Parts {
	t := l.Track[axle]
	return Parts{
		Elastic:   l.Stiffness[axle] * roll / t,
		Geometric: l.Sprung * l.Share[axle] * lateral * l.RollCentre[axle] / t,
		Unsprung:  l.Unsprung[axle] * lateral * l.HubHeight[axle] / t,
	}
}

// Transfer returns the parts of the load transfer of an axle at a lateral
// acceleration [m/s2].
func (l *Linear) Transfer(axle int, lateral float64) Parts {
	return l.at(axle, lateral, lateral*l.Gradient())
}

// Landing is a stop of constant rate that the outer wheel of an axle meets.
type Landing struct {
	Axle int
	Rate float64 // at the wheel [N/m]
	Gap  float64 // at the wheel [m]
}

// Contact returns the roll [rad] and the lateral acceleration [m/s2] at which the
// outer wheel meets the stop.
func (l *Linear) Contact(stop Landing) (roll, lateral float64) {
	roll = stop.Gap / (0.5 * l.Track[stop.Axle])
	return roll, roll / l.Gradient()
}

// PureRoll returns roll [rad], stop force [N] and the parts of each axle past
// contact, for a body that may only roll: the stop's force then counts as part of
// the elastic transfer. A stop on one side really lifts the car as well; see
// Car.At.
//
//	φ = (m·a_y·d + k·gap·t/2)/(K_f + K_r − m·g·d_φ + k·t²/4)
//
// Source: own derivation.
func (l *Linear) PureRoll(stop Landing, lateral float64) (roll, force float64, parts [2]Parts) {
	half := 0.5 * l.Track[stop.Axle]
	roll = lateral * l.Gradient()
	if roll*half > stop.Gap {
		k := l.Stiffness[0] + l.Stiffness[1] - l.Sprung*l.Gravity*l.LeanArm
		roll = (l.Sprung*lateral*l.Arm + stop.Rate*stop.Gap*half) / (k + stop.Rate*half*half)
		force = stop.Rate * (roll*half - stop.Gap)
	}
	for a := range 2 {
		parts[a] = l.at(a, lateral, roll)
	}
	parts[stop.Axle].Elastic += 0.5 * force
	return roll, force, parts
}

// Stiffness is what resists roll at an axle, at rest and with rigid tyres.
type Stiffness struct {
	Springs float64 // springs, gas, bushes and stops in contact [N m/rad]
	Bar     float64 // [N m/rad]
	Preload float64 // force with which the bar lifts the left wheel's corner at rest; negative: the right one's [N]
}

// Sum is the whole roll stiffness [N m/rad].
func (s Stiffness) Sum() float64 { return s.Springs + s.Bar }

// BarShare is the bar's share of it [-].
func (s Stiffness) BarShare() float64 { return s.Bar / s.Sum() }

// RollStiffness returns the roll stiffness of an axle about rest, springs and bar
// apart.
//
//	K_springs = Σ k_i·y_i²,   K_bar = k_b·t²   with k_b per relative wheel travel
//
// Source: own derivation.
func (c *Car) RollStiffness(axle int) Stiffness {
	l, r := 2*axle, 2*axle+1
	s := Stiffness{}
	track := c.sys.Left[l] - c.sys.Left[r]
	for i := l; i <= r; i++ {
		s.Springs += c.rest.Rate[i] * c.sys.Left[i] * c.sys.Left[i]
	}
	force, rate := c.sys.Bar[axle].WheelForce(c.rest.Travel[l] - c.rest.Travel[r])
	s.Bar, s.Preload = rate*track*track, force
	return s
}

// Linear is the textbook's car about this one's rest.
func (c *Car) Linear() Linear {
	l := Linear{Sprung: c.mass, Share: c.share, Arm: c.arm, LeanArm: c.lean.RollArm, Unsprung: c.unsprung, Gravity: equilibrium.Gravity}
	for a := range 2 {
		l.RollCentre[a] = c.RollCentre(a)
		l.Track[a] = c.sys.Left[2*a] - c.sys.Left[2*a+1]
		l.Stiffness[a] = c.RollStiffness(a).Sum()
		l.HubHeight[a] = c.geo.HubHeight[a]
	}
	return l
}
