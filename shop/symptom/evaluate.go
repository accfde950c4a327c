package symptom

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/remedy"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
)

// scene is where expressions are looked at: a build in a load state.
type scene struct {
	was    *study.Answer // that references are taken from
	now    *study.Answer // that the build is taken from: the same, or one with a change
	build  string
	load   string
	usual  string
	laden  string
	shapes map[string][2]float64 // of driving and braking, by build and load [m]
	// judge judges changes of the build as remedies are; nil until the first is judged.
	judge *remedy.Judged
	// bothSides are the paths at which both sides of an axle get a value; nil where
	// no text is at hand.
	bothSides func(path string) []string
	level     func(build string) *scales.Plan // nil: no collar is levelled
	// end is the axle that the words name, plus one; 0 where they name none, or both. Of a figure of all corners
	// those of that axle are looked at.
	end int
}

// ends reports whether a corner is where the words look; one of the whole car always is.
func (s *scene) ends(corner int) bool {
	return s.end == 0 || corner < 0 || car.AxleOf(corner) == s.end-1
}

// got is one figure with its place and band.
type got struct {
	place  figure.Place
	v      float64
	low    float64
	high   float64
	banded bool
	driven bool // from a drive
}

// missing says why a figure is not there.
type missing struct{ code, why string }

func (m *missing) Error() string { return m.why }

var errNotDriven = errors.New("no road or event of the brief was driven")

// figureOf evaluates an expression that comes out as one figure.
func (s *scene) figureOf(e *expression) (got, error) {
	list, err := s.eval(e)
	if err != nil {
		return got{}, err
	}
	if len(list) != 1 {
		return got{}, fmt.Errorf("%d figures came out: enter lowest, highest or mean", len(list))
	}
	if math.IsNaN(list[0].v) || math.IsInf(list[0].v, 0) {
		return got{}, &missing{e.code(), "the figure is not finite"}
	}
	return list[0], nil
}

func (s *scene) eval(e *expression) ([]got, error) {
	switch e.op {
	case "number":
		return []got{{v: e.x, place: figure.Place{Corner: figure.NoCorner}}}, nil
	case "code":
		return s.values(e)
	case "call":
		list, err := s.eval(e.args[0])
		if err != nil {
			return nil, err
		}
		if e.name == "lowest" || e.name == "highest" {
			if at := slices.DeleteFunc(slices.Clone(list), func(g got) bool { return !s.ends(g.place.Corner) }); len(at) > 0 {
				list = at
			}
		}
		return call(e.name, e.args[0].code(), list)
	}
	a, err := s.eval(e.args[0])
	if err != nil {
		return nil, err
	}
	b, err := s.eval(e.args[1])
	if err != nil {
		return nil, err
	}
	return pair(e.op, e.args[0].code(), a, b)
}

// pair joins two lists place by place; a single figure serves every place.
func pair(op, code string, a, b []got) ([]got, error) {
	var out []got
	join := func(x, y got) {
		r := got{place: x.place, driven: x.driven || y.driven}
		if len(a) == 1 && len(b) > 1 {
			r.place = y.place
		}
		switch op {
		case "+":
			r.v = x.v + y.v
		case "-":
			r.v = x.v - y.v
		case "*":
			r.v = x.v * y.v
		case "/":
			if y.v == 0 {
				return
			}
			r.v = x.v / y.v
		}
		out = append(out, r)
	}
	for _, x := range a {
		for _, y := range b {
			if len(a) == 1 || len(b) == 1 || sameSpot(x.place, y.place) {
				join(x, y)
			}
		}
	}
	if len(out) == 0 {
		return nil, &missing{code, "there is nothing to compare it with"}
	}
	return out, nil
}

// sameSpot reports two places that differ only in what was chosen among: build,
// load state, direction, speed and click.
func sameSpot(a, b figure.Place) bool {
	return a.Corner == b.Corner && a.Road == b.Road && a.Event == b.Event && a.Speed == b.Speed && a.Mode == b.Mode && a.Threshold == b.Threshold
}

