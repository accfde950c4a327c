package search

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/finding"
	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/screening"
	"trunnion/chassis/study"
)

// Options are how far a search goes. None of them but the seed changes what a build is
// worth.
type Options struct {
	Standing  int // choices of an axle at rest that go over the road
	Kept      int // choices of an axle that are paired with the other's
	Rested    int // pairs that are judged at rest and in corners
	Driven    int // of them that are driven over the brief for a short time
	Longer    int // of those that are driven for long
	Finalists int // of those that go through the whole study with its draws
	Draws     int // of the study
	Rounds    int // of neighbours of the best
	Seed      uint64
	Workers   int
	Lanes     ride.Lanes
}

// Usual are the options of a search where nobody says otherwise. Chosen: the demo's takes
// half a minute on two cores.
func Usual() Options {
	return Options{Standing: 150, Kept: 60, Rested: 240, Driven: 96, Longer: 24, Finalists: 6, Draws: 400, Rounds: 2, Seed: 1, Workers: 1, Lanes: ride.Four}
}

// Progress says how far a search is.
type Progress struct {
	Step        string
	Done, Total int
}

// ErrNoRoads says that there is nothing to compare builds on.
var ErrNoRoads = errors.New("search: the brief has no road with a speed: there is nothing to compare comfort on")

// found is the id that candidates have in answers.
const found = "found"

// seeker is a search under way.
type seeker struct {
	a      *study.Answer
	space  *Space
	must   *Must
	moving *Must // of what is driven, until a candidate has bands of its own
	opt    Options
	bench  *bench
	bands  *finding.Bands
	roads  []over
	loads  [][]car.Load // to be looked at in turn: the usual and the heaviest, then all
	sought []int
	laid   *route.Laid
	tell   func(Progress)
	crew   Crew // nil: everything is computed here
	aside  []Aside
}

// over is a road of the brief for the spectrum.
type over struct {
	road route.Road
	grid *screening.Grid
}

// candidate is a build by its choices.
type candidate struct {
	choice  [2]int
	figures Figures
	short   []Short
	dead    bool
}

func newSeeker(a *study.Answer, space *Space, must *Must, opt Options, tell func(Progress)) (*seeker, error) {
	s := &seeker{a: a, space: space, must: must, moving: must.meanwhile(), opt: opt, laid: new(route.Laid), tell: tell}
	if tell == nil {
		s.tell = func(Progress) {}
	}
	var err error
	if s.bench, err = newBench(a, space); err != nil {
		return nil, err
	}
	if err := s.lay(); err != nil {
		return nil, err
	}
	s.bands = finding.BandsOf(a, space.Build)
	s.sought = s.aims()
	s.loads = inTurn(a)
	return s, nil
}

// inTurn are the load states in the order in which a choice is looked at in them.
func inTurn(a *study.Answer) [][]car.Load {
	all := a.Job.Loads
	usual := study.UsualLoadAt(a.Job.Brief, all)
	heaviest, most := usual, math.Inf(-1)
	for l := range all {
		if w := equilibrium.Of(all[l].Items, nil).Down; w > most {
			heaviest, most = l, w
		}
	}
	if usual < 0 || usual == heaviest || len(all) < 3 {
		return [][]car.Load{all}
	}
	return [][]car.Load{{all[usual], all[heaviest]}, all}
}

// lay makes the brief's roads ready for the spectrum, the roughest first.
func (s *seeker) lay() error {
	roads, err := route.Roads(&s.a.Job, nil)
	if err != nil {
		return err
	}
	for _, r := range roads {
		grid, err := drives.Grid(s.a.Job.Car, &r)
		if err != nil {
			return fmt.Errorf("search: %s: %w", r.Name, err)
		}
		s.roads = append(s.roads, over{r, grid})
	}
	if len(s.roads) == 0 {
		return ErrNoRoads
	}
	shakes := func(o *over) float64 {
		for i := range s.a.Values {
			v := &s.a.Values[i]
			if v.Code == "floor-acceleration" && v.Place.Build == s.space.Build && v.Place.Road == o.road.Name && v.Place.Speed == o.road.Speed && v.Place.At == drives.FloorDriver { //nolint:floateq // the same drive
				return v.Value
			}
		}
		return 0
	}
	sort.SliceStable(s.roads, func(i, j int) bool { return shakes(&s.roads[i]) > shakes(&s.roads[j]) })
	return nil
}

// aims are those that are set against each other: money where a price is known, the height
// where it can be chosen.
func (s *seeker) aims() []int {
	out := []int{Comfort, Control, Grip}
	priced, heights := false, false
	for axle := range 2 {
		x := &s.space.Axle[axle]
		for k := range x.Springs {
			priced = priced || x.Springs[k].Price > 0
		}
		for k := range x.Dampers {
			priced = priced || x.Dampers[k].Price > 0
		}
		for k := range x.Stops {
			priced = priced || x.Stops[k].Price > 0
		}
		heights = heights || len(x.Heights) > 1
	}
	if priced {
		out = append(out, Price)
	}
	if heights {
		out = append(out, Stance)
	}
	return out
}

// ticker counts what is done of a step.
func (s *seeker) ticker(step string, total int) func(int) {
	done := make(chan int, 1)
	done <- 0
	return func(n int) {
		k := <-done + n
		s.tell(Progress{step, k, max(total, k)})
		done <- k
	}
}
