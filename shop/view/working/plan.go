package working

import (
	"context"

	"trunnion/chassis/remedy"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Plan is the plan of a build, ready to be taken over as a build of its own.
type Plan struct {
	Build  string         `json:"build"`
	TooLow []string       `json:"tooLow" doc:"where the build is too low for the car"`
	NotFor string         `json:"notFor" doc:"that these parts are not for this car; empty where they are"`
	Told   string         `json:"told" doc:"why there are no steps; empty where there are some"`
	Steps  []string       `json:"steps"`
	Lines  []string       `json:"lines" doc:"what it breaks, leaves and clears, heights and work"`
	Edits  []jobfile.Edit `json:"edits" doc:"that make a build of its own of it"`
}

// PlanOf makes the plan of a build of a trial; nil where the build has no rest.
func PlanOf(ctx context.Context, t *view.Trial, build string) (*Plan, error) {
	out := &Plan{Build: build, TooLow: []string{}, Steps: []string{}, Lines: []string{}, Edits: []jobfile.Edit{}}
	if t.Answer == nil {
		return out, nil
	}
	p, err := remedy.For(ctx, t.Answer, build)
	if p == nil || err != nil {
		return out, err
	}
	s := t.Teller.Plan(p)
	out.NotFor, out.Told, out.Edits = s.NotFor, s.Told, t.PlanEdits(p)
	out.TooLow, out.Steps, out.Lines = view.Listed(s.TooLow), view.Listed(s.Steps), view.Listed(s.Lines())
	return out, nil
}
