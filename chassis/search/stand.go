package search

import (
	"context"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
)

// stood is a choice of springs, height, stop, packer and hole at an axle, as it stands.
type stood struct {
	short []Short // of the axle's own limits, with whichever other axle suits it better
	dead  bool    // the car has no rest with it
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
