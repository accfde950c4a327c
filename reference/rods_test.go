package reference

import (
	"math"
	"testing"

	statics "trunnion/chassis/strut"
	"trunnion/reference/validation"
)

// Rods: Euler and J. B. Johnson, bending and deflection, Shigley ch. 4 and
// Roark (from memory); numbers derived. Tolerance 1e-7.
func TestRods(t *testing.T) {
	validation.Against(t, "Buckling and bending of rods", validation.Derived, "Euler and J. B. Johnson; Shigley, ch. 4; Roark (from memory)")
	rod := statics.Section{Diameter: 0.022, Modulus: 206000e6}
	nearly(t, "second moment", rod.Inertia()*1e12, 11499.0145, 1e-7, "mm4")
	nearly(t, "Euler 350", rod.Euler(0.350), 190849.708, 1e-7, "N")
	nearly(t, "Euler 700", rod.Euler(0.700), 47712.4269, 1e-7, "N")
	const yield = 600e6
	for _, c := range []struct{ length, want float64 }{{350, 159936.588}, {245, 194689.538}, {175, 211043.867}, {400, 139076.474}} {
		nearly(t, "Johnson", rod.Buckling(c.length/1000, yield), c.want, 1e-7, "N")
	}
	// Past the change-over the parabola hands over to Euler without a step.
	nearly(t, "slender", rod.Buckling(0.700, yield), rod.Euler(0.700), 1e-12, "N")
	// There both carry half the yield strength.
	at := math.Sqrt(2*math.Pi*math.Pi*206000e6/yield) * 0.022 / 4
	nearly(t, "Johnson at the change-over", rod.Buckling(at-1e-9, yield), rod.Area()*yield/2, 1e-7, "N")
	nearly(t, "Euler at the change-over", rod.Euler(at), rod.Area()*yield/2, 1e-7, "N")
	nearly(t, "bending stress", rod.BendingStress(180)/1e6, 172.188669, 1e-7, "N/mm2")
	hollow := statics.Section{Diameter: 0.022, Bore: 0.012}
	nearly(t, "bending stress, bore 12 mm", hollow.BendingStress(180)/1e6, 188.910775, 1e-7, "N/mm2")
	nearly(t, "cantilever", 1000*rod.Cantilever(1500, 0.120), 0.364742105, 1e-7, "mm")
	nearly(t, "overhang", 1000*rod.Overhang(1500, 0.120, 0.160), 0.851064912, 1e-7, "mm")
}

// A sliding body of 45 mm against a rod of 22 mm, both taken solid, under the
// same side load: bending stress falls with the third power of the diameter,
// bearing pressure with the first. The pair of diameters is common practice, no
// source. The same ratio with the body as the tube it is.
func TestBodyAgainstRod(t *testing.T) {
	validation.Against(t, "A sliding body against a rod", validation.Derived, "section moduli")
	const side = 2500
	layout := func(d, bore float64) statics.Layout {
		return statics.Layout{ToGuide: 0.150, Apart: 0.160, Sliding: statics.Section{Diameter: d, Bore: bore}, GuideLength: 0.025, LowerLength: 0.020}
	}
	of := func(l statics.Layout) statics.Bearing {
		b, err := l.At(0, side)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	rod, body, tube := of(layout(0.022, 0)), of(layout(0.045, 0)), of(layout(0.045, 0.040))
	nearly(t, "ratio of bending stress", body.Stress/rod.Stress, math.Pow(22.0/45, 3), 1e-12, "")
	nearly(t, "ratio of bearing pressure", body.GuidePressure/rod.GuidePressure, 22.0/45, 1e-12, "")
	nearly(t, "ratio of bearing pressure below", body.LowerPressure/rod.LowerPressure, 22.0/45, 1e-12, "")
	nearly(t, "ratio of bending stress, tube", tube.Stress/rod.Stress, math.Pow(22.0/45, 3)/(1-math.Pow(40.0/45, 4)), 1e-12, "")
	// Spelled out once: 2500 N over 150 mm in 22 mm is 358.7 N/mm2, in 45 mm 41.9.
	near(t, "rod", rod.Stress/1e6, 358.7, 0.05, "N/mm2")
	near(t, "body", body.Stress/1e6, 41.9, 0.05, "N/mm2")
}
