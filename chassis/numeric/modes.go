package numeric

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// Mode is one free movement of a linear system: a conjugate pair of poles, or
// two real poles that stand next to each other.
type Mode struct {
	Pole  complex128   // with the positive imaginary part, or the slower of two real poles [1/s]
	Other complex128   // its conjugate, or the faster real pole [1/s]
	Shape []complex128 // displacements, greatest magnitude 1 [-]
	Real  bool         // a pair of real poles: no oscillation
}

// Frequency returns |λ|/2π; of a real pair the geometric mean. [Hz]
func (m *Mode) Frequency() float64 {
	return math.Sqrt(cmplx.Abs(m.Pole)*cmplx.Abs(m.Other)) / (2 * math.Pi)
}

// Ratio returns the damping ratio: −Re λ/|λ| of a complex pair; of two real
// poles half their sum over the root of their product, which is above 1. [-]
func (m *Mode) Ratio() float64 {
	return -real(m.Pole+m.Other) / (2 * math.Sqrt(cmplx.Abs(m.Pole)*cmplx.Abs(m.Other)))
}

// ErrModes is wrapped when the eigenvalues cannot be found.
var ErrModes = errors.New("modes: no eigenvalues")

// Modes returns the modes of M·q̈ + C·q̇ + K·q = 0, slowest first. The matrices
// are n×n; M must be invertible.
//
// Method: eigenvalues of [[0, I], [−M⁻¹K, −M⁻¹C]].
func Modes(m, c, k mat.Matrix) ([]Mode, error) {
	n, _ := m.Dims()
	for _, x := range []mat.Matrix{m, c, k} {
		rows, cols := x.Dims()
		if rows != n || cols != n {
			return nil, fmt.Errorf("%w: a matrix of %d×%d among those of %d×%d", ErrModes, rows, cols, n, n)
		}
		for i := range n {
			for j := range n {
				if !finite(x.At(i, j)) {
					return nil, fmt.Errorf("%w: a coefficient is not a number", ErrModes)
				}
			}
		}
	}
	var a, b mat.Dense
	if err := a.Solve(m, k); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrModes, err)
	}
	if err := b.Solve(m, c); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrModes, err)
	}
	s := mat.NewDense(2*n, 2*n, nil)
	for i := range n {
		s.Set(i, n+i, 1)
		for j := range n {
			s.Set(n+i, j, -a.At(i, j))
			s.Set(n+i, n+j, -b.At(i, j))
		}
	}
	var eig mat.Eigen
	if !eig.Factorize(s, mat.EigenRight) {
		return nil, ErrModes
	}
	values := eig.Values(nil)
	var vectors mat.CDense
	eig.VectorsTo(&vectors)
	var modes []Mode
	var reals []int
	for j, v := range values {
		if cmplx.IsNaN(v) || cmplx.IsInf(v) {
			return nil, ErrModes
		}
		switch {
		case math.Abs(imag(v)) <= 1e-9*cmplx.Abs(v):
			reals = append(reals, j)
		case imag(v) > 0:
			modes = append(modes, Mode{Pole: v, Other: cmplx.Conj(v), Shape: shape(&vectors, j, n)})
		}
	}
	sort.Slice(reals, func(a, b int) bool { return cmplx.Abs(values[reals[a]]) < cmplx.Abs(values[reals[b]]) })
	modes = append(modes, pairReals(values, reals, &vectors, n)...)
	sort.SliceStable(modes, func(a, b int) bool { return modes[a].Frequency() < modes[b].Frequency() })
	return modes, nil
}

// pairReals joins each real pole with the one whose shape is most like its own.
func pairReals(values []complex128, reals []int, vectors *mat.CDense, n int) []Mode {
	var out []Mode
	used := make(map[int]bool)
	for a, i := range reals {
		if used[i] {
			continue
		}
		si := shape(vectors, i, n)
		best, at := -1.0, -1
		for _, j := range reals[a+1:] {
			if used[j] {
				continue
			}
			if l := likeness(si, shape(vectors, j, n)); l > best {
				best, at = l, j
			}
		}
		if at < 0 {
			continue
		}
		used[i], used[at] = true, true
		out = append(out, Mode{Pole: values[i], Other: values[at], Shape: si, Real: true})
	}
	return out
}

// likeness is the modal assurance criterion of two shapes, 0 to 1.
func likeness(a, b []complex128) float64 {
	var ab complex128
	var aa, bb float64
	for i := range a {
		ab += cmplx.Conj(a[i]) * b[i]
		aa += real(a[i] * cmplx.Conj(a[i]))
		bb += real(b[i] * cmplx.Conj(b[i]))
	}
	d := cmplx.Abs(ab)
	return d * d / (aa * bb)
}

func shape(v *mat.CDense, col, n int) []complex128 {
	s := make([]complex128, n)
	big := complex(0, 0)
	for i := range n {
		s[i] = v.At(i, col)
		if cmplx.Abs(s[i]) > cmplx.Abs(big) {
			big = s[i]
		}
	}
	for i := range s {
		s[i] /= big
	}
	return s
}
