package search

import (
	"context"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/spread"
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
				holds++
			}
		}
		step.Hold *= float64(holds * len(s.space.Axle[axle].Clicks))
	}
	out.Removed = removes(stand)
	clicks := 0
	for axle := range 2 {
		clicks += min(s.opt.Standing, len(stand[axle])) * len(s.space.Axle[axle].Clicks)
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

// stood is a choice of springs, height, stop, packer and hole at an axle, as it stands.
type stood struct {
	short []Short // of the axle's own limits, with whichever other axle suits it better
	dead  bool    // the car has no rest with it
}

// statics puts every choice of an axle but the clicks through the study at rest. The other
// axle stands as it does in the build; where something is short then, it is looked at
// again with the other axle as soft and as stiff as it can be had: what lies between can
// hold only what one of them does. It is what couples the axles at rest: how the roll of
// an uneven load is shared.
func (s *seeker) statics(ctx context.Context, axle int, done func(n int)) ([]stood, error) {
	x := &s.space.Axle[axle]
	n := x.static()
	out := make([]stood, n)
	errs := make([]error, n)
	others := s.extremes(1 - axle)
	err := spread.Each(ctx, n, s.opt.Workers, func(_, k int) {
		out[k], errs[k] = s.stand(ctx, axle, k*len(x.Clicks), others)
		done(1)
	})
	return out, first(errs, err)
}

// stand puts one choice of an axle through the study at rest: in the usual load state and
// the heaviest first, and where it holds there in all of them.
func (s *seeker) stand(ctx context.Context, axle, number int, others []int) (stood, error) {
	var out stood
	var choice [2]int
	choice[axle] = number
	for try, other := range append([]int{0}, others...) {
		choice[1-axle] = other
		for _, loads := range s.loads {
			short, ok, err := s.rested(ctx, choice, loads)
			if err != nil {
				return out, err
			}
			if !ok {
				return stood{dead: true}, nil
			}
			short = ofAxle(short, axle)
			if try == 0 || lack(short) < lack(out.short) {
				out.short = short
			}
			if len(short) > 0 {
				break
			}
			if len(loads) == len(s.a.Job.Loads) {
				return out, nil
			}
		}
		if far(out.short) {
			break
		}
	}
	return out, nil
}

// coupled is how much the other axle can change about the lengths of an axle at rest: more
// than any bar makes of an uneven load. Chosen; a test holds it against pairs. [m]
const coupled = 5e-3

// far reports shorts of which one is too great for the other axle to mend.
func far(list []Short) bool {
	return slices.ContainsFunc(list, func(x Short) bool { return x.Unit == "m" && !(x.Need <= coupled) })
}

func first(errs []error, err error) error {
	if err != nil {
		return err
	}
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}

// extremes are the choices of an axle with the softest and the firmest spring and bar.
func (s *seeker) extremes(axle int) []int {
	x := &s.space.Axle[axle]
	var out []int
	for _, firm := range []float64{-1, 1} {
		var p pick
		best := math.Inf(-1)
		for k := range x.Springs {
			if r := firm * x.Springs[k].Main.Rate.Value; r > best {
				best, p.spring = r, k
			}
		}
		best = math.Inf(-1)
		for k, hole := range x.Holes {
			rate, link := s.a.Job.Car.Axle[axle].BarIn(hole, 0, nil)
			if r := firm * rate * link * link; r > best {
				best, p.hole = r, k
			}
		}
		out = append(out, x.number(p))
	}
	return out
}

// rested judges a candidate at rest; ok is false where the car has none.
func (s *seeker) rested(ctx context.Context, choice [2]int, loads []car.Load) (short []Short, ok bool, err error) {
	m := s.bench.make(found, choice)
	got, err := s.a.AgainEach(ctx, []*car.Build{m.build}, s.space.Build, loads, false)
	if err != nil || len(got.Failures) > 0 {
		return nil, false, ctx.Err()
	}
	list := finding.Every(got, s.a, found, s.bands.Of)
	short = s.must.shorts(list)
	for axle := range 2 {
		if s.bench.springs[axle][s.space.Axle[axle].at(choice[axle]).spring].err != nil {
			return nil, false, nil
		}
	}
	var h [2]float64
	for axle := range 2 {
		h[axle] = stance(got, s.a, found, axle)
	}
	return append(short, s.must.beside(h, m.thread, m.price)...), true, nil
}

// kept are the choices of an axle worth pairing: of those that hold most, over the brief's
// roads by spectrum with the other axle as it is, the best of each aim.
func (s *seeker) kept(ctx context.Context, axle int, stand []stood, done func(n int)) ([]int, error) {
	x := &s.space.Axle[axle]
	holding := s.holding(x, stand)
	clicks := len(x.Clicks)
	choices := make([]int, 0, len(holding)*clicks)
	for _, k := range holding {
		for c := range clicks {
			choices = append(choices, k*clicks+c)
		}
	}
	cands := make([]candidate, len(choices))
	err := spread.Each(ctx, len(choices), s.opt.Workers, func(_, k int) {
		cands[k].choice[axle] = choices[k]
		s.screen(&cands[k], s.roads[:1])
		done(1)
	})
	if err != nil {
		return nil, err
	}
	list := make([]item, 0, len(cands))
	for k := range cands {
		c := &cands[k]
		if c.dead {
			continue
		}
		list = append(list, item{c.figures.sought(s.sought), stand[choices[k]/clicks].short, k})
	}
	var out []int
	for _, k := range choose(list, s.opt.Kept) {
		out = append(out, choices[k])
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
		p := x.at(k * len(x.Clicks))
		sp := &x.Springs[p.spring]
		length := x.Packers[p.packer]
		if st := x.Stops[p.stop]; st != nil {
			length += st.Length.Value
		}
		holds = append(holds, one{[]float64{sp.Main.Rate.Value, x.Heights[p.height], length, sp.Main.Free.Value, float64(p.hole)}, 0, k})
	}
	switch {
	case len(holds) > s.opt.Standing:
		return ids(thin(holds, s.opt.Standing))
	case len(holds) > 0:
		return ids(holds)
	}
	return choose(rest, s.opt.Standing)
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
