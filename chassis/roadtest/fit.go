package roadtest

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// How the fit goes. Chosen.
const (
	mostRounds  = 12
	settled     = 0.05 // of a band: no input moves more in the last round
	gapGrid     = 1e-3 // [m]
	gapNearer   = 0.025
	gapFurther  = 0.012
	stopSeen    = 10.0 // nats by which the log has to speak for a stop against none
	leastStroke = 5.0  // samples that must be in the stop before its gap is looked for
)

// coarse is the least half-width of an estimate's band: what sampling, filtering and a
// stop that opens leave, as the recovery study shows (docs/roadtest.md). Chosen from it.
var coarse = map[Name]float64{SpringRate: 0.012, BumpDamping: 0.008, ReboundDamping: 0.008, Friction: 3.5, StopGap: 2e-3, TravelGain: 0.005, Balance: 0.003, TyreRate: 0.01, UnsprungMass: 0.01}

// FitTo finds what a log says of the inputs of a build. A speed [m/s] stands in for a
// channel of it where the log has none.
func FitTo(ctx context.Context, l *Log, b *Build, speed float64, progress func(done, total int)) (*Fit, error) {
	d, err := driveOf(l, b, speed)
	if err != nil {
		return nil, err
	}
	s := &solver{build: b, legs: d.legs, pieces: d.pieces(b.Car.Wheelbase)}
	if len(s.pieces) == 0 {
		return nil, ErrNoPiece
	}
	w := s.misread()
	if w != nil && w.Corner < 0 && !s.turnedFitsBetter(ctx) {
		w = nil
	}
	if w != nil {
		return &Fit{Wrong: []Wrong{*w}, Left: s.left(&shift{}), pieces: s.pieces, legs: &s.legs, build: b}, nil
	}
	out, err := s.fit(ctx, progress)
	if err != nil {
		return nil, err
	}
	if far, any := out.gains(); any {
		s.wide, s.at = far, shift{}
		if out, err = s.fit(ctx, progress); err != nil {
			return nil, err
		}
		for _, e := range out.Estimates {
			if e.Name == TravelGain && far[e.Corner] && math.Abs(e.Value) > math.Max(e.Half, gainNamed) {
				out.Wrong = append(out.Wrong, Wrong{Mistake: WrongGain, Corner: e.Corner, Other: -1, Value: 1 / (1 + e.Value), Half: e.Half})
			}
		}
	}
	return out, nil
}

func (s *solver) fit(ctx context.Context, progress func(done, total int)) (*Fit, error) {
	tell := func(k int) {
		if progress != nil {
			progress(k, mostRounds)
		}
	}
	out := &Fit{pieces: s.pieces, legs: &s.legs, build: s.build, Left: s.left(&shift{})}
	for _, p := range s.pieces {
		out.Time += float64(p.n) / p.rate
	}
	s.priors = s.build.priors(s.seek(), s.wide)
	var cov *mat.SymDense
	for out.Rounds = 1; out.Rounds <= mostRounds; out.Rounds++ {
		tell(out.Rounds - 1)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		step, c, ok := s.round()
		if !ok {
			break
		}
		cov = c
		far := 0.0
		for a, in := range s.priors {
			limit := math.Max(in.half/2, 1e-9)
			d := math.Max(-limit, math.Min(limit, step[a]))
			*s.at.of(in.Input) += d
			far = math.Max(far, math.Abs(d)/(1.96*math.Sqrt(cov.At(a, a))))
		}
		if out.Rounds == 2 {
			s.priors = s.build.priors(s.seek(), s.wide)
			continue
		}
		if far < settled {
			break
		}
	}
	if cov != nil {
		s.unbias(cov)
	}
	tell(mostRounds)
	out.shift = s.at
	out.Fitted = s.left(&s.at)
	if cov == nil {
		return out, nil
	}
	for a, in := range s.priors {
		out.Estimates = append(out.Estimates, Estimate{in.Input, *s.at.of(in.Input), math.Hypot(1.96*math.Sqrt(cov.At(a, a)), coarse[in.Name]), in.half})
		row := make([]float64, len(s.priors))
		for b := range row {
			row[b] = cov.At(a, b) / math.Sqrt(cov.At(a, a)*cov.At(b, b))
		}
		out.Related = append(out.Related, row)
	}
	return out, nil
}

// seek looks for each stop where its corner travels, because a stop that is not reached
// as entered has no slope to follow; it says which gaps the log can speak of.
func (s *solver) seek() (seen [4]bool) {
	s.held = make([]moved, len(s.pieces))
	for k, p := range s.pieces {
		s.held[k] = *s.moved(p, &s.at)
	}
	for i, has := range s.build.stops() {
		if !has {
			continue
		}
		best, least := s.at.gap[i], math.Inf(1)
		look := func(gap float64) {
			if c := s.gapCost(i, gap); c < least {
				best, least = gap, c
			}
		}
		for gap := -gapNearer; gap <= gapFurther; gap += 2 * gapGrid {
			look(gap)
		}
		look(best - gapGrid)
		look(best + gapGrid)
		free := s.gapCost(i, known[StopGap])
		s.at.gap[i] = best
		in := 0.0
		for _, p := range s.pieces {
			for _, x := range p.travel[i] {
				if s.legs[i].start+x > s.legs[i].in.Stop.TouchTravel+best+1e-3 {
					in++
				}
			}
		}
		if seen[i] = in >= leastStroke && free-least > stopSeen; !seen[i] {
			s.at.gap[i] = 0
		}
	}
	return seen
}

// gapCost is the cost with the stop of one corner elsewhere.
func (s *solver) gapCost(i int, gap float64) float64 {
	at := s.at
	at.gap[i] = gap
	g := geometryOf(&s.build.Car, &at)
	sum := 0.0
	for k, p := range s.pieces {
		m := s.held[k]
		m.travel[i], m.force[i] = p.spectra(&s.legs, &at, i, true)
		r := p.recover(&g, &m)
		sum += costOf(p.residuals(&r, &at))
	}
	return sum
}

// turnedFitsBetter reports that the log with the sign of all its travel turned round is
// explained clearly better. Faults of the car can make it look so before the fit.
func (s *solver) turnedFitsBetter(ctx context.Context) bool {
	plain := &solver{build: s.build, legs: s.legs, pieces: s.pieces[:1]}
	turnedOver := &solver{build: s.build, legs: s.legs}
	q := *s.pieces[0]
	q.bases = [4]*basis{}
	for i := range 4 {
		q.travel[i], q.rates[i], q.raw[i] = turned(q.travel[i], -1), turned(q.rates[i], -1), turned(q.raw[i], -1)
	}
	turnedOver.pieces = []*piece{&q}
	a, err := plain.fit(ctx, nil)
	if err != nil {
		return false
	}
	b, err := turnedOver.fit(ctx, nil)
	return err == nil && b.Fitted < 0.7*a.Fitted
}
