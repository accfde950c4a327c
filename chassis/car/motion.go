package car

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/spread"
)

// Motion is how far a spring or damper moves with the wheel.
//
// Readings over wheel travel are fitted by least squares, never interpolated,
// because the slope of interpolated readings is worthless. What the hardpoints say
// has no reading error and is used as it is: Curve.
type Motion struct {
	Wheel, Part []float64 // readings, or points of Curve, from the zero height, compression positive [m]
	Reading     Input     // half-width of one reading's error; its Value is 0 [m]
	Origin      figure.Origin
	Path        string
	Line        int

	Fit numeric.Fit
	// Z draws the fit's coefficients within what the readings leave open: one
	// standard normal each. Bend is the curvature that two readings cannot
	// show. [1/m]
	Z    [numeric.PolyDegree]Input
	Bend Input

	Curve *numeric.Pieces // from hardpoints; nil where there are readings [m]
	// Off is by how much all of Curve may be larger, as a share of it: what the
	// points are not known to. Its Value is 0. One for parts on one line. [-]
	Off *Input
}

// Known reports whether there is a table.
func (m *Motion) Known() bool { return m.Fit.N > 0 || m.Curve != nil }

// FitTable fits the readings; call it once after they are set.
func (m *Motion) FitTable() error {
	sigma := m.Reading.Half / spread.Normal95
	fit, err := numeric.FitThroughZero(m.Wheel, m.Part, sigma, 4)
	if err != nil {
		return err
	}
	m.Fit = fit
	for j := range fit.N {
		m.Z[j] = Input{Half: spread.Normal95, Shape: figure.Normal95, Origin: m.Origin, Path: m.Path, Line: m.Line}
	}
	return nil
}

// Ratio returns the motion ratio as fitted at a wheel travel [m], Bend left out [-].
func (m *Motion) Ratio(w float64) float64 {
	s := m.plain()
	_, r, _ := s.At(w)
	return r
}

// plain is travel over wheel travel as fitted, Bend left out.
func (m *Motion) plain() numeric.Smooth { return numeric.Smooth{Poly: m.Fit.Poly, Pieces: m.Curve} }

// At returns travel over wheel travel under a draw.
func (m *Motion) At(d figure.Draw) numeric.Smooth {
	if m.Curve != nil {
		s := numeric.Smooth{Pieces: m.Curve}
		if m.Off != nil {
			s.Share = m.Off.At(d)
		}
		return s
	}
	return numeric.Smooth{Poly: m.fitted(d)}
}

// fitted is the polynomial through the readings under a draw.
func (m *Motion) fitted(d figure.Draw) numeric.Poly {
	p := m.Fit.Poly
	if d == nil {
		p.C[1] += 0.5 * m.Bend.Value
		p.N = max(p.N, 2)
		return p
	}
	for j := range m.Fit.N {
		z := m.Z[j].At(d)
		for i := j; i < m.Fit.N; i++ {
			p.C[i] += m.Fit.Root[i][j] * z
		}
	}
	p.C[1] += 0.5 * m.Bend.At(d)
	p.N = max(p.N, 2)
	return p
}
