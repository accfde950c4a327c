package numeric

import "math"

// MaxUnknowns is the largest system that Factors holds.
const MaxUnknowns = 12

// Factors is a small matrix A and, after Factor, its triangular factors with
// partial pivoting: solved for many right sides, upright and transposed,
// without allocating.
//
// Source: elimination with partial pivoting, e.g. G. H. Golub, C. F. Van Loan,
// Matrix Computations (from memory).
type Factors struct {
	N int                               // unknowns, at most MaxUnknowns
	A [MaxUnknowns][MaxUnknowns]float64 // matrix before, factors after [SI]

	pivot [MaxUnknowns]int
}

// Factor replaces A by its factors. It reports false when A is singular to
// within rounding or holds something that is not a number.
func (f *Factors) Factor() bool {
	n := f.N
	for c := range n {
		p, big := c, math.Abs(f.A[c][c])
		for r := c + 1; r < n; r++ {
			if v := math.Abs(f.A[r][c]); v > big {
				p, big = r, v
			}
		}
		if !(big > 1e-14) || math.IsInf(big, 0) {
			return false
		}
		f.pivot[c] = p
		if p != c {
			f.A[c], f.A[p] = f.A[p], f.A[c]
		}
		inv := 1 / f.A[c][c]
		top := &f.A[c]
		for r := c + 1; r < n; r++ {
			row := &f.A[r]
			if row[c] == 0 {
				continue
			}
			m := row[c] * inv
			row[c] = m
			for k := c + 1; k < n; k++ {
				row[k] -= m * top[k]
			}
		}
	}
	return true
}

// Solve turns b into the x of A·x = b.
func (f *Factors) Solve(b *[MaxUnknowns]float64) {
	n := f.N
	for c := range n {
		if p := f.pivot[c]; p != c {
			b[c], b[p] = b[p], b[c]
		}
	}
	for r := 1; r < n; r++ {
		v := b[r]
		for k := range r {
			v -= f.A[r][k] * b[k]
		}
		b[r] = v
	}
	for r := n - 1; r >= 0; r-- {
		v := b[r]
		for k := r + 1; k < n; k++ {
			v -= f.A[r][k] * b[k]
		}
		b[r] = v / f.A[r][r]
	}
}

// SolveTransposed turns b into the x of Aᵀ·x = b.
func (f *Factors) SolveTransposed(b *[MaxUnknowns]float64) {
	n := f.N
	for c := range n {
		v := b[c]
		for k := range c {
			v -= f.A[k][c] * b[k]
		}
		b[c] = v / f.A[c][c]
	}
	for c := n - 1; c >= 0; c-- {
		v := b[c]
		for k := c + 1; k < n; k++ {
			v -= f.A[k][c] * b[k]
		}
		b[c] = v
	}
	for c := n - 1; c >= 0; c-- {
		if p := f.pivot[c]; p != c {
			b[c], b[p] = b[p], b[c]
		}
	}
}
