package search

import (
	"context"

	"trunnion/chassis/study"
)

// Find searches. It reads the answer, which has to have been driven, and writes nothing to
// it. tell may be nil; it is called from several goroutines.
func Find(ctx context.Context, a *study.Answer, space Space, must Must, opt Options, tell func(Progress)) (*Found, error) {
	return FindBy(ctx, nil, a, space, must, opt, tell)
}

// FindBy searches as Find does and has the parts of its steps computed by a crew; without
// one they are computed here. The answer is the same, bit for bit, whoever computes, how
// many they are, and in which order results come.
func FindBy(ctx context.Context, crew Crew, a *study.Answer, space Space, must Must, opt Options, tell func(Progress)) (*Found, error) {
	s, err := newSeeker(a, &space, &must, opt, tell)
	if err != nil {
		return nil, err
	}
	s.crew = crew
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
	out.Aside = s.aside
	return out, nil
}
