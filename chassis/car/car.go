package car

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// Car is the car as it stood when it was weighed.
type Car struct {
	Name       string
	Wheelbase  Input    // [m]
	Track      [2]Input // [m]
	ZeroHeight [2]Input // hub-to-arch height at which wheel travel is 0 [m]
	Unsprung   [2]Input // mass that moves with one wheel [kg]
	// UnsprungHeight is that of Unsprung over the ground; unknown: as of ordinary wheels. [m]
	UnsprungHeight [2]Input

	KerbMass      Input // ready to drive, nobody in it [kg]
	FrontShare    Input // of KerbMass on the front axle [-]
	Tank          Input // volume of a full tank [m3]
	OverallHeight Input // [m]
	TopSpeed      Input // up to which steadiness is looked at [m/s]
	BrakeShare    Input // front axle's share of the braking force [-]
	DriveShare    Input // front axle's share of the driving force [-]
	// Speedometer is how much more it shows than the car drives, on the tyres it was weighed on. [-]
	Speedometer Input

	CGHeight     Input    // of the sprung mass over the ground [m]
	RollCentre   [2]Input // height over the ground [m]
	InertiaRoll  Input    // of the sprung mass about its own CG [kg m2]
	InertiaPitch Input    // [kg m2]

	Axle    [2]Axle
	Weighed Weighed
}

// Axle is what belongs to the car at one axle, whatever parts are fitted.
type Axle struct {
	Kind   string // strut, wishbone, multilink, trailing-arm, twist-beam, live-axle
	Spring Motion // spring travel over wheel travel
	Damper Motion // damper travel over wheel travel
	Taped  Tape   // what Spring and Damper are estimated from when there is no table
	// Side are the tables that one side has of its own, left first.
	Side [2]SideMotion
	// Hardpoints are where its links are; nil when they were not measured. A
	// motion table that was measured is used before what they give.
	Hardpoints *linkage.Hardpoints
	// RollCentres and BarLinks are how much more than at travel 0 the height of the
	// roll centre [m] and BarLink [-] are by the hardpoints, over wheel travel [m];
	// nil where either was given, and then is that of the car with nobody aboard.
	RollCentres, BarLinks *numeric.Curve
	TyreRate              Input // of one tyre, vertical [N/m]
	Tyre                  Tyre  // what TyreRate is estimated from when it is not known
	Cornering             Input // cornering stiffness of one tyre at its load as weighed [N/rad]
	// ComplianceSteer is how far the axle steers out of the bend by its bushes per
	// side force on it: understeer in front and at the rear alike. [rad/N]
	ComplianceSteer Input
	LiftArea        Input     // aerodynamic lift coefficient times area on this axle, up positive [m2]
	BushRate        Input     // rubber bushes, at the wheel [N/m]
	BarRate         Input     // force at one drop link per travel against the other [N/m]
	BarLink         Input     // drop-link travel / wheel travel [-]
	Bar             Bar       // what BarRate is estimated from when it is not known
	Hole            string    // of an adjustable bar: the one that BarRate, BarLink and Bar are true of
	Holes           []BarHole // of an adjustable bar
	Limits          []Limit
	Clearance       Clearance
	MakerBump       Input // bump travel of the car as its maker built it, to touch [m]
	MakerSolid      Input // the same to the stop solid [m]
}

// SideMotion are motion tables of one side; nil where the axle's serves.
type SideMotion struct {
	Spring, Damper *Motion
}

// SpringOf is how far the spring moves with the wheel on one side, 0 left.
func (ax *Axle) SpringOf(side int) *Motion {
	if m := ax.Side[side].Spring; m != nil {
		return m
	}
	return &ax.Spring
}

// DamperOf is how far the damper moves with the wheel on one side, 0 left.
func (ax *Axle) DamperOf(side int) *Motion {
	if m := ax.Side[side].Damper; m != nil {
		return m
	}
	return &ax.Damper
}

// Tape is three lengths along the arm that carries spring or damper, from its
// inner pivot.
type Tape struct {
	ToSpring, ToDamper, ToJoint Input // [m]
}

// Tyre is what stands on a sidewall.
type Tyre struct {
	Width    Input // of the section [m]
	Aspect   Input // height of the section / Width [-]
	Rim      Input // diameter [m]
	Pressure Input // over the atmosphere [Pa]
}

// Clearance is how much room the tyre as weighed has at an axle, where it was measured.
type Clearance struct {
	Lip   Input // how far inside the lip of the arch its side stands, wheels straight, at travel zero [m]
	Strut Input // least between tyre or rim and strut, spring seat or arm on its inner side [m]
	Liner Input // least between tread and liner, at full lock where it steers [m]
	Lock  Input // angle of the wheel at full lock [rad]
}

