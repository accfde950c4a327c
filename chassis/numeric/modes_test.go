package numeric

import (
	"errors"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func diagonal(v ...float64) *mat.DiagDense { return mat.NewDiagDense(len(v), v) }

// One mass: λ = −ζω ± iω√(1 − ζ²), by hand.
func TestModesOfOneMass(t *testing.T) {
	const m, w = 312.0, 2 * math.Pi * 1.37
	for _, z := range []float64{0, 0.05, 0.31, 0.99, 1.4, 6} {
		got, err := Modes(diagonal(m), diagonal(2*z*w*m), diagonal(w*w*m))
		if err != nil || len(got) != 1 {
			t.Fatalf("damping ratio %g: %d modes, %v", z, len(got), err)
		}
		g := got[0]
		if math.Abs(g.Frequency()-1.37) > 1e-12 || math.Abs(g.Ratio()-z) > 1e-12 {
			t.Errorf("damping ratio %g at 1.37 Hz is found as %.15g at %.15g Hz", z, g.Ratio(), g.Frequency())
		}
		if g.Real != (z > 1) {
			t.Errorf("damping ratio %g: real poles %t", z, g.Real)
		}
		if z < 1 && (imag(g.Pole) <= 0 || g.Other != cmplx.Conj(g.Pole)) {
			t.Errorf("damping ratio %g: poles %v and %v are not a pair with the upper one first", z, g.Pole, g.Other)
		}
		if z > 1 && cmplx.Abs(g.Pole) > cmplx.Abs(g.Other) {
			t.Errorf("damping ratio %g: the faster pole %v comes first", z, g.Pole)
		}
	}
}

// Two equal masses between three equal springs: in step at √(k/m), against each
// other at √(3k/m); damping in proportion to stiffness gives ζ = βω/2. By hand.
func TestModesOfTwoMasses(t *testing.T) {
	const m, k, beta = 40.0, 9000.0, 0.004
	stiff := mat.NewDense(2, 2, []float64{2 * k, -k, -k, 2 * k})
	var damp mat.Dense
	damp.Scale(beta, stiff)
	got, err := Modes(diagonal(m, m), &damp, stiff)
	if err != nil || len(got) != 2 {
		t.Fatalf("%d modes, %v", len(got), err)
	}
	for i, want := range []struct{ w, second float64 }{{math.Sqrt(k / m), 1}, {math.Sqrt(3 * k / m), -1}} {
		if f := want.w / (2 * math.Pi); math.Abs(got[i].Frequency()/f-1) > 1e-13 {
			t.Errorf("mode %d at %.15g Hz, want %.15g", i, got[i].Frequency(), f)
		}
		if z := beta * want.w / 2; math.Abs(got[i].Ratio()-z) > 1e-13 {
			t.Errorf("mode %d has damping ratio %.15g, want %.15g", i, got[i].Ratio(), z)
		}
		if r := got[i].Shape[1] / got[i].Shape[0]; cmplx.Abs(r-complex(want.second, 0)) > 1e-12 {
			t.Errorf("mode %d: the second mass moves %v times the first, want %g", i, r, want.second)
		}
	}
}

// Any damping: (λ²M + λC + K)·shape = 0 holds for every mode, and the product of
// all poles is det K / det M.
func TestModesFulfilTheirEquation(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for range 100 {
		const n = 7
		spd := func(scale float64) *mat.Dense {
			r := mat.NewDense(n, n, nil)
			for i := range n {
				for j := range n {
					r.Set(i, j, rng.NormFloat64())
				}
			}
			var s mat.Dense
			s.Mul(r, r.T())
			for i := range n {
				s.Set(i, i, s.At(i, i)+1)
			}
			s.Scale(scale, &s)
			return &s
		}
		m, c, k := spd(1), spd(rng.Float64()*4), spd(20)
		modes, err := Modes(m, c, k)
		if err != nil || len(modes) != n {
			t.Fatalf("%d modes, %v", len(modes), err)
		}
		product := complex(1, 0)
		for i, mode := range modes {
			product *= mode.Pole * mode.Other
			if i > 0 && mode.Frequency() < modes[i-1].Frequency() {
				t.Fatalf("mode %d is slower than the one before", i)
			}
			big := 0.0
			for r := range n {
				var sum complex128
				size := 0.0
				for j := range n {
					l := mode.Pole
					e := l*l*complex(m.At(r, j), 0) + l*complex(c.At(r, j), 0) + complex(k.At(r, j), 0)
					sum += e * mode.Shape[j]
					size += cmplx.Abs(l*l)*math.Abs(m.At(r, j)) + cmplx.Abs(l)*math.Abs(c.At(r, j)) + math.Abs(k.At(r, j))
				}
				if cmplx.Abs(sum) > 1e-9*size {
					t.Fatalf("pole %v leaves %g of %g in equation %d", mode.Pole, cmplx.Abs(sum), size, r)
				}
				big = math.Max(big, cmplx.Abs(mode.Shape[r]))
			}
			if math.Abs(big-1) > 1e-12 {
				t.Fatalf("greatest displacement of a shape %g, want 1", big)
			}
		}
		if want := mat.Det(k) / mat.Det(m); cmplx.Abs(product/complex(want, 0)-1) > 1e-8 {
			t.Fatalf("product of the poles %v, want %g", product, want)
		}
	}
}

func TestModesRefuses(t *testing.T) {
	if _, err := Modes(diagonal(1, 0), diagonal(1, 1), diagonal(1, 1)); !errors.Is(err, ErrModes) {
		t.Errorf("a massless place: error %v, want %v", err, ErrModes)
	}
	if _, err := Modes(diagonal(1, 1), diagonal(1), diagonal(1, 1)); !errors.Is(err, ErrModes) {
		t.Errorf("matrices of uneven size: error %v, want %v", err, ErrModes)
	}
	if _, err := Modes(diagonal(1), diagonal(math.NaN()), diagonal(1)); !errors.Is(err, ErrModes) {
		t.Errorf("a damping that is not a number: error %v, want %v", err, ErrModes)
	}
	// Nothing holds it: at rest anywhere, ratio not defined but not a crash.
	free, err := Modes(diagonal(1), diagonal(0), diagonal(0))
	if err != nil || len(free) != 1 || free[0].Frequency() != 0 {
		t.Errorf("a free mass: %v, %v", free, err)
	}
}

func BenchmarkModesOf7(b *testing.B) {
	m, c, k := mat.NewDense(7, 7, nil), mat.NewDense(7, 7, nil), mat.NewDense(7, 7, nil)
	for i := range 7 {
		m.Set(i, i, 1+float64(i))
		k.Set(i, i, 900+100*float64(i))
		c.Set(i, i, 6)
		if i > 0 {
			k.Set(i, i-1, -200)
			k.Set(i-1, i, -200)
		}
	}
	for b.Loop() {
		if _, err := Modes(m, c, k); err != nil {
			b.Fatal(err)
		}
	}
}
