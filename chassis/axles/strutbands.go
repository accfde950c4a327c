package axles

import (
	"math"

	"trunnion/chassis/spread"
	"trunnion/chassis/strut"
)

// StrutFound is a strut of a draw in one case, with what its own strength is.
type StrutFound struct {
	Strut  BuildStrut // with the draw's layout
	Moment strut.Moment
	Yield  float64 // 0: not given [Pa]
}

// StrutBand is the 95 % band of a figure over the draws of a case; false for none: too
// few draws, or a figure that they do not move.
func StrutBand(drawn []StrutFound, of func(one *BuildStrut, m *strut.Moment) float64) (low, high float64, ok bool) {
	values := make([]float64, len(drawn))
	for k := range drawn {
		values[k] = of(&drawn[k].Strut, &drawn[k].Moment)
	}
	low, high, ok = spread.Band(values, 0.95, nil)
	return low, high, ok && high > low
}

// StrutChance is the share of the draws of a case in which a figure is over its limit in
// that draw; NaN without draws.
func StrutChance(drawn []StrutFound, over func(d *StrutFound) bool) float64 {
	if len(drawn) == 0 {
		return math.NaN()
	}
	n := 0
	for k := range drawn {
		if over(&drawn[k]) {
			n++
		}
	}
	return float64(n) / float64(len(drawn))
}
