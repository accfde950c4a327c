package study

import (
	"errors"
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/spread"
)

const (
	// cornerDraws is how many draws stand behind the band of a figure of a corner.
	cornerDraws = 48
	// CornerEnd is how far stops are looked for: more than road tyres hold. Common
	// practice, no source. [m/s2]
	CornerEnd = 1.2 * equilibrium.Gravity
	// CornerHalf is the lateral acceleration of a bend taken hard on the road, at
	// which shares and droop are given: common practice, no source. [m/s2]
	CornerHalf = 0.5 * equilibrium.Gravity
	// cornerSteps is the number of points on the way to CornerEnd where only the
	// stops are wanted, and cornerStepsDraw that of a draw.
	cornerSteps, cornerStepsDraw = 24, 8
)

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

	table *spread.Table
}

// bendsOf makes them for a car.
func bendsOf(c *car.Car, opt *Options) *bends {
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
	}
	for a := range 2 {
		fall, half := cornering.FallOf(c.Axle[a].Kind)
		b.Fall[a] = in(fall, half, "common practice, no source")
		b.Compliance[a] = in(UsualCompliance[a], usualComplianceHalf[a], "common practice, no source")
	}
	n := len(figure.Number(b, nil))
	if opt.Samples > 0 {
		// Another seed than the readings': no draw of theirs goes with one of these.
		b.table = spread.NewTable(opt.Seed^0x9e3779b97f4a7c15, min(cornerDraws, opt.Samples), n, opt.Workers)
	}
	return b
}

func (b *bends) draw(k int) figure.Draw {
	if k < 0 {
		return nil
	}
	return figure.DrawOf(b.table.Draw(k))
}

// bendCar makes the car of a solved case for corners, under a draw of the job's
// inputs and one of its own.
func (s *setup) bendCar(sys *equilibrium.System, st *equilibrium.State, l int, d, own figure.Draw) (*cornering.Car, error) {
	c, b := s.job.Car, s.bends
	extra := equilibrium.Of(s.job.Loads[l].Items, d)
	g := cornering.Geometry{CGHeight: sys.CentreHeight(extra), Sensitivity: math.Max(0, math.Min(0.45, b.Sensitivity.At(own)))}
	for a := range 2 {
		g.HubHeight[a] = b.HubHeight.At(own)
		if h := &c.UnsprungHeight[a]; h.Known() {
			g.HubHeight[a] = h.At(d)
		}
		g.RollCentre[a], g.Fall[a] = sys.Lean.RollCentre[a], b.Fall[a].At(own)
		g.Reacted[a] = c.Axle[a].Kind == string(linkage.LiveAxle)
	}
	g.Path, g.BrakeShare, g.DriveShare = s.paths, s.brakeShare, math.NaN()
	if c.DriveShare.Known() {
		g.DriveShare = c.DriveShare.At(d)
	}
	if c.BrakeShare.Known() {
		g.BrakeShare = c.BrakeShare.At(d)
	}
	return cornering.New(sys, extra, st, g)
}

