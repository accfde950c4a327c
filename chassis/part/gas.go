package part

import "math"

// AtmospherePressure is the standard atmosphere [Pa]. Source: CGPM 1954.
const AtmospherePressure = 101325.0

// Gas is the push-out force of a charged damper.
//
// Either a line (Force at the reference travel and Rate), or a charge with a
// rod: the line is used when Area is 0.
type Gas struct {
	Force float64 // push-out at damper travel 0 [N]
	Rate  float64 // increase with travel [N/m]

	Pressure float64 // absolute pressure at damper travel 0 [Pa]
	Volume   float64 // gas volume at damper travel 0 [m3]
	Area     float64 // section of the rod that enters; the inner rod of an inverted strut [m2]
	Exponent float64 // polytropic exponent, 1 to 1.4 [-]

	// In is how far further in the rod stands at damper travel 0 than where force, pressure
	// and volume were read [m]: the body was screwed longer, say.
	In float64
}

// At returns push-out force [N] and rate [N/m] at a damper travel [m] from the
// reference, bump positive.
//
//	p = p₀·(V₀/(V₀ − A·x))ⁿ,   F = (p − p_atm)·A
//
// Source: polytropic law; own derivation.
func (g *Gas) At(travel float64) (force, rate float64) {
	travel += g.In
	if g.Area == 0 {
		return g.Force + g.Rate*travel, g.Rate
	}
	left := g.Volume - g.Area*travel
	if least := 0.02 * g.Volume; left < least {
		left = least // the rod would fill the chamber; the damper is closed long before
	}
	p := g.Pressure * math.Pow(g.Volume/left, g.Exponent)
	return (p - AtmospherePressure) * g.Area, g.Exponent * p * g.Area * g.Area / left
}

// Pushed returns the same gas with its rod further in by a length at damper travel 0 [m].
func (g *Gas) Pushed(in float64) Gas {
	p := *g
	p.In += in
	return p
}
