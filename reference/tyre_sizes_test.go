package reference

import (
	"math"
	"testing"

	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// Dimensions of sizes as data books give them, by ISO 4000-1 and UN Regulation 30: outer
// diameter, section width on the measuring rim and that rim [mm, mm, in]; all from memory,
// printed to the millimetre and the half inch. The
// books round rim and section height to the millimetre before they add them: 1.5 mm.
func TestTyreSizes(t *testing.T) {
	validation.Against(t, "Tyre: outer diameter, section width and measuring rim by size", validation.Printed, "ETRTO data book, by ISO 4000-1 (from memory)")
	for _, r := range []struct {
		width, aspect, rim       float64
		diameter, section, onRim float64
	}{
		{195, 65, 15, 635, 201, 6},
		{205, 55, 16, 632, 214, 6.5},
		{225, 45, 17, 634, 225, 7.5},
		{225, 40, 18, 637, 230, 8},
		{245, 40, 18, 653, 248, 8.5},
		{185, 65, 15, 621, 189, 5.5},
		{225, 50, 17, 658, 233, 7},
	} {
		width, aspect := r.width*1e-3, r.aspect/100
		on := part.MeasuringRim(width, aspect)
		near(t, "diameter", part.TyreDiameter(width, aspect, r.rim*inch)*1e3, r.diameter, 1.5, "mm")
		near(t, "measuring rim", on/inch, r.onRim, 1e-9, "in")
		near(t, "section width", part.SectionOn(width, aspect, on)*1e3, r.section, 0.5, "mm")
	}
	// Rolling circumference of the data book.
	near(t, "195/65 R15 rolls", part.RollingCircumference(0.635)*1e3, 1937, 0.5, "mm")
}

// Load indices: UN Regulation 30, annex 4, from memory; and all of them within 2 % of the
// series of 80 steps to ten times that they are rounded from, less than one of its steps:
// no row has slipped.
func TestLoadIndices(t *testing.T) {
	validation.Against(t, "Tyre: load of a load index", validation.Printed, "UN Regulation 30, annex 4 (from memory)")
	for index, kg := range map[int]float64{60: 250, 75: 387, 80: 450, 85: 515, 88: 560, 91: 615, 94: 670, 95: 690, 98: 750, 100: 800, 105: 925, 110: 1060, 120: 1400} {
		got, ok := part.IndexLoad(index)
		if !ok {
			t.Errorf("no load of index %d", index)
		}
		near(t, "load", got, kg, 0, "kg")
	}
	was := 0.0
	for index := 60; index <= 126; index++ {
		got, _ := part.IndexLoad(index)
		nearly(t, "load by the series", got, 45*math.Pow(10, float64(index)/80), 0.02, "kg")
		if got <= was {
			t.Errorf("index %d carries %g kg, the one below %g", index, got, was)
		}
		was = got
	}
	for _, index := range []int{59, 127, -1} {
		if _, ok := part.IndexLoad(index); ok {
			t.Errorf("a load of index %d", index)
		}
	}
}

// Rate of a tyre by size and pressure, worked by hand in the units of the source: 225/45 R17 at 230 kPa.
//
//	√((1.03 − 0.18)·225·(225·45/50 + 431.8)) = √(191.25·634.3) = 348.30
//	0.00028·230·348.30 + 3.45 = 25.8805 kgf/mm
func TestRhynesRate(t *testing.T) {
	validation.Against(t, "Tyre: vertical rate by size and pressure", validation.Derived, "T. B. Rhyne, Tire Science and Technology 33 (2005), coefficients from memory, worked by hand")
	rate := part.RadialRate(230e3, 0.225, 45, 17*inch)
	near(t, "225/45 R17", rate/9.80665e3, 25.8805, 0.0005, "kgf/mm")
	// At another pressure the size drops out.
	for _, kPa := range []float64{150, 210, 290} {
		nearly(t, "at another pressure", part.RateAt(rate, 230e3, kPa*1e3), part.RadialRate(kPa*1e3, 0.225, 45, 17*inch), 1e-12, "N/m")
	}
}

// What a tyre carries at a pressure grows with it to what its index stands for, and no further.
func TestCapacityAtPressure(t *testing.T) {
	validation.Against(t, "Tyre: load at a pressure", validation.Derived, "ETRTO Standards Manual, (p/p_I)^0.8 (from memory), worked by hand")
	near(t, "615 kg at 2.0 of 2.5 bar", part.CapacityAt(615, 2e5, 2.5e5), 514.4, 0.1, "kg") // 615·0.8^0.8 = 615·0.83651
	near(t, "at its own pressure", part.CapacityAt(615, 2.5e5, 2.5e5), 615, 0, "kg")
	near(t, "above it", part.CapacityAt(615, 3e5, 2.5e5), 615, 0, "kg")
	was := 0.0
	for p := 1e5; p <= 2.5e5; p += 1e4 {
		if got := part.CapacityAt(615, p, 2.5e5); got <= was {
			t.Fatalf("%g Pa carry %g kg, less pressure %g", p, got, was)
		} else {
			was = got
		}
	}
}
