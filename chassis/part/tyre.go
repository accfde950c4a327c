package part

import "math"

// RadialRate estimates the vertical stiffness [N/m] of a belted radial tyre.
//
//	K_z = 0.00028·P·√((1.03 − 0.004·AR)·S·(S·AR/50 + D)) + 3.45   [kgf/mm]
//
// pressure P [Pa] (the formula takes kPa), section width S and rim diameter D
// [m] (it takes mm), aspect ratio AR [%]. Take it as ±15 %.
//
// Source: T. B. Rhyne, Tire Science and Technology 33 (2005) 136-155; the
// coefficients are from memory.
func RadialRate(pressure, section, aspect, rim float64) float64 {
	p, s, d := pressure/1e3, section*1e3, rim*1e3
	return 0.00028*p*math.Sqrt((1.03-0.004*aspect)*s*(s*aspect/50+d))*kilogramPerMillimetre + CarcassRate
}

const (
	kilogramPerMillimetre = 9.80665 * 1e3 // [N/m]
	// CarcassRate is what a radial tyre's vertical stiffness keeps without air: the
	// last term of [RadialRate]. [N/m]
	CarcassRate = 3.45 * kilogramPerMillimetre
)

// RateAt is the vertical stiffness [N/m] at a pressure of a tyre that has a rate [N/m]
// at another [Pa]: but for the carcass it goes with the pressure, whatever the size.
//
//	k(p) = k_c + (k − k_c)·p/p_0
//
// Source: the form of [RadialRate].
func RateAt(rate, known, pressure float64) float64 {
	return CarcassRate + (rate-CarcassRate)*pressure/known
}

// TyreDiameter is the outer diameter [m] of a new tyre without load, by what stands on
// its sidewall: section width [m], aspect ratio [-] and rim diameter [m].
//
//	D = d + 2·H,   H = S·AR
//
// Source: UN Regulation 30, 6.1.2; ISO 4000-1.
func TyreDiameter(section, aspect, rim float64) float64 { return rim + 2*section*aspect }

// SectionOn is the width [m] of a tyre's section on a rim of a width [m]: it grows by
// two fifths of what the rim is wider than the one the marking stands for.
//
//	S = S_N + 0.4·(A − K·S_N),   K = 0.70 to an aspect ratio of 0.50, 0.85 to 0.30, 0.90 below
//
// Source: UN Regulation 30, 6.1.1 for the factor of 0.4; ISO 4000-1 for K (from memory).
func SectionOn(nominal, aspect, rim float64) float64 {
	k := 0.90
	switch {
	case aspect > 0.475:
		k = 0.70
	case aspect > 0.275:
		k = 0.85
	}
	return nominal + 0.4*(rim-k*nominal)
}

// MeasuringRim estimates the width of the rim [m] a size is measured on, to the half
// inch as rims are sold.
//
// Source: ISO 4000-1 (from memory).
func MeasuringRim(nominal, aspect float64) float64 {
	share := 0.90
	switch {
	case aspect > 0.725:
		share = 0.70
	case aspect > 0.575:
		share = 0.75
	case aspect > 0.475:
		share = 0.80
	case aspect > 0.425:
		share = 0.85
	}
	const half = 0.0254 / 2
	return half * math.Round(share*nominal/half)
}

// RollingCircumference is how far a radial tyre rolls in a turn [m], by its outer
// diameter without load [m]: the belt keeps its length, and the tread is a little
// shorter on the road than round the free tyre.
//
//	C = 3.05·D
//
// Source: ETRTO Standards Manual (from memory).
func RollingCircumference(diameter float64) float64 { return 3.05 * diameter }

// loadIndices are the loads of the load indices from firstIndex on [kg].
//
// Source: UN Regulation 30, annex 4; ISO 4000-1 (from memory, beside the series of 80 steps to ten
// times that it is rounded from).
var loadIndices = [...]float64{
	250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
	335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
	600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
	800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
	1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
	1400, 1450, 1500, 1550, 1600, 1650, 1700, // 120
}

const firstIndex = 60

// IndexLoad is the load [kg] a load index stands for; false where cars' tyres have no
// such index.
func IndexLoad(index int) (float64, bool) {
	if index < firstIndex || index-firstIndex >= len(loadIndices) {
		return 0, false
	}
	return loadIndices[index-firstIndex], true
}

// Pressures at which a tyre carries the load of its index, and the exponent of what it
// carries below.
//
// Source: ETRTO Standards Manual, passenger car tyres to 160 km/h (from memory).
const (
	StandardLoadPressure = 2.5e5 // [Pa]
	ExtraLoadPressure    = 2.9e5 // [Pa]
	loadExponent         = 0.8   // [-]
)

// CapacityAt is what a tyre carries [kg] at a pressure [Pa], of what its index stands
// for [kg] at another: no more than that above it.
//
//	m = m_I·min(1, (p/p_I)^0.8)
func CapacityAt(indexed, pressure, full float64) float64 {
	return indexed * math.Min(1, math.Pow(pressure/full, loadExponent))
}