func call(name, code string, list []got) ([]got, error) {
	keep := func(f func(corner int) bool) ([]got, error) {
		var out []got
		for _, g := range list {
			if g.place.Corner >= 0 && f(g.place.Corner) || g.place.Corner < 0 && g.place.Mode == name {
				out = append(out, g)
			}
		}
		if len(out) == 0 {
			return nil, &missing{code, "there is no figure of that place"}
		}
		return out, nil
	}
	switch name {
	case "front":
		return keep(func(c int) bool { return c < 2 })
	case "rear":
		return keep(func(c int) bool { return c >= 2 })
	case "left":
		return keep(func(c int) bool { return c%2 == 0 })
	case "right":
		return keep(func(c int) bool { return c%2 == 1 })
	case "lowest", "highest":
		best := list[0]
		for _, g := range list[1:] {
			if name == "lowest" && g.v < best.v || name == "highest" && g.v > best.v {
				best = g
			}
		}
		return []got{best}, nil
	case "mean":
		sum := got{place: figure.Place{Corner: figure.NoCorner}}
		for _, g := range list {
			sum.v += g.v / float64(len(list))
			sum.driven = sum.driven || g.driven
		}
		return []got{sum}, nil
	case "abs":
		out := make([]got, len(list))
		for i, g := range list {
			g.v, g.banded = math.Abs(g.v), false
			out[i] = g
		}
		return out, nil
	case "apart":
		var out []got
		for _, l := range list {
			for _, r := range list {
				p := l.place
				p.Corner = r.place.Corner
				if l.place.Corner >= 0 && l.place.Corner%2 == 0 && r.place.Corner == l.place.Corner+1 && sameSpot(p, r.place) {
					out = append(out, got{place: l.place, v: math.Abs(l.v - r.v), driven: l.driven || r.driven})
				}
			}
		}
		if len(out) == 0 {
			return nil, &missing{code, "left and right cannot be compared"}
		}
		return out, nil
	}
	return nil, fmt.Errorf("%q is no function", name)
}

// values lists a code's values that fit the choice.
func (s *scene) values(e *expression) ([]got, error) {
	a, build := s.now, s.build
	if e.at.reference {
		a, build = s.was, s.was.Reference
	}
	load := s.load
	switch e.at.load {
	case "usual":
		load = s.usual
	case "laden":
		load = s.laden
	}
	if _, mine := own[e.name]; mine {
		return s.made(e.name, a, build, load)
	}
	clicks := clicksAt(a, build)
	var out []got
	seen := map[figure.Place]bool{}
	reason := ""
	drivable := false
	for i := range a.Values {
		v := &a.Values[i]
		p := v.Place
		if v.Code != e.name || p.Build != build || v.Tier == figure.Screening {
			continue
		}
		if v.Tier == figure.Time {
			// A drive has the load state of its road.
			drivable = true
			if e.at.load != "" && p.Load != load {
				continue
			}
		} else if p.Load != load && p.Load != "" {
			continue
		}
		if !e.at.fits(a, v, clicks) {
			continue
		}
		if v.State == figure.Unknown || math.IsNaN(v.Value) {
			reason = v.Reason
			continue
		}
		key := p
		key.Click, key.HasClick, key.Direction, key.Velocity, key.At = 0, false, "", 0, ""
		if seen[key] {
			continue
		}
		seen[key] = true
		out = append(out, got{place: p, v: v.Value, low: v.Low, high: v.High, banded: v.HasBand, driven: v.Tier == figure.Time})
	}
	if len(out) == 0 {
		if reason == "" {
			reason = "there is no such figure of this build in this load state"
			if e.at.click != "" {
				reason = "the damper has no measured clicks"
			}
			if driven[e.name] && !drivable {
				reason = errNotDriven.Error()
			}
		}
		return nil, &missing{e.name, reason}
	}
	return out, nil
}

// driven are the codes that only a drive gives.
var driven = map[string]bool{
	"stop-hits": true, "stop-force-peak": true, "stop-time-share": true, "mean-sink": true, "tyre-load-variation": true, "tyre-light-share": true,
	"bounce-left": true, "settling-time": true, "top-out-speed": true, "body-acceleration-peak": true, "floor-acceleration": true, "travel-peak-bump": true,
	"travel-peak-droop": true, "damper-power": true, "damper-travel-used": true,
}

