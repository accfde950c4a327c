package study

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// towed is the demo car with a caravan and a weight on its coupling.
func towed(t *testing.T, nose float64) *Answer {
	t.Helper()
	d := demo.Marl()
	typed := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	load := car.Load{ID: "caravan", Name: "Caravan"}
	load.Items = []car.Payload{
		{Name: "driver", Mass: typed(82), Behind: typed(1.3), Left: typed(-0.37)},
		{Name: "coupling load", Mass: typed(nose), Behind: typed(3.85), Left: typed(0)},
	}
	load.Trailer = &car.Trailer{Mass: typed(1250), ToAxle: typed(3.7), BodyLength: typed(5.1), Speed: typed(100 / 3.6), Tyres: 2, Nose: 1}
	d.Loads = append(d.Loads, load)
	car.FillTrailers(d.Loads)
	opt := Defaults()
	opt.Samples = 64
	a, err := Run(context.Background(), Job(d), opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The rear axle carries what the coupling puts on it, and the pair swings more the
// less that is; the car's own mass goes without it.
func TestTowing(t *testing.T) {
	heavy, light := towed(t, 75), towed(t, 20)
	const build = "arrived"
	for _, a := range []*Answer{heavy, light} {
		damping, speed := value(t, a, "weave-damping", build, "caravan", figure.NoCorner), value(t, a, "towing-critical-speed", build, "caravan", figure.NoCorner)
		if !damping.HasBand || !(damping.Low < damping.Value && damping.Value < damping.High) {
			t.Errorf("damping %g, %g to %g", damping.Value, damping.Low, damping.High)
		}
		if (damping.Value > 0) != (speed.Value > damping.Place.Speed) {
			t.Errorf("damping %g at %g m/s, critical speed %g m/s", damping.Value, damping.Place.Speed, speed.Value)
		}
		if v := a.Get("yaw-settling", build, "caravan", figure.NoCorner); v != nil {
			t.Errorf("the car's own yaw is told beside the pair's: %g 1/s", v.Value)
		}
		for _, code := range []string{"weave-damping", "weave-frequency", "towing-settling", "towing-critical-speed"} {
			v := value(t, a, code, build, "caravan", figure.NoCorner)
			if v.Working == nil || math.Abs(v.Working.Result-v.Value) > 1e-9*math.Abs(v.Value) {
				t.Errorf("%s: %g, its working %+v", code, v.Value, v.Working)
			}
		}
	}
	if h, l := value(t, heavy, "weave-damping", build, "caravan", figure.NoCorner), value(t, light, "weave-damping", build, "caravan", figure.NoCorner); !(h.Value > 2*l.Value) {
		t.Errorf("damping %g with 75 kg on the coupling, %g with 20 kg", h.Value, l.Value)
	}
	// By hand: 75 kg 1.15 m behind an axle 2.7 m from the other.
	_, l, err := heavy.Find(build, "caravan")
	if err != nil {
		t.Fatal(err)
	}
	c, err := heavy.Cornering(build, "caravan")
	if err != nil {
		t.Fatal(err)
	}
	with, without := c.Masses(), c.MassesLess(75, 3.85)
	if math.Abs(with.Whole-without.Whole-75) > 1e-9 || math.Abs(with.Whole*with.Behind-without.Whole*without.Behind-75*3.85) > 1e-6 {
		t.Errorf("%+v with the coupling load, %+v without", with, without)
	}
	p := heavy.ready.pair(c, l, nil, nil)
	if s := p.Trailer.CouplingLoad(); math.Abs(s-75) > 1e-9 {
		t.Errorf("%g kg on the coupling of the pair", s)
	}
	wheelbase := without.Wheelbase
	alone := towed(t, 1e-9)
	ca, err := alone.Cornering(build, "caravan")
	if err != nil {
		t.Fatal(err)
	}
	more := c.Rest().Load[2] + c.Rest().Load[3] - ca.Rest().Load[2] - ca.Rest().Load[3]
	if want := 75 * equilibrium.Gravity * 3.85 / wheelbase; math.Abs(more-want) > 0.02*want {
		t.Errorf("%g N more on the rear axle, %g N by levers", more, want)
	}
}
