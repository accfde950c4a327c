package car

import (
	"math"

	"trunnion/chassis/figure"
)

func (k *checker) body() {
	c := k.car
	k.within(&c.Wheelbase, wheelbases)
	k.within(&c.KerbMass, kerbMasses)
	k.within(&c.TopSpeed, topSpeeds)
	k.within(&c.FrontShare, axleShares)
	k.within(&c.BrakeShare, wholeShares)
	k.within(&c.DriveShare, wholeShares)
	k.within(&c.Speedometer, speedReadings)
	k.within(&c.CGHeight, heightsOfMass)
	k.within(&c.InertiaRoll, rollInertias)
	k.within(&c.InertiaPitch, pitchInertias)
	for a := range 2 {
		k.within(&c.Track[a], tracks)
		k.within(&c.ZeroHeight[a], archHeights)
		k.within(&c.Unsprung[a], unsprungMasses)
		k.within(&c.UnsprungHeight[a], hubHeights)
		k.within(&c.RollCentre[a], rollCentres)
		if !c.Track[a].Known() {
			k.add(true, "car.track."+AxleNames[a], c.Wheelbase.Line, say("is missing"), say("enter the track of both axles"))
		}
	}
	k.payloads(c.Weighed.Aboard)
}

func (k *checker) payloads(items []Payload) {
	for i := range items {
		k.within(&items[i].Mass, payloadMasses)
		k.within(&items[i].Behind, placesBehind)
		k.within(&items[i].Left, placesLeft)
		k.within(&items[i].Height, placesUp)
	}
}

func (k *checker) weighing() {
	c, w := k.car, &k.car.Weighed
	missing, sane, total := 0, true, 0.0
	for i := range 4 {
		if !w.Load[i].Known() {
			missing++
			continue
		}
		sane = k.within(&w.Load[i], cornerLoads) && sane
		total += w.Load[i].Value
		if u := &c.Unsprung[AxleOf(i)]; u.Known() && w.Load[i].Value <= u.Value {
			k.at(true, &w.Load[i], "kg", say("it must be more than what is unsprung there, {}", of(u, "kg")))
			sane = false
		}
	}
	k.heights()
	switch {
	case missing == 4 && c.KerbMass.Known() && c.FrontShare.Known():
		return
	case missing == 4:
		k.add(true, "car.weighed.load", 0, say("is missing"), say("nothing can be computed without four scale readings, or kerb_mass and front_share"))
		return
	case missing > 0:
		for i := range 4 {
			if !w.Load[i].Known() {
				k.add(true, "car.weighed.load."+pathCorners[i], 0, say("is missing"), say("enter all four scales, or none and kerb_mass and front_share"))
			}
		}
		return
	case !sane:
		return
	}
	k.shares(total)
	k.kerb(total)
}

// shares judges where the weight sits.
func (k *checker) shares(total float64) {
	w := &k.car.Weighed
	l := func(i int) float64 { return w.Load[i].Value }
	if w.Load[0].Origin == figure.Estimated && w.Load[0].Typed == "" {
		return
	}
	line := w.Load[0].Line
	share := func(name string, value float64, s span) {
		in := Input{Value: value, Origin: figure.Measured, Path: "car.weighed.load", Line: line}
		switch {
		case value < s.least || value > s.most:
			k.add(true, in.Path, line, say("puts {} of the weight "+name, si(value, "share")), say("{} to {} can be; look which scale stood where", si(s.least, "share"), si(s.most, "share")))
		case value < s.low || value > s.high:
			k.add(false, in.Path, line, say("puts {} of the weight "+name, si(value, "share")), say("usual is {} to {}; look which scale stood where", si(s.low, "share"), si(s.high, "share")))
		}
	}
	front := (l(0) + l(1)) / total
	share("in front", front, axleShares)
	share("on the left", (l(0)+l(2))/total, span{0.40, 0.46, 0.54, 0.60, "share", none, none})
	share("on the diagonal front right and rear left", (l(1)+l(2))/total, evenSides)
	k.sides(line)
	if f := &k.car.FrontShare; f.Known() && math.Abs(front-f.Value) > 0.03 {
		k.at(false, f, "share", say("the scales say {}", si(front, "share")))
	}
}

// sides judges how each axle's weight lies across the car, nobody aboard: the whole may
// be even while one axle is not.
func (k *checker) sides(line int) {
	empty := k.car.EmptyLoads()
	for a, axle := range AxleNames {
		l, r := empty[2*a], empty[2*a+1]
		if !(l > 0) || !(r > 0) {
			continue
		}
		if left := l / (l + r); left < evenSides.low || left > evenSides.high {
			k.add(false, "car.weighed.load."+pathCorners[2*a], line, say("puts {} of the "+axle+" axle's weight on the left, {} against {}", si(left, "share"), si(l, "kg"), si(r, "kg")),
				say("usual is {} to {}: take a drop link off each bar, roll the car to settle it, look which scale stood where and whether all four stand level, and say who was aboard", si(evenSides.low, "share"), si(evenSides.high, "share")))
		}
	}
}

