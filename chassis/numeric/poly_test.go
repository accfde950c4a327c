package numeric

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestPolyAndItsDerivatives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p Poly
		p.N = rapid.IntRange(1, PolyDegree).Draw(t, "terms")
		for i := range p.N {
			p.C[i] = rapid.Float64Range(-3, 3).Draw(t, "coefficient")
		}
		x := rapid.Float64Range(-1.5, 1.5).Draw(t, "place")
		var y, dy, d2y float64
		for i := range p.N {
			k := float64(i + 1)
			y += p.C[i] * math.Pow(x, k)
			dy += p.C[i] * k * math.Pow(x, k-1)
			if i > 0 {
				d2y += p.C[i] * k * (k - 1) * math.Pow(x, k-2)
			}
		}
		gy, gdy, gd2y := p.At(x)
		if math.Abs(gy-y) > 1e-12 || math.Abs(gdy-dy) > 1e-12 || math.Abs(gd2y-d2y) > 1e-11 {
			t.Fatalf("at %g: %g %g %g, term by term %g %g %g", x, gy, gdy, gd2y, y, dy, d2y)
		}
	})
}

func TestPolyInverse(t *testing.T) {
	p := Poly{C: [PolyDegree]float64{0.93, 0.4, -3.1, 21, 5}, N: 5}
	for _, x := range []float64{-0.09, -0.0411, -0.0071, 0, 0.0013, 0.0239, 0.09} {
		y, _, _ := p.At(x)
		got, ok := p.Inverse(y, y/p.C[0])
		if !ok || math.Abs(got-x) > 1e-15 {
			t.Errorf("%g m of part travel at %.17g m of wheel travel, want %g (%t)", y, got, x, ok)
		}
	}
	parabola := Poly{C: [PolyDegree]float64{0, 1}, N: 2}
	if x, ok := parabola.Inverse(-1, 0.7); ok {
		t.Errorf("x² = −1 at %g", x)
	}
	if x, ok := parabola.Inverse(1, 0); ok {
		t.Errorf("left a level place for %g", x)
	}
	if x, ok := parabola.Inverse(4, -1); !ok || math.Abs(x+2) > 1e-15 {
		t.Errorf("the guess −1 led to %g, want −2 (%t)", x, ok)
	}
	if n := testing.AllocsPerRun(100, func() {
		p.At(0.03)
		p.Inverse(0.03, 0.03)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkPolyAt(b *testing.B) {
	p := Poly{C: [PolyDegree]float64{0.93, 0.4, -3.1, 21}, N: 4}
	x, sum := 0.0, 0.0
	for b.Loop() {
		y, dy, _ := p.At(x)
		sum += y + dy
		x = 0.09 - x
	}
	_ = sum
}
