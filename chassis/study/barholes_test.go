package study

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// holed is the demo with an adjustable front bar.
func holed(t *testing.T, kit string) *Answer {
	t.Helper()
	job := Job(demo.Marl())
	ax := &job.Car.Axle[car.Front]
	arm := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Measured} }
	ax.Hole, ax.Bar.Arm = "outer", arm(0.24)
	ax.Holes = []car.BarHole{{ID: "outer"}, {ID: "middle", Arm: arm(0.22)}, {ID: "inner", Arm: arm(0.2)}}
	for _, b := range job.Builds {
		if b.ID == "kit" {
			b.Setup.BarHole[car.Front] = kit
		}
	}
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 0, true, true
	a, err := Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// A shorter arm is stiffer by its square, the axle takes more of what is moved
// across, and a build that hangs in a hole has the figures that the table of
// holes gave.
func TestBarHoles(t *testing.T) {
	a := holed(t, "")
	holes, err := a.BarHoles("kit", "driver", car.Front)
	if err != nil || len(holes) != 3 {
		t.Fatal(holes, err)
	}
	first := holes[0]
	for k, arm := range []float64{0.24, 0.22, 0.20} {
		h := holes[k]
		if h.Err != nil {
			t.Fatal(h.Err)
		}
		if want := first.Rate * (0.24 * 0.24) / (arm * arm); math.Abs(h.Rate-want) > 1e-9*want {
			t.Errorf("%s: %.3f N/m, by the arms %.3f", h.ID, h.Rate, want)
		}
		if h.Used != (h.ID == "outer") {
			t.Errorf("%s is in use: %v", h.ID, h.Used)
		}
		if k == 0 {
			continue
		}
		was := holes[k-1]
		if !(h.BarShare > was.BarShare && h.FrontRoll > was.FrontRoll && h.FrontTransfer > was.FrontTransfer && h.Gradient < was.Gradient && h.Understeer > was.Understeer) {
			t.Errorf("%s against %s: %+v, %+v", h.ID, was.ID, h, was)
		}
	}
	if v := a.Get("roll-gradient", "kit", "driver", figure.NoCorner); math.Abs(v.Value-first.Gradient) > 1e-9 {
		t.Errorf("the hole in use rolls by %.9f, the build by %.9f", first.Gradient, v.Value)
	}
	inner := holed(t, "inner")
	if v := inner.Get("roll-gradient", "kit", "driver", figure.NoCorner); math.Abs(v.Value-holes[2].Gradient) > 1e-9 {
		t.Errorf("in the inner hole the build rolls by %.9f, the table says %.9f", v.Value, holes[2].Gradient)
	}
	none, err := a.BarHoles("kit", "driver", car.Rear)
	if err != nil || len(none) != 0 {
		t.Errorf("the rear bar has no holes: %v, %v", none, err)
	}
	if _, err := a.BarHoles("nobody", "driver", car.Front); err == nil {
		t.Error("a build that is none has holes")
	}
}
