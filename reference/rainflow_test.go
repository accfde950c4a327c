package reference

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mathext"

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
		l := counting.Line{Rated: 1, Cycles: 1, Slope: c.slope, Below: c.slope}
		sum := 0.0
		for i := range want {
			sum += l.Take(&want[i])
		}
		nearly(t, "damage sum", sum, c.sum, 1e-12, "")
		near(t, "equivalent range", math.Pow(sum/4, 1/c.slope), c.equivalent, 5e-9, "")
	}
}

// Miner's sum, and the damage of a narrow-band Gaussian history: closed form to
// 1e-8, a simulated one to 5 %. Derived from Rayleigh's distribution.
func TestMinerAndGaussian(t *testing.T) {
	validation.Against(t, "Miner's sum", validation.Derived, "closed form of a narrow-band Gaussian history", "mount-damage-relative")
	for _, c := range []struct{ slope, want float64 }{{3, 30.0795393}, {5, 601.590786}} {
		nearly(t, "closed form", counting.GaussianRange(1, c.slope), c.want, 1e-8, "")
		// A lightly damped oscillator under white noise, in its own two states.
		rng := rand.New(rand.NewPCG(3, 5))
		const w, zeta, h, n = 2 * math.Pi, 0.004, 1.0 / 40, 4_000_000
		decay, s, k := math.Exp(-zeta*w*h), math.Sin(w*h), math.Cos(w*h)
		kick := math.Sqrt(1 - decay*decay) // keeps the deviation at 1
		l := counting.Line{Rated: 1, Cycles: 1, Slope: c.slope, Below: c.slope}
		sum := 0.0
		r := counting.Rainflow{Each: func(k counting.Cycle) { sum += l.Take(&k) }}
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
		nearly(t, "simulated", sum/band/math.Pow(sigma, c.slope), c.want, 0.05, "")
	}
}

// The lines of steel details in air: each has a knee at 10⁷ cycles, and the standard
// prints the range there and both branches by their constants, so that a life at any
// range can be held against them. log a₁ and log a₂ are printed to 0.0005, the range to
// 0.005 N/mm². Below the knee the slope of 5 is Haibach's 2·3 − 1.
func TestLineWithAKnee(t *testing.T) {
	validation.Against(t, "Life on a line with a knee", validation.Printed, "DNV-RP-C203 (2016), table 2-1, from memory; EN 1993-1-9:2005, 7.1", "mount-damage-relative")
	for _, c := range []struct {
		name         string
		slope        float64
		loga1, loga2 float64
		atKnee       float64 // [N/mm²]
	}{
		{"B1", 4, 15.117, 17.146, 106.97},
		{"B2", 4, 14.885, 16.856, 93.59},
		{"C", 3, 12.592, 16.320, 73.10},
		{"D", 3, 12.164, 15.606, 52.63},
		{"E", 3, 12.010, 15.350, 46.78},
		{"F", 3, 11.855, 15.091, 41.52},
		{"F3", 3, 11.546, 14.576, 32.75},
		{"W3", 3, 10.970, 13.617, 21.05},
	} {
		l := counting.Line{Rated: c.atKnee, Cycles: 1e7, Slope: c.slope, Below: 5}
		for _, r := range []float64{3.7, 1.31, 1.003} {
			above, below := r*c.atKnee, c.atKnee/r
			near(t, c.name+" above", math.Log10(l.Life(above)), c.loga1-c.slope*math.Log10(above), 0.0005+c.slope*0.005/c.atKnee/math.Ln10, "")
			near(t, c.name+" below", math.Log10(l.Life(below)), c.loga2-5*math.Log10(below), 0.0005+5*0.005/c.atKnee/math.Ln10, "")
		}
	}
	near(t, "Haibach's slope", counting.Haibach(3), 5, 0, "")
	// A detail of category 100: 2·10⁶ cycles of 100, its knee at 5·10⁶ at 0.737 of it,
	// and 10⁸ at 0.549 of the knee.
	l := counting.Line{Rated: 100 * math.Cbrt(2.0/5), Cycles: 5e6, Slope: 3, Below: 5}
	near(t, "range at the knee", l.Rated/100, 0.737, 0.0005, "")
	nearly(t, "cycles at the category", l.Life(100), 2e6, 1e-12, "")
	near(t, "range at 1e8 cycles", math.Pow(l.Cycles/1e8, 1.0/5), 0.549, 0.0005, "")
	nearly(t, "cycles at that range", l.Life(l.Rated*math.Pow(0.05, 0.2)), 1e8, 1e-12, "")
}

// Miner's sum of ranges that follow Weibull's distribution, on a line with a knee: the
// standard's closed form with incomplete gamma functions beside cycles taken one by one
// through the tally. What the tally's bins and the discrete cycles leave is under 0.3 %.
func TestMinerWithAKnee(t *testing.T) {
	validation.Against(t, "Miner's sum with a knee", validation.Derived, "DNV-RP-C203, closed form for two slopes under Weibull ranges", "mount-damage-relative")
	const rated, cycles, slope, scale = 52.63, 1e7, 3.0, 21.0
	for _, shape := range []float64{0.8, 1, 1.3} {
		for _, below := range []float64{5, 9, 0} {
			l := counting.Line{Rated: rated, Cycles: cycles, Slope: slope, Below: below}
			y := math.Pow(rated/scale, shape)
			upper := math.Pow(scale/rated, slope) * math.Gamma(1+slope/shape) * mathext.GammaIncRegComp(1+slope/shape, y)
			lower := 0.0
			if below > 0 {
				lower = math.Pow(scale/rated, below) * math.Gamma(1+below/shape) * mathext.GammaIncReg(1+below/shape, y)
			}
			const n = 400_000
			tally := counting.Tally{Least: 0.05}
			for k := range n {
				x := scale * math.Pow(-math.Log((float64(k)+0.5)/n), 1/shape)
				tally.Take(counting.Cycle{Range: x, Count: 1, Parts: counting.Parts{0.7 * x, 0.5 * x, -0.2 * x}})
			}
			sum, parts := tally.Damage(&l)
			nearly(t, "Miner's sum", sum/n*cycles, upper+lower, 0.003, "")
			nearly(t, "what the parts have of it", parts.Sum(), sum, 1e-9, "")
			nearly(t, "what goes against it", parts[2], -0.2*sum, 1e-9, "")
		}
	}
}
