package cornering

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
)

// Geometry is what a corner needs beside the rest position. Heights are over
// the ground and belong to the car as it was weighed.
type Geometry struct {
	CGHeight   float64    // of the sprung mass with what it carries [m]
	RollCentre [2]float64 // [m]
	// Fall is how much the roll centre falls as the wheels of an axle go into
	// bump, apart from what the tyres give way by. [-]
	Fall [2]float64
	// Path is where the links lead the wheels of an axle, where their points are
	// known: it then stands in for Fall, and RollCentre is its height as weighed.
	Path      [2]*Path
	HubHeight [2]float64 // of the masses that move with the wheels, by axle [m]

	// Sensitivity is how much of its lateral force per load a tyre loses as its
	// load goes from nothing to the axle's mean, and again to twice that: both
	// wheels of an axle run at one slip angle and share its force accordingly. [-]
	Sensitivity float64
	// EvenSides gives both wheels of an axle the same lateral force instead, as
	// textbooks do; the axle is then not lifted.
	EvenSides bool

	// BrakeShare and DriveShare are the front axle's share of the force along the
	// car under braking and under power; NaN: not known, and nothing is lifted.
	// They count with a Path only. [-]
	BrakeShare, DriveShare float64
	// Reacted says that an axle keeps its own driving torque.
	Reacted [2]bool
}

// UsualSensitivity lies between what the Magic Formula of 1987 gives at 4 degrees
// of slip (0.29) and at its peak (0.10), about a load of 4 kN; half-width beside
// it. Source: E. Bakker, L. Nyborg, H. B. Pacejka, SAE 870421; the choice between
// them is ours.
const UsualSensitivity, UsualSensitivityHalf = 0.2, 0.1 // [-]

// Falls of the roll centre per wheel travel into bump: common practice, no
// source. A band's half-width stands beside each.
const (
	FallStrut, FallStrutHalf = 1.75, 0.25 // [-]
	FallOther, FallOtherHalf = 1.15, 0.15 // double wishbone, multi-link [-]
)

// FallOf returns how much the roll centre of a kind of axle falls per wheel
// travel, and the half-width of its 95 % band [-]. The lateral link of a rigid
// axle goes with body or axle by half each; a twist beam and trailing arms keep
// theirs near the ground. Common practice, no source.
func FallOf(kind string) (fall, half float64) {
	switch kind {
	case "strut":
		return FallStrut, FallStrutHalf
	case "live-axle":
		return 0.5, 0.5
	case "trailing-arm", "twist-beam":
		return 0.3, 0.3
	}
	return FallOther, FallOtherHalf
}

// Car is a build in a load state, ready for corners.
type Car struct {
	sys *equilibrium.System
	geo Geometry

	weight        float64 // of the sprung mass, payload in [N]
	momentBehind  float64 // [N m]
	momentLeft    float64 // [N m]
	behind, left  float64 // place of the sprung CG [m]
	mass          float64 // sprung [kg]
	share         [2]float64
	unsprung      [2]float64 // of an axle [kg]
	unsprungTotal float64    // [kg]
	arm           float64    // sprung CG above the roll axis at rest, of the inertia force [m]
	lean          equilibrium.Lean
	touch, open   [4]float64 // wheel travel where the stop is touched and the damper is open; NaN when not known [m]

	offset [2]float64 // of a path, so that it has the roll centre as weighed [-]

	rest Point
}

// New makes a car of a system under extra weights at its rest position. It
// fails where the system has no rest on its own.
func New(sys *equilibrium.System, extra equilibrium.Weights, rest *equilibrium.State, geo Geometry) (*Car, error) {
	c := &Car{sys: sys, geo: geo, lean: sys.LeanWith(extra)}
	c.weight = sys.SprungWeight + extra.Down
	c.momentBehind, c.momentLeft = sys.MomentBehind+extra.Behind, sys.MomentLeft+extra.Left
	c.behind, c.left = c.momentBehind/c.weight, c.momentLeft/c.weight
	c.mass = c.weight / equilibrium.Gravity
	wheelbase := sys.Behind[2]
	c.share = [2]float64{1 - c.behind/wheelbase, c.behind / wheelbase}
	for i := range 4 {
		c.unsprung[i/2] += sys.Unsprung[i]
		c.unsprungTotal += sys.Unsprung[i]
		l := sys.Corner[i].Limits(0)
		c.touch[i], c.open[i] = l.Touch, l.Open
	}
	c.settle()
	axis := 0.0
	for i := range 4 {
		axis += 0.5 * c.share[i/2] * c.height(i, rest)
	}
	c.arm = c.cgHeight(rest) - axis
	p, err := c.At(0, 0, &Point{State: *rest})
	c.rest = p
	return c, err
}

