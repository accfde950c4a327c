package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func TestSolveAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for round := range 300 {
		var a7 [7][7]float64
		var b7 [7]float64
		dense7, right7 := mat.NewDense(7, 7, nil), mat.NewVecDense(7, nil)
		for i := range 7 {
			for j := range 7 {
				a7[i][j] = rng.NormFloat64() * math.Pow(10, float64(i%3)) // rows of uneven size
				if round%3 == 0 && i == j {
					a7[i][j] = 0 // must be pivoted
				}
				dense7.Set(i, j, a7[i][j])
			}
			b7[i] = rng.NormFloat64()
			right7.SetVec(i, b7[i])
		}
		var a3 [3][3]float64
		var b3 [3]float64
		for i := range 3 {
			copy(a3[i][:], a7[i][:3])
			b3[i] = b7[i]
		}
		dense3, right3 := mat.DenseCopyOf(dense7.Slice(0, 3, 0, 3)), mat.VecDenseCopyOf(right7.SliceVec(0, 3))
		compare := func(name string, solved bool, got []float64, a *mat.Dense, b *mat.VecDense) {
			t.Helper()
			var want mat.VecDense
			if err := want.SolveVec(a, b); err != nil || !solved {
				t.Fatalf("%s: solved %t, gonum %v", name, solved, err)
			}
			// Both are backward stable: they differ by roundings times the
			// condition of the matrix.
			tol := 1e-15 * 50 * mat.Cond(a, 2) * mat.Norm(&want, 2)
			for i, v := range got {
				if math.Abs(v-want.AtVec(i)) > tol {
					t.Fatalf("%s: unknown %d is %.17g, gonum has %.17g", name, i, v, want.AtVec(i))
				}
			}
		}
		compare("seven", Solve7(&a7, &b7), b7[:], dense7, right7)
		compare("three", Solve3(&a3, &b3), b3[:], dense3, right3)
	}
}

func TestSolveTellsSingular(t *testing.T) {
	var a7 [7][7]float64
	var b7 [7]float64
	for i := range 6 {
		a7[i][i] = 1
	}
	if Solve7(&a7, &b7) {
		t.Error("seven equations with an empty row were solved")
	}
	a3, b3 := [3][3]float64{{1, 2, 3}, {2, 4, 6}, {1, 0, 1}}, [3]float64{1, 2, 3}
	if Solve3(&a3, &b3) {
		t.Error("three equations, two of them the same, were solved")
	}
	a7 = [7][7]float64{}
	for i := range 7 {
		a7[i][i] = 1
	}
	a7[3][4] = math.NaN()
	if Solve7(&a7, &b7) {
		t.Error("equations that are not numbers were solved")
	}
}

func BenchmarkSolve7(b *testing.B) {
	var a [7][7]float64
	var r [7]float64
	for i := range 7 {
		for j := range 7 {
			a[i][j] = math.Sin(float64(3*i + 5*j*j))
		}
		a[i][i] += 4
		r[i] = float64(i)
	}
	b.ReportAllocs()
	for b.Loop() {
		m, v := a, r
		Solve7(&m, &v)
	}
}
