//go:build goexperiment.simd && amd64

package ride

import (
	"context"
	"math"
	"simd/archsimd"
)

// laneSteps is how many steps are taken before the metrics look at them: half of what one car alone takes, as four times
// as much has to stay in the first cache.
const laneSteps = blockSteps / 2

var widest = func() Lanes {
	if archsimd.X86.AVX2() && archsimd.X86.FMA() {
		return Eight
	}
	return Alone
}()

func mostLanes() Lanes { return widest }

// kind is what the cars of one group have in common.
type kind struct {
	steps, skip     int
	step            float64
	event           bool
	mounted         [4]bool
	points, bounds  int
	speed, duration float64
}

// inLanes drives what can be driven side by side and returns the rest.
func inLanes(ctx context.Context, lanes Lanes, models []*Model, runs []Run, results []*Result, errs []error) (alone []int) {
	groups := map[kind][]int{}
	var order []kind
	checked := make([]Run, len(models))
	for k, m := range models {
		run := runs[k]
		if run.Each != nil || run.HeaveSpeed != 0 || m.damped {
			alone = append(alone, k)
			continue
		}
		res := results[k]
		res.Warnings, res.Check = append(res.Warnings[:0], m.warnings...), Check{}
		if err := m.check(&run, func(code WarningCode, corner int, v float64) {
			res.Warnings = append(res.Warnings, Warning{code, corner, v})
		}); err != nil {
			errs[k] = err
			continue
		}
		of := kind{step: run.Step, event: run.Event, points: len(m.px), bounds: len(run.DamperBounds)}
		of.steps, of.skip = int(math.Round(run.Duration/run.Step)), int(math.Round(run.Settle/run.Step))
		for i := range of.mounted {
			of.mounted[i] = m.corner[i].mount > 0
		}
		if groups[of] == nil {
			order = append(order, of)
		}
		checked[k] = run
		groups[of] = append(groups[of], k)
	}
	for _, of := range order {
		list := groups[of]
		for len(list) > 0 {
			n := int(lanes)
			if lanes == Eight && len(list) <= 4 {
				n = 4
			}
			if len(list) == 1 {
				alone = append(alone, list[0])
				break
			}
			now := list[:min(n, len(list))]
			list = list[len(now):]
			if n == 8 {
				alone = append(alone, drive8(ctx, of, now, models, checked, results, errs)...)
			} else {
				alone = append(alone, drive4(ctx, of, now, models, checked, results, errs)...)
			}
		}
	}
	return alone
}
