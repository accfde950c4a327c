package scales

import "math"

// Answer is what somebody ticked: not asked, yes or no.
type Answer string

// The answers.
const (
	Unsaid Answer = ""
	Yes    Answer = "yes"
	No     Answer = "no"
)

// Session is what was done and read at the scales in one round.
type Session struct {
	Settled  []Reading // the same car read again and again, bounced between
	Reversed []Reading // read with the car turned about on the same four pads: still in the order of the car's corners
	Pressed  Reading   // pressed down at all corners and let go; Unread when it was not done
	Lifted   Reading   // lifted at all corners and let go

	Pads      [4]float64 // height of each pad's top against the mean; NaN: not levelled [m]
	Pressures [4]float64 // of the tyres over the atmosphere; NaN: not read [Pa]
	Total     float64    // of the last weighing in this state; NaN: what the model has stands in [kg]
	Shown     float64    // total that the scales themselves show; NaN: not read [kg]
	PadChange [4]float64 // of each pad against a common test weight, as found; NaN: not checked [kg]

	AsStated Answer // ballast or driver, fuel and what else is in the car are as the load state says
	BarsOff  Answer // a drop link of each bar is off
	Soft     Answer // clicks are full soft
	Rolled   Answer // rolled on and bounced, not jacked and dropped
	Mixed    bool   // figures in kilograms and in pounds stood in one reading

	Typos     []Typo // what could have been meant instead of what was typed
	Confirmed bool   // what looked odd was read again, and is right
}

// NewSession is a session of which nothing is known.
func NewSession() Session {
	n := math.NaN()
	four := [4]float64{n, n, n, n}
	return Session{Pressed: Unread(), Lifted: Unread(), Pads: four, Pressures: four, PadChange: four, Total: n, Shown: n}
}

// Reading is the mean of what was read: of a car that was turned about, the
// mean of both ways, in which an uneven floor cancels.
func (s *Session) Reading() Reading {
	if len(s.Settled) == 0 {
		return Unread()
	}
	one := mean(s.Settled)
	if len(s.Reversed) == 0 {
		return one
	}
	return mean([]Reading{one, mean(s.Reversed)})
}

// Gate is what the readings are good for.
type Gate struct {
	Verdict  Verdict // the worst of the checks
	Checks   []Check
	Friction [4]float64 // that holds each wheel, from pressing and lifting; NaN: not measured [N]
}

func (g *Gate) add(code string, v Verdict, figures ...Detail) *Check {
	g.take(checked(code, v, figures...))
	return &g.Checks[len(g.Checks)-1]
}

// take adds what a check found.
func (g *Gate) take(c Check) {
	g.Checks = append(g.Checks, c)
	if c.Verdict == Stop || c.Verdict == Caution && g.Verdict == Pass {
		g.Verdict = c.Verdict
	}
}

// Limits of the gate. Common practice, no source, but where derived.
const (
	totalCaution  = 0.006  // of the total [-]
	totalStop     = 0.02   // [-]
	shareCaution  = 0.005  // front or left share against the model's [-]
	shareStop     = 0.015  // [-]
	floorOver     = 0.15   // a height so far over what the model has is not hub to arch [m]
	heightNear    = 0.04   // a slip that leaves a height so near to what the model has would explain it [m]
	poundsPerKilo = 2.2046 // a load off by this factor is in the other unit [-]
	pressureFine  = 10e3   // left against right [Pa]
	pressureStop  = 40e3   // [Pa]
	shownStop     = 2.0    // sum of four against the total the scales show: more than their rounding [kg]
	padWeightStop = 2.0    // pads against each other under one weight [kg]
)

// Judge says whether a round's readings bear what is asked of them. The model
// is that of the car before this round, with what was turned since in it.
//
// What is wanted is weighed against the scatter of the readings: a change that
// is smaller than the scatter cannot be seen, and is not made.
func Judge(m *Model, s *Session, t *Target) (*Gate, error) {
	g := &Gate{Verdict: Pass, Friction: [4]float64{math.NaN(), math.NaN(), math.NaN(), math.NaN()}}
	got := s.Reading()
	missing := 0
	for i := range 4 {
		if math.IsNaN(got.Load[i]) {
			missing++
		}
		if math.IsNaN(got.Height[i]) {
			missing++
		}
	}
	if missing > 0 {
		c := g.add("readings-missing", Stop, figureOf("readings-missing", float64(missing), "1"))
		for i := 3; i >= 0; i-- {
			if math.IsNaN(got.Load[i]) || math.IsNaN(got.Height[i]) {
				c.Corner = i
			}
		}
	} else {
		g.add("readings-missing", Pass)
	}
	at, err := m.Stand([4]float64{})
	if err != nil {
		return nil, err
	}
	expected := at.Reading
	g.plausible(s, &got, &expected)
	if missing == 0 && g.Verdict != Stop {
		g.totals(s, &got, &expected)
		n := float64(max(1, len(s.Settled)))
		if len(s.Reversed) > 0 {
			n *= 2 // the mean of both ways
		}
		found, err := m.odd(&got, g.Verdict == Stop, s.Typos, n)
		if err != nil {
			return nil, err
		}
		g.take(found)
	}
	if err := g.scatter(m, s, t, &at); err != nil {
		return nil, err
	}
	g.reversed(s, t)
	if err := g.pads(m, s, t, &at); err != nil {
		return nil, err
	}
	g.pressures(s)
	g.ticks(s)
	if s.Confirmed {
		g.confirm()
	}
	return g, g.hangup(m, s, t, &at)
}

