package ride

import "math"

// forceUnit scales forces for the logarithmic table of the inverse law: 1 kN stands where 1 m/s stands in the direct one,
// so that rows are about 1 N apart near zero.
const forceUnit = 1000.0 // [N]

// buildInverse turns force over speed into speed over force. A law that falls somewhere has no inverse; there the
// steepest way through is taken by keeping a least slope of 1 N s/m, a choice of the engine that Compile warns of.
func buildInverse(law *logTable) *logTable {
	const least = 1.0
	at := func(v float64) (float64, float64) {
		f, g := law.at(v)
		return f, math.Max(g, least)
	}
	return buildLog(func(f, _ float64) (v, slope float64) {
		target := f * forceUnit
		lo, hi := -1e4, 1e4
		for range 200 {
			got, g := at(v)
			miss := got - target
			if math.Abs(miss) < 1e-9 {
				break
			}
			if miss > 0 {
				hi = v
			} else {
				lo = v
			}
			next := v - miss/g
			if !(next > lo && next < hi) {
				next = (lo + hi) / 2
			}
			if next == v {
				break
			}
			v = next
		}
		_, g := at(v)
		return v, forceUnit / g
	})
}
