package equilibrium

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// Lean says what gravity does to a body that leans on its springs: its centre of gravity goes to the side it leans to,
// and its weight pulls it farther. The rest position, the modes, corners, the spectrum and drives all have this one law.
//
//	M_φ = W·d_φ·φ,   M_θ = W·d_θ·θ
//
// φ and θ are roll and pitch from the position in which the centre stood where the scales found it, d its height over the
// axis the body leans about:
//
//	roll    d_φ = h − h_a   h_a the roll axis under it: the contacts of the tyres hold their places across the car
//	pitch   d_θ = h − h_u   h_u the hubs' height: the wheels roll freely, and their hubs are led square to the body
//
// Angles are small, to the second order in height: the centre of a body that leans by φ is d·φ²/2 lower. The heights are
// those of the car as weighed and do not move with the body: an axis that falls 30 mm farther than the body does would
// change roll by 0.7 %. Payload without a height of its own sits at that of the car's own centre: common practice, no source. Brakes, driving
// torque and links that lead a hub forward as it rises would turn the body about another axis than the hubs'.
//
// Source: roll as in W. F. Milliken, D. L. Milliken, Race Car Vehicle Dynamics, 1995, ch. 18 (from memory); pitch is the
// moment by which a raised axle tells the height of the centre on scales, over the wheels' centres, and derived here: hub i stands at z + x_i·θ + (z_i + w_i)·(1 − θ²/2), the centre at z + x_W·θ + h·(1 − θ²/2).
type Lean struct {
	RollArm, PitchArm float64    // d_φ and d_θ [m]
	RollCentre        [2]float64 // height over the ground of each axle's, with nobody aboard [m]
	// Upright and Level are roll and pitch, from the baseline's position, at which the centre stands where the moments
	// of the sprung weight say. [rad]
	Upright, Level float64
}

// Of returns how far a body leans in a state: roll and pitch [rad].
func (l *Lean) Of(st *State) (roll, pitch float64) { return st.Roll - l.Upright, st.Pitch - l.Level }

// leanOf is the lean of a sprung weight [N] with its moment about the front axle [N m], where the wheels stand at their
// travels with nobody aboard [m].
func leanOf(moment, weight float64, c *car.Car, travel *[4]float64, d figure.Draw) Lean {
	h := c.CGHeight.At(d)
	l := Lean{PitchArm: h - hubs(c, d)}
	for a := range 2 {
		l.RollCentre[a] = c.RollCentreAt(a, AxleTravel(travel, a), d)
	}
	behind := moment / weight
	l.RollArm = h - (l.RollCentre[0] + (l.RollCentre[1]-l.RollCentre[0])*behind/c.Wheelbase.At(d))
	return l
}

// hubs is the height of a car's hubs, the mean of its axles. [m]
func hubs(c *car.Car, d figure.Draw) float64 {
	sum := 0.0
	for a := range 2 {
		one := car.UsualHubHeight
		if h := &c.UnsprungHeight[a]; h.Known() {
			one = h.At(d)
		}
		sum += one
	}
	return 0.5 * sum
}

// LeanWith is the lean of a system with what it carries: the arms of the common centre.
func (s *System) LeanWith(extra Weights) Lean {
	l := s.Lean
	higher := s.CentreHeight(extra) - s.CGHeight
	l.RollArm += higher
	l.PitchArm += higher
	return l
}
