package road

import "math"

// Coherence returns the coherency modulus |G_LR|/G_LL [-] of the two tracks of
// a homogeneous, isotropic road: 1 for waves much longer than the distance
// between the tracks, 0 for much shorter ones.
//
//	γ(n) = 2/Γ(w/2)·(π·b·n)^(w/2)·K_{w/2}(2·π·b·n)
//
// n is the wave number [cycle/m], b the distance between the tracks [m], w the
// waviness [-] of the spectrum ~ n^−w. For w = 2, γ = x·K1(x), x = 2·π·b·n. The
// coherence function of signal analysis is its square. Arguments outside n ≥ 0,
// b ≥ 0, 1 ≤ w ≤ 4 answer 0.
//
// Source: isotropy, C.J. Dodds and J.D. Robson, "The description of road surface
// roughness", J. Sound Vib. 31 (1973); formula derived here from the
// two-dimensional spectrum ~ k^−(w+1). Real roads differ somewhat (P. Múčka,
// "Model of coherence function of road unevenness in parallel tracks for
// vehicle simulation").
func Coherence(n, b, w float64) float64 {
	x := 2 * math.Pi * b * n
	if !(n >= 0) || !(b >= 0) || !(w >= 1) || w > 4 || math.IsNaN(x) {
		return 0
	}
	if x < 1e-8 {
		// 1 − γ is of the order x, at most, for the lowest w.
		return 1
	}
	if x > 700 {
		return 0
	}
	nu := w / 2
	return 2 / math.Gamma(nu) * math.Pow(x/2, nu) * besselK(nu, x)
}

// besselK is the modified Bessel function of the second kind, of real order
// nu ≥ 0, for x > 0.
//
//	K_ν(x) = ∫₀^∞ exp(−x·cosh t)·cosh(ν·t) dt
//
// The integrand falls doubly exponentially, so the trapezoidal rule converges
// geometrically: its error is of the order exp(−π²/h) for small x and
// exp(−2·π²/(x·h²)) for large x, below 1e-13 of the result with this h.
//
// Source: M. Abramowitz, I.A. Stegun, Handbook of Mathematical Functions, 9.6.24.
func besselK(nu, x float64) float64 {
	h := math.Min(0.22, 0.7/math.Sqrt(x))
	step, stepNu := math.Exp(h), math.Exp(nu*h)
	up, upNu := 1.0, 1.0
	sum := 0.5
	for {
		up *= step
		upNu *= stepNu
		half := (up + 1/up) / 2
		// exp(−x·(cosh t − 1)) keeps its digits where exp(−x) has none left.
		term := math.Exp(-x*(half-1)) * (upNu + 1/upNu) / 2
		sum += term
		if term < 1e-17*sum {
			return h * sum * math.Exp(-x)
		}
	}
}
