package ride

import "math"

// How finely a swing is smoothed: choices of the engine. What a Gaussian of width σ leaves of a swing is below 10⁻⁹ from
// one swing a σ on, so that neither its sum nor what it makes has to be looked at in every step.
const (
	reaches  = 6  // how many σ away a sample still counts: beyond are less than 2·10⁻⁹ of the whole [-]
	sampled  = 24 // samples taken within one σ, at least [-]
	smoothed = 6  // values worked out within one σ, at least; between them goes a polynomial through the six nearest [-]
)

// smoother takes the fast swings out of what was sampled. It keeps its room from one call to the next.
type smoother struct {
	weights, carried, sums []float64
	between                [][6]float64
	out                    [2][]float64
}

// smooth takes the fast swings out of z, sampled every h, without moving anything in time:
//
//	y(t) = ∫ z(t + τ)·exp(−τ²/2σ²) dτ/(σ√2π)
//
// Only what is asked for, from a step on, is filled; before its first and after its last sample z is carried on as it
// stood. A decaying swing e^{st} keeps its s, and so its decrement; only its height changes, by e^{s²σ²/2}. What it returns
// is kept until the same axle is smoothed again.
//
// Source: own derivation, from the transform of a Gaussian.
func (s *smoother) smooth(axle int, z []float64, sigma, h float64, from int) []float64 {
	s.out[axle] = room(s.out[axle], len(z))
	y := s.out[axle]
	clear(y)
	if from >= len(z) {
		return y
	}
	every := max(1, int(sigma/(sampled*h)))
	apart := max(1, int(sigma/(smoothed*h)))
	s.weigh(sigma, float64(every)*h)
	// Sums stand at from + (j − 2)·apart: two before the first value asked for, three past the last.
	count := (len(z)-1-from)/apart + 6
	reach := every * (len(s.weights) - 1)
	first := from - 2*apart - reach
	s.carried = room(s.carried, (count-1)*apart+2*reach+1)
	for n := range s.carried {
		s.carried[n] = z[min(max(first+n, 0), len(z)-1)]
	}
	s.sums = room(s.sums, count)
	for j := range s.sums {
		at := reach + j*apart
		v := s.weights[0] * s.carried[at]
		for k, w := range s.weights[1:] {
			off := (k + 1) * every
			v += w * (s.carried[at-off] + s.carried[at+off])
		}
		s.sums[j] = v
	}
	s.interpolate(apart)
	for n := from; n < len(z); n++ {
		j, k := (n-from)/apart, (n-from)%apart
		c, g := &s.between[k], s.sums[j:j+6]
		y[n] = c[0]*g[0] + c[1]*g[1] + c[2]*g[2] + c[3]*g[3] + c[4]*g[4] + c[5]*g[5]
	}
	return y
}

// weigh puts the weights down of samples a time apart, from the middle out; both sides together are one.
func (s *smoother) weigh(sigma, apart float64) {
	s.weights = room(s.weights, int(math.Ceil(reaches*sigma/apart))+1)
	whole := -1.0
	for k := range s.weights {
		t := float64(k) * apart / sigma
		s.weights[k] = math.Exp(-t * t / 2)
		whole += 2 * s.weights[k]
	}
	for k := range s.weights {
		s.weights[k] /= whole
	}
}

// interpolate puts down what each of six neighbours counts at every step between the third and the fourth.
//
// Source: Lagrange's polynomial through equally spaced points, as in any text on numerical analysis.
func (s *smoother) interpolate(apart int) {
	if len(s.between) == apart {
		return
	}
	s.between = make([][6]float64, apart)
	for k := range s.between {
		t := 2 + float64(k)/float64(apart)
		for a := range 6 {
			c := 1.0
			for b := range 6 {
				if b != a {
					c *= (t - float64(b)) / float64(a-b)
				}
			}
			s.between[k][a] = c
		}
	}
}

// room is a slice of n numbers, the one given where it is large enough.
func room(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
