package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
)

// leastGrip keeps the line of the pressure's effect from leading to nothing: chosen. [-]
const leastGrip = 0.3

// tyreOf is a corner's tyre on a build, from that of the car as weighed: its own where
// its cornering stiffness was given, else the same in proportion to the load its index
// stands for, with the pressure it is set to.
//
//	C(F) = n·q·C_0(F/q)·(1 + p_s·(p/p_0 − 1)),   q = m_I/m_I0
//
// Source: similarity as in H. B. Pacejka, Tyre and Vehicle Dynamics, ch. 4 (from memory).
func (s *setup) tyreOf(b *car.Build, i int, base stability.Tyre, d, own figure.Draw) stability.Tyre {
	if b == nil {
		return base
	}
	c, a := s.job.Car, car.AxleOf(i)
	is, was := b.Corner[i].Tyre, c.Weighed.Rolls[i].Tyre
	set, known := c.SetPressure(b, i), c.WeighedPressure(i)
	out := base
	switch {
	case is != nil && is.Cornering.Known() && (is != was || !c.Axle[a].Cornering.Known()):
		out, known = stability.Known(is.Cornering.At(d), s.emptyLoad(a)), &is.Pressure
	case is != was && is != nil && was != nil:
		out.Size = is.RatedOver(was)
		out.Scale *= s.bends.OtherTyre[a].At(own)
	}
	if set != known && set.Known() && known.Known() {
		out.Scale *= math.Max(leastGrip, 1+s.bends.PressureSlope.At(own)*(set.At(d)/known.At(d)-1))
	}
	return out
}

// emptyLoad is the mean load of an axle's tyres with nobody aboard [N].
func (s *setup) emptyLoad(axle int) float64 {
	empty := s.job.Car.EmptyLoads()
	return 0.5 * (empty[2*axle] + empty[2*axle+1]) * equilibrium.Gravity
}
