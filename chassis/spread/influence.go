package spread

import "math"

// Influence is how much of a value's variance one dimension explains.
type Influence struct {
	Dim   int
	Share float64 // of the variance, as far as the effect is a straight line [-]
}

// Influences returns the share of each dimension in the variance of values,
// one value per draw, NaN left out.
//
//	share_d = (corr(z_d, y)² − c)/(1 − c), not below 0     c = 1/(n − 1)
//
// In a Latin hypercube the dimensions are nearly uncorrelated, so the squared
// correlations add up to the linear part of the variance; c is what chance gives
// an idle dimension of n draws. Chance still scatters by about 1.4·c, and half of
// that stays after the cut at 0: shares summed over many dimensions are better
// taken from Regression. z is the normal score; a dimension read as uniform
// between limits loses 5 % of its share (the squared correlation of a uniform
// with its normal score is 3/π).
//
// Source: standardised regression, e.g. A. Saltelli et al., Global Sensitivity
// Analysis: The Primer, 2008 (from memory).
func (t *Table) Influences(values []float64) []Influence {
	values = values[:min(len(values), t.Samples)]
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
	chance := 1 / float64(n-1)
	variance := 0.0
	for k, v := range values {
		if math.IsNaN(v) {
			continue
		}
		y := v - mean
		variance += y * y
		for d, x := range t.Draw(k) {
			out[d].Share += x.Normal95 * y // the sum of z·y for now
		}
	}
	z, zz := t.sums(values, n)
	for d := range out {
		out[d].Dim = d
		zy := out[d].Share
		out[d].Share = 0
		spread := zz[d] - z[d]*z[d]/float64(n)
		if variance > 0 && spread > 0 {
			out[d].Share = max(0, (min(1, zy*zy/(spread*variance))-chance)/(1-chance))
		}
	}
	return out
}

// sums adds up the scores and their squares over the draws whose value counts,
// n of them. Those of the whole table are added up once.
func (t *Table) sums(values []float64, n int) (z, zz []float64) {
	if n == t.Samples {
		t.once.Do(func() { t.z, t.zz = t.add(values) })
		return t.z, t.zz
	}
	return t.add(values)
}

func (t *Table) add(values []float64) (z, zz []float64) {
	z, zz = make([]float64, t.Dims), make([]float64, t.Dims)
	for k, v := range values {
		if math.IsNaN(v) {
			continue
		}
		for d, x := range t.Draw(k) {
			z[d] += x.Normal95
			zz[d] += x.Normal95 * x.Normal95
		}
	}
	return z, zz
}
