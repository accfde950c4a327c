package part

import (
	"math"

	"trunnion/chassis/numeric"
)

// Damper is the part between its two mounts: its lengths and what it pushes.
type Damper struct {
	Open    float64 // length fully open, mount to mount [m]
	Closed  float64 // length closed metal to metal [m]
	RodOpen float64 // rod showing when fully open, seal to stop seat [m]
	Gas     Gas
	Curve   DamperCurve
}

// DamperCurve is force over shaft speed at one setting, gas and friction
// removed.
type DamperCurve struct {
	Bump, Rebound *numeric.Curve // force [N] over speed [m/s], both positive, through the origin
	TopSpeed      float64        // fastest speed that was measured [m/s]
	Between       bool           // interpolated between two measured clicks
}

// Force returns the damper force [N] at a shaft speed [m/s]; bump is positive
// in both. Past the fastest measured speed the last slope is carried on and
// outside is true.
func (c *DamperCurve) Force(speed float64) (force float64, outside bool) {
	switch {
	case c.Bump == nil || speed == 0:
		return 0, false
	case speed > 0:
		f, _ := c.Bump.At(speed)
		return f, speed > c.TopSpeed
	default:
		f, _ := c.Rebound.At(-speed)
		return -f, -speed > c.TopSpeed
	}
}

// Secant returns the mean of bump and rebound force over speed [N s/m] at a
// shaft speed above 0 [m/s].
//
//	C = (F_bump(v) + F_rebound(v))/(2·v)
func (c *DamperCurve) Secant(speed float64) float64 {
	if c.Bump == nil {
		return 0
	}
	b, _ := c.Bump.At(speed)
	r, _ := c.Rebound.At(speed)
	return (b + r) / (2 * speed)
}

// BumpForceBound returns the bump force [N] past which a single-tube damper without a
// base valve cavitates: the gas can no longer keep oil behind the piston.
//
//	F = p_abs·(A_piston − A_rod)
//
// pressure absolute [Pa], diameters [m].
//
// Source: own derivation from the pressure balance over the piston; the same
// structure is in J. C. Dixon, The Shock Absorber Handbook, 2nd ed. 2007 (from memory).
func BumpForceBound(pressure, piston, rod float64) float64 {
	return pressure * math.Pi / 4 * (piston*piston - rod*rod)
}