// usualExtras is how much more than in its papers a car weighs with what was fitted to
// it: less than somebody who was forgotten in it. Common practice, no source. [kg]
const usualExtras = 60

// kerb compares the scales with the mass in the papers.
func (k *checker) kerb(total float64) {
	c := k.car
	if !c.KerbMass.Known() {
		return
	}
	for i := range c.Weighed.Aboard {
		total -= c.Weighed.Aboard[i].Mass.Value
	}
	const petrol = 750 // density of fuel: common practice, no source. [kg/m3]
	fuel := 45.0       // of an ordinary tank [kg]
	if c.Tank.Known() {
		fuel = c.Tank.Value * petrol
	}
	kerb, ratio := c.KerbMass.Value, total/c.KerbMass.Value
	first := &c.Weighed.Load[0]
	// A pound is 0.45359237 kg.
	const perPound = 1 / 0.45359237
	switch {
	case math.Abs(ratio/perPound-1) < 0.08:
		k.add(true, "car.weighed.load", first.Line, say("adds up to {}", si(total, "kg")), say("the kerb mass is {}", of(&c.KerbMass, "kg")))
		k.slip(PoundsOnScales)
	case math.Abs(ratio*perPound-1) < 0.08:
		k.add(true, c.KerbMass.Path, c.KerbMass.Line, say("is {}", of(&c.KerbMass, "kg")), say("the scales add up to {}", si(total, "kg")))
		k.slip(Pounds)
	case total < 0.97*kerb-fuel || total > kerb+math.Min(0.05*kerb, usualExtras)+0.1*fuel:
		k.add(false, "car.weighed.load", first.Line, say("adds up to {}", si(total, "kg")),
			say("the kerb mass is {}, and the tank holds {} of fuel: is something aboard or taken out that aboard does not say, or a scale wrong?", of(&c.KerbMass, "kg"), si(fuel, "kg")))
	}
}

func (k *checker) heights() {
	c, w := k.car, &k.car.Weighed
	for i := range 4 {
		h, z := &w.Height[i], &c.ZeroHeight[AxleOf(i)]
		if !k.within(h, archHeights) || !z.Known() {
			continue
		}
		if math.Abs(h.Value-z.Value) > 0.08 && h.Typed != "" {
			k.at(true, h, "m", say("it must lie within {} of the zero height, {}", si(0.08, "m"), of(z, "m")))
			if h.Value > archHeights.high {
				k.slip(FromTheFloor)
			}
		}
	}
	for a := range 2 {
		l, r := &w.Height[2*a], &w.Height[2*a+1]
		if l.Known() && r.Known() && math.Abs(l.Value-r.Value) > 0.02 {
			k.at(false, l, "m", say("the other side is {}: more than {} between the sides is rare", of(r, "m"), si(0.02, "m")))
		}
	}
}

func (k *checker) axle(a int) {
	ax := &k.car.Axle[a]
	name := "car." + AxleNames[a]
	k.within(&ax.TyreRate, tyreRates)
	k.within(&ax.Cornering, cornerings)
	k.within(&ax.LiftArea, liftAreas)
	k.within(&ax.ComplianceSteer, compliances)
	k.within(&ax.BushRate, bushRates)
	k.within(&ax.BarRate, barRates)
	k.within(&ax.BarLink, linkRatios)
	for i := range ax.Holes {
		k.within(&ax.Holes[i].Rate, barRates)
		k.within(&ax.Holes[i].LinkRatio, linkRatios)
		k.within(&ax.Holes[i].Arm, barArms)
	}
	k.within(&ax.MakerBump, bumps)
	if k.within(&ax.MakerSolid, bumps) && ax.MakerBump.Known() && ax.MakerSolid.Value <= ax.MakerBump.Value {
		k.at(true, &ax.MakerSolid, "m", say("it must be more than to the touch, {}", of(&ax.MakerBump, "m")))
	}
	s := ratios
	if ax.Kind == "strut" {
		s = strutRatios
	}
	k.motion(&ax.Spring, name+".motion.spring", "spring", ax.Kind, s)
	k.motion(&ax.Damper, name+".motion.damper", "damper", ax.Kind, s)
	for i := range ax.Side {
		own := name + "." + SideNames[i]
		if m := ax.Side[i].Spring; m != nil {
			k.motion(m, own+".motion.spring", "spring", ax.Kind, s)
		}
		if m := ax.Side[i].Damper; m != nil {
			k.motion(m, own+".motion.damper", "damper", ax.Kind, s)
		}
	}
	// Behind the front a spring and a damper that stand apart cannot share a
	// table; one was taken for the other.
	apart := ax.Kind == "multilink" || ax.Kind == "trailing-arm" || ax.Kind == "twist-beam"
	if apart && len(ax.Spring.Part) > 2 && equal(ax.Spring.Part, ax.Damper.Part) {
		k.add(false, ax.Damper.Path, ax.Damper.Line, say("has the same readings as spring"), say("on this suspension the two usually stand apart; was one taken for the other?"))
	}
	k.roomRound(a)
	for i := range ax.Limits {
		l := &ax.Limits[i].Travel
		if math.Abs(l.Value) > 0.4 {
			k.at(true, l, "m", say("a wheel does not move that far"))
		}
	}
}

