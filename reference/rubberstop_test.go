package reference

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/reference/validation"
)

// A block of solid rubber, pressed between its ends.
//
//	E = 0.0981·(56 + 7.62336·H)/(0.137505·(254 − 2.54·H)) MPa, H in Shore A
//	F = A·E·(1 + 2·S²)/3·(1/λ² − λ)
//
// 60 Shore A, 40 mm across and 40 mm long: S = 0.25, computed here; the table is
// rounded to 0.1 N.
func TestRubberStop(t *testing.T) {
	validation.Against(t, "Bump stop: a block of rubber", validation.Derived, "A. N. Gent, P. B. Lindley, Proc. Inst. Mech. Eng. 173, 1959; A. N. Gent, Rubber Chem. Technol. 31, 1958 (hardness)", "stop-force-peak")
	const hardness, across, long = 60, 0.040, 0.040
	e := 0.0981e6 * (56 + 7.62336*hardness) / (0.137505 * (254 - 2.54*hardness))
	shape := across / (4 * long)
	area := math.Pi / 4 * across * across
	s := car.StopSpec{Kind: car.StopRubber}
	s.Length.Value = long
	for _, p := range s.UsualTable() {
		l := 1 - p.X/long
		near(t, "force", p.F, area*e*(1+2*shape*shape)/3*(1/(l*l)-l), 0.06, "N")
	}
}