// Rolling is what stood on the road as the car was weighed: its parts and how they were
// inflated. A nil part is not known.
type Rolling struct {
	Tyre     *TyreSpec
	Wheel    *WheelSpec
	Pressure *Input // nil or unknown: that at which the tyre was read
}

// Bar is the size of an anti-roll bar.
type Bar struct {
	Diameter Input // [m]
	Bore     Input // of a hollow bar [m]
	Length   Input // of the twisted part [m]
	Arm      Input // from the twisted part to the drop link, square to it [m]
}

// BarHole is a hole of an adjustable bar's arm. What is not known is that of the
// hole in use as the car was weighed.
type BarHole struct {
	ID        string
	Arm       Input // from the twisted part to the drop link, square to it [m]
	Rate      Input // force at one drop link per travel against the other [N/m]
	LinkRatio Input // drop-link travel / wheel travel [-]
}

// HoleOf returns a hole of an axle's bar by its id; nil where there is none.
func (ax *Axle) HoleOf(id string) *BarHole {
	for i := range ax.Holes {
		if ax.Holes[i].ID == id {
			return &ax.Holes[i]
		}
	}
	return nil
}

// BarIn returns rate [N/m] and link ratio [-] of an axle's bar with its drop
// links in a hole, where the wheels stand at a travel with nobody aboard [m], under
// a draw. An id that names no hole is the one in use as the car was weighed.
func (ax *Axle) BarIn(hole string, travel float64, d figure.Draw) (rate, link float64) {
	rate, link = ax.BarRate.At(d), ax.BarLink.At(d)+more(ax.BarLinks, travel)
	h := ax.HoleOf(hole)
	if h == nil {
		return rate, link
	}
	if h.LinkRatio.Known() {
		link = h.LinkRatio.At(d)
	}
	switch {
	case h.Rate.Known():
		rate = h.Rate.At(d)
	case h.Arm.Known() && ax.Bar.Arm.Known():
		rate = part.AtHole(rate, ax.Bar.Arm.At(d), h.Arm.At(d))
	}
	return rate, link
}

// more is how much a curve adds at a wheel travel [m]; nothing where there is none.
func more(curve *numeric.Curve, travel float64) float64 {
	if curve == nil {
		return 0
	}
	v, _ := curve.At(travel)
	return v
}

// Limit is a travel at which something other than the damper or the stop ends
// the wheel's movement.
type Limit struct {
	Name   string // arch, ground, hose, shaft, joint
	Droop  bool   // ends droop rather than bump
	Travel Input  // wheel travel at which it is reached, negative in droop [m]
}

// Weighed is the one named state in which the car was measured.
type Weighed struct {
	Build   string // the build that was fitted
	BarsOn  bool   // drop links connected while weighing
	Settled bool   // rolled and bounced before reading
	Aboard  []Payload
	Notes   string // fuel, pressures, as typed

	Load         [4]Input // at the tyre [kg]
	Height       [4]Input // hub to arch [m]
	SpringLength [4]Input // seat to seat [m]
	DamperLength [4]Input // mount to mount [m]
	RodShowing   [4]Input // seal to stop seat [m]
	ScaleGain    Input    // shared gain of the scales, 1 as typed [-]

	Rolls [4]Rolling // filled in from the build that was fitted
}

// Payload is a mass at a place; a negative mass takes something out.
type Payload struct {
	Name   string
	Mass   Input // [kg]
	Behind Input // behind the front axle [m]
	Left   Input // left of the middle of the car [m]
	Height Input // over the ground as weighed; unknown: as high as the car's own sprung mass [m]
}

// Load is a named state of loading.
type Load struct {
	ID, Name string
	Items    []Payload
	Trailer  *Trailer // what it tows; nil for none
}

// Trailer is what a load state tows: a caravan or trailer on one axle, or on two
// that stand close together. What it puts on the coupling is an item of that load
// state.
type Trailer struct {
	Mass       Input // loaded, the coupling load in [kg]
	ToAxle     Input // coupling to the middle of its axles [m]
	BodyLength Input // of its body, drawbar left out [m]
	YawInertia Input // about its centre of gravity [kg m2]
	Cornering  Input // cornering stiffness of one of its tyres [N/rad]
	Speed      Input // at which it is towed [m/s]
	Tyres      int   // in all
	Nose       int   // index of the coupling load among the load state's items
}
