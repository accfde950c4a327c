package linkage

import (
	"fmt"
	"strings"
)

// Code says what is wrong with hardpoints.
type Code string

// What can be wrong.
const (
	NotFinite      Code = "point-not-finite"      // a coordinate is no number
	WrongCount     Code = "wrong-count"           // the parts do not hold the carrier in exactly one movement; Value: equations
	ZeroLength     Code = "zero-length-link"      // two ends of a link coincide; Value: length [m]
	Collinear      Code = "collinear-pivots"      // an arm's ball joint lies on its axis; Value: distance [m]
	OtherSide      Code = "mirrored-side"         // a point lies on the other side of the car; Value: y [m]
	MixedUnits     Code = "mixed-units"           // a point is nowhere near the wheel; Value: distance [m]
	TopUnder       Code = "top-mount-below-wheel" // Value: height over the wheel centre [m]
	NotClosed      Code = "does-not-close"        // lengths and points do not fit together; Value: what is missing [m]
	Undetermined   Code = "no-single-movement"    // the links do not fix where the wheel goes
	UnknownPart    Code = "unknown-part"          // something stands on a part that is not there
	BadRadius      Code = "wheel-radius"          // Value: radius [m]
	NotInMiddle    Code = "not-in-middle-plane"   // a beam's shear centre is off the middle; Value: y [m]
	NotAPart       Code = "part-not-for-kind"     // a part that this kind of suspension does not have
	NothingSteered Code = "nothing-steered"       // steering asked of a linkage without a steered rod
)

// Fault is one thing that is wrong, with the points it is about.
type Fault struct {
	Code   Code
	Points []string
	Value  float64 // see the code [unit of the code]
	Travel float64 // wheel travel at which it was found [m]
}

// FaultError carries all faults found.
type FaultError struct{ Faults []Fault }

func (e *FaultError) Error() string {
	var out []string
	for _, f := range e.Faults {
		out = append(out, fmt.Sprintf("%s: %s (%.6g) at travel %.6g m", f.Code, strings.Join(f.Points, ", "), f.Value, f.Travel))
	}
	return "hardpoints: " + strings.Join(out, "; ")
}

// LockError says that a linkage has no position at a travel.
type LockError struct {
	Asked   [2]float64 // travel asked for, left and right [m]
	Steer   float64    // rack travel asked for [m]
	Reached float64    // last wheel travel of the left wheel that has a position [m]
	Points  []string   // what ends the movement
}

func (e *LockError) Error() string {
	return fmt.Sprintf("the linkage has no position at travel %.6g m, rack %.6g m: it ends at %.6g m, held by %s",
		e.Asked[0], e.Steer, e.Reached, strings.Join(e.Points, ", "))
}
