package ride

// The corners, in the order of every array of four.
const (
	FrontLeft = iota
	FrontRight
	RearLeft
	RearRight
)

// Car is one car in one build and one load state, as the ride engine needs it.
type Car struct {
	SprungMass   float64 // body with everything it carries, without the unsprung masses [kg]
	InertiaRoll  float64 // of the sprung mass about the x axis through its centre of gravity [kg m²]
	InertiaPitch float64 // of the sprung mass about the y axis through its centre of gravity [kg m²]
	CGToFront    float64 // front axle to the centre of gravity of the sprung mass, along x [m]
	CGOffset     float64 // centre of gravity left of the middle plane (positive left) [m]
	Wheelbase    float64 // [m]
	TrackFront   float64 // [m]
	TrackRear    float64 // [m]
	// TrackCentre is the middle between an axle's wheels left of the middle plane, front and rear: not 0 where they are not
	// fitted alike. [m]
	TrackCentre [2]float64

	// Bars holds the anti-roll bars, front and rear, as rates per *relative* wheel travel [N/m]:
	// the left wheel gets +Bars·(w_left − w_right − BarFree), the right wheel the same with the other sign.
	// One wheel alone therefore feels Bars, opposite wheels moving by ±w feel 2·Bars each.
	Bars [2]float64 // [N/m]
	// BarFree is w_left − w_right at which the bar carries nothing, front and rear [m].
	BarFree [2]float64 // [m]

	Corners [4]Corner
	Points  []FloorPoint

	// Rest, where given, holds wheel travels at which the car is known to stand [m]. The engine then places the four
	// travel zeros so that the wheels stand on flat ground with these travels, solves the rest from there, and warns
	// when the car does not stay where it was said to stand.
	Rest *[4]float64 // [m]

	// RollArm and PitchArm are the heights of that centre over the axes the body leans about: the lean's law is that of
	// equilibrium.Lean. Roll and Pitch say how far the body leans already, from where CGToFront and CGOffset are true to
	// where the four travel zeros lie level; with Rest, to that rest.
	RollArm, PitchArm float64 // [m]
	Roll, Pitch       float64 // left side up, nose down [rad]

	Gravity float64 // 0 means 9.80665 [m/s²]
}

// FloorPoint is a place on the floor at which acceleration is wanted.
type FloorPoint struct {
	Name string
	X    float64 // forward of the front axle is positive, so a seat is negative [m]
	Y    float64 // left of the middle plane is positive [m]
}

// Curve is a force law of one variable with its slope.
type Curve func(x float64) (force, slope float64)

// Corner is one wheel with what carries it.
type Corner struct {
	UnsprungMass float64 // [kg]

	// Spring is everything at the wheel that depends on wheel travel only: spring, helper, gas, bush, with their
	// motion ratios over travel. Travel w [m] is positive in bump from the reference height; the force [N] pushes the
	// body up; the slope [N/m] is its derivative by w. Stops, top-outs and bars are not in it.
	Spring Curve
	// Datum shifts this corner's travel zero: w = Datum + wheel − body. It says how far the four zeros are from lying
	// in one plane parallel to the ground on free tyres. Ignored when Car.Rest is given [m].
	Datum float64 // [m]

	// DamperTravel gives, at wheel travel w [m], the damper travel x [m] (bump positive, same zero as the travels
	// below), the motion ratio r = dx/dw [-] and its slope dr/dw [1/m]. Nil means x = w, r = 1.
	DamperTravel func(w float64) (x, r, drdw float64)
	// Damper is the force [N] at the damper at its speed v [m/s], both positive in bump, gas and friction removed.
	// Nil means none.
	Damper func(v float64) (force float64)
	// DamperSlope is the derivative of Damper [N s/m]. Nil means it is taken by differences.
	DamperSlope func(v float64) (slope float64)
	DynoMin     float64 // fastest rebound speed measured, negative; 0 with DynoMax 0 means not stated [m/s]
	DynoMax     float64 // fastest bump speed measured [m/s]

	Friction      float64 // Coulomb friction at the damper [N]
	FrictionSpeed float64 // speed at which tanh(v/speed) rounds the friction off; 0 means 0.005, a choice of the engine, and not below 0.002 [m/s]

	Stop   Stop
	TopOut TopOut
	// MetalTravel is the damper travel at which the damper is closed, metal on metal; beyond it MetalStiffness
	// stops the motion. A MetalStiffness of 0 means the limit is not modelled.
	MetalTravel    float64 // [m]
	MetalStiffness float64 // at the damper [N/m]

	// MountStiffness is a rubber mount in series with the damper valve and its friction, along the damper [N/m]; 0 means
	// rigid. Spring and stop are taken to reach the body on their own path; where they share the mount its series
	// flexibility belongs into Spring and Stop.Force.
	MountStiffness float64 // [N/m]

	Tyre Tyre
}

// Stop is a bump stop around the damper rod or acting along it.
type Stop struct {
	TouchTravel float64 // damper travel at first touch [m]
	Force       Curve   // static loading force [N] and slope [N/m] over crush [m], at the damper; nil means no stop
	TableEnd    float64 // crush at which the measured curve ends; past it a result is marked as outside the model; 0 means no end [m]
	// Loss is the share of the energy of one complete hit that is not given back: 0 gives all of it back; microcellular
	// stops keep 15 to 30 %, common practice, no source [-].
	Loss float64
	// Dynamic multiplies the static curve in motion; 0 means 1.3 (common practice, 1.0 to 2.0, no source) [-].
	Dynamic float64
}

// TopOut is the rebound limit inside the damper.
type TopOut struct {
	OpenTravel float64 // damper travel at which the top-out is first touched, usually negative [m]
	// Force is the force [N] and slope [N/m] over the squash of the top-out [m], at the damper. Nil with Stiffness 0
	// means no rebound limit is modelled.
	Force     Curve
	Stiffness float64 // used when Force is nil [N/m]
}

// Tyre is the vertical spring between wheel and road.
type Tyre struct {
	Rate      float64 // [N/m]
	Damping   float64 // [N s/m]
	RimTravel float64 // deflection at which the rim is met through the flattened tyre; 0 means not modelled [m]
	RimRate   float64 // rate past RimTravel; 0 means ten times Rate, a choice of the engine [N/m]
}

// friction rounding and stiffening of a stop where the caller gives none.
const (
	standardGravity      = 9.80665
	defaultFrictionSpeed = 0.005
	finestFriction       = 0.002 // two rows of the damper table [m/s]
	defaultDynamic       = 1.3
)
