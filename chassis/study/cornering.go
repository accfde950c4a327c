package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/spread"
)

const (
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
		swept := c.Sweep(cornering.Asked{Lateral: way * CornerEnd, Points: steps, Plain: d != nil})
		for i := 1 - side; i < 4; i += 2 { // the outer wheels
			out.meet(c, &swept, i, d == nil)
		}
		for i := side; i < 4; i += 2 { // the inner wheels
			out.lift(&swept, i)
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
	s.budget(out, l, d, own)
	s.tow(out, l, d, own)
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

// lift finds where an inner wheel leaves the ground in a sweep.
func (o *bent) lift(swept *cornering.Swept, i int) {
	for _, k := range swept.Lifts {
		if k.Corner == i {
			o.numbers[cLift0+i] = math.Abs(k.Lateral)
			for range 3 { // each step starts where the last one led: it settles
				at, ok := o.liftStep(i, math.Copysign(o.numbers[cLift0+i], k.Lateral))
				if !ok {
					break
				}
				o.numbers[cLift0+i] = at
			}
			return
		}
	}
	o.lifted[i] = bendNever
	if swept.Ended != nil {
		o.lifted[i] = bendTips
	}
	o.numbers[cLift0+i] = math.Abs(swept.ReachedLateral)
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
		lift := add("wheel-lift-acceleration", "", i, cLift0+i)
		switch nominal.lifted[i] {
		case bendNever:
			lift.State, lift.Reason = figure.Outside, "the wheel stays on the ground up to there"
		case bendTips:
			lift.State, lift.Reason = figure.Outside, "the car would tip over before the wheel leaves the ground"
		case bendNoStop, bendMet:
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
