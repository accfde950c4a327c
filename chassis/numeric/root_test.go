package numeric

import (
	"errors"
	"math"
	"testing"
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

func BenchmarkRoot(b *testing.B) {
	for b.Loop() {
		if _, err := Root(func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 1e-12); err != nil {
			b.Fatal(err)
		}
	}
}
