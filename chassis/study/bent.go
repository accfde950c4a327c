package study

import (
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

const (
	// cornerDraws is how many draws stand behind the band of a figure of a corner.
	cornerDraws = 48
	// CriticalEnd is up to where a critical speed is looked for: faster than cars on
	// the road drive. Common practice, no source. [m/s]
	CriticalEnd = 100.0
)

// UsualCamberShare is the side force of a tyre per camber over that per slip
// angle, of radial tyres; half-width of its band beside it. From memory of T. D.
// Gillespie, Fundamentals of Vehicle Dynamics, ch. 10; the band is ours.
const UsualCamberShare, UsualCamberShareHalf = 0.08, 0.05 // [-]

// UsualCompliance is how far an axle steers out of the bend by its bushes per side
// force on it, front and rear; half-widths of the bands beside them. Common
// practice, no source. [rad/N]
var UsualCompliance, usualComplianceHalf = [2]float64{1.0e-6, 0}, [2]float64{1.0e-6, 0.6e-6}

// UsualPressureSlope is how much of its cornering stiffness a tyre gains per share of
// pressure above its reference; half-width of its band beside it, in which it may as well
// gain nothing: other tyres, and higher loads, turn it about.
//
// Source: I. J. M. Besselink, A. J. C. Schmeitz, H. B. Pacejka, An improved Magic
// Formula/Swift tyre model that can handle inflation pressure changes, Vehicle System
// Dynamics 48 (2010), a passenger car tyre 205/60 R15, from memory; the band is ours.
const UsualPressureSlope, UsualPressureSlopeHalf = -0.63, 0.6 // [-]

// bends are inputs of a corner that no job has, each with its band. They are
// drawn from a table of their own, so that they change no other input's draws.
type bends struct {
	Fall        [2]car.Input // of the roll centre per wheel travel [-]
	HubHeight   car.Input    // [m]
	Sensitivity car.Input    // of the tyres' lateral force to load [-]
	TyreScale   car.Input    // of all tyres' cornering stiffness [-]
	AxleScale   car.Input    // of the front tyres' against the rear's [-]
	YawInertia  car.Input    // factor on its estimate [-]
	// TrailerScale is the factor on the cornering stiffness of a trailer's tyres. [-]
	TrailerScale car.Input
	CamberShare  car.Input    // side force per camber over that per slip angle [-]
	Compliance   [2]car.Input // how far an axle steers out of the bend per side force [rad/N]

	// What other tyres and pressures than those as weighed do; after the others, whose
	// draws stay as they were.
	PressureSlope car.Input    // of cornering stiffness per share of pressure [-]
	OtherTyre     [2]car.Input // factor on an axle's other tyres against those as weighed [-]

	table *spread.Table
}

// bendsOf makes them for a car.
func bendsOf(c *car.Car, samples int, seed uint64, workers int) *bends {
	in := func(value, half float64, basis string) car.Input {
		return car.Input{Value: value, Half: half, Shape: figure.Normal95, Origin: figure.Estimated, Path: "corner", Basis: basis}
	}
	b := &bends{
		HubHeight:   in(car.UsualHubHeight, car.UsualHubHeightHalf, "common practice, no source"),
		Sensitivity: in(cornering.UsualSensitivity, cornering.UsualSensitivityHalf, "between small slip and the peak of the tyre of SAE 870421"),
		TyreScale:   in(1, 0.2, "common practice, no source"),
		AxleScale:   in(1, 0.05, "common practice, no source"),
		YawInertia:  in(1, 0.1, "common practice, no source"),

		TrailerScale: in(1, 0.2, "common practice, no source"),
		CamberShare:  in(UsualCamberShare, UsualCamberShareHalf, "radial tyres, from memory of Gillespie ch. 10"),

		PressureSlope: in(UsualPressureSlope, UsualPressureSlopeHalf, "Besselink, Schmeitz, Pacejka 2010, from memory"),
		OtherTyre:     [2]car.Input{in(1, 0.1, "common practice, no source"), in(1, 0.1, "common practice, no source")},
	}
	for a := range 2 {
		fall, half := cornering.FallOf(c.Axle[a].Kind)
		b.Fall[a] = in(fall, half, "common practice, no source")
		b.Compliance[a] = in(UsualCompliance[a], usualComplianceHalf[a], "common practice, no source")
	}
	n := len(figure.Number(b, nil))
	if samples > 0 {
		// Another seed than the readings': no draw of theirs goes with one of these.
		b.table = spread.NewTable(seed^0x9e3779b97f4a7c15, min(cornerDraws, samples), n, workers)
	}
	return b
}

func (b *bends) draw(k int) figure.Draw {
	if k < 0 {
		return nil
	}
	return figure.DrawOf(b.table.Draw(k))
}

// The figures of a corner that are taken from every draw.
const (
	cGradient = iota
	cShare
	cRollShare
	cBarFront
	cBarRear
	cUndersteer
	cUndersteerBend
	cCritical
	cDroop0          // one a corner
	cContact0        = cDroop0 + 4
	cLanding0        = cContact0 + 4
	cLift0           = cLanding0 + 4
	cCamber0         = cLift0 + 4
	cSteer0          = cCamber0 + 4 // one an axle
	cCamberSteer0    = cSteer0 + 2
	cCompliance0     = cCamberSteer0 + 2
	cUndersteerTotal = cCompliance0 + 2
	cLiftSteer       = cUndersteerTotal + 1
	cYaw0            = cLiftSteer + 1 // yawEach per speed
)

// The figures of yaw at one speed.
const (
	yawSettling = iota
	yawDamping
	yawFrequency
	yawEach
)

// bent is what one car in one load state does in corners.
type bent struct {
	car     *cornering.Car
	numbers []float64
	state   [4]bendState // of each corner's contact
	meets   [4]cornering.Contact
	short   [4]bool // tips over before
	last    [4]lastStep
	lifts   [4]lastStep
	lifted  [4]bendState // of each corner's tyre
	rolls   [2]float64
	half    [2]cornering.Point // at CornerHalf, to the left and to the right
	steady  cornering.Point    // at SteerAt
}

// lastStep is the last step of the search for a contact: two accelerations just
// short of it and the wheel travels there.
type lastStep struct {
	near, far, nearTravel, farTravel, touch float64
}

// step takes that step and returns where it leads.
func (o *bent) step(i int) (at float64, ok bool) {
	k, c := &o.meets[i], o.car
	way, found := math.Copysign(1, k.Lateral), math.Abs(k.Lateral)
	const off = 1e-4 * equilibrium.Gravity
	near, err := c.At(way*(found-off), 0, nil)
	far, err2 := c.At(way*(found-2*off), 0, &near)
	if err != nil || err2 != nil {
		return found, false
	}
	t := lastStep{found - off, found - 2*off, near.Travel[i], far.Travel[i], near.Travel[i] + c.ToStop(&near, i)}
	o.last[i] = t
	return t.near + (t.touch-t.nearTravel)*(t.near-t.far)/(t.nearTravel-t.farTravel), true
}

// liftStep is such a step for a tyre's load, whose numbers stand in place of the travels.
func (o *bent) liftStep(i int, lateral float64) (at float64, ok bool) {
	c := o.car
	way, found := math.Copysign(1, lateral), math.Abs(lateral)
	const off = 1e-3 * equilibrium.Gravity
	near, err := c.At(way*(found-off), 0, nil)
	far, err2 := c.At(way*(found-2*off), 0, &near)
	if err != nil || err2 != nil || !(near.Tyre[i] > 0) || !(far.Tyre[i] > near.Tyre[i]) {
		return found, false
	}
	t := lastStep{found - off, found - 2*off, near.Tyre[i], far.Tyre[i], 0}
	o.lifts[i] = t
	return t.near + t.nearTravel*(t.near-t.far)/(t.farTravel-t.nearTravel), true
}

// bendState says what is behind a corner's contact, or its wheel off the ground.
type bendState uint8

const (
	bendMet bendState = iota
	bendNever
	bendTips
	bendNoStop
)

// criticalOr says of a critical speed that is not there that it is not, and in
// what share of the draws there is one after all.
func criticalOr(v *figure.Value, draws [][]float64, column int) {
	if v.State == figure.Unknown {
		return
	}
	found, all := 0, 0
	if draws != nil {
		all = len(draws[column])
		for _, at := range draws[column] {
			if !math.IsInf(at, 1) {
				found++
			}
		}
	}
	if !math.IsInf(v.Value, 1) {
		if missing := all - found; missing > 0 {
			v.Warnings = append(v.Warnings, fmt.Sprintf("in %d of %d draws of what is not known there is no critical speed", missing, all))
		}
		return
	}
	v.Value, v.State, v.HasBand = math.NaN(), figure.Unknown, false
	v.Reason = figure.None + ": the car is stable at every speed that was looked at"
	if found > 0 {
		v.Reason = fmt.Sprintf(figure.None+" by the most likely figures; in %d of %d draws of what is not known there is one", found, all)
	}
}

// axleModes are the axles as a place's mode.
var axleModes = [2]string{"front", "rear"}

// The two kinds of understeer gradient by their place's mode.
const (
	straightMode = "straight-ahead"
	bendMode     = "in-a-bend"
)

// bendCodes are the figures of a corner and of yaw.
var bendCodes = map[string]bool{
	"stop-contact-acceleration": true, "wheel-lift-acceleration": true, "landing-balance-shift": true, "inside-droop-left": true, "roll-gradient": true,
	"front-transfer-share": true, "front-roll-share": true, "bar-roll-share": true, "understeer-gradient": true, "critical-speed": true,
	"towing-settling": true, "weave-damping": true, "weave-frequency": true, "towing-critical-speed": true,
	"yaw-damping": true, "yaw-frequency": true, "yaw-settling": true, "camber-to-road": true,
	"links-steer": true, "understeer-total": true, "camber-steer": true, "compliance-steer": true, "lift-steer": true,
}
