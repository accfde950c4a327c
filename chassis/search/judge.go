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
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// together is how many candidates are driven side by side: as many as the lanes hold in
// 32 bits. What a build is worth does not hang on it beyond the step, which is that of the
// one that needs the shortest.
const together = 8

// How long roads are driven for a first and a second judgement [s]: chosen. The first
// tells builds apart on the same metres, the second is as long as a sample of an
// assessment.
const (
	shortDrive = 6.0
	longDrive  = 17.0
	runIn      = 2.0
)

// judge puts candidates through every rule: at rest and in corners, then over the brief
// for a short time, then the best of them for long.
func (s *seeker) judge(ctx context.Context, list []candidate, out *Found) ([]candidate, error) {
	tick := s.ticker(InTime, len(list)+min(len(list), s.opt.Driven)+min(len(list), s.opt.Longer))
	stood := make([]candidate, len(list))
	copy(stood, list)
	err := spread.Each(ctx, len(stood), s.opt.Workers, func(_, k int) {
		s.corner(ctx, &stood[k])
		tick(1)
	})
	if err != nil {
		return nil, err
	}
	best := s.best(stood, s.opt.Driven)
	for _, stage := range []struct {
		name     string
		duration float64
		on       int
	}{{InTime, shortDrive, s.opt.Longer}, {Longer, longDrive, s.opt.Finalists}} {
		screened := make([]Figures, len(best))
		for k := range best {
			screened[k] = best[k].figures
		}
		batches := (len(best) + together - 1) / together
		errs := make([]error, batches)
		err := spread.Each(ctx, batches, s.opt.Workers, func(_, k int) {
			part := best[k*together : min((k+1)*together, len(best))]
			errs[k] = s.drive(ctx, part, stage.duration)
			tick(len(part))
		})
		if err := first(errs, err); err != nil {
			return nil, err
		}
		holds := 0
		for k := range best {
			if len(best[k].short) == 0 && !best[k].dead {
				holds++
			}
			if stage.name == InTime && !best[k].dead {
				out.Screened = append(out.Screened, Pair{screened[k], best[k].figures})
			}
		}
		out.Steps = append(out.Steps, Step{Name: stage.name, Tried: float64(len(best)), Looked: len(best), Hold: float64(holds), On: min(stage.on, len(best))})
		if stage.name == Longer {
			break
		}
		best = s.best(best, stage.on)
	}
	return s.best(best, len(best)), nil
}

func (s *seeker) best(list []candidate, n int) []candidate {
	var out []candidate
	for _, k := range choose(s.items(list), n) {
		out = append(out, list[k])
	}
	return out
}

// corner judges a candidate at rest in every load state, and in corners.
func (s *seeker) corner(ctx context.Context, c *candidate) {
	m := s.bench.make(found, c.choice)
	got, err := s.a.AgainEach(ctx, []*car.Build{m.build}, s.space.Build, s.a.Job.Loads, !s.a.Options.NoCorners)
	if err != nil || len(got.Failures) > 0 {
		c.dead = true
		return
	}
	c.short = s.must.shorts(finding.Every(got, s.a, found, s.bands.Of))
	c.short = append(c.short, s.must.beside(s.stances(got, found), m.thread, m.price)...)
}

func (s *seeker) stances(got *study.Answer, build string) (h [2]float64) {
	for axle := range h {
		h[axle] = stance(got, s.a, build, axle)
	}
	return h
}

// drive drives candidates over the brief and judges what is judged there.
func (s *seeker) drive(ctx context.Context, list []candidate, duration float64) error {
	builds := make([]*car.Build, len(list))
	for k := range list {
		builds[k] = s.bench.make(fmt.Sprintf("%s-%d", found, k+1), list[k].choice).build
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
		c := &list[k]
		id := builds[k].ID
		f := driven(got, id, false)
		if math.IsNaN(f[Comfort]) {
			c.dead = true
			continue
		}
		for _, aim := range []int{Comfort, Control, Grip} {
			// Without an obstacle behind which it swings the spectrum's estimate stays.
			if !math.IsNaN(f[aim]) {
				c.figures[aim] = f[aim]
			}
		}
		var moving []finding.Finding
		for _, x := range finding.Every(got, s.a, id, s.bands.Of) {
			if x.Value.Tier == figure.Time {
				moving = append(moving, x)
			}
		}
		still := c.short[:0:0]
		for i := range c.short {
			if !c.short[i].moving {
				still = append(still, c.short[i])
			}
		}
		more := s.moving.shorts(moving)
		for i := range more {
			more[i].moving = true
		}
		c.short = append(still, more...)
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
