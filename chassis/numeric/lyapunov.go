package numeric

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/mat"
)

// The equation is for the index that a road of a class would have (road.ExpectedIndex), and what tests hold random
// vibrations against.

// ErrLyapunov is wrapped when the equation has no single solution.
var ErrLyapunov = errors.New("lyapunov equation not solved")

// Lyapunov returns the symmetric P of
//
//	A·P + P·Aᵀ + Q = 0
//
// which is the covariance of the states of ẋ = A·x + w under white noise w of
// two-sided intensity Q, when A is stable. It does not ask whether A is: for an
// unstable A the solution exists but is no covariance.
//
// The n(n+1)/2 equations of the upper half are solved as they stand, which is
// quick up to about n = 20 and wasteful far above. An error is returned when two
// eigenvalues of A add up to zero, for then P is not determined.
//
// Source: the equation e.g. in A. E. Bryson, Y.-C. Ho, Applied Optimal Control,
// 1975 (from memory); the solution by elimination derived here.
func Lyapunov(a mat.Matrix, q mat.Symmetric) (*mat.SymDense, error) {
	n := q.SymmetricDim()
	if r, c := a.Dims(); r != n || c != n || n == 0 {
		return nil, fmt.Errorf("%w: A is %d×%d and Q %d×%d", ErrLyapunov, r, c, n, n)
	}
	at := func(i, j int) int { // place of P_ij among the unknowns
		if i > j {
			i, j = j, i
		}
		return j*(j+1)/2 + i
	}
	size := n * (n + 1) / 2
	left, right := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for j := range n {
		for i := 0; i <= j; i++ {
			row := at(i, j)
			right.SetVec(row, -q.At(i, j))
			for k := range n {
				left.Set(row, at(k, j), left.At(row, at(k, j))+a.At(i, k))
				left.Set(row, at(i, k), left.At(row, at(i, k))+a.At(j, k))
			}
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(left, right); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrLyapunov, err)
	}
	p := mat.NewSymDense(n, nil)
	for j := range n {
		for i := 0; i <= j; i++ {
			v := x.AtVec(at(i, j))
			if !finite(v) {
				return nil, fmt.Errorf("%w: not a number", ErrLyapunov)
			}
			p.SetSym(i, j, v)
		}
	}
	return p, nil
}
