package ride

import (
	"context"
	"errors"
	"math"
)

// Halvings that SimulateChecked takes at most after its first pair, and the change it accepts where none is given.
const (
	mostHalvings     = 3
	defaultTolerance = 0.005 // [-]
)

// SimulateChecked runs at the step asked for (or the engine's own) and at half of it, and reports how far the results
// move. Where one moves by more than tolerance [-] (0 means 0.5 %) the step is halved again, at most three times; what
// still moves then carries a warning. Where the run has a Finer course, the halved steps drive that. A run that diverges counts as one that moves. res holds the run with the shortest
// step; the listener of the run hears that one only.
func (m *Model) SimulateChecked(ctx context.Context, run Run, tolerance float64, res *Result) error {
	if !(tolerance > 0) {
		tolerance = defaultTolerance
	}
	if err := m.check(&run, func(WarningCode, int, float64) {}); err != nil {
		return err
	}
	if c := run.Course; c != nil && run.Step < 2*c.step*(1-1e-9) {
		return &InputError{[]Fault{{"Course", c.step, "is sampled too coarsely for a check at half the step"}}}
	}
	listener := run.Each
	run.Each = run.Glance
	if res.coarse == nil {
		res.coarse = new(Result)
	}
	coarse := res.coarse
	before := m.Simulate(ctx, run, coarse)
	run.Each = nil
	if run.Finer != nil {
		run.Course = run.Finer
	}
	for halvings := 0; ; halvings++ {
		if before != nil && !diverged(before) {
			return before
		}
		run.Step /= 2
		run.Every *= 2
		now := m.Simulate(ctx, run, res)
		if now != nil && !diverged(now) {
			return now
		}
		c := Check{Floor: 1, Load: 1, Travel: 1, Force: 1}
		if before == nil && now == nil {
			c = compare(coarse, res)
		}
		c.Coarse, c.Halvings = 2*run.Step, halvings
		finer := run.Step/2 >= shortestStep && (run.Course == nil || run.Step/2 >= run.Course.step*(1-1e-9))
		if c.Worst() > tolerance && halvings < mostHalvings && finer {
			before = now
			exchange(res, coarse)
			continue
		}
		if now == nil && listener != nil {
			run.Each = listener
			now = m.Simulate(ctx, run, res)
		}
		if now != nil {
			return now
		}
		res.Check = c
		if c.Worst() > tolerance {
			res.Warnings = append(res.Warnings, Warning{StepNotSettled, -1, c.Worst()})
		}
		return nil
	}
}

// exchange swaps two results but leaves the spare one where it hangs.
func exchange(a, b *Result) {
	spare := a.coarse
	*a, *b = *b, *a
	a.coarse, b.coarse = spare, nil
}

func diverged(err error) bool {
	var d *DivergedError
	return errors.As(err, &d)
}

// compare returns the shares by which a finer run differs from a coarser one.
func compare(coarse, fine *Result) (c Check) {
	share := func(worst *float64, a, b, scale float64) {
		if scale > 0 {
			*worst = math.Max(*worst, math.Abs(a-b)/scale)
		}
	}
	for k := range fine.Floor {
		b := fine.Floor[k].Comfort.RMS
		share(&c.Floor, coarse.Floor[k].Comfort.RMS, b, b)
	}
	for i := range fine.Corners {
		a, b := &coarse.Corners[i], &fine.Corners[i]
		share(&c.Load, a.LoadDeviation, b.LoadDeviation, b.LoadDeviation)
		used := b.TravelMax - b.TravelMin
		share(&c.Travel, a.TravelMax, b.TravelMax, used)
		share(&c.Travel, a.TravelMin, b.TravelMin, used)
		share(&c.Force, a.ForceMax, b.ForceMax, b.ForceMax)
	}
	return c
}
