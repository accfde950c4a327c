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
