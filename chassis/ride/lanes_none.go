//go:build !(goexperiment.simd && amd64)

package ride

import "context"

func mostLanes() Lanes { return Alone }

func inLanes(_ context.Context, _ Lanes, models []*Model, _ []Run, _ []*Result, _ []error) (alone []int) {
	for k := range models {
		alone = append(alone, k)
	}
	return alone
}
