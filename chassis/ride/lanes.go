package ride

import (
	"context"
	"errors"
)

// Most returns the most lanes that this program was built with and this processor can drive in; Alone where it cannot.
func Most() Lanes { return mostLanes() }

// SimulateEach drives cars side by side, each in its own run, as Simulate drives one. What cannot go in lanes goes alone:
// listeners, a start with a heave speed, tyres with damping, groups that differ in step, time or in what is mounted in
// rubber. The errors are those of each car.
func SimulateEach(ctx context.Context, lanes Lanes, models []*Model, runs []Run, results []*Result) []error {
	errs := make([]error, len(models))
	if len(runs) != len(models) || len(results) != len(models) {
		for k := range errs {
			errs[k] = errors.New("ride: as many runs and results are needed as models")
		}
		return errs
	}
	alone := make([]int, 0, len(models))
	if lanes > mostLanes() {
		lanes = mostLanes()
	}
	if lanes <= Alone {
		for k := range models {
			alone = append(alone, k)
		}
	} else {
		alone = inLanes(ctx, lanes, models, runs, results, errs)
	}
	for _, k := range alone {
		errs[k] = models[k].Simulate(ctx, runs[k], results[k])
	}
	return errs
}
