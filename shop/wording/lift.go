package wording

import (
	"fmt"

	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
)

// LiftBand is the height of a centre of gravity with its band, as it is typed into a
// job: "523 ± 11 mm".
func (t *Teller) LiftBand(b scales.Band) string {
	digits := 0
	if t.System == quantity.Imperial {
		digits = 1
	}
	return quantity.Shown(quantity.Length, t.System).Number(b.Value, digits) + " ± " + quantity.Format(b.Half, quantity.Length, t.System, digits)
}

// Lifted says where the centre of gravity stands, of the whole car and of its sprung
// mass, without so much of wheels [kg].
func (t *Teller) Lifted(height, sprung scales.Band, unsprung float64) string {
	return fmt.Sprintf("The centre of gravity stands %s over the ground; that of the sprung mass, without %s of wheels, %s.",
		t.LiftBand(height), quantity.Format(unsprung, quantity.Mass, t.System, quantity.Auto), t.LiftBand(sprung))
}

// LiftCautions are what to mind where an axle is raised for it.
func LiftCautions() []string {
	return []string{
		"Raise the axle at the jacking points, with stands under it before a hand goes near; chock the wheels on the scales. Nobody in, under or against the car.",
		"Suspension locked at ride height, tank full or empty, pressures up: a spring that gives or fuel that runs back reads as height.",
	}
}

// NoLift says why there is no height yet.
func NoLift(field, fault string) string { return "No height yet: " + field + " " + fault + "." }
