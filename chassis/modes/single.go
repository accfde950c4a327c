package modes

import "math"

// Frequency returns the undamped frequency [Hz] of a mass [kg] on a rate [N/m].
//
//	f = √(k/m)/(2π)
func Frequency(rate, mass float64) float64 { return math.Sqrt(rate/mass) / (2 * math.Pi) }

// InSeries returns the rate [N/m] of a wheel on its tyre: k·k_t/(k + k_t).
func InSeries(wheel, tyre float64) float64 { return wheel * tyre / (wheel + tyre) }

// Ratio returns the damping ratio [-] of a corner.
//
//	ζ = C·r_d²/(2·√(k·m))
//
// secant damper coefficient C at a stated damper speed [N s/m], damper motion
// ratio r_d [-], tangent wheel rate k [N/m], sprung corner mass m [kg].
//
// Source: critical damping of one degree of freedom; the choice of secant and
// tangent is ours and is part of the figure's definition.
func Ratio(secant, motion, rate, mass float64) float64 {
	return secant * motion * motion / (2 * math.Sqrt(rate*mass))
}
