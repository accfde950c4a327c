package car

import (
	"math"
	"sort"

	"trunnion/chassis/part"
)

// CheckParts judges parts that stand in no build, as a catalogue has them. A spring softer
// than any main spring is usually is judged as a helper.
func CheckParts(springs []*SpringSpec, dampers []*DamperSpec, stops []*StopSpec) []Problem {
	k := checker{seen: map[any]bool{}}
	for _, s := range springs {
		if s.Rate.Known() && s.Rate.Value < springRates.low {
			k.spring(s, helperRates, helperLengths)
		} else {
			k.spring(s, springRates, springLengths)
		}
	}
	for _, d := range dampers {
		k.damper(d)
	}
	for _, s := range stops {
		k.stop(s)
	}
	return k.list
}

func (k *checker) once(p any) bool {
	if k.seen[p] {
		return false
	}
	k.seen[p] = true
	return true
}

func (k *checker) spring(s *SpringSpec, rates, lengths span) {
	k.within(&s.Rate, rates)
	k.within(&s.RateTo, rates)
	if s.RateTo.Known() && s.RateTo.Value < s.Rate.Value {
		k.at(true, &s.RateTo, "N/m", say("it must not be less than rate, {}", of(&s.Rate, "N/m")))
	}
	k.within(&s.Free, lengths)
	k.within(&s.Drop, drops)
	if s.Block.Known() && s.Free.Known() && s.Block.Value >= s.Free.Value {
		k.at(true, &s.Block, "m", say("it must be less than free, {}", of(&s.Free, "m")))
	} else if s.Block.Known() && s.Block.Typed != "" && s.Block.Value <= 0 {
		k.at(true, &s.Block, "m", say("it must be more than 0"))
	}
	k.table(s.Table, partPath("springs", s.ID)+".force", &s.Scale)
	k.factor(&s.Scale)
	for _, in := range []*Input{&s.Wire, &s.MeanDiameter, &s.ActiveCoils} {
		if in.Known() && in.Value <= 0 {
			k.at(true, in, "m", say("it must be more than 0"))
		}
	}
	if s.Wire.Known() && s.MeanDiameter.Known() && s.MeanDiameter.Value < 3*s.Wire.Value {
		k.at(true, &s.MeanDiameter, "m", say("it must be at least three times the wire, {}", of(&s.Wire, "m")))
	}
}

// factor judges a factor on a table.
func (k *checker) factor(in *Input) {
	if in.Known() && (in.Value < 0.2 || in.Value > 5 || in.Half >= in.Value) {
		k.at(true, in, "-", say("it must be 0.2 to 5, with a band that stays over 0"))
	}
}

// table refuses a table that does not go up.
func (k *checker) table(t []Point, path string, near *Input) {
	for i, p := range t {
		if i > 0 && p.X <= t[i-1].X {
			k.add(true, path, near.Line, say("has {} after {}", si(p.X, "m"), si(t[i-1].X, "m")), say("a table goes from small to large"))
			return
		}
		if i > 0 && p.F < t[i-1].F {
			k.add(true, path, near.Line, say("falls from {} to {} at {}", si(t[i-1].F, "N"), si(p.F, "N"), si(p.X, "m")), say("the force must rise along the table"))
			return
		}
		if p.X < 0 || p.F < 0 {
			k.add(true, path, near.Line, say("has {} at {}", si(p.F, "N"), si(p.X, "m")), say("nothing in it may be negative"))
			return
		}
		if p.F > stopForces.most || p.X > 1 {
			k.add(true, path, near.Line, say("has {} at {}", si(p.F, "N"), si(p.X, "m")), say("no part of a car does that"))
			return
		}
	}
	if n := len(t); n > 0 && t[n-1].F <= 0 {
		k.add(true, path, near.Line, say("has no force at all"), say("the last must be more than 0"))
	}
}

func (k *checker) stop(s *StopSpec) {
	path := partPath("stops", s.ID)
	ok := k.within(&s.Length, stopLengths)
	k.within(&s.Loss, losses)
	k.within(&s.Dynamic, dynamics)
	k.factor(&s.Scale)
	k.table(s.Table, path+".force", &s.Scale)
	if n := len(s.Table); ok && n > 0 && s.Table[n-1].X >= s.Length.Value {
		k.add(true, path+".crush", s.Scale.Line, say("goes to {}", si(s.Table[n-1].X, "m")), say("the stop is only {} long", of(&s.Length, "m")))
	}
}

