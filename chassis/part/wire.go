package part

import "math"

// WireRate returns the rate [N/m] of a cylindrical spring of round wire.
//
//	R = G·d⁴/(8·D³·n)
//
// shearModulus G [Pa], wire d [m], mean coil diameter D [m], active coils n.
//
// Source: EN 13906-1:2013, cylindrical helical compression springs.
func WireRate(shearModulus, wire, meanDiameter, activeCoils float64) float64 {
	return shearModulus * math.Pow(wire, 4) / (8 * math.Pow(meanDiameter, 3) * activeCoils)
}

// BergstraesserFactor returns the stress correction of a coil of index
// w = D/d:  k = (w + 0.5)/(w − 0.75).
//
// Source: EN 13906-1:2013.
func BergstraesserFactor(index float64) float64 { return (index + 0.5) / (index - 0.75) }

// WahlFactor returns Wahl's stress correction (4w−1)/(4w−4) + 0.615/w.
//
// Source: A. M. Wahl, Mechanical Springs, 1963.
func WahlFactor(index float64) float64 { return (4*index-1)/(4*index-4) + 0.615/index }

// TorsionBarEndRate returns the stiffness of an anti-roll bar at its ends for
// a travel of one end against the other [N/m].
//
//	K = π·G·(d⁴ − b⁴)/(32·L),   rate = K/arm²
//
// diameter d, bore b, length L of the twisted part, arm length, all [m].
//
// Source: elementary torsion; own derivation.
func TorsionBarEndRate(shearModulus, diameter, bore, length, arm float64) float64 {
	k := math.Pi * shearModulus * (math.Pow(diameter, 4) - math.Pow(bore, 4)) / (32 * length)
	return k / (arm * arm)
}
