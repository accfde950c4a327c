package numeric

// Smooth is a curve through the origin with two derivatives: a polynomial, on top
// of Pieces where the curve itself is known.
//
//	y = (1 + Share)·pieces(x) + poly(x)
type Smooth struct {
	Poly

	Pieces *Pieces // nil: the polynomial alone
	Share  float64 // by which all of Pieces is larger [-]
}

// At returns the value and the first two derivatives at x.
func (s *Smooth) At(x float64) (y, dy, d2y float64) {
	y, dy, d2y = s.Poly.At(x)
	if s.Pieces == nil {
		return y, dy, d2y
	}
	f, df, d2f := s.Pieces.At(x)
	k := 1 + s.Share
	return y + k*f, dy + k*df, d2y + k*d2f
}

// Scale multiplies the whole curve.
func (s *Smooth) Scale(by float64) {
	for i := range s.N {
		s.C[i] *= by
	}
	s.Share = (1+s.Share)*by - 1
}
