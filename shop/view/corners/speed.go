package corners

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/stability"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

const (
	// slowest is from where steadiness is drawn: below it the car with two degrees
	// of freedom says little. Chosen. [m/s]
	slowest = 30 * quantity.KilometrePerHour
	// fastestAsked is as far as it can be asked for. [m/s]
	fastestAsked = 100.0
	// speedSteps is the number of steps of a drawing. Chosen.
	speedSteps = 40
)

// atSpeed is a build at speed.
type atSpeed struct {
	*run
	yaw    *stability.Car
	pair   *stability.Pair // with the trailer it tows; nil for none
	nerves wording.Nerves  // against the reference where builds are compared
}

// steady fills how steady the builds are at speed.
func (b *page) steady() {
	out := &b.out.Steady
	speeds, top := b.Answer.YawSpeeds()
	if len(speeds) == 0 {
		return
	}
	at := speeds[len(speeds)-1]
	if b.ask.Fastest != "" {
		v, err := quantity.Parse(b.ask.Fastest, quantity.SpeedRoad)
		if err != nil || v.Value <= slowest || v.Value > fastestAsked {
			b.out.Faults = append(b.out.Faults, jobfile.Fault{Path: "fastest", Got: b.ask.Fastest, Want: "enter a speed, such as " + b.Speed(200*quantity.KilometrePerHour).Shown, Kind: jobfile.Warn})
		} else {
			top = v.Value
		}
	}
	top = math.Max(top, at)
	out.Speed, out.Top = b.Speed(at), b.Speed(top)
	out.Note = "The car with two degrees of freedom, its tyres loaded as straight ahead: small angles, steering held. Builds differ here by the loads on the tyres, by tyres and by lift alone; springs act through what they do to the loads."
	var list []*atSpeed
	var reference *atSpeed
	for i := range b.list {
		o := &b.list[i]
		if o.err != nil {
			continue
		}
		yaw, err := b.Answer.Yaw(o.build.ID, b.Load)
		if err != nil {
			continue
		}
		pair, err := b.Answer.Pair(o.build.ID, b.Load)
		if err != nil {
			continue
		}
		y := &atSpeed{run: o, yaw: yaw, pair: pair, nerves: wording.Nerves{Sharp: math.NaN(), Swings: math.NaN()}}
		list = append(list, y)
		if o == b.reference {
			reference = y
		}
	}
	if reference != nil {
		for _, y := range list {
			y.nerves.Sharp, y.nerves.Swings = y.yaw.Alike(reference.yaw, at, top)
		}
	}
	b.yawCharts(list, at, top)
	ordered := slices.Clone(list)
	slices.SortStableFunc(ordered, func(x, y *atSpeed) int {
		p, q := x.order(), y.order()
		switch {
		case p < q:
			return -1
		case p > q:
			return 1
		}
		return 0
	})
	for _, y := range ordered {
		id := y.build.ID
		one := SteadinessBuild{Build: id, Name: y.build.Name, Steering: b.Teller.Steering(y.yaw, top), Figures: []Figure{}}
		// What follows compares the car alone; a trailer has figures of its own.
		if reference != nil && y != reference && y.pair == nil {
			one.Sentence = b.againstReference(y, reference, at, top)
		}
		if y == reference && y.pair == nil {
			one.Sentence = b.againstUsualLoad(y, at, top)
		}
		b.understeer(&one, id, at)
		b.figure(&one.Figures, b.carValue("critical-speed", id, "", 0), "")
		for _, code := range []string{"yaw-settling", "yaw-damping", "yaw-frequency"} {
			b.figure(&one.Figures, b.carValue(code, id, "", at), "at "+b.Speed(at).Shown)
		}
		b.towed(&one, id)
		out.Builds = append(out.Builds, one)
	}
}

// understeer adds the parts of a build's understeer and their sum.
func (b *page) understeer(one *SteadinessBuild, id string, at float64) {
	b.figure(&one.Figures, b.carValue("understeer-total", id, "", 0), "")
	b.figure(&one.Figures, b.carValue("understeer-gradient", id, "straight-ahead", 0), "straight ahead")
	b.figure(&one.Figures, b.carValue("understeer-gradient", id, "in-a-bend", 0), "in a corner")
	for _, code := range []string{"links-steer", "camber-steer", "compliance-steer"} {
		for _, axle := range car.AxleNames {
			b.figure(&one.Figures, b.carValue(code, id, axle, 0), axle)
		}
	}
	b.figure(&one.Figures, b.carValue("lift-steer", id, "", at), "at "+b.Speed(at).Shown)
}

// towed adds the figures of a build and its trailer, where it tows one.
func (b *page) towed(one *SteadinessBuild, id string) {
	for i := range b.Answer.Job.Loads {
		l := &b.Answer.Job.Loads[i]
		if l.ID != b.Load || l.Trailer == nil {
			continue
		}
		speed := l.Trailer.Speed.Value
		for _, code := range []string{"towing-settling", "weave-damping", "weave-frequency"} {
			b.figure(&one.Figures, b.carValue(code, id, "", speed), "at "+b.Speed(speed).Shown)
		}
		b.figure(&one.Figures, b.carValue("towing-critical-speed", id, "", 0), "")
	}
}

func (b *page) againstReference(y, reference *atSpeed, at, top float64) string {
	own, other := y.yaw.Critical(top), reference.yaw.Critical(top)
	if !math.IsInf(own, 1) || !math.IsInf(other, 1) {
		return b.Teller.Unsteady(reference.build.ID, own, other)
	}
	return b.Teller.Nervous(b.Teller.AsBuild(reference.build.ID), at, y.nerves, top)
}

