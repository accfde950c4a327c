package brief

import (
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/road"
)

// Check returns what in a brief cannot be driven, or is not usual. The ranges
// are common practice, no source.
func Check(b *Brief) []car.Problem {
	var list []car.Problem
	within := func(in *Input, least, most float64, unit string) {
		if in.Known() && (in.Value < least || in.Value > most) {
			list = append(list, car.Problem{
				Refuse: true, Path: in.Path, Line: in.Line,
				Got: car.Phrase{Text: "is {}", Amounts: []car.Amount{{Value: in.Value, Unit: unit, Typed: in.Typed}}},
				Want: car.Phrase{Text: "it must be {} to {}", Amounts: []car.Amount{
					{Value: least, Unit: unit}, {Value: most, Unit: unit},
				}},
			})
		}
	}
	const (
		slowest, fastest = 0.5, 100.0 // of a car [m/s]
		highest          = 0.5        // of an obstacle [m]
		longest          = 100.0      // of an obstacle [m]
	)
	for i := range b.Roads {
		r := &b.Roads[i]
		if _, ok := road.FindRoad(strings.ReplaceAll(r.Name, "-", " ")); !ok && r.Name != "" && len(r.Speeds) > 0 {
			list = append(list, car.Problem{
				Refuse: true, Path: parent(r.Speeds[0].Path) + "road", Line: r.Speeds[0].Line,
				Got:  car.Phrase{Text: "is " + r.Name},
				Want: car.Phrase{Text: "it must be one of " + knownRoads()},
			})
		}
	}
	for i := range b.Uses {
		within(&b.Uses[i].Share, 0, 1, "share")
	}
	for i := range b.Roads {
		for j := range b.Roads[i].Speeds {
			within(&b.Roads[i].Speeds[j], slowest, fastest, "road m/s")
		}
	}
	for i := range b.Events {
		e := &b.Events[i]
		within(&e.Depth, 0, highest, "m")
		within(&e.Height, 0, highest, "m")
		within(&e.Length, 0.001, longest, "road m")
		within(&e.Speed, slowest, fastest, "road m/s")
	}
	l := &b.Limits
	for _, in := range []*Input{&l.BumpLeft, &l.BumpLeftLaden, &l.FirmLeft, &l.DroopLeft, &l.BlockLeft, &l.ArchLeft} {
		within(in, -0.05, 0.2, "m")
	}
	within(&l.SpringLoose, 0, 0.1, "m")
	within(&l.StopForce, 0, 1e5, "N")
	within(&l.StopHit, 50, 1e5, "N")
	within(&l.CrossOff, 0, 0.2, "1")
	within(&l.SideToSide, 0, 0.1, "m")
	within(&l.Rake, 0, 0.1, "rad")
	// What an obstacle is says which of its sizes is due.
	for i := range b.Events {
		e := &b.Events[i]
		size, name := &e.Height, "height"
		if e.Kind == "pothole" || e.Kind == "dip" {
			size, name = &e.Depth, "depth"
		}
		open := e.Kind == "joint" && e.Depth.Known() // an open joint has a depth, a proud one a height
		if !open && !size.Known() && e.Speed.Known() {
			list = append(list, car.Problem{
				Refuse: true, Path: parent(e.Speed.Path) + name, Line: e.Speed.Line,
				Got: car.Phrase{Text: "is missing"}, Want: car.Phrase{Text: "a " + e.Kind + " has one"},
			})
		}
		other, otherName := &e.Depth, "depth"
		if size == &e.Depth {
			other, otherName = &e.Height, "height"
		}
		if other.Known() && size.Known() {
			list = append(list, car.Problem{
				Path: other.Path, Line: other.Line,
				Got: car.Phrase{Text: "changes nothing"}, Want: car.Phrase{Text: "a " + e.Kind + " is driven by its " + name + ", and has no " + otherName},
			})
		}
		// Only a kerb may rise at once.
		if !e.Length.Known() && e.Speed.Known() && e.Kind != "kerb" {
			list = append(list, car.Problem{
				Refuse: true, Path: parent(e.Speed.Path) + "length", Line: e.Speed.Line,
				Got: car.Phrase{Text: "is missing"}, Want: car.Phrase{Text: "a " + e.Kind + " has one along the road"},
			})
		}
	}
	return list
}

// parent is a path without its last key, with the dot.
func parent(path string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '.' {
			return path[:i+1]
		}
	}
	return ""
}

// knownRoads lists the roads a brief may name, as a job file writes them.
func knownRoads() string {
	var names []string
	for _, n := range road.NamedRoads() {
		names = append(names, strings.ReplaceAll(n.Name, " ", "-"))
	}
	return strings.Join(names, ", ")
}
