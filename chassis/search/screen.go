package search

import (
	"errors"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/ride"
	"trunnion/chassis/screening"
	"trunnion/chassis/study"
)

// screen estimates a choice from the spectrum over some roads: what it is worth, and
// whether it rests at all.
func (s *seeker) screen(choice [2]int, roads []over) (w Worth) {
	m := s.bench.make(found, choice)
	w.Figures[Price], w.Figures[Hours] = m.price, m.hours()
	var loads []int
	at := map[int]int{}
	for i := range roads {
		if _, have := at[roads[i].road.Load]; !have {
			at[roads[i].road.Load] = len(loads)
			loads = append(loads, roads[i].road.Load)
		}
	}
	usual := study.UsualLoadAt(s.a.Job.Brief, s.a.Job.Loads)
	if _, have := at[usual]; !have {
		at[usual] = len(loads)
		loads = append(loads, usual)
	}
	rests, err := s.a.Rests(m.build, s.space.Build, loads)
	if err != nil {
		w.Dead = true
		return w
	}
	w.Figures[Stance] = s.stanceOf(&rests[at[usual]])
	var comfort, grip mean
	control := 0.0
	models := make([]*ride.Model, len(loads))
	for i := range roads {
		k := at[roads[i].road.Load]
		if models[k] == nil {
			if models[k], err = drives.Model(&s.a.Job, &rests[k], m.build, loads[k]); err != nil {
				w.Dead = true
				return w
			}
		}
		x := estimate(models[k], roads[i].grid)
		if len(x.Floor) > 0 {
			comfort.add(x.Floor[0].Weighted)
		}
		for j := range 4 {
			grip.add(x.Corners[j].LoadVariation)
		}
		control = math.Max(control, bounce(&rests[k], models[k], &x))
	}
	w.Figures[Comfort], w.Figures[Grip], w.Figures[Control] = comfort.root(), grip.root(), control
	w.Dead = math.IsNaN(w.Figures[Comfort] + w.Figures[Grip] + w.Figures[Control])
	return w
}

// estimate is what the spectrum says, and what it would have said where it withholds its
// answer: candidates are put in order by it, none is judged by it.
func estimate(m *ride.Model, g *screening.Grid) screening.Result {
	x, err := screening.Solve(m, g)
	var withheld *screening.WithheldError
	if errors.As(err, &withheld) {
		return withheld.Estimate
	}
	return x
}

// stanceOf is how much higher a rest stands than the baseline, mean of the corners [m].
func (s *seeker) stanceOf(c *study.Case) float64 {
	sum := 0.0
	for i := range 4 {
		was := s.a.Get("arch-height", s.a.Reference, s.a.UsualLoad(), i)
		if was == nil {
			return math.NaN()
		}
		sum += 0.25 * (s.a.Job.Car.ZeroHeight[car.AxleOf(i)].Value - c.State.Travel[i] - was.Value)
	}
	return sum
}

// bounce estimates the second bounce of the axle that is damped less: what one whole cycle
// of a corner leaves, with the stiffness and damping that the spectrum found.
//
//	b = exp(−2π·ζ/√(1 − ζ²)),  ζ = c·r²/(2·√(k·m))
//
// Source: J. P. Den Hartog, Mechanical Vibrations, 1956, section 2.8.
func bounce(c *study.Case, m *ride.Model, x *screening.Result) float64 {
	worst := LeastBounce
	for axle := range 2 {
		ratio := 0.0
		for i := 2 * axle; i < 2*axle+2; i++ {
			_, r := m.Spring(i, c.State.Travel[i])
			k, mass := x.Corners[i].Stiffness, c.SprungMass(i)
			if k > 0 && mass > 0 {
				ratio += 0.5 * x.Corners[i].Damping * r * r / (2 * math.Sqrt(k*mass))
			}
		}
		if ratio < 1 {
			worst = math.Max(worst, math.Exp(-2*math.Pi*ratio/math.Sqrt(1-ratio*ratio)))
		}
	}
	return worst
}
