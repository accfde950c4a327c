package search

import (
	"context"
	"math"
)

// judge puts candidates through every rule: at rest and in corners, then over the brief
// for a short time, then the best of them for long.
func (s *seeker) judge(ctx context.Context, list []candidate, out *Found) ([]candidate, error) {
	tick := s.ticker(InTime, len(list)+min(len(list), s.opt.Driven)+min(len(list), s.opt.Longer))
	stood := make([]candidate, len(list))
	copy(stood, list)
	worth, err := s.worths(ctx, InCorners, -1, chosen(stood), tick)
	if err != nil {
		return nil, err
	}
	for k := range worth {
		stood[k].short, stood[k].dead = worth[k].Short, worth[k].Dead
	}
	best := s.best(stood, s.opt.Driven)
	for _, stage := range []struct {
		name string
		on   int
	}{{InTime, s.opt.Longer}, {Longer, s.opt.Finalists}} {
		screened := make([]Figures, len(best))
		for k := range best {
			screened[k] = best[k].figures
		}
		worth, err := s.worths(ctx, stage.name, -1, chosen(best), tick)
		if err != nil {
			return nil, err
		}
		for k := range worth {
			best[k].driven(&worth[k])
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

// driven takes over what a candidate was found to be when it was driven.
func (c *candidate) driven(w *Worth) {
	if w.Dead {
		c.dead = true
		return
	}
	for _, aim := range []int{Comfort, Control, Grip} {
		// Without an obstacle behind which it swings the spectrum's estimate stays.
		if !math.IsNaN(w.Figures[aim]) {
			c.figures[aim] = w.Figures[aim]
		}
	}
	still := c.short[:0:0]
	for i := range c.short {
		if !c.short[i].moving {
			still = append(still, c.short[i])
		}
	}
	for i := range w.Short {
		one := w.Short[i]
		one.moving = true
		still = append(still, one)
	}
	c.short = still
}
