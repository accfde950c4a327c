package equilibrium_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"

	"trunnion/chassis/equilibrium"
)

// BenchmarkBesideOptimiser finds the same rest position by the package's own
// iteration and by a general optimiser on the same seven balances, from the
// same start, in one run.
//
// The optimiser is BFGS on half the square sum of the residuals, its gradient
// by central differences, every unknown in millimetres at the wheel.
func BenchmarkBesideOptimiser(b *testing.B) {
	s := uneven(b)
	extra := equilibrium.Weights{Down: 2900, Behind: 2900 * 1.7, Left: -250}
	start, err := s.Solve(extra, nil)
	if err != nil {
		b.Fatal(err)
	}
	for i := range 4 {
		s.Corner[i].Compressed0 += 0.001 * float64(i-1)
		s.Corner[i].Spring.Rate *= 1.02
	}
	want, err := s.Solve(extra, &start)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("own", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Solve(extra, &start); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("optimiser", func(b *testing.B) {
		var got []float64
		for b.Loop() {
			got = general(b, &s, extra, &start)
		}
		off := 0.0
		for i := range 4 {
			off = math.Max(off, math.Abs(got[i]-want.Travel[i]))
		}
		if off > 1e-6 {
			b.Fatalf("the optimiser rests %.3g m elsewhere", off)
		}
		b.ReportMetric(off*1e9, "nm-apart")
	})
}

func general(b *testing.B, s *equilibrium.System, extra equilibrium.Weights, start *equilibrium.State) []float64 {
	b.Helper()
	scale := [7]float64{1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3 / 0.77, 1e-3 / 2.7}
	plain := func(x []float64) []float64 {
		out := make([]float64, len(x))
		for i := range x {
			out[i] = x[i] * scale[i]
		}
		return out
	}
	square := func(x []float64) float64 {
		sum := 0.0
		for _, v := range residual(s, extra, plain(x)) {
			sum += 0.5 * v * v
		}
		return sum
	}
	slope := func(grad, x []float64) {
		const h = 1e-4
		y := append([]float64(nil), x...)
		for i := range x {
			y[i] = x[i] + h
			up := square(y)
			y[i] = x[i] - h
			grad[i] = (up - square(y)) / (2 * h)
			y[i] = x[i]
		}
	}
	x := unknowns(start)
	for i := range x {
		x[i] /= scale[i]
	}
	res, err := optimize.Minimize(optimize.Problem{Func: square, Grad: slope}, x, &optimize.Settings{GradientThreshold: 1e-3}, &optimize.BFGS{})
	if res == nil {
		b.Fatal(err) // a line search that ends at rounding still gives its place
	}
	return plain(res.X)
}
