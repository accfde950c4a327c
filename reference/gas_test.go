package reference

import (
	"math"
	"testing"

	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// Gas of a single-tube damper: rod 14 mm, 20 bar absolute, 60 cm3,
// p = p₀·(V₀/(V₀ − A·x))ⁿ, F = (p − p_atm)·A. Derived here from the polytropic
// law, 1e-8. Its push counts from the atmosphere, its pressure does not.
func TestGasForce(t *testing.T) {
	validation.Against(t, "Gas force of a single-tube damper", validation.Derived, "polytropic law")
	area := math.Pi / 4 * 0.014 * 0.014
	for _, r := range []struct{ exponent, at0, at30, at60 float64 }{
		{1, 292.278308, 317.951249, 348.295293},
		{1.25, 292.278308, 324.697254, 363.824864},
		{1.4, 292.278308, 328.810172, 373.458940},
	} {
		g := part.Gas{Pressure: 20e5, Volume: 60e-6, Area: area, Exponent: r.exponent}
		for _, p := range []struct{ travel, want float64 }{{0, r.at0}, {0.030, r.at30}, {0.060, r.at60}} {
			f, _ := g.At(p.travel)
			nearly(t, "gas force", f, p.want, 1e-8, "N")
		}
	}
	g := part.Gas{Pressure: 20e5, Volume: 60e-6, Area: area, Exponent: 1.25}
	_, k := g.At(0)
	nearly(t, "gas rate at zero travel", k, 987.371674, 1e-8, "N/m")
}

// Warm-up from 20 to 80 °C at constant volume: 20 to 24.0934675 bar absolute
// (ideal gas, derived here, 1e-8); what the push gains is the gain in pressure
// on the rod alone, the atmosphere drops out.
func TestGasWarms(t *testing.T) {
	validation.Against(t, "Gas force of a warm damper", validation.Derived, "ideal gas at constant volume")
	area := math.Pi / 4 * 0.014 * 0.014
	warm := 20e5 * (80 + 273.15) / (20 + 273.15)
	nearly(t, "pressure at 80 °C", warm*1e-5, 24.0934675, 1e-8, "bar")
	cold, hot := part.Gas{Pressure: 20e5, Volume: 60e-6, Area: area, Exponent: 1.25}, part.Gas{Pressure: warm, Volume: 60e-6, Area: area, Exponent: 1.25}
	a, _ := cold.At(0)
	b, _ := hot.At(0)
	nearly(t, "gain of push", b-a, 4.0934675e5*area, 1e-7, "N")
}

// Bump force past which a single tube without a base valve cavitates: piston
// 46 mm, rod 14 mm, 20 bar absolute: 3015.92895 N, 1e-8. The structure is that
// of J. C. Dixon, The Shock Absorber Handbook, 2nd ed. 2007 (from memory), the
// number derived here.
func TestBumpForceBound(t *testing.T) {
	validation.Against(t, "Bump force past which a single tube cavitates", validation.Derived, "structure of J. C. Dixon, The Shock Absorber Handbook, 2007 (from memory)")
	nearly(t, "bound", part.BumpForceBound(20e5, 0.046, 0.014), 3015.92895, 1e-8, "N")
}
