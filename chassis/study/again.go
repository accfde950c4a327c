package study

import (
	"context"
	"fmt"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
)

// Again answers for one changed build with the draws of an earlier answer, so
// that the difference is the change and nothing else. changed must be a copy
// that shares the inputs it does not change. Only the load states named are
// looked at; workings, curves and modes are left out.
//
// It reads the earlier answer and writes nothing to it: several may run at
// once.
func (a *Answer) Again(ctx context.Context, changed *car.Build, loads []car.Load, draws int) (*Answer, error) {
	return a.again(ctx, []*car.Build{changed}, nil, loads, draws, false)
}

// AgainInCorners answers as Again does, and takes the changed build round corners
// too.
func (a *Answer) AgainInCorners(ctx context.Context, changed *car.Build, loads []car.Load, draws int) (*Answer, error) {
	return a.again(ctx, []*car.Build{changed}, nil, loads, draws, true)
}

// AgainEach answers as Again does for several builds, without draws, with corners where
// they are asked for. What they have in common with the build like, one of the answer's,
// is taken over from it.
func (a *Answer) AgainEach(ctx context.Context, changed []*car.Build, like string, loads []car.Load, corners bool) (*Answer, error) {
	if a.ready == nil {
		return a.again(ctx, changed, nil, loads, 0, corners)
	}
	return a.again(ctx, changed, a.ready.design(like), loads, 0, corners)
}

func (a *Answer) again(ctx context.Context, changed []*car.Build, like *corner.Design, loads []car.Load, draws int, corners bool) (*Answer, error) {
	designs := make([]*corner.Design, len(changed))
	for k, b := range changed {
		var err error
		if like != nil {
			designs[k], err = like.Changed(b)
		} else {
			designs[k], err = corner.NewDesign(a.Job.Car, b)
		}
		if err != nil {
			return nil, err
		}
	}
	if a.ready == nil {
		return nil, fmt.Errorf("study: an answer that was not computed here cannot be changed")
	}
	s := *a.ready
	s.again = true
	s.earlier, s.kept = nil, nil
	s.job.Builds, s.job.Loads = changed, loads
	s.designs = designs
	s.opt.NoWorkings, s.opt.NoModes, s.opt.NoCorners, s.opt.Workers = true, true, !corners, 1
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	again := &Answer{Options: s.opt, Job: s.job, Reference: a.Reference}
	again.Cases = s.solveAll(&base, again)
	if a.columns != nil {
		var err error
		if again.columns, err = s.sampleWith(ctx, again.Cases, a.columns.table.First(draws)); err != nil {
			return nil, err
		}
	}
	again.ready = &s
	s.report(again, &base)
	again.makeIndex()
	return again, nil
}

// Rests are where a changed build rests in some load states, by their places in the job,
// and nothing more: for an estimate of thousands. What it has in common with the build
// like is taken over.
func (a *Answer) Rests(changed *car.Build, like string, loads []int) ([]Case, error) {
	if a.ready == nil {
		return nil, ErrNoCase
	}
	from := a.ready.design(like)
	if from == nil {
		return nil, ErrNoCase
	}
	ds, err := from.Changed(changed)
	if err != nil {
		return nil, err
	}
	base := equilibrium.Calibrate(a.ready.fitted, a.ready.hangup, nil)
	sys, err := equilibrium.NewSystem(ds, &base, a.ready.hangup, nil)
	if err != nil {
		return nil, err
	}
	out := make([]Case, len(loads))
	for k, l := range loads {
		out[k].System = sys
		if out[k].State, err = out[k].System.Solve(equilibrium.Of(a.Job.Loads[l].Items, nil), nil); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// design is that of a build of the job; nil where there is none of that id.
func (s *setup) design(build string) *corner.Design {
	for _, ds := range s.designs {
		if ds.Build.ID == build {
			return ds
		}
	}
	return nil
}