func equal(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (k *checker) motion(m *Motion, path, what, kind string, s span) {
	if !m.Known() {
		want := "enter a table of wheel and " + what + " travel, or the lengths taped along the arm: there is no other estimate for this suspension"
		k.add(true, path, 0, say("is missing"), say(want))
		return
	}
	if m.Origin == figure.Estimated {
		return
	}
	if m.Reading.Half > 0.01 {
		k.at(true, &m.Reading, "m", say("a tape reads to {} or better", si(0.01, "m")))
	}
	low, high := math.Inf(1), math.Inf(-1)
	least, most := 0.0, 0.0
	for _, w := range m.Wheel {
		r := m.Ratio(w)
		low, high = math.Min(low, r), math.Max(high, r)
		least, most = math.Min(least, w), math.Max(most, w)
	}
	r := m.Ratio(0)
	in := Input{Value: r, Origin: m.Origin, Typed: "", Path: m.Path, Line: m.Line}
	got := say("makes a ratio of {} at the zero height", si(r, "-"))
	switch {
	case r < s.least || r > s.most:
		hint := "it must be {} to {}, " + what + " travel over wheel travel"
		if r > s.most {
			hint += "; was it turned over, or half the wheel travel written?"
		}
		if r < 0 {
			hint += "; bump is positive in both rows"
		}
		k.add(true, in.Path, in.Line, got, say(hint, si(s.least, "-"), si(s.most, "-")))
		return
	case r < s.low || r > s.high:
		k.add(false, in.Path, in.Line, got, say("usual is {} to {}, "+what+" travel over wheel travel", si(s.low, "-"), si(s.high, "-")))
	}
	if low <= 0.1 || high > 2 {
		k.add(true, in.Path, in.Line, say("goes from a ratio of {} to {} over its rows", si(low, "-"), si(high, "-")), say("a part moves with its wheel, evenly; look for a misread row"))
	}
	if i := m.Fit.Misread; m.Curve == nil && i >= 0 {
		k.add(false, in.Path, in.Line, say("reads {} at {} of wheel travel", si(m.Part[i], "m"), si(m.Wheel[i], "m")), say("the other rows say {}: was it misread?", si(m.Part[i]-m.Fit.Residual[i], "m")))
	}
	if most-least < 0.04 {
		k.add(false, in.Path, in.Line, say("covers {} of wheel travel", si(most-least, "m")), say("80 to 180 thousandths of a metre make a ratio worth having"))
	}
	if most > 0.35 || least < -0.35 {
		k.add(true, in.Path, in.Line, say("has wheel travels of {} to {}", si(least, "m"), si(most, "m")), say("a wheel does not move that far"))
	}
}

// trailers judges what load states tow.
func (k *checker) trailers(loads []Load) {
	for i := range loads {
		t := loads[i].Trailer
		if t == nil {
			continue
		}
		nose := &loads[i].Items[t.Nose].Mass
		k.within(&t.Mass, trailerMasses)
		k.within(&t.ToAxle, trailerLengths)
		k.within(&t.BodyLength, bodyLengths)
		k.within(&t.Speed, towingSpeeds)
		k.within(&t.Cornering, cornerings)
		switch {
		case !t.Mass.Known() || !nose.Known() || nose.Origin == figure.Estimated:
		case math.Abs(nose.Value) >= 0.5*t.Mass.Value:
			k.at(true, nose, "kg", say("it must be a part of the trailer's mass, {}", of(&t.Mass, "kg")))
		case nose.Value < 0.03*t.Mass.Value:
			k.at(false, nose, "kg", say("so little of {} on the coupling lets a trailer swing: weigh it again, or load it further forward", of(&t.Mass, "kg")))
		}
	}
}
