package drives

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/study"
)

// roadCase is one road of the brief at one speed in one load state.
type roadCase struct {
	name     string
	spectrum road.Spectrum
	speed    float64
	load     int
	measured *road.Profile // in place of the spectrum
}

// roadCases lists what the brief drives, or of it the one place that is asked
// for. A road that has no load state is driven in the usual one.
func roadCases(job *study.Job, only *figure.Place) ([]roadCase, error) {
	if job.Brief == nil {
		return nil, nil
	}
	var out []roadCase
	for _, r := range job.Brief.Roads {
		if only != nil && (r.Name != only.Road || r.Load != "" && r.Load != only.Load) {
			continue
		}
		named, ok := road.FindRoad(strings.ReplaceAll(r.Name, "-", " "))
		if !ok {
			return nil, fmt.Errorf("drives: no road is called %q", r.Name)
		}
		load := loadCalled(job, r.Load)
		if load < 0 {
			return nil, fmt.Errorf("drives: road %s: no load state is called %q", r.Name, r.Load)
		}
		for _, v := range r.Speeds {
			if only != nil && v.Value != only.Speed {
				continue
			}
			out = append(out, roadCase{name: r.Name, spectrum: named.Spectrum, speed: v.Value, load: load})
		}
	}
	return out, nil
}

// profileCases lists the drives over a measured profile.
func profileCases(job *study.Job, o *Options) ([]roadCase, error) {
	load := loadCalled(job, o.Load)
	if load < 0 {
		return nil, fmt.Errorf("drives: no load state is called %q", o.Load)
	}
	var out []roadCase
	for _, v := range o.Speeds {
		out = append(out, roadCase{name: o.ProfileName, speed: v, load: load, measured: o.Profile})
	}
	return out, nil
}

func loadCalled(job *study.Job, id string) int {
	if id == "" {
		return study.UsualLoadAt(job.Brief, job.Loads)
	}
	for k := range job.Loads {
		if job.Loads[k].ID == id {
			return k
		}
	}
	return -1
}

// tracks generates one sample of a road as the tyres feel it, long enough for
// a run.
func (c *roadCase) tracks(sample int, seed uint64, length float64) (road.Profile, error) {
	if c.measured != nil {
		p := *c.measured
		from, _ := p.Extent()
		p.Start -= from // the car sets out where the profile begins
		return p.Averaged(ContactLength)
	}
	r := road.UsualRoad(c.spectrum, length)
	g, err := road.NewGenerator(r)
	if err != nil {
		return road.Profile{}, err
	}
	p := g.Generate(seed + 1000*uint64(sample))
	return p.Averaged(ContactLength)
}

// eventCase is one obstacle of the brief.
type eventCase struct {
	name  string
	event road.Event
	speed float64
	load  int
	size  float64 // greatest height or depth [m]
}

func eventCases(job *study.Job, only *figure.Place) ([]eventCase, error) {
	if job.Brief == nil {
		return nil, nil
	}
	var out []eventCase
	for i := range job.Brief.Events {
		e := &job.Brief.Events[i]
		if only != nil && (EventName(e) != only.Event || e.Speed.Value != only.Speed || e.Load != "" && e.Load != only.Load) {
			continue
		}
		shape, err := Shape(e)
		if err != nil {
			return nil, fmt.Errorf("drives: event %s: %w", e.Kind, err)
		}
		load := loadCalled(job, e.Load)
		if load < 0 {
			return nil, fmt.Errorf("drives: event %s: no load state is called %q", e.Kind, e.Load)
		}
		size := math.Max(e.Depth.Value, e.Height.Value)
		out = append(out, eventCase{name: EventName(e), event: shape, speed: e.Speed.Value, load: load, size: size})
	}
	return out, nil
}

// EventName is what an event is called in a value's place: its kind and its
// size, so that two potholes are told apart.
func EventName(e *brief.Event) string {
	size := math.Max(e.Depth.Value, e.Height.Value)
	return e.Kind + "-" + strconv.FormatFloat(math.Round(size*1e4)/10, 'f', -1, 64)
}

// edge is the length over which a pothole's edge drops: common practice, no
// source. [m]
const edge = 0.05