// confirm lets figures pass that were doubted, read again and found right.
func (g *Gate) confirm() {
	g.Verdict = Pass
	for k := range g.Checks {
		c := &g.Checks[k]
		if c.Doubt() {
			c.Verdict = Caution
		}
		if c.Verdict == Stop || c.Verdict == Caution && g.Verdict == Pass {
			g.Verdict = c.Verdict
		}
	}
}

// plausible finds units mixed up, heights from the floor and mirrored figures.
func (g *Gate) plausible(s *Session, got, expected *Reading) {
	mixed := s.Mixed
	corner := -1
	var odd float64
	like := func(a, b float64) bool { return math.Abs(a/b-1) < 0.12 }
	kilos, pounds := 0, 0
	for i := range 4 {
		switch f := got.Load[i] / expected.Load[i]; {
		case like(f, 1):
			kilos++
		case like(f, poundsPerKilo) || like(f, 1/poundsPerKilo):
			pounds++
			corner, odd = i, f
		}
	}
	switch {
	case mixed || pounds > 0 && kilos > 0:
		c := g.add("units-mixed", Stop)
		c.Corner = corner
		if corner >= 0 {
			c.Figures = []Detail{{"load", got.Load[corner], "kg", corner}, {"load-expected", expected.Load[corner], "kg", corner}, {"factor", odd, "1", corner}}
			c.Causes = near(s.Typos, corner, false, expected.Load[corner], 0.12*expected.Load[corner])
		}
	case pounds == 4:
		g.add("units-other", Stop, figureOf("total", got.Total(), "kg"), figureOf("total-expected", expected.Total(), "kg"))
	default:
		g.add("units-mixed", Pass)
	}
	for i := range 4 {
		if over := got.Height[i] - expected.Height[i]; over > floorOver {
			c := g.add("height-from-floor", Stop, Detail{"height", got.Height[i], "m", i}, Detail{"height-expected", expected.Height[i], "m", i})
			c.Corner, c.Causes = i, near(s.Typos, i, true, expected.Height[i], heightNear)
			return
		} else if over < -floorOver {
			c := g.add("height-not-to-arch", Stop, Detail{"height", got.Height[i], "m", i}, Detail{"height-expected", expected.Height[i], "m", i})
			c.Corner, c.Causes = i, near(s.Typos, i, true, expected.Height[i], heightNear)
			return
		}
	}
	g.add("height-from-floor", Pass)
}

// totals compares what no collar can change with what it was.
func (g *Gate) totals(s *Session, got, expected *Reading) {
	before := s.Total
	if math.IsNaN(before) {
		before = expected.Total()
	}
	off := got.Total()/before - 1
	g.add("total", judge(math.Abs(off), totalCaution, totalStop), figureOf("total", got.Total(), "kg"), figureOf("total-expected", before, "kg"))
	if !math.IsNaN(s.Shown) {
		v := Pass
		if math.Abs(got.Total()-s.Shown) > shownStop {
			v = Stop
		}
		g.add("total-shown", v, figureOf("total", got.Total(), "kg"), figureOf("total-shown", s.Shown, "kg"))
	}
	front := got.FrontShare() - expected.FrontShare()
	g.add("front-share", judge(math.Abs(front), shareCaution, shareStop), figureOf("front-share", got.FrontShare(), "1"), figureOf("front-share-expected", expected.FrontShare(), "1"))
	left := got.LeftShare() - expected.LeftShare()
	g.add("left-share", judge(math.Abs(left), shareCaution, shareStop), figureOf("left-share", got.LeftShare(), "1"), figureOf("left-share-expected", expected.LeftShare(), "1"))
	for i := range 4 {
		if !math.IsNaN(s.PadChange[i]) && math.Abs(s.PadChange[i]) > padWeightStop {
			c := g.add("pad-reads-wrong", Stop, Detail{"pad-error", s.PadChange[i], "kg", i})
			c.Corner = i
			return
		}
	}
}

