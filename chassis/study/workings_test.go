package study

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// A helper adds to the length of the stack and is no movement of the platform; and
// the working closes without it.
func TestHelperIsNoPlatform(t *testing.T) {
	job := Job(demo.Marl())
	in := func(v float64) figure.Input {
		return figure.Input{Value: v, Origin: figure.Measured, Path: "parts.springs.tender"}
	}
	helper := &car.SpringSpec{ID: "tender", Rate: in(9e3), Free: in(0.060), Block: in(0.015)}
	kit := job.Builds[3]
	kit.Corner[2].Helper, kit.Corner[3].Helper = helper, helper
	solved := kit.Readings != nil
	for i := range 4 {
		kit.Setup.WantedHeight[i] = figure.Input{}
	}
	if solved {
		t.Fatal("the demo's kit has readings")
	}
	a := run(t, job, func(o *Options) { o.NoWorkings = false })
	v := value(t, a, "spring-gap-open", kit.ID, "driver", 2)
	gap, err := v.Working.Evaluate()
	if err != nil || math.Abs(gap-v.Value) > 1e-9 {
		t.Errorf("the working gives %g m (%v), the value is %g m", gap, err, v.Value)
	}
	seen := 0
	for _, term := range v.Working.Terms[2].Working.Terms {
		switch term.Symbol {
		case "p":
			seen++
			if want := kit.Setup.Platform[2].Value; term.Value != want {
				t.Errorf("the platform is raised by %g m in the working, by %g m in the job", term.Value, want)
			}
		case "h":
			seen++
			if term.Value != 0.060 {
				t.Errorf("the helper is %g m long in the working", term.Value)
			}
		}
	}
	if seen != 2 {
		t.Errorf("%d of platform and helper are in the working", seen)
	}
}

// A typed rate is not called computed.
func TestTypedRateIsTyped(t *testing.T) {
	a, err := Run(context.Background(), Job(demo.Marl()), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	v := value(t, a, "wheel-rate", "kit", "driver", 0)
	if k := &v.Working.Terms[0]; k.Symbol != "k" || k.Origin == figure.Computed {
		t.Errorf("the rate of the kit's front spring is %s", k.Origin)
	}
}
