package part

import "math"

// SpringBuckling returns the deflection [m] at which a coil spring steps
// sideways; ok is false when it does so at none.
//
//	s_k = L₀·0.5/(1 − G/E)·[1 − √(1 − (1 − G/E)/(0.5 + G/E)·(π·D/(ν·L₀))²)]
//
// free length L₀ and mean coil diameter D [m], moduli G and E [Pa], seating ν:
// 0.5 both ends held square, 0.7 one, 1 both hinged, 2 one end free [-].
//
// Source: EN 13906-1:2013 (formula from memory).
func SpringBuckling(free, meanDiameter, shear, elastic, seating float64) (deflection float64, ok bool) {
	q := shear / elastic
	k := math.Pi * meanDiameter / (seating * free)
	inside := 1 - (1-q)/(0.5+q)*k*k
	if !(inside >= 0) {
		return 0, false
	}
	return free * 0.5 / (1 - q) * (1 - math.Sqrt(inside)), true
}

// StableSlenderness returns the ν·L₀/D up to which no coil spring of a material
// buckles [-].
//
//	ν·L₀/D ≤ π·√((1 − G/E)/(0.5 + G/E))
func StableSlenderness(shear, elastic float64) float64 {
	q := shear / elastic
	return math.Pi * math.Sqrt((1-q)/(0.5+q))
}
