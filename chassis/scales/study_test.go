package scales_test

import (
	"context"
	"testing"

	"trunnion/chassis/scales"
	"trunnion/chassis/spread"
)

// onTwo runs the cars on two workers.
func onTwo(ctx context.Context, n int, do func(int)) error {
	return spread.Each(ctx, n, 2, func(_, k int) { do(k) })
}

func onOne(ctx context.Context, n int, do func(int)) error {
	return spread.Each(ctx, n, 1, func(_, k int) { do(k) })
}

// A small sample of the published study: most cars stand inside after two
// rounds, more than by the habit, and the workers change nothing.
func TestStudy(t *testing.T) {
	trial := scales.Trials()
	trial.Cars = 120
	got, err := scales.Study(t.Context(), trial, onTwo)
	if err != nil {
		t.Fatal(err)
	}
	again, err := scales.Study(t.Context(), trial, onOne)
	if err != nil {
		t.Fatal(err)
	}
	if got != again {
		t.Errorf("two workers tally %+v, one %+v", got, again)
	}
	if got.Failed > 0 || got.Cars != trial.Cars {
		t.Errorf("%d of %d cars found no rest", got.Failed, trial.Cars)
	}
	if got.AtStart > got.Cars/10 {
		t.Errorf("%d of %d cars stand inside before anything is turned: the trial asks for nothing", got.AtStart, got.Cars)
	}
	// 60 cars of 120 would be chance of a coin; what is published is over 95 %.
	if got.After[0] < 108 || got.After[1] < 110 || got.After[1] <= got.Habit || got.Reachable < got.After[1] {
		t.Errorf("inside: %d after one round, %d after two, %d by the habit, %d within reach; of %d", got.After[0], got.After[1], got.Habit, got.Reachable, got.Cars)
	}
	t.Logf("%+v", got)
}

func BenchmarkStudyOfThousand(b *testing.B) {
	for b.Loop() {
		if _, err := scales.Study(b.Context(), scales.Trials(), onTwo); err != nil {
			b.Fatal(err)
		}
	}
}
