package corners

import (
	"cmp"
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

// steady fills how steady the builds are at speed.
func (b *page) steady() {
	out := &b.out.Steady
	fastest := 0.0
	if b.ask.Fastest != "" {
		v, err := quantity.Parse(b.ask.Fastest, quantity.SpeedRoad)
		if err != nil || v.Value <= slowest || v.Value > fastestAsked {
			b.out.Faults = append(b.out.Faults, jobfile.Fault{Path: "fastest", Got: b.ask.Fastest, Want: "enter a speed, such as " + b.Speed(200*quantity.KilometrePerHour).Shown, Kind: jobfile.Warn})
		} else {
			fastest = v.Value
		}
	}
	s := desk.SteadyOf(&b.Result, b.Load, fastest)
	if s.At == 0 {
		return
	}
	out.Speed, out.Top = b.Speed(s.At), b.Speed(s.Top)
	out.Note = wording.SteadyNote
	b.yawCharts(&s)
	ordered := slices.Clone(s.Builds)
	slices.SortStableFunc(ordered, func(x, y desk.SteadyBuild) int { return cmp.Compare(b.nervous(&x), b.nervous(&y)) })
	for i := range ordered {
		y := &ordered[i]
		id := y.Build.ID
		one := SteadinessBuild{Build: id, Name: y.Build.Name, Steering: b.Teller.Steering(y.Yaw, s.Top), Sentence: y.Says(b.Teller, &s), Figures: []Figure{}}
		b.understeer(&one, id, s.At)
		b.figure(&one.Figures, b.carValue("critical-speed", id, "", 0), "")
		for _, code := range []string{"yaw-settling", "yaw-damping", "yaw-frequency"} {
			b.figure(&one.Figures, b.carValue(code, id, "", s.At), "at "+b.Speed(s.At).Shown)
		}
		b.towed(&one, id)
		out.Builds = append(out.Builds, one)
	}
}

// nervous is the speed [m/s] from which a build is as nervous as the reference: the
// least first, and last what is not compared with it.
func (b *page) nervous(y *desk.SteadyBuild) float64 {
	if v := y.Nerves.Sooner(); y.Build.ID != b.Answer.Reference && !math.IsNaN(v) {
		return v
	}
	return math.Inf(1)
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

// yawCharts draw yaw over speed.
func (b *page) yawCharts(s *desk.Steadied) {
	at, top := s.At, s.Top
	u := quantity.Shown(quantity.SpeedRoad, b.System)
	frequency := quantity.Shown(quantity.Frequency, b.System)
	label, says := "looked at", "where builds are compared: the brief names no speed"
	if b.briefed(at) {
		label, says = "brief", "the fastest of the brief"
	}
	tows := slices.ContainsFunc(s.Builds, func(y desk.SteadyBuild) bool { return y.Pair != nil })
	swinging := func(y *desk.SteadyBuild, v float64, of func(r stability.Response) float64) float64 {
		if r := y.Yaw.Response(v); r.Swings {
			return of(r)
		}
		return math.NaN()
	}
	for _, one := range []struct {
		id, title, note string
		y               view.Axis
		of              func(y *desk.SteadyBuild, v float64) float64
		past            bool // drawn past the critical speed
	}{
		{
			"towing", "Trailer swing", "Damping ratio of car and trailer: below 0 a swing grows by itself.",
			view.Axis{Label: "damping ratio"},
			func(y *desk.SteadyBuild, v float64) float64 {
				if y.Pair == nil {
					return math.NaN()
				}
				return y.Pair.At(v).Damping
			}, true,
		},
		{
			"yaw-settling", "Yaw settling rate", "How fast a swerve dies away, steering held: it halves in 0.69 over this. Below 0 it grows.",
			view.Axis{Label: "settling rate", Unit: "1/s"},
			func(y *desk.SteadyBuild, v float64) float64 {
				if y.Pair != nil {
					return y.Pair.At(v).Settling
				}
				r := y.Yaw.Response(v)
				return r.Settling()
			}, true,
		},
		{
			"yaw-damping", "Yaw damping", "The lower, the longer the rear swings after a quick steer. Drawn where yaw swings.",
			view.Axis{Label: "damping ratio"},
			func(y *desk.SteadyBuild, v float64) float64 {
				return swinging(y, v, func(r stability.Response) float64 { return r.Damping })
			}, false,
		},
		{
			"yaw-frequency", "Yaw frequency", "",
			view.Axis{Label: "frequency", Unit: frequency.Label()},
			func(y *desk.SteadyBuild, v float64) float64 { return frequency.FromSI(y.Yaw.Response(v).Frequency) }, false,
		},
		{
			"yaw-gain", "Yaw response to steer", "Yaw rate per angle of the front wheels: at its peak the car reacts most to a small steer.",
			view.Axis{Label: "yaw rate per steer", Unit: "1/s"},
			func(y *desk.SteadyBuild, v float64) float64 { return y.Yaw.Response(v).YawGain }, false,
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
		for i := range s.Builds {
			y := &s.Builds[i]
			line := view.Series{Name: b.Teller.Build(y.Build.ID), Build: y.Build.ID, X: []float64{}, Y: []float64{}}
			for k := range speedSteps + 1 {
				v := slowest + (top-slowest)*float64(k)/speedSteps
				// Unstable from there on: there is no frequency and no gain to draw.
				if g := one.of(y, v); (v < y.Critical || one.past) && !math.IsNaN(g) && !math.IsInf(g, 0) {
					line.X, line.Y = append(line.X, view.Tidy(u.FromSI(v))), append(line.Y, view.Tidy(g))
				}
			}
			if !math.IsInf(y.Critical, 1) {
				c.Marks = append(c.Marks, view.ChartMark{
					At: view.Tidy(u.FromSI(y.Critical)), Series: len(c.Series), Kind: "end", Label: "unstable", Says: b.Speed(y.Critical).Shown + " · " + line.Name + ": unstable from there",
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