// lipRamp is the length over which a proud joint rises: common practice, no
// source. [m]
const lipRamp = 0.02

// Shape makes the road shape of an event of the brief.
func Shape(e *brief.Event) (road.Event, error) {
	length := e.Length.Value
	switch e.Kind {
	case "pothole":
		return road.Pothole(e.Depth.Value, length, edge, road.RightSide)
	case "round-hump":
		return road.RoundHump(e.Height.Value, length)
	case "flat-hump":
		return road.FlatHump(e.Height.Value, length)
	case "dip":
		return road.Dip(e.Depth.Value, length, road.BothSides)
	case "crest":
		return road.Crest(e.Height.Value, length)
	case "kerb":
		return road.Kerb(e.Height.Value, length, 1, road.LeftSide)
	case "joint":
		// A proud one has a height, an open one a depth.
		if e.Height.Known() {
			return road.JointLip(e.Height.Value, length, math.Min(lipRamp, length/3))
		}
		return road.JointGap(length, e.Depth.Value)
	}
	return road.Event{}, fmt.Errorf("no shape is called %q", e.Kind)
}

// eventStart is how far down the flat road an event begins. [m]
const eventStart = 2.0

// Rolled-over obstacles: how finely, a choice from a convergence study over the
// demo's obstacles. At a twentieth of a pothole's edge the stop's force is up to 1 %
// off, at a fortieth 0.3 %; 10 mm, whatever the edge, were 4.3 %.
const (
	edgeParts   = 40   // grid steps over an edge [-]
	finestGrid  = 5e-4 // [m]
	plainGrid   = 0.01 // of what has no edge [m]
	gridsInStep = 8    // no more grid steps than that in one time step: the wheel would not see them [-]
)

// grid is how finely the obstacle is laid for drives of a time step [s]. [m]
func (c *eventCase) grid(step float64) float64 {
	g := plainGrid
	if e := c.event.Edge(); e > 0 {
		g = math.Min(g, e/edgeParts)
	}
	g = math.Max(g, c.speed*step/gridsInStep)
	return math.Min(math.Max(g, finestGrid), plainGrid)
}

// laid puts an event on a flat road, on a grid [m], as a rolling wheel follows it.
func (c *eventCase) laid(grid float64) (road.Profile, error) {
	flat := road.Profile{Step: 0.02, Left: make([]float64, 2), Right: make([]float64, 2), Interpolation: road.Linear}
	p := flat.With(c.event, eventStart)
	_, to := p.Extent()
	laid, err := p.Laid(grid, 0, math.Max(to, eventStart)+3)
	if err != nil {
		return road.Profile{}, err
	}
	return laid.Enveloped(WheelRadius)
}

// courses are the obstacle as driven at a time step [s], and laid twice as finely for
// the drive at half of it where that is asked for.
func (c *eventCase) courses(wheelbase, step float64, checked bool) (coarse, fine *ride.Course, duration float64, err error) {
	grid := c.grid(step)
	for k, to := range []**ride.Course{&coarse, &fine} {
		if k == 1 && !checked {
			break
		}
		p, err := c.laid(math.Max(grid/float64(1+k), finestGrid))
		if err != nil {
			return nil, nil, 0, err
		}
		if k == 0 {
			duration = c.duration(&p, wheelbase)
		}
		if *to, err = course(&p, wheelbase, c.speed, duration, step/2); err != nil {
			return nil, nil, 0, err
		}
	}
	return coarse, fine, duration, nil
}

// eventDuration is long enough for both axles to pass and the body to settle.
func (c *eventCase) duration(p *road.Profile, wheelbase float64) float64 {
	_, to := p.Extent()
	return (to+wheelbase)/c.speed + 2.5
}

func course(p *road.Profile, wheelbase, speed, duration, step float64) (*ride.Course, error) {
	left, right := ride.Tracks(p)
	return ride.NewCourse(left, right, wheelbase, speed, duration, step)
}

// roadPlace is the place of a ride value.
func roadPlace(job *study.Job, build, load int) figure.Place {
	return figure.Place{Build: job.Builds[build].ID, Load: job.Loads[load].ID, Corner: figure.NoCorner}
}