func judge(v, caution, stop float64) Verdict {
	switch {
	case v > stop:
		return Stop
	case v > caution:
		return Caution
	}
	return Pass
}

// scatter weighs the readings' own scatter against what is asked.
func (g *Gate) scatter(m *Model, s *Session, t *Target, at *Stand) error {
	got := s.Reading()
	ask := math.Inf(1)
	if wanted(t.Cross) && got.Complete() {
		ask = math.Abs(got.Cross(t.Diagonal)-t.Cross) * got.Total()
	}
	var worst float64
	corner := -1
	for i := range 4 {
		if sp := spreadIn(s.Settled, func(r *Reading) float64 { return r.Load[i] }); sp > worst {
			worst, corner = sp, i
		}
	}
	high := 0.0
	for i := range 4 {
		high = math.Max(high, spreadIn(s.Settled, func(r *Reading) float64 { return r.Height[i] }))
	}
	if len(s.Settled) < 2 {
		f, err := m.Scatter(t.Diagonal)
		if err != nil {
			return err
		}
		g.add("read-once", Caution, figureOf("cross-scatter", f.Cross.Half, "1"), figureOf("level-scatter", math.Max(f.Level[0].Half, f.Level[1].Half), "m"))
		return nil
	}
	// A diagonal is two corners: what they scatter by, taken as chance, against
	// the change of one diagonal.
	scatter := worst * math.Sqrt2
	v := Pass
	within := math.Inf(1)
	if wanted(t.Cross) {
		within = t.CrossWithin * at.Reading.Total()
	}
	switch {
	case wanted(t.Cross) && scatter > ask && scatter > within:
		v = Stop
	case scatter > within || high > math.Max(t.LevelWithin[0], t.LevelWithin[1]):
		v = Caution
	}
	c := g.add("scatter", v, Detail{"load-scatter", worst, "kg", corner}, figureOf("height-scatter", high, "m"))
	if !math.IsInf(ask, 1) {
		c.Figures = append(c.Figures, figureOf("diagonal-scatter", scatter, "kg"), figureOf("change-asked", ask, "kg"))
	}
	c.Corner = corner
	return nil
}

