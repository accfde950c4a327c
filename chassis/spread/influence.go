package spread

import "math"

// Influence is how much of a value's variance one dimension explains.
type Influence struct {
	Dim   int
	Share float64 // of the variance, by linear regression [-]
}

// Influences returns the share of each dimension in the variance of values,
// one value per draw, NaN left out.
//
//	share_d = corr(z_d, y)²
//
// In a Latin hypercube the dimensions are nearly uncorrelated, so the squared
// correlations add up to the linear part of the variance.
//
// Source: standardised regression, e.g. A. Saltelli et al., Global Sensitivity
// Analysis: The Primer, 2008 (from memory).
func (t *Table) Influences(values []float64) []Influence {
	n, mean := 0, 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			n++
			mean += v
		}
	}
	out := make([]Influence, t.Dims)
	if n < 20 {
		return out
	}
	mean /= float64(n)
	variance := 0.0
	zy, z, zz := make([]float64, t.Dims), make([]float64, t.Dims), make([]float64, t.Dims)
	for k, v := range values {
		if math.IsNaN(v) {
			continue
		}
		y := v - mean
		variance += y * y
		for d, x := range t.Draw(k) {
			u := x.Normal95
			zy[d] += u * y
			z[d] += u
			zz[d] += u * u
		}
	}
	for d := range out {
		out[d].Dim = d
		spread := zz[d] - z[d]*z[d]/float64(n)
		if variance > 0 && spread > 0 {
			out[d].Share = math.Min(1, zy[d]*zy[d]/(spread*variance))
		}
	}
	return out
}
