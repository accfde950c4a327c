package search

import (
	"context"

	"trunnion/chassis/study"
)

// Find searches. It reads the answer, which has to have been driven, and writes nothing to
// it. tell may be nil; it is called from several goroutines.
func Find(ctx context.Context, a *study.Answer, space Space, must Must, opt Options, tell func(Progress)) (*Found, error) {
	s, err := newSeeker(a, &space, &must, opt, tell)
	if err != nil {
		return nil, err
	}
	out := &Found{Space: space, Sought: s.sought, NoHump: !swung(a)}
	stand, kept, err := s.axles(ctx, out)
	if err != nil {
		return nil, err
	}
	pairs, err := s.pairs(ctx, stand, kept, out)
	if err != nil {
		return nil, err
	}
	judged, err := s.judge(ctx, pairs, out)
	if err != nil {
		return nil, err
	}
	if err := s.finish(ctx, judged, out); err != nil {
		return nil, err
	}
	return out, nil
}
