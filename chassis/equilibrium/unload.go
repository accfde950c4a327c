package equilibrium

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
)

// slack is where nothing but springs, gas and stops pushes: the stance with nobody
// aboard, in which bushes were tightened and bars connected.
type slack struct {
	travel  [4]float64 // of the wheels [m]
	bar     [4]float64 // force of the bar at each wheel in the state as weighed, off that stance [N]
	upright float64    // roll of the body there, from the position as weighed [rad]
	level   float64    // pitch [rad]
}

// Rounds of unload, and what counts as settled: bushes and bars are a tenth of the
// wheel rate, so each round gains about a digit.
const (
	unloadRounds = 20
	unloaded     = 1e-9 // [m]
)

// unload takes off at its place what was aboard on the scales. What remains is the
// car as it stands empty: the same, within the model, whoever sat in it.
//
//	S(w_e) = S_w − Σ m·g at their places,   bushes and bars slack at w_e
//
// w_e on both sides makes it a fixed point. Where even the weighing holds no rest
// without them, the loads are shared out by statics and the stance is left as it was.
//
// Source: own derivation.
func unload(fitted *corner.Design, h *Hangup, d figure.Draw, weighed Baseline) Baseline {
	off := Of(fitted.Car.Weighed.Aboard, d)
	off = Weights{Down: -off.Down, Behind: -off.Behind, Left: -off.Left, Height: -off.Height, Placed: -off.Placed}
	now := slack{travel: weighed.Travel}
	base := weighed
	var st State
	var sys System
	for range unloadRounds {
		base = weigh(fitted, h, d, &now)
		sys = standing(fitted, &base, off, d, &now)
		var err error
		if st, err = sys.Solve(off, nil); err != nil {
			return shared(fitted.Car, weighed, d)
		}
		moved := 0.0
		for i := range 4 {
			moved = math.Max(moved, math.Abs(st.Travel[i]-now.travel[i]))
		}
		now.travel, now.upright, now.level = st.Travel, st.Roll, st.Pitch
		for a := range 2 {
			l, r := 2*a, 2*a+1
			bar := sys.Bar[a]
			bar.Zero = st.Travel[l] - st.Travel[r]
			force, _ := bar.WheelForce(base.Travel[l] - base.Travel[r])
			now.bar[l], now.bar[r] = force, -force
		}
		if moved < unloaded {
			break
		}
	}
	out := base
	out.Emptied = true
	for i := range 4 {
		out.Travel[i], out.Tyre[i] = st.Travel[i], st.Tyre[i]
		out.Force[i] = st.Load[i] - sys.Unsprung[i]*Gravity
	}
	return out
}

// standing is the car as weighed, in equilibrium there, its bushes and bars slack at
// another stance. Its lean turns about the axis of the car without what is aboard, which
// is taken off.
func standing(fitted *corner.Design, base *Baseline, off Weights, d figure.Draw, now *slack) System {
	s := placed(fitted, base, d)
	for i := range 4 {
		s.Corner[i].BushZero = now.travel[i]
	}
	if fitted.Car.Weighed.BarsOn {
		for a := range 2 {
			s.Bar[a] = barOf(fitted, a, AxleTravel(&now.travel, a), d)
			s.Bar[a].Zero = now.travel[2*a] - now.travel[2*a+1]
		}
	}
	s.Lean = leanOf(s.MomentBehind+off.Behind, s.SprungWeight+off.Down, fitted.Car, &now.travel, d)
	s.Lean.Upright, s.Lean.Level = now.upright, now.level
	s.Raised = -off.raised(s.CGHeight)
	// At the position as weighed all moments balance, the body's lean in.
	lean := s.LeanWith(Weights{})
	s.MomentLeft -= s.SprungWeight * lean.RollArm * lean.Upright
	s.MomentBehind -= s.SprungWeight * lean.PitchArm * lean.Level
	return s
}

// shared takes the loads off by levers alone.
func shared(c *car.Car, base Baseline, d figure.Draw) Baseline {
	base.Emptied = true
	for _, item := range c.Weighed.Aboard {
		share := c.ShareOut(&item, d)
		for i := range 4 {
			load := share[i] * item.Mass.At(d) * Gravity
			base.Tyre[i] *= 1 - load/(base.Force[i]+c.Unsprung[car.AxleOf(i)].At(d)*Gravity)
			base.Force[i] -= load
		}
	}
	return base
}
