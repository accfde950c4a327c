package study

import (
	"context"
	"fmt"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// prepare makes a job ready.
func prepare(job Job, opt Options) (*setup, error) {
	if job.Car == nil || len(job.Builds) == 0 || len(job.Loads) == 0 {
		return nil, ErrNothing
	}
	s := &setup{job: job, opt: opt, hangup: equilibrium.NewHangup(), givens: &givens{}}
	for _, b := range job.Builds {
		ds, err := corner.NewDesign(job.Car, b)
		if err != nil {
			return nil, err
		}
		s.designs = append(s.designs, ds)
		if b.ID == job.Car.Weighed.Build {
			s.fitted = ds
		}
	}
	if s.fitted == nil {
		return nil, fmt.Errorf("study: the build that was weighed, %q, is not among the builds", job.Car.Weighed.Build)
	}
	s.banded = figure.Number(&everything{s.hangup, job.Car, job.Builds, job.Loads}, car.Twins(job.Builds))
	s.bends, s.speeds = bendsOf(job.Car, opt.Samples, opt.Seed, opt.Workers), s.speedsOf()
	s.paths = pathsOf(job.Car)
	if s.others = s.otherTyres(); s.others {
		s.tops = topsOf(job.Car)
	}
	s.brakeShare = SupportOf(job.Car, car.Front).BrakeShare
	return s, nil
}

// Run answers the job. It numbers the job's inputs for its draws, so one job serves
// one study at a time.
func Run(ctx context.Context, job Job, opt Options) (*Answer, error) {
	return Rerun(ctx, nil, job, opt)
}

// Rerun answers the job as Run does, to the bit, and takes over from an earlier
// answer what the job has not changed: a build whose parts, car, loads and
// draws are the same. The earlier answer may be nil, and is only read.
func Rerun(ctx context.Context, earlier *Answer, job Job, opt Options) (*Answer, error) {
	s, err := prepare(job, opt)
	if err != nil {
		return nil, err
	}
	s.keep(earlier)
	a := &Answer{Options: opt, Job: job}
	if job.Brief != nil {
		a.Reference = job.Brief.Reference
	}
	if a.Reference == "" {
		a.Reference = job.Car.Weighed.Build
	}
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	a.Cases = s.solveAll(&base, a)
	cols, err := s.sample(ctx, a.Cases)
	if err != nil {
		return nil, err
	}
	a.ready, a.columns = s, cols
	s.report(a, &base)
	a.makeIndex()
	return a, nil
}

// solveAll finds the nominal rest of every build in every load state.
func (s *setup) solveAll(base *equilibrium.Baseline, a *Answer) [][]Case {
	cases := make([][]Case, len(s.designs))
	for b, ds := range s.designs {
		cases[b] = make([]Case, len(s.job.Loads))
		sys, err := equilibrium.NewSystem(ds, base, s.hangup, nil)
		for l := range s.job.Loads {
			c := &cases[b][l]
			c.System, c.Err = sys, err
			if err == nil {
				c.State, c.Err = c.System.Solve(equilibrium.Of(s.job.Loads[l].Items, nil), nil)
			}
			if c.Err != nil {
				a.Failures = append(a.Failures, Failure{Build: ds.Build.ID, Load: s.job.Loads[l].ID, Err: c.Err})
			}
		}
	}
	return cases
}
