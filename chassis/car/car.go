package car

// Car is the car as it stood when it was weighed.
type Car struct {
	Name       string
	Wheelbase  Input    // [m]
	Track      [2]Input // [m]
	ZeroHeight [2]Input // hub-to-arch height at which wheel travel is 0 [m]
	Unsprung   [2]Input // mass that moves with one wheel [kg]

	CGHeight     Input    // of the sprung mass over the ground [m]
	RollCentre   [2]Input // height over the ground [m]
	InertiaRoll  Input    // of the sprung mass about its own CG [kg m2]
	InertiaPitch Input    // [kg m2]

	Axle    [2]Axle
	Weighed Weighed
}

// Axle is what belongs to the car at one axle, whatever parts are fitted.
type Axle struct {
	Kind       string // strut, wishbone, multilink, trailing-arm, twist-beam, live-axle
	Spring     Motion // spring travel over wheel travel
	Damper     Motion // damper travel over wheel travel
	TyreRate   Input  // of one tyre, vertical [N/m]
	BushRate   Input  // rubber bushes, at the wheel [N/m]
	BarRate    Input  // force at one drop link per travel against the other [N/m]
	BarLink    Input  // drop-link travel / wheel travel [-]
	Limits     []Limit
	MakerBump  Input // bump travel of the car as its maker built it, to touch [m]
	MakerSolid Input // the same to the stop solid [m]
}

// Limit is a travel at which something other than the damper or the stop ends
// the wheel's movement.
type Limit struct {
	Name   string // arch, ground, hose, shaft, joint
	Droop  bool   // ends droop rather than bump
	Travel Input  // wheel travel at which it is reached [m]
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
}

// Payload is a mass at a place; a negative mass takes something out.
type Payload struct {
	Name   string
	Mass   Input // [kg]
	Behind Input // behind the front axle [m]
	Left   Input // left of the middle of the car [m]
}

// Load is a named state of loading.
type Load struct {
	ID, Name string
	Items    []Payload
}
