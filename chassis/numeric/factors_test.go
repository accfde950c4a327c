package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Both ways of solving agree with gonum at every size.
func TestFactorsAgreeWithGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for n := 1; n <= MaxUnknowns; n++ {
		for range 20 {
			f := Factors{N: n}
			a := mat.NewDense(n, n, nil)
			b := mat.NewVecDense(n, nil)
			var up, down [MaxUnknowns]float64
			for i := range n {
				for j := range n {
					f.A[i][j] = rng.NormFloat64()
					a.Set(i, j, f.A[i][j])
				}
				up[i] = rng.NormFloat64()
				b.SetVec(i, up[i])
			}
			down = up
			if !f.Factor() {
				t.Fatalf("a matrix of %d unknowns counts as singular", n)
			}
			f.Solve(&up)
			f.SolveTransposed(&down)
			var x, y mat.VecDense
			if x.SolveVec(a, b) != nil || y.SolveVec(a.T(), b) != nil {
				continue
			}
			for i := range n {
				if d := math.Abs(up[i] - x.AtVec(i)); d > 1e-9*(1+mat.Norm(&x, 2)) {
					t.Errorf("n = %d: unknown %d differs by %g", n, i, d)
				}
				if d := math.Abs(down[i] - y.AtVec(i)); d > 1e-9*(1+mat.Norm(&y, 2)) {
					t.Errorf("n = %d transposed: unknown %d differs by %g", n, i, d)
				}
			}
		}
	}
}

func TestFactorsRefuseSingular(t *testing.T) {
	f := Factors{N: 2}
	f.A[0][0], f.A[0][1], f.A[1][0], f.A[1][1] = 1, 2, 2, 4
	if f.Factor() {
		t.Error("a singular matrix has factors")
	}
	f = Factors{N: 1}
	f.A[0][0] = math.NaN()
	if f.Factor() {
		t.Error("a matrix that is not a number has factors")
	}
}
