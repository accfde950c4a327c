package remedy

import (
	"context"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// Judged judges changes of one build that somebody else makes, as remedies are.
type Judged struct{ r *review }

// JudgeOf makes ready the judge of a build's changes; nil where the build has no rest.
func JudgeOf(ctx context.Context, a *study.Answer, build string) (*Judged, error) {
	r, err := reviewOf(ctx, a, build, new(route.Laid))
	if r == nil || err != nil {
		return nil, err
	}
	return &Judged{r}, nil
}

// Breaks are the findings that a changed build makes worse, in every load state, in
// corners and over the brief's obstacles, hardest first; ok is false where the car
// has no rest with it.
func (j *Judged) Breaks(ctx context.Context, made *car.Build) (list []finding.Break, ok bool, err error) {
	t, err := j.r.try(ctx, made, tryDraws, false)
	if t == nil || err != nil {
		return nil, false, err
	}
	return j.r.breaks(t.look), true, nil
}