// spreadIn is the greatest less the least reading.
func spreadIn(list []Reading, of func(*Reading) float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for k := range list {
		if v := of(&list[k]); !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return math.Max(0, high-low)
}

// reversed compares the two ways in which the car stood on the pads.
func (g *Gate) reversed(s *Session, t *Target) {
	if len(s.Reversed) == 0 {
		g.add("not-turned-about", Caution)
		return
	}
	one, other := mean(s.Settled), mean(s.Reversed)
	floor := 0.5 * math.Abs(one.Cross(t.Diagonal)-other.Cross(t.Diagonal))
	g.add("floor-error", judge(floor, 0.5*t.CrossWithin, 3*t.CrossWithin), figureOf("cross-floor-error", floor, "1"), figureOf("cross-within", t.CrossWithin, "1"))
}

// pads says what pads out of level do to the cross weight.
func (g *Gate) pads(m *Model, s *Session, t *Target, at *Stand) error {
	rig := m.with(&m.z)
	by, err := rig.ByPad(at)
	if err != nil {
		return err
	}
	slope := func(j int) float64 {
		v := 0.0
		for i := range 4 {
			v += (0.5*(1+t.Diagonal.sign(i)) - at.Reading.Cross(t.Diagonal)) * by.Load[i][j]
		}
		return v / at.Reading.Total()
	}
	known, shift, span := true, 0.0, 0.0
	low, high := math.Inf(1), math.Inf(-1)
	for j := range 4 {
		known = known && !math.IsNaN(s.Pads[j])
		if known {
			shift += slope(j) * s.Pads[j]
			low, high = math.Min(low, s.Pads[j]), math.Max(high, s.Pads[j])
		}
	}
	per := math.Abs(slope(0)) * 1e-3
	if !known {
		g.add("pads-not-levelled", Caution, figureOf("cross-per-millimetre", per, "1"))
		return nil
	}
	span = high - low
	v := judge(math.Abs(shift), 0.25*t.CrossWithin, t.CrossWithin)
	if v == Stop && len(s.Reversed) > 0 {
		v = Caution // the mean of both ways has it cancelled
	}
	g.add("pads", v, figureOf("pad-span", span, "m"), figureOf("cross-shift", shift, "1"), figureOf("cross-per-millimetre", per, "1"))
	return nil
}

func (g *Gate) pressures(s *Session) {
	worst, corner := 0.0, -1
	for a := range 2 {
		l, r := s.Pressures[2*a], s.Pressures[2*a+1]
		if math.IsNaN(l) || math.IsNaN(r) {
			g.add("pressures-not-read", Caution)
			return
		}
		if d := math.Abs(l - r); d > worst {
			worst, corner = d, 2*a
		}
	}
	c := g.add("pressures", judge(worst, pressureFine, pressureStop), figureOf("pressure-difference", worst, "Pa"))
	c.Corner = corner
}

func (g *Gate) ticks(s *Session) {
	tick := func(code string, a Answer, no Verdict) {
		switch a {
		case Yes:
			g.add(code, Pass)
		case No:
			g.add(code, no)
		case Unsaid:
			g.add(code+"-unsaid", Caution)
		}
	}
	tick("state", s.AsStated, Stop)
	tick("bars", s.BarsOff, Stop)
	tick("clicks", s.Soft, Caution)
	tick("settled", s.Rolled, Stop)
}

// hangup finds the friction at each wheel from a reading after the car was
// pressed down and let go and one after it was lifted and let go: between the
// two every wheel's friction has turned about.
//
//	y_lifted − y_pressed = 2·J_f·F,   F ≥ 0 by least squares
//
// Source: own derivation.
func (g *Gate) hangup(m *Model, s *Session, t *Target, at *Stand) error {
	if !s.Pressed.Complete() || !s.Lifted.Complete() {
		g.add("hang-up-not-measured", Caution)
		return nil
	}
	rig := m.with(&m.z)
	by, err := rig.ByFriction(at)
	if err != nil {
		return err
	}
	var normal square
	var right vector
	up, down := outputsOf(&s.Lifted), outputsOf(&s.Pressed)
	for o := range outputs {
		sd, row := m.Noise.Load, &by.Load
		if o >= 4 {
			sd, row = m.Noise.Height, &by.Height
		}
		for a := range 4 {
			right[a] += 2 * row[o%4][a] * (up[o] - down[o]) / (2 * sd * sd)
			for b := range 4 {
				normal[a][b] += 4 * row[o%4][a] * row[o%4][b] / (2 * sd * sd)
			}
		}
	}
	if _, ok := normal.factor(4); !ok {
		return nil
	}
	normal.solve(&right, 4)
	// What every one of them may do to the cross weight: the root of the squares,
	// as for independent wheels.
	sum := 0.0
	for j := range 4 {
		g.Friction[j] = math.Max(0, right[j])
		v := 0.0
		for i := range 4 {
			v += (0.5*(1+t.Diagonal.sign(i)) - at.Reading.Cross(t.Diagonal)) * by.Load[i][j]
		}
		v *= g.Friction[j] / at.Reading.Total()
		sum += v * v
	}
	cross := math.Sqrt(sum)
	c := g.add("hang-up", judge(cross, t.CrossWithin, 2*t.CrossWithin), figureOf("cross-hang-up", cross, "1"), figureOf("cross-within", t.CrossWithin, "1"))
	for j := range 4 {
		c.Figures = append(c.Figures, Detail{"friction", g.Friction[j], "N", j})
	}
	return nil
}

// HangUp is how far friction of that much at each wheel may hold the car from
// its frictionless rest: heights of each corner under its own friction [m], and
// the cross weight under all four, as the root of their squares [-].
func (m *Model) HangUp(d Diagonal, friction [4]float64) (height [4]float64, cross float64, err error) {
	at, err := m.Stand([4]float64{})
	if err != nil {
		return height, 0, err
	}
	rig := m.with(&m.z)
	by, err := rig.ByFriction(&at)
	if err != nil {
		return height, 0, err
	}
	sum := 0.0
	for j := range 4 {
		height[j] = friction[j] / at.State.Rate[j]
		v := 0.0
		for i := range 4 {
			v += (0.5*(1+d.sign(i)) - at.Reading.Cross(d)) * by.Load[i][j]
		}
		v *= friction[j] / at.Reading.Total()
		sum += v * v
	}
	return height, math.Sqrt(sum), nil
}

// Reach adds to the gate whether the wish lies inside the threads: a wish that
// is missed because a collar is held, and would need more than its thread,
// stops it, with what it would need and what there is.
func (g *Gate) Reach(p *Plan) {
	short := false
	for k := range p.Missed {
		short = short || p.Missed[k].Corner >= 0
	}
	if !short || len(p.Beyond) == 0 {
		g.add("target-outside-thread", Pass)
		return
	}
	c := g.add("target-outside-thread", Stop)
	c.Corner = p.Beyond[0].Corner
	for _, b := range p.Beyond {
		c.Figures = append(c.Figures, Detail{"move-needed", b.Value, "m", b.Corner}, Detail{"move-left", b.Limit, "m", b.Corner})
	}
}
