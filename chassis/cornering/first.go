package cornering

import "math"

// Together is how hard an acceleration along and one across are as one [m/s2].
func Together(lateral, longitudinal float64) float64 { return math.Hypot(lateral, longitudinal) }

// FirstStop is the acceleration, along and across together [m/s2], at which a sweep meets
// its first bump stop: 0 where the car rests on one, infinite where none is met, NaN where
// no stop of the car is known.
func (c *Car) FirstStop(s *Swept) float64 {
	first := math.NaN()
	for i := range 4 {
		if !math.IsNaN(c.ToStop(&c.rest, i)) {
			first = math.Inf(1)
		}
	}
	for i := range s.Contacts {
		k := &s.Contacts[i]
		if k.AtRest {
			return 0
		}
		first = math.Min(first, Together(k.Lateral, k.Longitudinal))
	}
	return first
}
