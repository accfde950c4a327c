package spread

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// spareDraws is how many more draws than dimensions a regression needs. Common
// practice, no source.
const spareDraws = 20

// Regression splits the variance of any number of results over the dimensions
// of one table. Its matrix is made once; it may be used by many at a time.
//
// Against squared correlations it takes no share for chance: of n draws each
// idle dimension would otherwise get 1/(n − 1) of the variance, which over a
// hundred dimensions adds up.
//
//	y = b₀ + Σ b_d·z_d     share_d = b_d²·var z_d / var y
//
// Source: standardised regression coefficients, e.g. A. Saltelli et al., Global
// Sensitivity Analysis: The Primer, 2008 (from memory).
type Regression struct {
	table    *Table
	gram     *mat.SymDense // of the columns 1, z₁, z₂, …
	factor   mat.Cholesky
	complete bool // factor holds: there are draws enough
}

// Regression prepares the table's columns.
func (t *Table) Regression() *Regression {
	r := &Regression{table: t, gram: mat.NewSymDense(t.Dims+1, nil)}
	for k := range t.Samples {
		r.add(r.gram, k, 1)
	}
	r.complete = t.Samples >= t.Dims+1+spareDraws && r.factor.Factorize(r.gram)
	return r
}

// add adds draw k to a matrix of sums of products, weight times.
func (r *Regression) add(gram *mat.SymDense, k int, weight float64) {
	raw := gram.RawSymmetric()
	draw := r.table.Draw(k)
	raw.Data[0] += weight
	for i := range draw {
		raw.Data[i+1] += weight * draw[i].Normal95
		row := raw.Data[(i+1)*raw.Stride+1:]
		w := weight * draw[i].Normal95
		for j := i; j < len(draw); j++ {
			row[j] += w * draw[j].Normal95
		}
	}
}

// Slopes returns by how much the values, one per draw and NaN left out, rise
// when an input rises by the half-width of its 95 % band, for every dimension
// [unit of the values]. ok is false when there are not 20 draws more than
// dimensions.
func (r *Regression) Slopes(values []float64) (slopes []float64, ok bool) {
	t := r.table
	if len(values) != t.Samples {
		return nil, false
	}
	n, mean := 0, 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			n++
			mean += v
		}
	}
	if !r.complete || n < t.Dims+1+spareDraws {
		return nil, false
	}
	mean /= float64(n)
	factor := &r.factor
	if n < t.Samples {
		gram := mat.NewSymDense(t.Dims+1, nil)
		gram.CopySym(r.gram)
		for k, v := range values {
			if math.IsNaN(v) {
				r.add(gram, k, -1)
			}
		}
		factor = new(mat.Cholesky)
		if !factor.Factorize(gram) {
			return nil, false
		}
	}
	right := make([]float64, t.Dims+1)
	for k, v := range values {
		if math.IsNaN(v) {
			continue
		}
		y := v - mean
		right[0] += y
		row := right[1:]
		for d, z := range t.Draw(k) {
			row[d] += y * z.Normal95
		}
	}
	x := mat.NewVecDense(len(right), right)
	if err := factor.SolveVecTo(x, x); err != nil {
		return nil, false
	}
	return right[1:], true
}

// Influences returns the share of each dimension in the variance of the values,
// NaN left out. With too few draws for a regression it falls back on Table's
// squared correlations.
func (r *Regression) Influences(values []float64) []Influence {
	slopes, ok := r.Slopes(values)
	if !ok {
		return r.table.Influences(values)
	}
	t := r.table
	n, mean := 0, 0.0
	z, zz := make([]float64, t.Dims), make([]float64, t.Dims)
	for k, v := range values {
		if math.IsNaN(v) {
			continue
		}
		n++
		mean += v
		for d, u := range t.Draw(k) {
			z[d] += u.Normal95
			zz[d] += u.Normal95 * u.Normal95
		}
	}
	mean /= float64(n)
	squares := 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			squares += (v - mean) * (v - mean)
		}
	}
	out := make([]Influence, t.Dims)
	for d := range out {
		out[d].Dim = d
		if squares > 0 {
			out[d].Share = math.Min(1, slopes[d]*slopes[d]*(zz[d]-z[d]*z[d]/float64(n))/squares)
		}
	}
	return out
}

// BandIfExact returns the band the values would have if the input of one
// dimension were known exactly, as far as its effect is a straight line: its
// slope, from Slopes, is taken out of every draw. scratch holds as many values
// and may be nil.
func (r *Regression) BandIfExact(values, slopes []float64, dim int, share float64, scratch []float64) (low, high float64, ok bool) {
	if len(values) != r.table.Samples || dim < 0 || dim >= len(slopes) {
		return math.NaN(), math.NaN(), false
	}
	held := scratch[:0]
	for k, v := range values {
		held = append(held, v-slopes[dim]*r.table.Draw(k)[dim].Normal95)
	}
	return Band(held, share, held)
}
