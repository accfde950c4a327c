package roadtest

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// How the fit goes. Chosen.
const (
	mostRounds  = 16
	soughtFirst = 2 // the round after which stops are looked for
	soughtAgain = 4
	settled     = 0.05 // of a band: no input moves more in the last round
	gapGrid     = 1e-3 // [m]
	gapNearer   = 0.025
	gapFurther  = 0.012
	stopSeen    = 10.0 // nats by which the log has to speak for a stop against none
	leastStroke = 5.0  // samples that must be in the stop before its gap is looked for
)

// FitTo finds what a log says of the inputs of a build. A speed [m/s] stands in for a
// channel of it where the log has none.
func FitTo(ctx context.Context, l *Log, b *Build, speed float64, progress func(done, total int)) (*Fit, error) {
	d, err := driveOf(l, b, speed)
	if err != nil {
		return nil, err
	}
	if err := b.weigh(); err != nil {
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
	all := s.pieces
	s.pieces = liveliest(all)
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
	out.pieces = all
	return out, nil
}

// fitted is how much of a log the inputs are found from: what moves most of it says
// nearly all, and figures are those of all of it. Chosen. [s]
const fitted = 180.0

// liveliest are the pieces in which the dampers move most, for up to fitted.
func liveliest(pieces []*piece) []*piece {
	by := slices.Clone(pieces)
	slices.SortStableFunc(by, func(a, b *piece) int { return cmp.Compare(b.power(), a.power()) })
	var out []*piece
	time := 0.0
	for _, p := range by {
		if time += float64(p.n) / p.rate; len(out) > 0 && time > fitted*1.01 {
			break
		}
		out = append(out, p)
	}
	return out
}

// power is the mean square of damper speed [m²/s²].
func (p *piece) power() float64 {
	sum := 0.0
	for i := range 4 {
		for _, v := range p.rates[i] {
			sum += v * v
		}
	}
	return sum / float64(4*p.n)
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
	s.ground()
	s.priors = s.build.priors([4]bool{}, s.wide)
	var cov *variances
	sought := false // when all had come to rest
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
		for a, d := range s.step(step) {
			far = math.Max(far, math.Abs(d)/(1.96*math.Sqrt(cov.of(a))))
		}
		// Stops are looked for when the rest is nearly there: looked for at once, a stop takes the place of a spring.
		rest := far < settled && out.Rounds > soughtFirst
		switch {
		case out.Rounds == soughtFirst || out.Rounds == soughtAgain || rest && !sought && out.Rounds < mostRounds-1:
			sought = sought || rest
			was, before := s.at.gap, s.priors
			s.ground()
			s.priors = s.build.priors(s.seek(), s.wide)
			rest = rest && gapsApart(&was, &s.at.gap) < gapGrid/2 && slices.Equal(before, s.priors)
		}
		if rest {
			break
		}
	}
	if cov != nil {
		s.unbias(ctx, cov)
	}
	tell(mostRounds)
	out.shift = s.at
	out.Fitted = s.left(&s.at)
	if cov == nil {
		return out, nil
	}
	for a, in := range s.priors {
		half := 1.96 * math.Sqrt(cov.of(a))
		out.Estimates = append(out.Estimates, Estimate{in.Input, *s.at.of(in.Input), half, in.half})
		row := make([]float64, len(s.priors))
		for b := range row {
			row[b] = (cov.log.At(a, b) + cov.known.At(a, b)) / math.Sqrt(cov.of(a)*cov.of(b))
		}
		out.Related = append(out.Related, row)
	}
	return out, nil
}

// gapsApart is how far two sets of gaps are from each other [m].
func gapsApart(a, b *[4]float64) float64 {
	most := 0.0
	for i := range a {
		most = math.Max(most, math.Abs(a[i]-b[i]))
	}
	return most
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
		// A stop that the log does not show stays as entered, unless the log speaks against it there: then it is out of
		// reach, and no more is said of it.
		if seen[i] = in >= leastStroke && free-least > stopSeen; !seen[i] && s.gapCost(i, 0)-least < stopSeen {
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
	costs := make([]float64, len(s.pieces))
	s.eachPiece(func(k int, p *piece) {
		m := s.held[k]
		m.force[i] = p.forces(&s.legs, &at, i)
		r := p.recover(&g, &m)
		costs[k] = costOf(p.residuals(&r, &at))
	})
	sum := 0.0
	for _, c := range costs {
		sum += c
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
