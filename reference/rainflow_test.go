package reference

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trunnion/chassis/counting"
	"trunnion/reference/validation"
)

// The example of ASTM E1049-85, clause 5.4.4, Figure 6. Exact.
func TestRainflowOfTheStandard(t *testing.T) {
	validation.Against(t, "Rainflow counting", validation.Printed, "ASTM E1049-85, 5.4.4, figure 6", "mount-damage-relative")
	history := []float64{-2, 1, -3, 5, -1, 3, -4, 4, -2}
	want := []counting.Cycle{
		{Range: 3, Mean: -0.5, Count: 0.5},
		{Range: 4, Mean: -1, Count: 0.5},
		{Range: 4, Mean: 1, Count: 1},
		{Range: 8, Mean: 1, Count: 0.5},
		{Range: 9, Mean: 0.5, Count: 0.5},
		{Range: 8, Mean: 0, Count: 0.5},
		{Range: 6, Mean: 1, Count: 0.5},
	}
	if d := cmp.Diff(want, counting.Count(history)); !validation.Same(t, d, "") {
		t.Errorf("cycles wanted and counted differ:\n%s", d)
	}
	totals := map[float64]float64{}
	for _, c := range counting.Count(history) {
		totals[c.Range] += c.Count
	}
	if d := cmp.Diff(map[float64]float64{3: 0.5, 4: 1.5, 6: 0.5, 8: 1, 9: 0.5}, totals); !validation.Same(t, d, "") {
		t.Errorf("the standard's table and the count differ:\n%s", d)
	}
	// Points on the way from one reversal to the next change nothing.
	padded := []float64{-2, -2, 0, 1, 1, 0, -1, -3, 0, 2, 5, 2, -1, 0, 3, 0, -4, 0, 4, 4, 0, -2, -2}
	if d := cmp.Diff(want, counting.Count(padded)); !validation.Same(t, d, "") {
		t.Errorf("points between the reversals change the count:\n%s", d)
	}
	// Damage sums of those cycles and the range that does the same in 4; derived.
	for _, c := range []struct{ slope, sum, equivalent float64 }{
		{1, 23, 5.75}, {3, 1094, 6.49111211}, {5, 67838, 7.01265718}, {8, 39241969, 7.48102920},
	} {
		d := counting.Damage{Slope: c.slope}
		for _, k := range want {
			d.Take(k)
		}
		nearly(t, "damage sum", d.Sum, c.sum, 1e-12, "")
		near(t, "equivalent range", d.EquivalentRange(4), c.equivalent, 5e-9, "")
	}
}

// Miner's sum, and the damage of a narrow-band Gaussian history: closed form to
// 1e-8, a simulated one to 5 %. Derived from Rayleigh's distribution.
func TestMinerAndGaussian(t *testing.T) {
	validation.Against(t, "Miner's sum", validation.Derived, "closed form of a narrow-band Gaussian history", "mount-damage-relative")
	nearly(t, "Miner's sum", counting.Miner(counting.Block{Cycles: 1e5, Life: 1e6}, counting.Block{Cycles: 2e4, Life: 1e5}), 0.3, 1e-12, "")
	for _, c := range []struct{ slope, want float64 }{{3, 30.0795393}, {5, 601.590786}} {
		nearly(t, "closed form", counting.GaussianRange(1, c.slope), c.want, 1e-8, "")
		// A lightly damped oscillator under white noise, in its own two states.
		rng := rand.New(rand.NewPCG(3, 5))
		const w, zeta, h, n = 2 * math.Pi, 0.004, 1.0 / 40, 4_000_000
		decay, s, k := math.Exp(-zeta*w*h), math.Sin(w*h), math.Cos(w*h)
		kick := math.Sqrt(1 - decay*decay) // keeps the deviation at 1
		d := counting.Damage{Slope: c.slope}
		r := counting.Rainflow{Each: d.Take}
		x, y, square := 0.0, 0.0, 0.0
		for range n {
			x, y = decay*(k*x+s*y)+kick*rng.NormFloat64(), decay*(k*y-s*x)+kick*rng.NormFloat64()
			r.Push(x)
			square += x * x
		}
		r.Close()
		sigma := math.Sqrt(square / n)
		// Small ripples of the noise count as cycles of next to no damage: the
		// cycles of the band are those of its frequency.
		band := n * h
		nearly(t, "simulated", d.Sum/band/math.Pow(sigma, c.slope), c.want, 0.05, "")
	}
}