// againstUsualLoad sets the reference build against itself in the load state of
// ordinary driving; empty where that is what is looked at.
func (b *page) againstUsualLoad(y *atSpeed, at, top float64) string {
	usual := b.Answer.UsualLoad()
	if usual == b.Load {
		return ""
	}
	yaw, err := b.Answer.Yaw(y.build.ID, usual)
	if err != nil {
		return ""
	}
	own := &atSpeed{run: y.run, yaw: y.yaw, nerves: wording.Nerves{Sharp: math.NaN(), Swings: math.NaN()}}
	own.nerves.Sharp, own.nerves.Swings = y.yaw.Alike(yaw, at, top)
	if !math.IsInf(y.yaw.Critical(top), 1) || !math.IsInf(yaw.Critical(top), 1) {
		return ""
	}
	return b.Teller.Nervous(b.Teller.AsLoaded(usual), at, own.nerves, top)
}

// order is the speed from which a build is as nervous as the reference; the
// least first.
func (y *atSpeed) order() float64 {
	if v := y.nerves.Sooner(); !math.IsNaN(v) {
		return v
	}
	return math.Inf(1)
}

// yawCharts draw yaw over speed.
func (b *page) yawCharts(list []*atSpeed, at, top float64) {
	u := quantity.Shown(quantity.SpeedRoad, b.System)
	frequency := quantity.Shown(quantity.Frequency, b.System)
	label, says := "looked at", "where builds are compared: the brief names no speed"
	if b.briefed(at) {
		label, says = "brief", "the fastest of the brief"
	}
	tows := slices.ContainsFunc(list, func(y *atSpeed) bool { return y.pair != nil })
	swinging := func(y *atSpeed, v float64, of func(r stability.Response) float64) float64 {
		if r := y.yaw.Response(v); r.Swings {
			return of(r)
		}
		return math.NaN()
	}
	for _, one := range []struct {
		id, title, note string
		y               view.Axis
		of              func(y *atSpeed, v float64) float64
		past            bool // drawn past the critical speed
	}{
		{
			"towing", "Trailer swing", "Damping ratio of car and trailer: below 0 a swing grows by itself.",
			view.Axis{Label: "damping ratio"},
			func(y *atSpeed, v float64) float64 {
				if y.pair == nil {
					return math.NaN()
				}
				return y.pair.At(v).Damping
			}, true,
		},
		{
			"yaw-settling", "Yaw settling rate", "How fast a swerve dies away, steering held: it halves in 0.69 over this. Below 0 it grows.",
			view.Axis{Label: "settling rate", Unit: "1/s"},
			func(y *atSpeed, v float64) float64 {
				if y.pair != nil {
					return y.pair.At(v).Settling
				}
				r := y.yaw.Response(v)
				return r.Settling()
			}, true,
		},
		{
			"yaw-damping", "Yaw damping", "The lower, the longer the rear swings after a quick steer. Drawn where yaw swings.",
			view.Axis{Label: "damping ratio"},
			func(y *atSpeed, v float64) float64 {
				return swinging(y, v, func(r stability.Response) float64 { return r.Damping })
			}, false,
		},
		{
			"yaw-frequency", "Yaw frequency", "",
			view.Axis{Label: "frequency", Unit: frequency.Label()},
			func(y *atSpeed, v float64) float64 { return frequency.FromSI(y.yaw.Response(v).Frequency) }, false,
		},
		{
			"yaw-gain", "Yaw response to steer", "Yaw rate per angle of the front wheels: at its peak the car reacts most to a small steer.",
			view.Axis{Label: "yaw rate per steer", Unit: "1/s"},
			func(y *atSpeed, v float64) float64 { return y.yaw.Response(v).YawGain }, false,
		},
	} {
		switch one.id {
		case "towing":
			if !tows {
				continue
			}
		case "yaw-damping", "yaw-frequency":
			if tows {
				continue // of the car alone
			}
		}

		c := view.Chart{ID: one.id, Title: one.title, Note: one.note, Kind: "line", X: view.Axis{Label: "speed", Unit: u.Label()}, Y: one.y, Series: []view.Series{}}
		for _, y := range list {
			line := view.Series{Name: b.Teller.Build(y.build.ID), Build: y.build.ID, X: []float64{}, Y: []float64{}}
			critical := y.yaw.Critical(top)
			for k := range speedSteps + 1 {
				v := slowest + (top-slowest)*float64(k)/speedSteps
				// Unstable from there on: there is no frequency and no gain to draw.
				if g := one.of(y, v); (v < critical || one.past) && !math.IsNaN(g) && !math.IsInf(g, 0) {
					line.X, line.Y = append(line.X, view.Tidy(u.FromSI(v))), append(line.Y, view.Tidy(g))
				}
			}
			if !math.IsInf(critical, 1) {
				c.Marks = append(c.Marks, view.ChartMark{
					At: view.Tidy(u.FromSI(critical)), Series: len(c.Series), Kind: "end", Label: "unstable", Says: b.Speed(critical).Shown + " · " + line.Name + ": unstable from there",
				})
			}
			c.Series = append(c.Series, line)
		}
		c.Marks = append(c.Marks, view.ChartMark{At: view.Tidy(u.FromSI(at)), Series: -1, Kind: "place", Label: label, Says: b.Speed(at).Shown + " · " + says})
		b.out.Steady.Charts = append(b.out.Steady.Charts, c)
	}
}

// briefed reports whether a speed is one of the brief's.
func (b *page) briefed(speed float64) bool {
	for i := range b.Answer.Job.Brief.Roads {
		for _, v := range b.Answer.Job.Brief.Roads[i].Speeds {
			if desk.SameSpeed(v.Value, speed) {
				return true
			}
		}
	}
	return false
}
