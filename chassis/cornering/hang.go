package cornering

import "math"

// DroopUsed is the acceleration, along and across together [m/s2], at which a wheel's
// damper comes to its open end in a sweep; NaN where it does not.
//
// Between two points of the sweep a straight line is laid: closer than their step
// nobody asks.
func (c *Car) DroopUsed(s *Swept, corner int) float64 {
	for k := 1; k < len(s.Points); k++ {
		before, after := &s.Points[k-1], &s.Points[k]
		was, is := c.Droop(before, corner), c.Droop(after, corner)
		if was > 0 && is <= 0 {
			from, to := Together(before.Lateral, before.Longitudinal), Together(after.Lateral, after.Longitudinal)
			return from + (to-from)*was/(was-is)
		}
	}
	return math.NaN()
}

// Gap is how far a wheel hangs over the ground [m]: its tyre's deflection at rest used
// up by the body's rise over it and its own travel. Negative on the ground.
//
//	g = (z − z_0) + y·(φ − φ_0) + x·(θ − θ_0) + (w − w_0) − t_0
func (c *Car) Gap(p *Point, corner int) float64 {
	rest := &c.rest
	rise := p.Heave - rest.Heave + c.sys.Left[corner]*(p.Roll-rest.Roll) + c.sys.Behind[corner]*(p.Pitch-rest.Pitch)
	return rise + p.Travel[corner] - rest.Travel[corner] - rest.Tyre[corner]
}
