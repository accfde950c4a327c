package linkage

import (
	"testing"

	"gonum.org/v1/gonum/optimize"

	"trunnion/chassis/numeric"
)

func BenchmarkSweep61(b *testing.B) {
	for name, build := range kinds() {
		b.Run(name, func(b *testing.B) {
			l, err := build()
			if err != nil {
				b.Fatal(err)
			}
			travels := Travels(-0.09, 0.09, 61)
			b.ReportAllocs()
			for b.Loop() {
				if c, err := l.Sweep(Parallel, travels, 0); err != nil || len(c.Points) != 61 {
					b.Fatal(err, len(c.Points))
				}
			}
		})
	}
}

// The same 61 positions of the strut, each closed by a general minimiser from
// its neighbour, with the same analytic gradients. Slopes and figures are not
// even asked for.
func BenchmarkSweep61General(b *testing.B) {
	l, err := NewCorner(strutCorner())
	if err != nil {
		b.Fatal(err)
	}
	travels := Travels(-0.09, 0.09, 61)
	for b.Loop() {
		from, err := l.at([2]float64{-0.09}, 0)
		if err != nil {
			b.Fatal(err)
		}
		q := from.q
		for _, w := range travels {
			base := q
			worst := 0.0
			pose := func(x []float64) poses {
				var step [numeric.MaxUnknowns]float64
				copy(step[:], x)
				return l.moved(&base, &step, 1)
			}
			sum := func(x, slope []float64) float64 {
				at := pose(x)
				var f numeric.Factors
				var miss [numeric.MaxUnknowns]float64
				worst = l.assemble(&at, [2]float64{w}, 0, &f, &miss)
				s := 0.0
				for i := range 6 {
					s += 1e6 * miss[i] * miss[i]
					for k := range slope {
						slope[k] += 2e6 * miss[i] * f.A[i][k]
					}
				}
				return s
			}
			p := optimize.Problem{
				Func: func(x []float64) float64 { return sum(x, nil) },
				Grad: func(slope, x []float64) { clear(slope); sum(x, slope) },
			}
			r, err := optimize.Minimize(p, make([]float64, 6), &optimize.Settings{GradientThreshold: 1e-7}, &optimize.BFGS{})
			if err != nil && r == nil {
				b.Fatal(err)
			}
			q = pose(r.X)
			if sum(r.X, nil); worst > 1e-6 {
				b.Fatalf("at %g m the minimiser misses by %g m", w, worst)
			}
		}
	}
}
