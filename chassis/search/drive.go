package search

import (
	"context"
	"fmt"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// How long roads are driven for a first and a second judgement [s]: chosen. The first
// tells builds apart on the same metres, the second is as long as a sample of an
// assessment.
const (
	shortDrive = 6.0
	longDrive  = 17.0
	runIn      = 2.0
)

// corner judges a choice at rest in every load state, and in corners.
func (s *seeker) corner(ctx context.Context, choice [2]int) (w Worth) {
	m := s.bench.make(found, choice)
	got, err := s.a.AgainEach(ctx, []*car.Build{m.build}, s.space.Build, s.a.Job.Loads, !s.a.Options.NoCorners)
	if err != nil || len(got.Failures) > 0 {
		w.Dead = true
		return w
	}
	w.Short = s.must.shorts(finding.Every(got, s.a, found, s.bands.Of))
	w.Short = append(w.Short, s.must.beside(s.stances(got, found), m.thread, m.price)...)
	return w
}

func (s *seeker) stances(got *study.Answer, build string) (h [2]float64) {
	for axle := range h {
		h[axle] = stance(got, s.a, build, axle)
	}
	return h
}

// drive drives choices over the brief, side by side, and judges what is judged there.
func (s *seeker) drive(ctx context.Context, list [][2]int, duration float64, out []Worth) error {
	builds := make([]*car.Build, len(list))
	for k := range list {
		builds[k] = s.bench.make(fmt.Sprintf("%s-%d", found, k+1), list[k]).build
	}
	got, err := s.a.AgainEach(ctx, builds, s.space.Build, s.a.Job.Loads, false)
	if err != nil {
		return err
	}
	opt := drives.OptionsOf(s.a)
	opt.Samples, opt.Duration, opt.Settle, opt.Unchecked, opt.Mounts, opt.Draws, opt.Seed, opt.Lanes = 1, duration, runIn, true, false, 0, s.opt.Seed, s.opt.Lanes
	if opt.Only, err = s.places(); err != nil {
		return err
	}
	if err := drives.RideLaid(ctx, got, opt, s.laid, nil); err != nil {
		return err
	}
	for k := range list {
		id := builds[k].ID
		out[k].Figures = driven(got, id, false)
		if math.IsNaN(out[k].Figures[Comfort]) {
			out[k].Dead = true
			continue
		}
		var moving []finding.Finding
		for _, x := range finding.Every(got, s.a, id, s.bands.Of) {
			if x.Value.Tier == figure.Time {
				moving = append(moving, x)
			}
		}
		out[k].Short = s.moving.shorts(moving)
	}
	return nil
}

// places are all that the brief drives.
func (s *seeker) places() ([]figure.Place, error) {
	var out []figure.Place
	for i := range s.roads {
		r := &s.roads[i].road
		out = append(out, figure.Place{Load: s.a.Job.Loads[r.Load].ID, Road: r.Name, Speed: r.Speed, Corner: figure.NoCorner})
	}
	events, err := route.Obstacles(&s.a.Job, nil)
	for i := range events {
		e := &events[i]
		out = append(out, figure.Place{Load: s.a.Job.Loads[e.Load].ID, Event: e.Name, Speed: e.Speed, Corner: figure.NoCorner})
	}
	return out, err
}
