package numeric

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func TestRoot(t *testing.T) {
	for _, c := range []struct {
		name    string
		f       func(float64) float64
		a, b, x float64
	}{
		{"cosine equals its angle", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607},
		{"bracket the other way round", func(x float64) float64 { return math.Cos(x) - x }, 1, 0, 0.7390851332151607},
		{"Wallis's cubic", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265},
		{"flat at the root", func(x float64) float64 { return math.Pow(x-0.3, 9) }, -1, 1, 0.3},
		{"root at an end", func(x float64) float64 { return x - 2 }, 2, 3, 2},
		{"wide bracket", func(x float64) float64 { return math.Atan(x - 1) }, -1e9, 2e9, 1},
		{"kink of a stop", func(x float64) float64 { return x + 1e6*math.Max(0, x-0.05) - 0.06 }, -1, 1, 0.05 + 0.01/(1+1e6)},
	} {
		calls := 0
		got, err := Root(func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, 1e-14)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		tol := 1e-13
		if c.name == "flat at the root" {
			tol = 1e-13 + math.Pow(5e-324, 1.0/9) // where f itself underflows to zero
		}
		if math.Abs(got-c.x) > tol {
			t.Errorf("%s: root at %.17g, want %.17g", c.name, got, c.x)
		}
		if calls > 250 {
			t.Errorf("%s: %d calls", c.name, calls)
		}
	}
	if _, err := Root(func(x float64) float64 { return x*x + 1 }, -1, 1, 0); !errors.Is(err, ErrRoot) {
		t.Errorf("a function without a root gave %v", err)
	}
	if _, err := Root(math.Sqrt, -1, 1, 0); !errors.Is(err, ErrRoot) {
		t.Errorf("a function that is not a number gave %v", err)
	}
}

// A single mass on a spring and a damper under white noise of intensity s on
// its acceleration: variance of speed s/(4ζω), of displacement that over ω².
// Derived here from A·P + P·Aᵀ + Q = 0 by hand.
func TestLyapunovOfOneMass(t *testing.T) {
	const w, z, s = 7.3, 0.23, 1.9
	p, err := Lyapunov(mat.NewDense(2, 2, []float64{0, 1, -w * w, -2 * z * w}), mat.NewSymDense(2, []float64{0, 0, 0, s}))
	if err != nil {
		t.Fatal(err)
	}
	speed := s / (4 * z * w)
	if d := p.At(1, 1)/speed - 1; math.Abs(d) > 1e-13 {
		t.Errorf("variance of speed is off by %g", d)
	}
	if d := p.At(0, 0)/(speed/(w*w)) - 1; math.Abs(d) > 1e-13 {
		t.Errorf("variance of displacement is off by %g", d)
	}
	if c := p.At(0, 1); math.Abs(c) > 1e-15 {
		t.Errorf("displacement and speed are correlated by %g", c)
	}
	// Without damping nothing bounds the movement.
	if _, err := Lyapunov(mat.NewDense(2, 2, []float64{0, 1, -w * w, 0}), mat.NewSymDense(2, []float64{0, 0, 0, s})); !errors.Is(err, ErrLyapunov) {
		t.Errorf("an undamped mass gave %v", err)
	}
}

// A·P + P·Aᵀ + Q vanishes for coupled systems up to the greatest size meant.
func TestLyapunovFulfilsItsEquation(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 6))
	for _, n := range []int{1, 2, 5, 14, 20} {
		a, b := mat.NewDense(n, n, nil), mat.NewDense(n, n, nil)
		for i := range n {
			for j := range n {
				a.Set(i, j, rng.NormFloat64())
				b.Set(i, j, rng.NormFloat64())
			}
			a.Set(i, i, a.At(i, i)-3*math.Sqrt(float64(n)))
		}
		var q mat.SymDense
		q.SymOuterK(1, b)
		p, err := Lyapunov(a, &q)
		if err != nil {
			t.Fatal(err)
		}
		var ap, rest mat.Dense
		ap.Mul(a, p)
		rest.Add(&ap, ap.T())
		rest.Add(&rest, &q)
		if r := mat.Norm(&rest, 2); r > 1e-12*mat.Norm(&q, 2) {
			t.Errorf("%d states: %g is left of %g", n, r, mat.Norm(&q, 2))
		}
		var chol mat.Cholesky
		if !chol.Factorize(p) {
			t.Errorf("%d states: the covariance of a stable system is not positive", n)
		}
	}
	if _, err := Lyapunov(mat.NewDense(2, 3, nil), mat.NewSymDense(2, nil)); !errors.Is(err, ErrLyapunov) {
		t.Errorf("uneven sizes gave %v", err)
	}
}

func BenchmarkLyapunovOf14(b *testing.B) {
	a, q := mat.NewDense(14, 14, nil), mat.NewSymDense(14, nil)
	for i := range 14 {
		for j := range 14 {
			a.Set(i, j, math.Sin(float64(i+3*j)))
		}
		a.Set(i, i, -20)
		q.SetSym(i, i, 1)
	}
	for b.Loop() {
		if _, err := Lyapunov(a, q); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRoot(b *testing.B) {
	for b.Loop() {
		if _, err := Root(func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 1e-12); err != nil {
			b.Fatal(err)
		}
	}
}
