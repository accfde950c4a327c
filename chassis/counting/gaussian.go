package counting

import "math"

// GaussianRange returns the mean of rᵐ over the cycles of a narrow-band Gaussian
// history of standard deviation sigma, in the unit of the range to the power m.
//
//	E[rᵐ] = (2·√2·σ)ᵐ·Γ(1 + m/2)
//
// Source: amplitudes of a narrow-band Gaussian process are Rayleigh's; derived
// here.
func GaussianRange(sigma, slope float64) float64 {
	return math.Pow(2*math.Sqrt2*sigma, slope) * math.Gamma(1+slope/2)
}
