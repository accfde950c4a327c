package numeric

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
