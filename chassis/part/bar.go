package part

// Bar is an anti-roll bar seen at its drop links.
type Bar struct {
	Rate      float64 // force at a link per travel of one link against the other [N/m]
	LinkRatio float64 // link travel / wheel travel [-]
	Zero      float64 // left minus right wheel travel at which it is slack [m]
}

// WheelForce returns what the bar adds to the left wheel's suspension force
// [N] (the right wheel gets the opposite) at a difference left minus right
// wheel travel [m], and the rate per that difference [N/m].
//
//	F = k·ρ²·(w_l − w_r − zero): one wheel lifted alone feels k·ρ², pure roll 2·k·ρ² per wheel.
//
// Source: own derivation.
func (b *Bar) WheelForce(difference float64) (force, rate float64) {
	rate = b.Rate * b.LinkRatio * b.LinkRatio
	return rate * (difference - b.Zero), rate
}

// AtHole returns the rate of a bar at its drop links with another length of arm
// in use, from the rate with one [N/m]: an adjustable bar's holes.
//
//	k = K/r²,  so  k_2 = k_1·(r_1/r_2)²
//
// The drop link then stands elsewhere on neither body nor strut: its own motion
// ratio is taken to stay. Arms taken as stiff: common practice, no source.
func AtHole(rate, arm, otherArm float64) float64 {
	q := arm / otherArm
	return rate * q * q
}
