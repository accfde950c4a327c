package search

import "context"

// near is how many of the best have their neighbours looked at. Chosen.
const near = 16

// pairs puts the kept choices of both axles together, over all roads by spectrum, and looks
// at what differs from the best of them in one thing.
func (s *seeker) pairs(ctx context.Context, stand [2][]stood, kept [2][]int, out *Found) ([]candidate, error) {
	seen := map[[2]int]bool{}
	var list []candidate
	add := func(choice [2]int) {
		if !seen[choice] {
			seen[choice] = true
			list = append(list, candidate{choice: choice, short: s.shortOf(stand, choice)})
		}
	}
	add([2]int{0, 0}) // the build as it is
	for _, f := range kept[0] {
		for _, r := range kept[1] {
			add([2]int{f, r})
		}
	}
	tick := s.ticker(Spectrum, len(list))
	from := 0
	for round := 0; ; round++ {
		fresh := list[from:]
		worth, err := s.worths(ctx, Spectrum, -1, chosen(fresh), tick)
		if err != nil {
			return nil, err
		}
		for k := range worth {
			fresh[k].figures, fresh[k].dead = worth[k].Figures, worth[k].Dead
		}
		from = len(list)
		if round == s.opt.Rounds {
			break
		}
		for _, k := range choose(s.items(list), near) {
			c := list[k].choice
			for axle := range 2 {
				for _, n := range s.space.Axle[axle].neighbours(c[axle]) {
					next := c
					next[axle] = n
					st := &stand[axle][n/s.space.Axle[axle].Clicks()]
					if !st.dead && lack(st.short) <= lack(list[k].short) {
						add(next)
					}
				}
			}
		}
		if len(list) == from {
			break
		}
	}
	holds := 0
	for k := range list {
		if !list[k].dead && len(list[k].short) == 0 {
			holds++
		}
	}
	var best []candidate
	for _, k := range choose(s.items(list), s.opt.Rested) {
		best = append(best, list[k])
	}
	out.Steps = append(out.Steps, Step{Name: Spectrum, Tried: float64(len(list)), Looked: len(list), Hold: float64(holds), On: len(best)})
	return best, nil
}

// chosen are the choices of candidates.
func chosen(list []candidate) [][2]int {
	out := make([][2]int, len(list))
	for k := range list {
		out[k] = list[k].choice
	}
	return out
}

// shortOf is what the two choices lack by themselves, and the money they take together.
func (s *seeker) shortOf(stand [2][]stood, choice [2]int) []Short {
	var out []Short
	for axle := range 2 {
		out = append(out, stand[axle][choice[axle]/s.space.Axle[axle].Clicks()].short...)
	}
	m := s.bench.make(found, choice)
	return append(out, s.must.beside([2]float64{}, m.thread, m.price)...)
}

// items are candidates to choose from; those that do not rest are left out.
func (s *seeker) items(list []candidate) []item {
	out := make([]item, 0, len(list))
	for k := range list {
		if !list[k].dead {
			out = append(out, item{list[k].figures.sought(s.sought, s.bench.dear(list[k].choice)), list[k].short, k})
		}
	}
	return out
}
