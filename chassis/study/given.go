package study

import (
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

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