// pathsOf are where the links of a car's axles lead its wheels, where their
// points are known.
func pathsOf(c *car.Car) (out [2]*cornering.Path) {
	for a := range 2 {
		h := c.Axle[a].Hardpoints
		if h == nil {
			continue
		}
		l, err := h.New()
		if err != nil {
			continue
		}
		if p, err := cornering.NewPath(l, h.Corner == nil); err == nil {
			out[a] = p
		}
	}
	return out
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
	cCamber0         = cLanding0 + 4
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
	rolls   [2]float64
	half    [2]cornering.Point // at CornerHalf, to the left and to the right
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

// bendState says what is behind a corner's contact.
type bendState uint8

const (
	bendMet bendState = iota
	bendNever
	bendTips
	bendNoStop
)

// bend takes all figures of one car.
func (s *setup) bend(c *cornering.Car, l, steps int, d, own figure.Draw) (*bent, error) {
	out := &bent{car: c, numbers: make([]float64, s.towAt()+towEach)}
	n := out.numbers
	for i := range n {
		n[i] = math.NaN()
	}
	var err error
	if n[cGradient], out.rolls[0], out.rolls[1], err = c.RollGradient(); err != nil {
		return out, err
	}
	for side, way := range [2]float64{1, -1} {
		swept := c.Sweep(cornering.Asked{Lateral: way * CornerEnd, Points: steps, StopsOnly: d != nil})
		for i := 1 - side; i < 4; i += 2 { // the outer wheels
			out.meet(c, &swept, i, d == nil)
		}
		p, err := c.At(way*CornerHalf, 0, nil)
		if err != nil {
			continue
		}
		out.half[side] = p
		for i := side; i < 4; i += 2 { // the inner wheels
			n[cDroop0+i] = c.Droop(&p, i)
		}
		for i := 1 - side; i < 4; i += 2 { // the outer wheels
			n[cCamber0+i] = c.Camber(&p, i)
		}
		if side == 0 {
			n[cShare] = c.FrontShare(&p)
		}
	}
	front, rear := c.RollStiffness(0), c.RollStiffness(1)
	n[cRollShare] = front.Sum() / (front.Sum() + rear.Sum())
	n[cBarFront], n[cBarRear] = front.BarShare(), rear.BarShare()
	s.steer(out, l, d, own)
	return out, nil
}

// meet finds a corner's contact in a sweep.
func (o *bent) meet(c *cornering.Car, swept *cornering.Swept, i int, exact bool) {
	if math.IsNaN(c.ToStop(c.Rest(), i)) {
		o.state[i] = bendNoStop
		return
	}
	for _, k := range swept.Contacts {
		if k.Corner == i {
			o.meets[i] = k
			o.numbers[cContact0+i] = math.Abs(k.Lateral)
			if exact && !k.AtRest {
				if at, ok := o.step(i); ok {
					o.numbers[cContact0+i] = at
				}
			}
			o.numbers[cLanding0+i] = k.After - k.Before
			return
		}
	}
	o.state[i] = bendNever
	if swept.Ended != nil {
		o.state[i] = bendTips
	}
	o.numbers[cContact0+i] = math.Abs(swept.ReachedLateral)
}

// cornerValues reports how a case goes round corners.
func (s *setup) cornerValues(a *Answer, b, l int, place figure.Place) {
	c := &a.Cases[b][l]
	car, err := s.bendCar(&c.System, &c.State, l, nil, nil)
	var nominal *bent
	if err == nil {
		nominal, err = s.bend(car, l, cornerSteps, nil, nil)
	}
	if err != nil {
		s.unbent(a, place)
		return
	}
	draws := s.bendDraws(a, b, l, len(nominal.numbers))
	add := func(code, mode string, corner, k int) *figure.Value {
		e := figure.Must(code)
		v := figure.Value{Code: code, Place: place, Tier: figure.Static, Value: nominal.numbers[k], State: figure.FromGuesses}
		v.Place.Corner, v.Place.Mode, v.Place.At = corner, mode, e.At
		switch {
		case math.IsNaN(v.Value):
			v.State, v.Reason = figure.Unknown, bendReason(code)
		case draws != nil:
			v.Low, v.High, v.HasBand = spread.Band(draws[k], band, nil)
			v.HasBand = v.HasBand && !math.IsInf(v.Low, 0) && !math.IsInf(v.High, 0)
		}
		a.Values = append(a.Values, v)
		return &a.Values[len(a.Values)-1]
	}
	for i := range 4 {
		contact := add("stop-contact-acceleration", "", i, cContact0+i)
		switch nominal.state[i] {
		case bendNever:
			contact.State, contact.Reason = figure.Outside, "the stop is not met up to there"
		case bendTips:
			contact.State, contact.Reason = figure.Outside, "the car would tip over before the stop is met"
		case bendNoStop, bendMet:
		}
		if nominal.state[i] == bendMet && !nominal.meets[i].AtRest {
			add("landing-balance-shift", "", i, cLanding0+i)
		}
		add("inside-droop-left", "", i, cDroop0+i)
		if car.Led(i / 2) {
			add("camber-to-road", "", i, cCamber0+i)
		}
	}
	none := figure.NoCorner
	add("roll-gradient", "", none, cGradient)
	add("front-transfer-share", "", none, cShare)
	add("front-roll-share", "", none, cRollShare)
	add("bar-roll-share", axleModes[0], none, cBarFront)
	add("bar-roll-share", axleModes[1], none, cBarRear)
	add("understeer-gradient", bendMode, none, cUndersteerBend)
	add("understeer-gradient", straightMode, none, cUndersteer)
	s.budgetValues(nominal, add)
	critical := add("critical-speed", "", none, cCritical)
	criticalOr(critical, draws, cCritical)
	if s.job.Loads[l].Trailer != nil {
		s.towValues(l, nominal, draws, add)
	}
	for k := len(s.speeds) - 1; k >= 0 && s.job.Loads[l].Trailer == nil; k-- { // the fastest first: it is judged
		at := cYaw0 + yawEach*k
		for i, code := range [yawEach]string{yawSettling: "yaw-settling", yawDamping: "yaw-damping", yawFrequency: "yaw-frequency"} {
			v := add(code, "", none, at+i)
			v.Place.Speed = s.speeds[k]
			if code == "yaw-damping" && v.State == figure.Unknown && nominal.numbers[at+yawSettling] > 0 {
				v.Reason = "yaw does not swing at that speed: the ratio says nothing, the yaw settling rate does"
			}
		}
	}
	if !s.opt.NoWorkings {
		for i := range a.Values {
			if v := &a.Values[i]; bendCodes[v.Code] && v.State != figure.Unknown {
				v.Working = s.bendWorking(nominal, l, v)
			}
		}
	}
}

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

// bendReason says what has to be known before there is a number.
func bendReason(code string) string {
	switch code {
	case "stop-contact-acceleration", "landing-balance-shift":
		return unknownReason("travel-to-stop")
	case "inside-droop-left":
		return unknownReason("travel-to-open")
	case "yaw-damping", "yaw-frequency":
		return "yaw is unstable at that speed"
	}
	return "the car was not held in that bend"
}

// unbent reports a case that is held nowhere.
func (s *setup) unbent(a *Answer, place figure.Place) {
	place.At = "body"
	a.Values = append(a.Values, figure.Value{
		Code: "roll-gradient", Place: place, Tier: figure.Static, Value: math.NaN(), State: figure.Unknown, Reason: "the car was not held in any bend",
	})
}

// bendDraws returns the figures of the first draws, one column a figure; nil
// without draws. A stop that is not met counts as met at the end.
func (s *setup) bendDraws(a *Answer, b, l, n int) [][]float64 {
	if a.columns == nil || s.bends.table == nil {
		return nil
	}
	out := make([][]float64, n)
	for k := range min(s.bends.table.Samples, a.columns.samples) {
		d, own := figure.DrawOf(a.columns.table.Draw(k)), s.bends.draw(k)
		base := equilibrium.Calibrate(s.fitted, s.hangup, d)
		sys, err := equilibrium.NewSystem(s.designs[b], &base, s.hangup, d)
		if err != nil {
			continue
		}
		guess := a.Cases[b][l].State
		st, err := sys.Solve(equilibrium.Of(s.job.Loads[l].Items, d), &guess)
		if err != nil {
			continue
		}
		c, err := s.bendCar(&sys, &st, l, d, own)
		if err != nil {
			continue
		}
		got, err := s.bend(c, l, cornerStepsDraw, d, own)
		if err != nil {
			continue
		}
		for i, v := range got.numbers {
			out[i] = append(out[i], v)
		}
	}
	return out
}

// ErrNoCase says that an answer has no such build or load state.
var ErrNoCase = errors.New("study: the answer has no such build or load state")

// caseOf finds a build in a load state.
func (a *Answer) caseOf(build, load string) (b, l int, err error) {
	b, l = -1, -1
	for i, one := range a.Job.Builds {
		if one.ID == build {
			b = i
		}
	}
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == load {
			l = i
		}
	}
	if b < 0 || l < 0 || a.ready == nil || b >= len(a.Cases) || l >= len(a.Cases[b]) {
		return b, l, ErrNoCase
	}
	return b, l, a.Cases[b][l].Err
}

// Cornering returns a build in a load state ready for corners. The answer is only
// read.
func (a *Answer) Cornering(build, load string) (*cornering.Car, error) {
	b, l, err := a.caseOf(build, load)
	if err != nil {
		return nil, err
	}
	c := &a.Cases[b][l]
	return a.ready.bendCar(&c.System, &c.State, l, nil, nil)
}

// UsualLoad is the id of the load state of ordinary driving.
func (a *Answer) UsualLoad() string { return UsualLoad(a.Job.Brief, a.Job.Loads) }
