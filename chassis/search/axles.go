package search

import (
	"context"

	"trunnion/chassis/figure"
)

// axles puts both axles through the statics and the spectrum, each by itself.
func (s *seeker) axles(ctx context.Context, out *Found) (stand [2][]stood, kept [2][]int, err error) {
	total := s.space.Axle[0].static() + s.space.Axle[1].static()
	tick := s.ticker(AtRest, total)
	step := Step{Name: AtRest, Tried: s.space.Size(), Hold: 1, Looked: total}
	for axle := range 2 {
		if stand[axle], err = s.statics(ctx, axle, tick); err != nil {
			return stand, kept, err
		}
		holds := 0
		for k := range stand[axle] {
			if !stand[axle][k].dead && len(stand[axle][k].short) == 0 {
				holds += s.space.Axle[axle].clicksOf(k)
			}
		}
		step.Hold *= float64(holds)
	}
	out.Removed = removes(stand)
	clicks := 0
	for axle := range 2 {
		clicks += min(s.opt.Standing, len(stand[axle])) * s.space.Axle[axle].Clicks()
	}
	tick = s.ticker(Spectrum, clicks+s.opt.Kept*s.opt.Kept)
	for axle := range 2 {
		if kept[axle], err = s.kept(ctx, axle, stand[axle], tick); err != nil {
			return stand, kept, err
		}
	}
	step.On = len(kept[0]) * len(kept[1])
	out.Steps = append(out.Steps, step)
	return stand, kept, nil
}

// statics puts every choice of an axle but the clicks through the study at rest. The other
// axle stands as it does in the build; where something is short then, it is looked at
// again with the other axle as soft and as stiff as it can be had: what lies between can
// hold only what one of them does. It is what couples the axles at rest: how the roll of
// an uneven load is shared.
func (s *seeker) statics(ctx context.Context, axle int, done func(n int)) ([]stood, error) {
	x := &s.space.Axle[axle]
	n := x.static()
	choices := make([][2]int, n)
	for k := range choices {
		choices[k][axle] = k * x.Clicks()
	}
	worth, err := s.worths(ctx, AtRest, axle, choices, done)
	out := make([]stood, len(worth))
	for k := range worth {
		out[k] = stood{worth[k].Short, worth[k].Dead}
	}
	return out, err
}

// kept are the choices of an axle worth pairing: of those that hold most, over the brief's
// roads by spectrum with the other axle as it is, the best of each aim.
func (s *seeker) kept(ctx context.Context, axle int, stand []stood, done func(n int)) ([]int, error) {
	x := &s.space.Axle[axle]
	holding := s.holding(x, stand)
	clicks := x.Clicks()
	choices := make([][2]int, 0, len(holding)*clicks)
	for _, k := range holding {
		for c := range x.clicksOf(k) {
			var one [2]int
			one[axle] = k*clicks + c
			choices = append(choices, one)
		}
	}
	worth, err := s.worths(ctx, OverRoad, axle, choices, done)
	if err != nil {
		return nil, err
	}
	list := make([]item, 0, len(worth))
	for k := range worth {
		if w := &worth[k]; !w.Dead {
			list = append(list, item{w.Figures.sought(s.sought, s.bench.dear(choices[k])), stand[choices[k][axle]/clicks].short, k})
		}
	}
	var out []int
	for _, k := range choose(list, s.opt.Kept) {
		out = append(out, choices[k][axle])
	}
	return out, nil
}

// holding are the choices of an axle at rest that go over the road: those that hold, spread
// over rates, heights and stops; where none does, those that lack least.
func (s *seeker) holding(x *Axle, stand []stood) []int {
	var holds []one
	var rest []item
	for k := range stand {
		if stand[k].dead {
			continue
		}
		if len(stand[k].short) > 0 {
			rest = append(rest, item{nil, stand[k].short, k})
			continue
		}
		p := x.at(k * x.Clicks())
		sp := &x.Springs[p.spring]
		length := x.Packers[p.packer]
		if st := x.Stops[p.stop].Spec; st != nil {
			length += st.Length.Value
		}
		holds = append(holds, one{[]float64{sp.Main.Rate.Value, x.Heights[p.height], length, sp.Main.Free.Value, float64(p.hole), x.open(p)}, 0, k})
	}
	switch {
	case len(holds) > s.opt.Standing:
		return ids(thin(holds, s.opt.Standing))
	case len(holds) > 0:
		return ids(holds)
	}
	return choose(rest, s.opt.Standing)
}

// open is how far the damper of a choice opens: what tells dampers apart at rest. [m]
func (x *Axle) open(p pick) float64 {
	if d := x.Dampers[p.damper].Spec; d != nil {
		return d.Open.Value
	}
	return 0
}

// removes is the share of the candidates that each limit removes on its own at an axle.
func removes(stand [2][]stood) []Removed {
	type key struct {
		code string
		axle int
	}
	count := map[key]int{}
	alive := [2]int{}
	var order []Short
	for axle := range stand {
		for k := range stand[axle] {
			if stand[axle][k].dead {
				continue
			}
			alive[axle]++
			for i := range stand[axle][k].short {
				sh := &stand[axle][k].short[i]
				id := key{sh.Code, axle}
				if count[id] == 0 {
					order = append(order, *sh)
				}
				count[id]++
			}
		}
	}
	byCode := map[key]int{} // findings of both axles together, what is asked for beside them by axle
	var out []Removed
	for _, sh := range order {
		of := key{sh.Code, -1}
		if sh.Judges == "" {
			of.axle = sh.Axle
		}
		at, have := byCode[of]
		if !have {
			at = len(out)
			byCode[of] = at
			out = append(out, Removed{Code: sh.Code, Judges: sh.Judges, Axle: of.axle, Limit: sh.Limit, Unit: sh.Unit, Upper: sh.Upper, Place: figure.Place{Load: sh.Place.Load, Corner: figure.NoCorner}})
		}
		left := 1.0
		for axle := range 2 {
			if alive[axle] > 0 && (of.axle < 0 || of.axle == axle) {
				left *= 1 - float64(count[key{sh.Code, axle}])/float64(alive[axle])
			}
		}
		out[at].Share = 1 - left
	}
	return out
}
