package study

import (
	"cmp"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// Given returns the inputs that a drive of a build in a load state rests on, or, where
// none is named, those of all that the roads of the brief are driven in.
func (a *Answer) Given(build, load string) []*figure.Input {
	if load != "" || a.Job.Brief == nil {
		return a.ready.given(build, load)
	}
	var out []*figure.Input
	for i := range a.Job.Brief.Roads {
		out = figure.Together(out, a.ready.given(build, cmp.Or(a.Job.Brief.Roads[i].Load, a.UsualLoad())))
	}
	return out
}

// givenTo are the inputs that a driven figure rests on: those of its build, of an upper
// mount's also its line's, and the baseline's where it is set against that.
func (a *Answer) givenTo(v *figure.Value) []*figure.Input {
	out := a.Given(v.Place.Build, v.Place.Load)
	if !strings.HasPrefix(v.Code, "mount-") {
		return out
	}
	for _, b := range a.Job.Builds {
		against := v.Code == "mount-damage-relative" && b.ID == a.Reference
		if b.ID == v.Place.Build || against {
			out = figure.Together(out, a.givenToLine(b.Corner[v.Place.Corner].Mount))
		}
		if against {
			out = figure.Together(out, a.Given(b.ID, ""))
		}
	}
	return out
}

// givenToLine are the inputs of the job in the line of a mount: its entered range and
// slope, and for a usual range the baseline's load at rest, which it is a share of.
func (a *Answer) givenToLine(m *car.MountSpec) []*figure.Input {
	var out []*figure.Input
	if m != nil && m.Slope.Known() {
		out = append(out, &m.Slope)
	}
	if m != nil && m.Rated.Known() {
		return append(out, &m.Rated)
	}
	return figure.Together(out, a.ready.given(a.Reference, a.UsualLoad()))
}

// given are the inputs that a case in motion, in a corner or on a road was computed
// from: those of its rest, and what the car weighs and turns with.
func (s *setup) given(build, load string) []*figure.Input {
	b, l := -1, -1
	for i, one := range s.job.Builds {
		if one.ID == build {
			b = i
		}
	}
	for i := range s.job.Loads {
		if s.job.Loads[i].ID == load {
			l = i
		}
	}
	if b < 0 || l < 0 {
		return nil
	}
	s.givens.Lock()
	defer s.givens.Unlock()
	if got, ok := s.givens.of[[2]int{b, l}]; ok {
		return got
	}
	got := equilibrium.OfJob(figure.ReadBy(func(d figure.Draw) { s.readCase(b, l, d) }))
	if s.givens.of == nil {
		s.givens.of = map[[2]int][]*figure.Input{}
	}
	s.givens.of[[2]int{b, l}] = got
	return got
}

// readCase computes a case under a draw, for what it reads.
func (s *setup) readCase(b, l int, d figure.Draw) {
	base := equilibrium.Calibrate(s.fitted, s.hangup, d)
	c := Case{}
	var err error
	if c.System, err = equilibrium.NewSystem(s.designs[b], &base, s.hangup, d); err != nil {
		return
	}
	if c.State, err = c.System.Solve(equilibrium.Of(s.job.Loads[l].Items, d), nil); err != nil {
		return
	}
	s.job.Car.InertiaRoll.At(d)
	s.job.Car.InertiaPitch.At(d)
	car, err := s.bendCar(&c.System, &c.State, l, d, d)
	if err != nil {
		return
	}
	s.yawCar(car, car.Rest(), l, d, d)
	s.pair(car, l, d, d)
	if t := s.job.Loads[l].Trailer; t != nil {
		t.Speed.At(d)
	}
	for a := range 2 {
		s.compliance(a).At(d)
	}
	for a := range 2 {
		s.job.Car.Axle[a].Cornering.At(d)
		for i := range 4 {
			s.job.Car.Weighed.Load[i].At(d)
		}
	}
}
