package ride

import (
	"math"
	"testing"
)

// TestSmoothIsTheSum: against the weighted sum itself, step by step, over a bounce with a ripple that ends off its rest; in
// lengths that share a smoother and in one that starts late.
func TestSmoothIsTheSum(t *testing.T) {
	const h, sigma = 1e-3, 0.047
	var s smoother
	for _, c := range []struct{ length, from int }{{3000, 0}, {3000, 700}, {501, 20}, {3000, 2999}, {3000, 3000}} {
		z := make([]float64, c.length)
		for n := range z {
			at := float64(n) * h
			z[n] = 0.01 + 0.02*math.Exp(-2*at)*(math.Cos(9*at)+2.0/9*math.Sin(9*at)) + 0.003*math.Exp(-4*at)*(math.Cos(70*at)+4.0/70*math.Sin(70*at))
		}
		y := s.smooth(0, z, sigma, h, c.from)
		if len(y) != c.length {
			t.Fatalf("%d samples made %d", c.length, len(y))
		}
		for n := c.from; n < c.length; n++ {
			sum, whole := 0.0, 0.0
			for k := -400; k <= 400; k++ {
				w := math.Exp(-float64(k*k) * h * h / (2 * sigma * sigma))
				sum += w * z[min(max(n+k, 0), c.length-1)]
				whole += w
			}
			if d := math.Abs(y[n] - sum/whole); d > 2e-7 { // a hundredth of the least swing that is told from nothing
				t.Errorf("length %d from %d: at %d %.12f, the sum is %.12f", c.length, c.from, n, y[n], sum/whole)
			}
		}
	}
}
