package stability

import "math"

// Nerves are the speeds [m/s] at which a car is what another is at one speed: answers as
// sharply to steer, and swings as long. Infinite where it is not up to the last speed
// looked at, NaN where it cannot be said.
type Nerves struct {
	Sharp, Swings float64 // [m/s]
}

// Sooner is the lower of both.
func (n Nerves) Sooner() float64 {
	switch {
	case math.IsNaN(n.Swings):
		return n.Sharp
	case math.IsNaN(n.Sharp):
		return n.Swings
	}
	return math.Min(n.Sharp, n.Swings)
}

// Alike sets a car against another at a speed, up to the top: swings are NaN where one of
// the two does not swing.
//
// The answer grows with speed up to the characteristic speed; an understeering car's yaw
// is damped the less the faster it goes, and one that oversteers does not swing at all.
func (c *Car) Alike(other *Car, at, top float64) Nerves {
	own, aim := c.Response(at), other.Response(at)
	sharp := reach(own.YawGain, aim.YawGain, at, top, func(v float64) float64 {
		r := c.Response(v)
		return r.YawGain
	})
	swings := math.NaN()
	mine, its := c.At(0), other.At(0)
	if mine.Gradient() > 0 && its.Gradient() > 0 {
		swings = reach(-own.Damping, -aim.Damping, at, top, func(v float64) float64 {
			r := c.Response(v)
			return -r.Damping
		})
	}
	return Nerves{Sharp: sharp, Swings: swings}
}

// reach is the lowest speed at which a figure that grows with speed comes to an aim;
// infinite where it does not up to the top. [m/s]
func reach(own, aim, at, top float64, of func(v float64) float64) float64 {
	// Closer than figures are shown to: the same.
	if math.Abs(own-aim) < 0.002*math.Abs(aim) {
		return at
	}
	const steps = 200
	low := 1.0
	for k := 1; k <= steps; k++ {
		high := 1 + (top-1)*float64(k)/steps
		if !(of(high) >= aim) {
			low = high
			continue
		}
		for high-low > 0.01 {
			if middle := 0.5 * (low + high); of(middle) >= aim {
				high = middle
			} else {
				low = middle
			}
		}
		return 0.5 * (low + high)
	}
	return math.Inf(1)
}
