package ride

import (
	"context"
	"math"
)

// SimulateChecked runs at the step asked for (or the engine's own) and at half of it, and reports how far the results
// move. Where one moves by more than tolerance [-] the step is halved again, at most three times; what still moves then
// carries a warning. res holds the run with the shortest step.
func (m *Model) SimulateChecked(ctx context.Context, run Run, tolerance float64, res *Result) error {
	if !(tolerance > 0) {
		tolerance = 0.005
	}
	each, every := run.Each, max(run.Every, 1)
	run.Each = nil
	if run.Step == 0 {
		probe := run
		if err := m.check(&probe, func(WarningCode, int, float64) {}); err != nil {
			return err
		}
		run.Step = probe.Step
		if c := run.Course; c != nil && run.Step < 2*c.step*(1-1e-9) {
			return &InputError{[]Fault{{"Course", c.step, "is sampled too coarsely for a check at half the step"}}}
		}
	}
	var coarse Result
	err := m.Simulate(ctx, run, &coarse)
	if err != nil && !isDiverged(err) {
		return err
	}
	for halvings := 0; ; halvings++ {
		run.Step /= 2
		every *= 2
		run.Each, run.Every = each, every
		if each != nil {
			run.Each = nil
		}
		failed := err
		if err = m.Simulate(ctx, run, res); err != nil && (!isDiverged(err) || halvings >= 3) {
			return err
		}
		c := Check{Coarse: 2 * run.Step, Halvings: halvings, Floor: 1, Load: 1, Travel: 1, Force: 1}
		if failed == nil && err == nil {
			compare(&coarse, res, &c)
		}
		tight := c.Worst() <= tolerance
		finer := run.Step/2 >= shortestStep && (run.Course == nil || run.Step/2 >= run.Course.step*(1-1e-9))
		if tight || halvings >= 3 || !finer {
			if err != nil {
				return err
			}
			if each != nil {
				// The listener hears one run only, the one that counts.
				run.Each = each
				if err := m.Simulate(ctx, run, res); err != nil {
					return err
				}
			}
			res.Check = c
			if !tight {
				res.Warnings = append(res.Warnings, Warning{StepNotSettled, -1, c.Worst()})
			}
			return nil
		}
		if err == nil {
			coarse, *res = *res, coarse
		}
	}
}

func isDiverged(err error) bool {
	_, ok := err.(*DivergedError)
	return ok
}

// compare fills the shares by which a finer run differs from a coarser one.
func compare(coarse, fine *Result, c *Check) {
	*c = Check{Coarse: c.Coarse, Halvings: c.Halvings}
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
}
