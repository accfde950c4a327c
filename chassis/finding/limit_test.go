package finding

import (
	"context"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// A brake hose that goes tight before the damper is open is the gravest thing
// about travel.
func TestHoseBeforeDamperOpens(t *testing.T) {
	d := demo.Marl()
	d.Car.Axle[1].Limits = append(d.Car.Axle[1].Limits, car.Limit{
		Name: "hose", Droop: true,
		Travel: figure.Input{Value: -0.080, Half: 0.003, Shape: figure.Normal95, Origin: figure.Measured, Path: "car.rear.limits.hose"},
	})
	opt := study.Defaults()
	opt.Samples = 200
	a, err := study.Run(context.Background(), study.Job(d), opt)
	if err != nil {
		t.Fatal(err)
	}
	list := judged(t, a)
	// Open travel at the rear: arrived about −97 mm, kit about −43 mm.
	old := at(list, "limit-met-first", "arrived", 1)
	if old == nil || old.Verdict != Over {
		t.Fatalf("the hose at −80 mm is met before the damper opens at −97 mm, yet: %+v", old)
	}
	if kit := at(list, "limit-met-first", "kit", 1); kit == nil || kit.Verdict != Clear {
		t.Errorf("the kit's damper is open at −43 mm, before the hose: %+v", kit)
	}
	if v := old.Value.Working; v == nil {
		t.Error("no working")
	} else if got, err := v.Evaluate(); err != nil || got != v.Result {
		t.Errorf("the working gives %v, %v", got, err)
	}
}
