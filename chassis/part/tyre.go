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
	inSourceUnits := 0.00028*p*math.Sqrt((1.03-0.004*aspect)*s*(s*aspect/50+d)) + 3.45
	return inSourceUnits * 9.80665 * 1e3
}