// height is the height over the ground at which wheel i's lateral force meets
// the middle of the car, both wheels of the axle doing alike [m].
//
//	h_i = |y_i|·(own + other) − y_i·φ
//
// The line of the force is fixed to the body but for its wheel's travel, so it
// turns with the body: the last term. A roll centre that falls just as the body
// does (κ = 1) therefore stays where it is when the car rolls.
//
// Source: own derivation from the path of the contact patch against the body.
func (c *Car) height(i int, st *equilibrium.State) float64 {
	l := c.lever(i, &st.Travel, &st.Tyre)
	return math.Abs(c.sys.Left[i])*(l.own+l.other) - c.sys.Left[i]*st.Roll
}

// cgHeight is the height of the sprung mass with what it carries [m].
func (c *Car) cgHeight(st *equilibrium.State) float64 {
	return c.geo.CGHeight + st.Heave + c.left*st.Roll + c.behind*st.Pitch
}

// unsprungMoment is the masses that move with the wheels by their heights [kg m].
func (c *Car) unsprungMoment() float64 {
	return c.unsprung[0]*c.geo.HubHeight[0] + c.unsprung[1]*c.geo.HubHeight[1]
}

// Build is what was put on the car; nil where that is not known.
func (c *Car) Build() *car.Build { return c.sys.Build }

// Rest is the car going straight at constant speed.
func (c *Car) Rest() *Point { return &c.rest }

// Arm is how far the sprung mass lies above the roll axis at rest [m].
func (c *Car) Arm() float64 { return c.arm }

// RollCentre is the height of the roll centre of an axle at rest [m].
func (c *Car) RollCentre(axle int) float64 { return c.RollCentreAt(&c.rest, axle) }

// RollCentreAt is the height over the ground, in the middle of the car, at which
// both wheels' lateral forces together reach the body at a point [m].
func (c *Car) RollCentreAt(p *Point, axle int) float64 {
	l, r := 2*axle, 2*axle+1
	return 0.5 * (c.height(l, &p.State) + c.height(r, &p.State))
}

// Masses is how a car's mass lies.
type Masses struct {
	Whole        float64 // sprung, payload in, and unsprung [kg]
	Sprung       float64 // payload in [kg]
	Behind       float64 // whole centre of gravity behind the front axle [m]
	SprungBehind float64 // sprung one [m]
	Wheelbase    float64 // [m]
	UnsprungYaw  float64 // yaw inertia of the unsprung masses about the whole centre, and of the sprung mass's distance from it [kg m2]
}

// Masses returns how the car's mass lies.
func (c *Car) Masses() Masses { return c.MassesLess(0, 0) }

// MassesLess returns it without a mass [kg] at a place behind the front axle [m]
// that only weighs on the car.
func (c *Car) MassesLess(hung, at float64) Masses {
	sprung := c.mass - hung
	behind := (c.mass*c.behind - hung*at) / sprung
	m := Masses{Whole: sprung + c.unsprungTotal, Sprung: sprung, SprungBehind: behind, Wheelbase: c.sys.Behind[2]}
	moment := sprung * behind
	for i := range 4 {
		moment += c.sys.Unsprung[i] * c.sys.Behind[i]
	}
	m.Behind = moment / m.Whole
	off := behind - m.Behind
	m.UnsprungYaw = sprung * off * off
	for i := range 4 {
		x, y := c.sys.Behind[i]-m.Behind, c.sys.Left[i]
		m.UnsprungYaw += c.sys.Unsprung[i] * (x*x + y*y)
	}
	return m
}
