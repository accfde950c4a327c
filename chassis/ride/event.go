package ride

import "math"

// Event is what an obstacle does and what is left after it. Bounces are those of the body over each axle, from rest.
type Event struct {
	Acceleration float64    // greatest magnitude, unweighted, over all floor points [m/s²]
	Force        [4]float64 // greatest suspension force at the wheel [N]
	StopHit      [4]bool    // the stop was touched harder than at rest
	Bounce       [2]float64 // greatest excursion of the body over the front and the rear axle, signed [m]
	// Second is the next extreme to the same side, one full cycle after the greatest, over the greatest: what is left of
	// the bounce. 0 where there is none above 0.1 mm [-].
	Second [2]float64 // [-]
	// Settling is the time from the greatest excursion until the body stays within a tenth of it, over each axle; −1 where
	// it does not within the run [s].
	Settling [2]float64 // [s]
}

// keep stores the height of the body over both axles.
func (s *scratch) keep(m *Model, count int) {
	b := &s.block
	for k := range s.axle {
		c := &m.corner[2*k]
		for n := range count {
			s.axle[k] = append(s.axle[k], b.bodyZ[n]-c.x*b.bodyP[n])
		}
	}
}

func (s *scratch) event(m *Model, h float64, res *Result) Event {
	var e Event
	for k := range res.Floor {
		e.Acceleration = math.Max(e.Acceleration, res.Floor[k].Comfort.RawPeak)
	}
	for i := range res.Corners {
		c := &res.Corners[i]
		e.Force[i] = c.ForceMax
		e.StopHit[i] = c.StopPeak > m.rest.StopForce[i]*(1+1e-9)
	}
	for k, z := range s.axle {
		top := 0
		for n := range z {
			if math.Abs(z[n]) > math.Abs(z[top]) {
				top = n
			}
		}
		if len(z) == 0 || z[top] == 0 {
			continue
		}
		e.Bounce[k] = z[top]
		e.Second[k] = second(z[top:])
		e.Settling[k] = -1
		for n := len(z) - 1; n >= top; n-- {
			if math.Abs(z[n]) > math.Abs(z[top])/10 {
				if n+1 < len(z) {
					e.Settling[k] = float64(n+1-top) * h
				}
				break
			}
		}
	}
	return e
}

// second follows the height from its greatest excursion through the turn on the other side to the next extreme on the
// same side and returns that over the first.
func second(z []float64) float64 {
	first := z[0]
	side := math.Copysign(1, first)
	n := 1
	for n < len(z) && side*z[n] <= side*z[n-1] {
		n++ // down to the other side's turn
	}
	for n < len(z) && side*z[n] >= side*z[n-1] {
		n++ // back up
	}
	if n >= len(z) {
		return 0
	}
	if top := side * z[n-1]; top > 1e-4 {
		return top / math.Abs(first)
	}
	return 0
}
