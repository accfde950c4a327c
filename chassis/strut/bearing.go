package strut

import (
	"errors"
	"fmt"
)

// Layout is how a strut is guided.
//
// Conventional: the rod runs through the guide, its piston inside the tube; with
// bump the guide comes nearer to the top mount and further from the piston.
// Inverted: the body hangs from the top mount and slides in two bushes of the
// outer tube, which stay as far apart as they are.
type Layout struct {
	Inverted bool
	ToGuide  float64 // top mount to guide, or to the upper bush, at travel 0 [m]
	Apart    float64 // guide to piston, or bush to bush, at travel 0 [m]

	Sliding       Section // the rod, or the inverted strut's body
	LowerDiameter float64 // of the piston; 0: as Sliding, as the lower bush of an inverted strut [m]
	GuideLength   float64 // of guide or upper bush; 0: pressure not known [m]
	LowerLength   float64 // of piston band or lower bush; 0: pressure not known [m]

	// Friction coefficients of guide and piston, or of both bushes.
	GuideFriction float64 // [-]
	LowerFriction float64 // [-]
}

// Friction coefficients taken where none is given: common practice, no source;
// lined guides and piston bands in oil, greased bushes, and bushes run dry.
const (
	FrictionLined   = 0.06 // [-]
	FrictionGreased = 0.08 // [-]
	FrictionDry     = 0.20 // [-]
)

// Bearing is what a side load does in a strut at one shortening.
type Bearing struct {
	Over, Apart   float64 // top mount to guide; guide to piston or bush to bush [m]
	Guide, Lower  float64 // forces on guide or upper bush, and on piston or lower bush [N]
	Moment        float64 // in rod or body at the guide [N m]
	Stress        float64 // bending, at the guide [Pa]
	Deflection    float64 // of the top under the side load, bearings rigid [m]
	GuidePressure float64 // on diameter × length; 0: not known [Pa]
	LowerPressure float64 // [Pa]
	Friction      float64 // along the strut, both bearings, to be overcome before it moves [N]
}

// OverrunError says that a strut has no room between its bearings or over its
// guide at a shortening.
type OverrunError struct {
	Short       float64 // shortening from travel 0 [m]
	Over, Apart float64 // what is left [m]
}

func (e *OverrunError) Error() string {
	return fmt.Sprintf("strut: shortened by %.4g m, %.4g m are left over the guide and %.4g m between the bearings", e.Short, e.Over, e.Apart)
}

// ErrSection is returned for a rod or body of no size.
var ErrSection = errors.New("strut: diameter, bore or spacing is impossible")

// At returns what a side load [N] at the top does when the strut is shortened
// from travel 0 [m].
//
//	guide = Q·(a + b)/b,   lower = Q·a/b,   M = Q·a,   p = F/(d·L)
//
// Source: lever; derived here.
func (l *Layout) At(short, side float64) (Bearing, error) {
	s := &l.Sliding
	if !(s.Diameter > 0 && s.Bore >= 0 && s.Bore < s.Diameter && l.ToGuide > 0 && l.Apart > 0) {
		return Bearing{}, ErrSection
	}
	out := Bearing{Over: l.ToGuide - short, Apart: l.Apart}
	if !l.Inverted {
		out.Apart += short
	}
	if out.Over < 0 || !(out.Apart > 1e-3) {
		return out, &OverrunError{short, out.Over, out.Apart}
	}
	a, b := out.Over, out.Apart
	out.Guide, out.Lower = side*(a+b)/b, side*a/b
	out.Moment = side * a
	out.Stress = s.BendingStress(out.Moment)
	out.Deflection = s.Overhang(side, a, b)
	lower := l.LowerDiameter
	if lower == 0 {
		lower = s.Diameter
	}
	if l.GuideLength > 0 {
		out.GuidePressure = out.Guide / (s.Diameter * l.GuideLength)
	}
	if l.LowerLength > 0 {
		out.LowerPressure = out.Lower / (lower * l.LowerLength)
	}
	out.Friction = l.GuideFriction*out.Guide + l.LowerFriction*out.Lower
	return out, nil
}

// UsualFriction is the coefficient taken where none is given [-].
func UsualFriction(inverted bool) float64 {
	if inverted {
		return FrictionGreased
	}
	return FrictionLined
}

// BreakAway returns the vertical force [N] at the wheel that overcomes the
// friction at a motion ratio of the damper [-].
//
//	F = F_f·r
func (b *Bearing) BreakAway(ratio float64) float64 { return b.Friction * ratio }

// BucklingShare returns the force along the strut over the force at which the
// sliding part buckles [-] when shortened [m]. The length is taken from the top
// mount to the lower bearing, hinged at both ends and without the guide's help:
// the careful side.
func (l *Layout) BucklingShare(short, along, yield float64) (float64, error) {
	at, err := l.At(short, 0)
	if err != nil {
		return 0, err
	}
	return along / l.Sliding.Buckling(at.Over+at.Apart, yield), nil
}

// Cost is something that inverting a strut costs.
type Cost string

// What inversion costs. The first has a figure, Bearing.Friction of either
// layout; the others are common practice, no source.
const (
	BushFriction   Cost = "bush-friction"        // two wide bushes rub under side load
	NeedsGrease    Cost = "needs-grease"         // bushes run in grease, not in the damper's oil
	DryStiction    Cost = "sticks-when-dry"      // friction more than doubles when the grease is gone
	ServiceDue     Cost = "bush-service"         // bushes, seals and grease are service parts
	TrappedAir     Cost = "trapped-air"          // an outer tube without a vent is a gas spring
	HeatInTube     Cost = "heat-in-tube"         // the body cools worse inside the outer tube
	UnsprungWeight Cost = "outer-tube-weight"    // the outer tube is wider and moves with the wheel
	GasByInnerRod  Cost = "gas-by-the-inner-rod" // gas pushes on the inner rod's area, not on the body's
)

// InversionCosts lists what inversion costs, in the order people are told.
func InversionCosts() []Cost {
	return []Cost{BushFriction, NeedsGrease, DryStiction, ServiceDue, TrappedAir, HeatInTube, UnsprungWeight, GasByInnerRod}
}
