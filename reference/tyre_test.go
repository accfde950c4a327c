package reference

import (
	"math"
	"testing"

	"trunnion/chassis/stability"
	"trunnion/reference/validation"
)

// The Magic Formula with the coefficients of E. Bakker, L. Nyborg, H. B. Pacejka,
// SAE 870421 (1987); forces computed here from them, 1e-6.
func TestMagicFormula1987(t *testing.T) {
	validation.Against(t, "Tyre: lateral force", validation.Derived, "E. Bakker, L. Nyborg, H. B. Pacejka, SAE 870421, 1987", "understeer-gradient")
	for _, r := range []struct {
		load                  float64 // kN
		d, bcd, b, e          float64
		one, two, four, eight float64 // N at so many degrees
		peak                  float64 // degrees, printed to a thousandth
		longitudinal          float64 // N at 10 % of slip
	}{
		{2, 1933.6, 708.7768, 0.281968, -0.001, 676.2523, 1197.0564, 1722.5424, 1928.7299, 9.346, 2191.81811},
		{4, 3690.4, 1027.3347, 0.214139, -0.709, 1009.3781, 1911.0598, 3096.6093, 3676.7868, 9.351, 4234.44451},
		{6, 5270.4, 1076.1495, 0.157067, -1.417, 1071.9534, 2110.4264, 3833.0989, 5166.0947, 10.824, 6090.57398},
		{8, 6673.6, 1028.8270, 0.118587, -2.125, 1029.9321, 2061.0164, 4011.2154, 6253.2505, 12.777, 7736.34479},
	} {
		m := stability.Lateral1987(r.load * 1e3)
		near(t, "D", m.D, r.d, 0.05, "N")
		near(t, "BCD", m.Slope(), r.bcd, 0.00005, "N/deg")
		near(t, "B", m.B, r.b, 0.0000005, "1/deg")
		near(t, "E", m.E, r.e, 0.0005, "")
		for angle, want := range map[float64]float64{1: r.one, 2: r.two, 4: r.four, 8: r.eight} {
			near(t, "lateral force", m.Force(angle), want, 0.00005, "N")
			near(t, "to the other side", m.Force(-angle), -want, 0.00005, "N")
		}
		// The peak: greater than a thousandth of a degree to either side of its place.
		for _, off := range []float64{-0.001, 0.001} {
			if m.Force(r.peak+off) > m.D {
				t.Errorf("%g kN: force past its greatest", r.load)
			}
		}
		if rise, fall := m.Force(r.peak)-m.Force(r.peak-0.002), m.Force(r.peak+0.002)-m.Force(r.peak); rise < 0 || fall > 0 {
			t.Errorf("%g kN: the peak is not at %.3f deg: %.3g and %.3g N to either side", r.load, r.peak, rise, fall)
		}
		nearly(t, "longitudinal force at 10 %", stability.Longitudinal1987(r.load*1e3).Force(10), r.longitudinal, 1e-6, "N")
		nearly(t, "stiffness by angle in radians", stability.CorneringStiffness1987(r.load*1e3)*math.Pi/180, m.Slope(), 1e-12, "N/deg")
	}
}

// Two tyres lose by load transfer, which is the whole of what bars and springs do
// to the balance: computed here from the same coefficients, 1e-6.
func TestLoadSensitivityOfAPair(t *testing.T) {
	validation.Against(t, "Tyre: what a pair loses by load transfer", validation.Derived, "the coefficients of SAE 870421", "landing-balance-shift")
	at := func(kilonewtons, angle float64) float64 { return stability.Lateral1987(kilonewtons * 1e3).Force(angle) }
	even, uneven := 2*at(4, 4), at(6, 4)+at(2, 4)
	nearly(t, "even pair at 4 deg", even, 6193.21857, 1e-6, "N")
	nearly(t, "uneven pair at 4 deg", uneven, 5555.64127, 1e-6, "N")
	nearly(t, "loss", (uneven/even-1)*100, -10.2947651, 1e-6, "%")
	stiffness := func(left, right float64) float64 {
		a := stability.Axle{Load: [2]float64{left * 1e3, right * 1e3}, Tyre: stability.Tyre{Scale: 1}}
		return a.Stiffness(0) * math.Pi / 180
	}
	nearly(t, "stiffness of the even pair", stiffness(4, 4), 2054.66941, 1e-6, "N/deg")
	nearly(t, "stiffness of the uneven pair", stiffness(6, 2), 1784.92623, 1e-6, "N/deg")
}
