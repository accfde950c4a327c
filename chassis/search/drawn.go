package search

import (
	"context"
	"fmt"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// studied is the study of choices beside the job's own builds, before anything is driven.
func (s *seeker) studied(ctx context.Context, choices [][2]int, from int) (*study.Answer, error) {
	job := s.a.Job
	job.Stock = car.Stock{}
	job.Builds = slices.Clone(job.Builds)
	for k, c := range choices {
		job.Builds = append(job.Builds, s.last(from+k, c).build)
	}
	whole := figure.Copy(&job)
	opt := s.a.Options
	opt.Samples, opt.Seed, opt.Workers, opt.NoWorkings, opt.NoRemedies, opt.NoModes = s.opt.Draws, s.opt.Seed, s.opt.Workers, true, true, true
	return study.Run(ctx, *whole, opt)
}

// drawn is the study of choices, driven here.
func (s *seeker) drawn(ctx context.Context, choices [][2]int, from int) (*study.Answer, error) {
	s.tell(Progress{Drawn, 0, 1})
	got, err := s.studied(ctx, choices, from)
	if err != nil {
		return nil, err
	}
	ways := drives.Defaults()
	ways.Seed, ways.Lanes, ways.StopForces = s.opt.Seed, s.opt.Lanes, drives.OptionsOf(s.a).StopForces
	return got, drives.Ride(ctx, got, ways, func(done, total int) { s.tell(Progress{Drawn, done, total}) })
}

// last is one of the last builds, under the id that it keeps.
func (s *seeker) last(k int, choice [2]int) made {
	m := s.bench.make(s.id(k), choice)
	m.build.Name = ""
	return m
}

// id is what a build that was found is called; no build of the job is.
func (s *seeker) id(k int) string {
	for n := 0; ; n++ {
		id := fmt.Sprintf("%s-%d", found, k+1)
		if n > 0 {
			id += fmt.Sprintf("-%d", n)
		}
		if !slices.ContainsFunc(s.a.Job.Builds, func(b *car.Build) bool { return b.ID == id }) {
			return id
		}
	}
}
