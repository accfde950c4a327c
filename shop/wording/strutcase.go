package wording

import (
	"fmt"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/equilibrium"
	"trunnion/shop/quantity"
)

// LoadCase names what a strut is put under.
func (t *Teller) LoadCase(code string, share float64) string {
	switch code {
	case "standing":
		return "Standing"
	case "cornering":
		return fmt.Sprintf("Outside wheel at %.3g g", share)
	case "braking":
		return fmt.Sprintf("Braking at %.3g g", share)
	case "braking-in-a-bend":
		return fmt.Sprintf("Outside wheel at %.3g g, braking as well", share)
	case "further-out":
		return "Wheel further out by " + t.length(share)
	case "longer-arm":
		return "Arm longer by " + t.length(share)
	case "lower":
		return "Lower by " + t.length(share)
	case "heavier":
		return fmt.Sprintf("Load %.0f %% higher", share/quantity.Percent)
	}
	if kind, ok := strings.CutSuffix(code, axles.StrutHardest); ok {
		return upper(spaced(kind)) + ", greatest strut force"
	}
	return upper(spaced(code))
}

// StrutCase names a case of a strut.
func (t *Teller) StrutCase(k *axles.StrutCase) string {
	if k.Event >= 0 && !strings.HasSuffix(k.Code, axles.StrutHardest) {
		return t.LoadCase(k.Code, 0) + ", greatest tyre load"
	}
	switch k.Code {
	case axles.StrutDriving:
		return "Pulling away at " + InG(k.Longitudinal)
	case axles.StrutBraking:
		return t.LoadCase(k.Code, -k.Longitudinal/equilibrium.Gravity)
	}
	return t.LoadCase(k.Code, k.Lateral/equilibrium.Gravity)
}
