package search

import (
	"context"
	"errors"
	"fmt"

	"trunnion/chassis/drives"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// Ready is a search made ready, so that its pieces can be computed.
type Ready struct{ s *seeker }

// NewReady makes a search ready of the same as [Find] was given.
func NewReady(a *study.Answer, space Space, must Must, opt Options) (*Ready, error) {
	s, err := newSeeker(a, &space, &must, opt, nil)
	if err != nil {
		return nil, err
	}
	return &Ready{s}, nil
}

// Compute computes a piece. Several may run at once.
func (r *Ready) Compute(ctx context.Context, p *Piece) (Result, error) {
	for _, c := range p.Choices {
		for axle := range 2 {
			if !r.s.space.Axle[axle].has(c[axle]) {
				return Result{}, fmt.Errorf("search: there is no choice %v", c)
			}
		}
	}
	if p.Step == Drawn {
		got, err := r.s.drawn(ctx, p.Choices, p.From)
		if err != nil {
			return Result{}, err
		}
		d := drives.Of(got)
		return Result{Driven: &d}, nil
	}
	worth, err := r.s.compute(ctx, p, func(int) {})
	return Result{Worth: worth}, err
}

// errStep is returned for a step that nobody knows.
var errStep = errors.New("search: there is no such step")

// compute computes a piece here; tick is told how many choices are done more.
func (s *seeker) compute(ctx context.Context, p *Piece, tick func(n int)) ([]Worth, error) {
	out := make([]Worth, len(p.Choices))
	errs := make([]error, len(p.Choices))
	at := 1 // choices at a time
	var do func(from, to int)
	switch p.Step {
	case AtRest:
		others := s.extremes(1 - p.Axle)
		do = func(k, _ int) {
			var st stood
			st, errs[k] = s.stand(ctx, p.Axle, p.Choices[k][p.Axle], others)
			out[k] = Worth{Short: st.short, Dead: st.dead}
		}
	case OverRoad, Spectrum:
		roads := s.roads
		if p.Step == OverRoad {
			roads = roads[:1]
		}
		do = func(k, _ int) { out[k] = s.screen(p.Choices[k], roads) }
	case InCorners:
		do = func(k, _ int) { out[k] = s.corner(ctx, p.Choices[k]) }
	case InTime, Longer:
		at = together
		duration := shortDrive
		if p.Step == Longer {
			duration = longDrive
		}
		do = func(from, to int) { errs[from] = s.drive(ctx, p.Choices[from:to], duration, out[from:to]) }
	default:
		return nil, errStep
	}
	n := len(p.Choices)
	err := spread.Each(ctx, (n+at-1)/at, s.opt.Workers, func(_, k int) {
		from, to := k*at, min((k+1)*at, n)
		do(from, to)
		tick(to - from)
	})
	return out, first(errs, err)
}

// worths are what choices are worth in a step, by whoever computes them; what was set
// aside is as good as a car without rest, and is said.
func (s *seeker) worths(ctx context.Context, step string, axle int, choices [][2]int, tick func(n int)) ([]Worth, error) {
	if s.crew == nil || len(choices) == 0 {
		return s.compute(ctx, &Piece{Step: step, Axle: axle, Choices: choices}, tick)
	}
	pieces := cut(step, axle, choices)
	results, err := s.crew.Compute(ctx, pieces, func(k int) { tick(len(pieces[k].Choices)) })
	if err != nil {
		return nil, err
	}
	out := make([]Worth, 0, len(choices))
	for k := range pieces {
		n := len(pieces[k].Choices)
		switch r := &results[k]; {
		case r.Aside != "":
			s.aside = append(s.aside, Aside{step, n, r.Aside})
			for range n {
				out = append(out, Worth{Dead: true})
			}
		case len(r.Worth) != n:
			return nil, fmt.Errorf("search: a piece of %d choices came back with %d", n, len(r.Worth))
		default:
			out = append(out, r.Worth...)
		}
	}
	return out, nil
}
