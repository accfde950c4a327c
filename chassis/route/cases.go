package route

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/road"
	"trunnion/chassis/study"
)

// Road is one road of the brief at one speed in one load state.
type Road struct {
	Name     string
	Spectrum road.Spectrum
	Speed    float64       // [m/s]
	Load     int           // its number in the job
	Measured *road.Profile // in place of the spectrum
}

// Roads lists what the brief drives, or of it the places that are asked
// for. A road that has no load state is driven in the usual one.
func Roads(job *study.Job, only []figure.Place) ([]Road, error) {
	if job.Brief == nil {
		return nil, nil
	}
	var out []Road
	for _, r := range job.Brief.Roads {
		named, ok := road.FindRoad(strings.ReplaceAll(r.Name, "-", " "))
		if !ok {
			return nil, fmt.Errorf("route: no road is called %q", r.Name)
		}
		load := loadCalled(job, r.Load)
		if load < 0 {
			return nil, fmt.Errorf("route: road %s: no load state is called %q", r.Name, r.Load)
		}
		for _, v := range r.Speeds {
			if only != nil && !slices.ContainsFunc(only, func(p figure.Place) bool {
				return p.Road == r.Name && p.Speed == v.Value && p.Load == job.Loads[load].ID
			}) {
				continue
			}
			out = append(out, Road{Name: r.Name, Spectrum: named.Spectrum, Speed: v.Value, Load: load})
		}
	}
	return out, nil
}

// Over lists the drives over a measured profile, once at each speed [m/s], in a load state.
func Over(job *study.Job, p *road.Profile, name string, speeds []float64, load string) ([]Road, error) {
	at := loadCalled(job, load)
	if at < 0 {
		return nil, fmt.Errorf("route: no load state is called %q", load)
	}
	var out []Road
	for _, v := range speeds {
		out = append(out, Road{Name: name, Speed: v, Load: at, Measured: p})
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

// Obstacle is one obstacle of the brief.
type Obstacle struct {
	Name  string // as a value's place has it
	Event road.Event
	Speed float64 // [m/s]
	Load  int     // its number in the job
}

// Obstacles lists those of the brief, or of them the places that are asked for.
func Obstacles(job *study.Job, only []figure.Place) ([]Obstacle, error) {
	if job.Brief == nil {
		return nil, nil
	}
	var out []Obstacle
	for i := range job.Brief.Events {
		e := &job.Brief.Events[i]
		shape, err := Shape(e)
		if err != nil {
			return nil, fmt.Errorf("route: event %s: %w", e.Kind, err)
		}
		load := loadCalled(job, e.Load)
		if load < 0 {
			return nil, fmt.Errorf("route: event %s: no load state is called %q", e.Kind, e.Load)
		}
		if only != nil && !slices.ContainsFunc(only, func(p figure.Place) bool {
			return p.Event == EventName(e) && p.Speed == e.Speed.Value && p.Load == job.Loads[load].ID
		}) {
			continue
		}
		out = append(out, Obstacle{Name: EventName(e), Event: shape, Speed: e.Speed.Value, Load: load})
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
