package part

import "trunnion/chassis/numeric"

// BumpStop is the foam spring that ends bump travel.
type BumpStop struct {
	Length  float64 // free length [m]
	Packer  float64 // rigid spacer that brings it in earlier [m]
	Table   *numeric.Curve
	End     float64 // crush at the end of the table: past it the curve is a guess [m]
	Scale   float64 // factor on the table's force, 1 as typed [-]
	Loss    float64 // share of the work that does not come back [-]
	Dynamic float64 // stiffening under quick loading [-]
}

// Force returns the static loading force [N] and tangent rate [N/m] at a crush
// [m]. Past the end of the table the end line is carried on and outside is
// true: such a force is not a result.
func (b *BumpStop) Force(crush float64) (force, rate float64, outside bool) {
	if crush <= 0 || b.Table == nil {
		return 0, 0, false
	}
	f, k := b.Table.At(crush)
	return b.Scale * f, b.Scale * k, crush > b.End
}

// Crush returns the crush [m] at which the stop carries a force [N]; ok is
// false when the table does not reach it.
func (b *BumpStop) Crush(force float64) (crush float64, ok bool) {
	if b.Table == nil || b.Scale <= 0 {
		return 0, false
	}
	if force <= 0 {
		return 0, true
	}
	x, ok := b.Table.Inverse(force / b.Scale)
	return x, ok && x <= b.End
}

// Energy returns the work [J] that crushing the stop takes, statically.
func (b *BumpStop) Energy(crush float64) float64 {
	if crush <= 0 || b.Table == nil {
		return 0
	}
	return b.Scale * b.Table.Integral(crush)
}
