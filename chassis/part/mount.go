package part

// MountInSeries returns what a damper of a coefficient c [N s/m] is worth behind
// a rubber mount of stiffness K [N/m] at a circular frequency ω [rad/s]: the
// stiffness it shows [N/m] and the damping that is left [N s/m].
//
//	k* = j·ω·c·K/(K + j·ω·c):   storage = K·(ω·c)²/(K² + (ω·c)²),   c_eff = c·K²/(K² + (ω·c)²)
//
// A spherical mount is the limit of a K without end: storage 0, c_eff = c.
// Source: derived here.
func MountInSeries(stiffness, damping, omega float64) (storage, effective float64) {
	w := omega * damping
	sum := stiffness*stiffness + w*w
	return stiffness * w * w / sum, damping * stiffness * stiffness / sum
}
