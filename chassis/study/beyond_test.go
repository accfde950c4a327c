package study

import (
	"math"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// The standard normal distribution at one deviation is 0.8413 (any table of it). The half of
// a band towards the limit counts; one that ends where the figure does keeps the deviation
// of the other; one that is a factor is read on logarithms.
func TestBeyondIsTheNormalTable(t *testing.T) {
	const one = spread.Normal95 // deviations in half a band
	for name, row := range map[string]struct {
		value, low, high, limit, above float64
	}{
		"a whole band":              {3000, 3000 - one*200, 3000 + one*200, 2800, 0.8413},
		"a limit above":             {3000, 3000 - one*200, 3000 + one*200, 3200, 0.1587},
		"wide away from the limit":  {3000, 3000 - one*200, 9000, 2800, 0.8413},
		"narrow away from it":       {3000, 2990, 3000 + one*200, 3200, 0.1587},
		"cut at nothing":            {30, 0, 30 + one*20, 10, 0.8413},
		"on the limit, all one way": {0, 0, 40, 0, 0.5},
	} {
		v := figure.Value{Code: "stop-force-peak", Value: row.value, Low: row.low, High: row.high, HasBand: true}
		if got := Beyond(&v, row.limit, true); math.Abs(got-row.above) > 5e-5 {
			t.Errorf("%s: %.4f lies above, want %.4f", name, got, row.above)
		}
		if got := Beyond(&v, row.limit, false); math.Abs(got-1+row.above) > 5e-5 {
			t.Errorf("%s: %.4f lies below, want %.4f", name, got, 1-row.above)
		}
	}
	factor := figure.Value{Code: "mount-life-share", Value: 0.3, Low: 0.3 / math.Pow(2, one), High: 0.3 * math.Pow(2, one), HasBand: true}
	if got := Beyond(&factor, 0.15, true); math.Abs(got-0.8413) > 5e-5 {
		t.Errorf("half of it, with a factor of two a deviation: %.4f, want 0.8413", got)
	}
}
