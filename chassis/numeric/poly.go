package numeric

import "math"

// PolyDegree is the highest degree of a Poly.
const PolyDegree = 5

// Poly is a polynomial through the origin: C[0]·x + C[1]·x² + …
type Poly struct {
	C [PolyDegree]float64 // [SI unit of y per power of x]
	N int                 // terms in use
}

// At returns the value and the first two derivatives at x.
func (p *Poly) At(x float64) (y, dy, d2y float64) {
	for i := p.N - 1; i >= 0; i-- {
		d2y = d2y*x + 2*dy
		dy = dy*x + y
		y = y*x + p.C[i]
	}
	// y is now p(x)/x; multiply by x once more.
	return y * x, dy*x + y, d2y*x + 2*dy
}

// Inverse returns the x near guess at which the polynomial has the value y, by
// Newton's method; ok is false when it comes upon a level place or does not
// settle. A polynomial that turns has more than one answer: the guess chooses.
func (p *Poly) Inverse(y, guess float64) (x float64, ok bool) {
	x = guess
	for range 50 {
		v, slope, _ := p.At(x)
		step := (v - y) / slope
		if !finite(step) {
			return x, false
		}
		x -= step
		if math.Abs(step) <= 4*0x1p-52*math.Abs(x) || v == y {
			return x, true
		}
	}
	// Rounding of the polynomial itself can keep the last digits moving.
	v, slope, _ := p.At(x)
	return x, math.Abs(v-y) <= 1e-12*math.Abs(slope)*math.Max(math.Abs(x), math.Abs(guess))
}