func (k *checker) damper(d *DamperSpec) {
	k.within(&d.Open, damperLengths)
	k.within(&d.Closed, damperLengths)
	k.within(&d.RodOpen, rodLengths)
	k.within(&d.Rod, rodDiameters)
	k.within(&d.Body, bodyDiameters)
	k.within(&d.Piston, bodyDiameters)
	k.within(&d.GasForce, gasForces)
	k.within(&d.GasExponent, gasExponents)
	if d.GasAbsolute && d.GasPressure.Known() && d.GaugePressure(nil) < 0 {
		k.at(true, &d.GasPressure, "Pa", say("the atmosphere alone is {}: an absolute pressure is more; write pressure_is: gauge where it was read on a gauge", si(part.AtmospherePressure, "Pa")))
	}
	if d.ReadOpen() && !d.Open.Known() {
		k.add(false, partPath("dampers", d.ID)+".gas.read_at", d.GasPressure.Line, say("is open, and nobody said how long the damper is then"), say("give open, mount to mount; until then the gas counts as read at ride height"))
	}
	if k.within(&d.GasPressure, gasPressures) && d.Construction == "twin-tube" && d.GasPressure.Value > 12e5 {
		k.at(false, &d.GasPressure, "Pa", say("a twin tube has {} at most", si(12e5, "Pa")))
	}
	if f, p := &d.GasForce, &d.GasPressure; f.Typed != "" && p.Typed != "" && d.Rod.Known() {
		area := math.Pi / 4 * d.Rod.Value * d.Rod.Value
		// Beyond the bands of both and a tenth: seals drag. Common practice, no source.
		if by := d.GaugePressure(nil) * area; math.Abs(by-f.Value) > math.Hypot(f.Half, p.Half*area)+0.1*f.Value {
			k.at(false, p, "Pa", say("on a rod of {} it pushes with {}; the force given, {}, is used: one of the three is off", of(&d.Rod, "m"), si(by, "N"), of(f, "N")))
		}
	}
	if d.Rod.Known() && d.Piston.Known() && d.Rod.Value >= d.Piston.Value {
		k.at(true, &d.Rod, "m", say("it must be less than piston, {}", of(&d.Piston, "m")))
	}
	k.factor(&d.Scale)
	stroke := Input{Value: d.Open.Value - d.Closed.Value, Origin: d.Open.Origin, Path: d.Open.Path, Line: d.Open.Line}
	if d.Open.Known() && d.Closed.Known() {
		switch {
		case stroke.Value <= 0:
			k.at(true, &d.Open, "m", say("it must be longer than closed, {}", of(&d.Closed, "m")))
		case stroke.Value < strokes.least || stroke.Value > strokes.most:
			k.add(true, d.Open.Path, d.Open.Line, say("is {} more than closed", si(stroke.Value, "m")), say("a stroke of {} to {} can be", si(strokes.least, "m"), si(strokes.most, "m")))
		case stroke.Value < strokes.low || stroke.Value > strokes.high:
			k.add(false, d.Open.Path, d.Open.Line, say("is {} more than closed", si(stroke.Value, "m")), say("a stroke of {} to {} is usual", si(strokes.low, "m"), si(strokes.high, "m")))
		}
		if r := &d.RodOpen; r.Known() && r.Typed != "" && stroke.Value > 0 {
			switch {
			case r.Value < stroke.Value-0.003:
				k.at(true, r, "m", say("the stroke, open less closed, is {}: that much rod must show", si(stroke.Value, "m")))
			case r.Value > stroke.Value+0.06:
				k.at(false, r, "m", say("the stroke, open less closed, is only {}: measure from the seal to the seat of the stop", si(stroke.Value, "m")))
			}
		}
	}
	k.table(d.TopOut, partPath("dampers", d.ID)+".top_out.force", &d.Open)
	k.clicks(d)
}

