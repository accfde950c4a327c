package reference

import (
	"math"
	"testing"

	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// An anti-roll bar of 24 mm, 900 mm long, arms 220 mm, G = 79300 N/mm2:
// elementary torsion, numbers derived here, 1e-8. One wheel lifted alone feels
// half of what each wheel feels in roll.
func TestAntiRollBar(t *testing.T) {
	validation.Against(t, "Anti-roll bar: rate from its size", validation.Derived, "elementary torsion", "bar-roll-share")
	end := part.TorsionBarEndRate(79300e6, 0.024, 0, 0.900, 0.220)
	nearly(t, "rate at the ends", end*1e-3, 59.2966526, 1e-8, "N/mm")
	nearly(t, "twisting stiffness", end*0.220*0.220*1e3, 2869957.99, 1e-8, "N mm/rad")
	nearly(t, "the same per degree", end*0.220*0.220*math.Pi/180, 50.0902163, 1e-8, "N m/deg")
	bored := part.TorsionBarEndRate(79300e6, 0.024, 0.016, 0.900, 0.220)
	nearly(t, "rate with a bore of 16 mm", bored*1e-3, 47.5837336, 1e-8, "N/mm")

	b := part.Bar{Rate: end, LinkRatio: 1}
	single, _ := b.WheelForce(1e-3)
	nearly(t, "force on one wheel lifted 1 mm alone", single, 59.2966526, 1e-8, "N")
	roll, _ := b.WheelForce(2e-3) // left up 1 mm, right down 1 mm
	nearly(t, "force on each wheel in 1 mm of roll", roll, 118.593305, 1e-8, "N")
	// A link at 0.6 of the wheel's travel: the ratio counts twice.
	linked := part.Bar{Rate: end, LinkRatio: 0.6, Zero: 0.5e-3}
	got, rate := linked.WheelForce(1.5e-3)
	nearly(t, "force through a link at 0.6, 0.5 mm slack", got, 0.36*59.2966526, 1e-8, "N")
	nearly(t, "rate through a link at 0.6", rate*1e-3, 0.36*59.2966526, 1e-8, "N/mm")
}