// clicksAt are the softest and firmest measured clicks at each corner.
func clicksAt(a *study.Answer, build string) (ends [4][2]int) {
	for _, b := range a.Job.Builds {
		if b.ID != build {
			continue
		}
		for i := range ends {
			d := b.Corner[i].Damper
			if d == nil || d.ClickMost == 0 {
				continue
			}
			ends[i] = [2]int{math.MinInt, math.MaxInt}
			for _, c := range d.Curves {
				ends[i][0], ends[i][1] = max(ends[i][0], c.Click), min(ends[i][1], c.Click)
			}
		}
	}
	return ends
}

func (c *choice) fits(a *study.Answer, v *figure.Value, clicks [4][2]int) bool {
	p := &v.Place
	if v.Code == "damping-ratio" {
		direction, velocity := c.direction, c.velocity
		if direction == "" {
			direction = "mean"
		}
		if velocity == 0 {
			velocity = a.Options.MainSpeed
		}
		if p.Direction != direction || math.Abs(p.Velocity-velocity) > 1e-6 {
			return false
		}
		switch c.click {
		case "":
		case "softest":
			return p.HasClick && p.Click == clicks[p.Corner][0]
		case "firmest":
			return p.HasClick && p.Click == clicks[p.Corner][1]
		default:
			return p.HasClick && strconv.Itoa(p.Click) == c.click
		}
		return true
	}
	return (c.direction == "" || p.Direction == c.direction) && (c.mode == "" || p.Mode == c.mode) &&
		(c.event == "" || strings.HasPrefix(p.Event, c.event)) && (c.threshold == 0 || p.Threshold == c.threshold) && (!c.roads || p.Event == "")
}

// made are the figures that stand in no register.
func (s *scene) made(code string, a *study.Answer, build, load string) ([]got, error) {
	whole := figure.Place{Build: build, Load: load, Corner: figure.NoCorner}
	switch code {
	case "wheelbase":
		return []got{{place: whole, v: a.Job.Car.Wheelbase.Value}}, nil
	case "clicks":
		var out []got
		for _, b := range a.Job.Builds {
			for i := range b.Corner {
				d := b.Corner[i].Damper
				if b.ID != build || d == nil {
					continue
				}
				if left := b.Corner[i&^1].Damper; i&1 == 1 && left != nil && left.ClickMost == d.ClickMost {
					continue // said of the axle
				}
				p := whole
				p.Corner = i
				out = append(out, got{place: p, v: float64(d.ClickMost)})
			}
		}
		if len(out) == 0 {
			return nil, &missing{code, "nothing is known of the dampers"}
		}
		return out, nil
	}
	shape, err := s.shape(a, build, load)
	if err != nil {
		return nil, &missing{code, err.Error()}
	}
	v := shape[0]
	if code == "power-squat" {
		v = shape[1]
	}
	return []got{{place: whole, v: v}}, nil
}

// shape is how far the nose drops under braking and the tail under power. [m]
func (s *scene) shape(a *study.Answer, build, load string) ([2]float64, error) {
	key := build + "\n" + load
	if a == s.was {
		if known, ok := s.shapes[key]; ok {
			return known, nil
		}
	}
	c, err := a.Cornering(build, load)
	if err != nil {
		return [2]float64{}, err
	}
	rest := c.Rest()
	var out [2]float64
	for i, along := range []float64{-0.5 * equilibrium.Gravity, 0.3 * equilibrium.Gravity} {
		swept := c.Sweep(cornering.Asked{Longitudinal: along, Points: 6})
		if len(swept.Points) == 0 || swept.Ended != nil {
			return out, errors.New("the car was not held at that acceleration")
		}
		p := &swept.Points[len(swept.Points)-1]
		left := 2 * car.Front
		if i == 1 {
			left = 2 * car.Rear
		}
		out[i] = 0.5 * (p.Travel[left] + p.Travel[left+1] - rest.Travel[left] - rest.Travel[left+1])
	}
	if a == s.was && s.shapes != nil {
		s.shapes[key] = out
	}
	return out, nil
}
