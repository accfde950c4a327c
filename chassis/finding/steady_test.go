package finding

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/stability"
	"trunnion/chassis/study"
)

// A car with so much behind its rear axle that it oversteers is over the limit at
// a speed past its critical one, on every build alike: its yaw damping ratio grows
// without end towards that speed and is no measure there.
func TestUnstableAtSpeed(t *testing.T) {
	d := demo.Marl()
	typed := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	d.Loads = append(d.Loads, car.Load{ID: "towing", Name: "Towing car", Items: []car.Payload{{Name: "nose", Mass: typed(420), Behind: typed(3.9), Left: typed(0)}}})
	opt := study.Defaults()
	opt.Samples, opt.NoRemedies = 64, true
	a, err := study.Run(context.Background(), study.Job(d), opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range a.Job.Builds {
		critical := a.Get("critical-speed", b.ID, "towing", figure.NoCorner)
		if critical == nil || critical.State == figure.Unknown {
			t.Fatalf("%s: no critical speed", b.ID)
		}
		// The speed that is judged is the brief's highest.
		settling := a.Get("yaw-settling", b.ID, "towing", figure.NoCorner)
		if settling.Place.Speed < critical.Value || settling.Value >= 0 {
			t.Errorf("%s: settles at %g 1/s at %g m/s, critical at %g m/s", b.ID, settling.Value, settling.Place.Speed, critical.Value)
		}
		// Just short of it yaw does not swing: a rate, and no ratio.
		if r := steady(t, a, b.ID, 0.98*critical.Value); r.Swings || !(r.Settling() > 0) || !(r.Damping > 2) {
			t.Errorf("%s: just short of the critical speed %+v", b.ID, r)
		}
		if ratio := a.Get("yaw-damping", b.ID, "towing", figure.NoCorner); ratio.State != figure.Unknown || ratio.Reason == "" {
			t.Errorf("%s: a yaw damping ratio of %g where nothing swings", b.ID, ratio.Value)
		}
	}
	list := judged(t, a)
	for _, b := range a.Job.Builds {
		f := at(list, "unstable-at-speed", b.ID, -1)
		if f == nil || f.Verdict != Over || f.Value.Place.Load != "towing" {
			t.Errorf("%s: %+v", b.ID, f)
		}
		if f := at(list, "nervous-at-speed", b.ID, -1); f == nil || f.Verdict == Unknown {
			t.Errorf("%s: the ratio is judged where there is none: %+v", b.ID, f)
		}
	}
}

func steady(t *testing.T, a *study.Answer, build string, speed float64) stability.Response {
	t.Helper()
	c, err := a.Yaw(build, "towing")
	if err != nil {
		t.Fatal(err)
	}
	return c.Response(speed)
}

// A car that understeers has no critical speed, at any speed that is looked at.
func TestNoCriticalSpeedWhereThereIsNone(t *testing.T) {
	a := answer(t, 64, 2)
	for _, b := range a.Job.Builds {
		v := a.Get("critical-speed", b.ID, "driver", figure.NoCorner)
		c, err := a.Yaw(b.ID, "driver")
		if err != nil {
			t.Fatal(err)
		}
		slow := c.At(0)
		if slow.Gradient() > 0 && (v.State != figure.Unknown || !math.IsNaN(v.Value) || v.Reason == "") {
			t.Errorf("%s understeers and has a critical speed of %g m/s", b.ID, v.Value)
		}
	}
}