func (k *checker) clicks(d *DamperSpec) {
	path := partPath("dampers", d.ID) + ".curves"
	line := d.Scale.Line
	if v := float64(d.ClickMost); v > clickCounts.most {
		k.add(true, partPath("dampers", d.ID)+".clicks", line, say("is {}", si(v, "-")), say("it must be {} at most", si(clickCounts.most, "-")))
	} else if v > clickCounts.high {
		k.add(false, partPath("dampers", d.ID)+".clicks", line, say("is {}", si(v, "-")), say("more than {} is rare", si(clickCounts.high, "-")))
	}
	for i := range d.Curves {
		for _, t := range [2][]Point{d.Curves[i].Bump, d.Curves[i].Rebound} {
			k.dyno(t, path, line)
		}
	}
	byClick := append([]ClickCurve(nil), d.Curves...)
	sort.SliceStable(byClick, func(i, j int) bool { return byClick[i].Click < byClick[j].Click })
	back, pairs := 0, 0
	for i := 1; i < len(byClick); i++ {
		hard, soft := &byClick[i-1], &byClick[i]
		for side, t := range [2][2][]Point{{hard.Bump, soft.Bump}, {hard.Rebound, soft.Rebound}} {
			at, ok := softer(t[0], t[1])
			pairs++
			if ok {
				continue
			}
			back++
			name := [2]string{"bump", "rebound"}[side]
			k.add(false, path, line,
				say("is no stiffer in "+name+" at click {} than at click {}, at {}", si(float64(hard.Click), "-"), si(float64(soft.Click), "-"), si(at, "m/s")),
				say("clicks are counted from closed: fewer are stiffer"))
		}
	}
	if pairs > 0 && back == pairs {
		k.list = k.list[:len(k.list)-back]
		k.add(true, path, line, say("gets softer toward click 0 at every step"), say("clicks are counted from closed: 0 is the stiffest; these were counted from open"))
	}
}

// softer finds a speed [m/s] at which the second table is not below the first.
func softer(hard, soft []Point) (at float64, ok bool) {
	for _, p := range soft {
		if p.X <= 0 || len(hard) == 0 || p.X > hard[len(hard)-1].X {
			continue
		}
		if p.F >= between(hard, p.X) {
			return p.X, false
		}
	}
	return 0, true
}

// between reads a table by straight lines from the origin.
func between(t []Point, x float64) float64 {
	last := Point{}
	for _, p := range t {
		if x <= p.X && p.X > last.X {
			return last.F + (p.F-last.F)*(x-last.X)/(p.X-last.X)
		}
		last = p
	}
	return last.F
}

func (k *checker) dyno(t []Point, path string, line int) {
	for i, p := range t {
		switch {
		case p.X < dynoSpeeds.least || p.X > dynoSpeeds.most:
			k.add(true, path, line, say("has a speed of {}", si(p.X, "m/s")), say("it must be {} to {}", si(dynoSpeeds.least, "m/s"), si(dynoSpeeds.most, "m/s")))
			k.slip(dynoSpeeds.slipHigh)
			return
		case p.F < dynoForces.least || p.F > dynoForces.most:
			k.add(true, path, line, say("has a force of {}", si(p.F, "N")), say("it must be {} to {}, bump and rebound both positive", si(dynoForces.least, "N"), si(dynoForces.most, "N")))
			return
		case i > 0 && p.X <= t[i-1].X:
			k.add(true, path, line, say("has {} after {}", si(p.X, "m/s"), si(t[i-1].X, "m/s")), say("speeds go from slow to fast"))
			return
		case i > 0 && p.F < t[i-1].F:
			k.add(true, path, line, say("falls from {} to {} at {}", si(t[i-1].F, "N"), si(p.F, "N"), si(p.X, "m/s")), say("a damper's force rises with speed"))
			return
		}
		if p.F > dynoForces.high || p.X > dynoSpeeds.high {
			k.add(false, path, line, say("has {} at {}", si(p.F, "N"), si(p.X, "m/s")), say("usual is up to {} and {}", si(dynoForces.high, "N"), si(dynoSpeeds.high, "m/s")))
			return
		}
	}
	if n := len(t); n > 0 && (t[n-1].F <= 0 || t[n-1].X <= 0) {
		k.add(true, path, line, say("has no force at its last speed"), say("both must be more than 0"))
	}
}
