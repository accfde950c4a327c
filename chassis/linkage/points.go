package linkage

import "trunnion/chassis/geom"

// Kind is a type of suspension.
type Kind string

// The kinds.
const (
	Strut          Kind = "strut"
	DoubleWishbone Kind = "wishbone"
	FiveLink       Kind = "multilink"
	TrailingArm    Kind = "trailing-arm"
	TwistBeam      Kind = "twist-beam"
	LiveAxle       Kind = "live-axle"
)

// Wheel is the left wheel as it stood.
type Wheel struct {
	Centre geom.Vec // [m]
	Radius float64  // centre to ground, loaded [m]
	Camber float64  // top outward positive [rad]
	Toe    float64  // toe-in positive [rad]
}

// Arm is a rigid arm: two pivots on the body, one ball joint on the carrier.
type Arm struct {
	Name              string
	Front, Rear, Ball geom.Vec // [m]
	Extension         float64  // ball joint moved outward along the arm, an extended arm [m]
}

// Rod is a link with a joint at either end.
type Rod struct {
	Name         string
	Inner, Outer geom.Vec // [m]
	InnerOn      string   // arm that its inner end stands on; empty: the body
	Steered      bool     // its inner end moves with the rack
	Length       float64  // measured between its joints; 0: as the points stand [m]
}

// Axis is the damper axis of a strut: fixed in the carrier, sliding through the
// top mount.
type Axis struct {
	Top   geom.Vec // centre of the top mount [m]
	Low   geom.Vec // on the axis, on the part that belongs to the carrier [m]
	Shift geom.Vec // top mount moved by a camber plate [m]
}

// Pivots is the axis that a trailing arm turns about.
type Pivots struct{ Inner, Outer geom.Vec } // [m]

// Element is a spring or damper between the body and a moving part. A rod that
// it stands on swings and lifts at its inner joint, and does not twist.
type Element struct {
	Top, Low geom.Vec // on the body, on the part that moves [m]
	On       string   // the part: name of an arm or rod; empty: the carrier
}

// Drop is an anti-roll bar's drop link with the bar's own axis.
type Drop struct {
	Low  geom.Vec // on the suspension [m]
	On   string   // the part: name of an arm or rod; empty: the carrier
	End  geom.Vec // on the bar [m]
	Axis geom.Vec // a point of the axis that the bar turns about [m]
	Turn geom.Vec // a second point of it [m]
}

// Corner is an independent suspension: the carrier held by five equations. An
// arm gives two, a rod one, a strut's axis two, a pair of pivots five.
type Corner struct {
	Kind   Kind
	Wheel  Wheel
	Arms   []Arm
	Rods   []Rod
	Strut  *Axis
	Pivots *Pivots
	Spring *Element // nil on a strut: around its axis
	Damper *Element // nil on a strut: along its axis
	Bar    *Drop
	// AtContact counts wheel travel at the point of the carrier over the contact
	// patch and not at the wheel centre.
	AtContact bool
}

// Beam is a twist beam by its left side; the right is its mirror image.
type Beam struct {
	Wheel  Wheel
	Bush   geom.Vec // centre of the bush at the body [m]
	Shear  geom.Vec // shear centre of the cross member, in the middle plane [m]
	Spring *Element
	Damper *Element
	Bar    *Drop
}

// Axle is a live axle on four links, all of them as they are on both sides; a
// transverse rod is one of the four. Spring and damper are the left ones.
type Axle struct {
	Wheel  Wheel
	Rods   []Rod
	Spring *Element
	Damper *Element
	Bar    *Drop
}
