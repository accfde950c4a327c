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
	return upper(spaced(code))
}

// eventLoaded is " with four aboard": the load state that an obstacle of the brief is
// driven in.
func (t *Teller) eventLoaded(event int) string {
	if t.answer == nil || t.answer.Job.Brief == nil || event < 0 || event >= len(t.answer.Job.Brief.Events) {
		return ""
	}
	load := t.answer.Job.Brief.Events[event].Load
	if load == "" {
		load = t.answer.UsualLoad()
	}
	return t.loaded(load)
}

// StrutCase names a case of a strut.
func (t *Teller) StrutCase(k *axles.StrutCase) string { return t.strutCase(k, "") }

// StrutCaseLoaded names a case of a strut, an obstacle with the load state it is driven in.
func (t *Teller) StrutCaseLoaded(k *axles.StrutCase) string {
	return t.strutCase(k, t.eventLoaded(k.Event))
}

func (t *Teller) strutCase(k *axles.StrutCase, loaded string) string {
	if k.Event >= 0 {
		kind, hardest := strings.CutSuffix(k.Code, axles.StrutHardest)
		what := ", greatest tyre load"
		if hardest {
			what = ", greatest strut force"
		}
		return upper(spaced(kind)) + loaded + what
	}
	switch k.Code {
	case axles.StrutDriving:
		return "Pulling away at " + InG(k.Longitudinal)
	case axles.StrutBraking:
		return t.LoadCase(k.Code, -k.Longitudinal/equilibrium.Gravity)
	}
	return t.LoadCase(k.Code, k.Lateral/equilibrium.Gravity)
}
