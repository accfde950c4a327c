package study

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// The demo in a left turn, against an independent model of the same invented
// car (own numbers, no source; package cornering says where the two differ and
// why): roll to 0.1 deg/g, and the low springs, whose stops are met soonest, to
// 0.03 g; a stop that carries load at rest is met at nothing.
func TestDemoInCorners(t *testing.T) {
	a := theDemo(t)
	for b, want := range [4]float64{5.5, 4.8, 4.9, 4.0} {
		v := value(t, a, "roll-gradient", builds[b], "driver", figure.NoCorner)
		check(t, v, equilibrium.Gravity*180/math.Pi, want, 0.1, "deg/g")
		if !v.HasBand || v.Low >= v.Value || v.High <= v.Value {
			t.Errorf("%s rolls %.4g in %.4g to %.4g", builds[b], v.Value, v.Low, v.High)
		}
	}
	contact := func(build, load string, corner int) *figure.Value {
		return value(t, a, "stop-contact-acceleration", build, load, corner)
	}
	const g = 1 / equilibrium.Gravity
	check(t, contact("lower-old", "driver", 1), g, 0.20, 0.03, "g")
	check(t, contact("lower-old", "driver", 3), g, 0.18, 0.03, "g")
	check(t, contact("lower-old", "four-aboard", 1), g, 0.04, 0.03, "g")
	check(t, contact("lower-old", "four-aboard", 3), g, 0, 0, "g")
	check(t, contact("arrived", "four-aboard", 3), g, 0.17, 0.03, "g")
	check(t, contact("arrived", "driver", 1), g, 0.59, 0.05, "g")
	if v := contact("kit", "driver", 3); v.Value*g < 1 {
		t.Errorf("the kit meets its rear stop at %.2f g", v.Value*g)
	}
	order := [4]float64{}
	for b := range builds {
		order[b] = contact(builds[b], "driver", 1).Value
	}
	if !(order[3] > order[0] && order[0] > order[1] && order[2] > order[1]) {
		t.Errorf("front stops are met at %.2f m/s2 in the order of the builds", order)
	}
}

// Payload behind the rear axle's middle takes understeer away and yaw damping
// falls with speed, whatever is fitted; a wider front share of the load moved
// across steers the bend's balance the other way.
func TestDemoAtSpeed(t *testing.T) {
	a := theDemo(t)
	speeds, _ := a.YawSpeeds()
	for _, build := range builds {
		under := func(load string) float64 {
			return value(t, a, "understeer-gradient", build, load, figure.NoCorner).Value
		}
		if under("holiday") >= under("driver") {
			t.Errorf("%s understeers %.3g with luggage and %.3g with the driver", build, under("holiday"), under("driver"))
		}
		last := math.Inf(1)
		seen := 0
		for _, v := range speeds {
			for i := range a.Values {
				x := &a.Values[i]
				if x.Code == "yaw-damping" && x.Place.Build == build && x.Place.Load == "driver" && x.Place.Speed == v {
					seen++
					if x.Value >= last || x.Value < 0.2 || x.Value > 1.5 {
						t.Errorf("%s: damping %.3f at %.1f m/s after %.3f", build, x.Value, v, last)
					}
					last = x.Value
				}
			}
		}
		if seen != len(speeds) {
			t.Errorf("%s: %d of %d speeds", build, seen, len(speeds))
		}
		// What Get gives is the fastest speed of the brief: that one is judged.
		if got := value(t, a, "yaw-damping", build, "driver", figure.NoCorner).Place.Speed; got != speeds[len(speeds)-1] {
			t.Errorf("%s: Get gives the damping at %.1f m/s", build, got)
		}
	}
	car, err := a.Yaw("kit", "driver")
	if err != nil {
		t.Fatal(err)
	}
	v := value(t, a, "yaw-damping", "kit", "driver", figure.NoCorner)
	if got := car.Response(v.Place.Speed).Damping; got != v.Value {
		t.Errorf("the car for speed has a damping of %.6f, the value is %.6f", got, v.Value)
	}
	if _, err := a.Yaw("kit", "nobody"); err == nil {
		t.Error("a load state that is not there has yaw")
	}
}

// Rear lift, where it is given, takes damping of the course with speed, and a
// softer front tyre makes the car understeer more.
func TestLiftAndTyresCount(t *testing.T) {
	plain := run(t, Job(demo.Marl()), nil)
	job := Job(demo.Marl())
	job.Car.Axle[1].LiftArea = figure.Input{Value: 0.3, Origin: figure.Measured}
	job.Car.TopSpeed = figure.Input{Value: 60, Origin: figure.Measured}
	lifted := run(t, job, nil)
	soft := Job(demo.Marl())
	soft.Car.Axle[0].Cornering = figure.Input{Value: 40e3, Origin: figure.Measured}
	softer := run(t, soft, nil)
	at := func(a *Answer) float64 {
		v := value(t, a, "understeer-gradient", "kit", "driver", figure.NoCorner)
		return v.Value
	}
	if at(softer) <= at(plain) {
		t.Errorf("understeer %.3g with soft front tyres, %.3g before", at(softer), at(plain))
	}
	p, _ := plain.Yaw("kit", "driver")
	l, _ := lifted.Yaw("kit", "driver")
	fast, was := l.At(60), p.At(60)
	if fast.Gradient() >= was.Gradient() {
		t.Errorf("at 60 m/s understeer is %.3g with lift at the rear, %.3g without", fast.Gradient(), was.Gradient())
	}
	if speeds, top := lifted.YawSpeeds(); top != 60 || speeds[len(speeds)-1] != 60 {
		t.Errorf("yaw is looked at up to %.1f m/s, at %.1f", top, speeds)
	}
}

// A car whose sprung mass stands as high as a lorry's tips over before it meets
// its stops: said, not made up.
func TestTippingIsSaid(t *testing.T) {
	job := Job(demo.Marl())
	job.Car.CGHeight.Value = 1.15
	for x := range 2 { // stops so short that the car tips first
		job.Builds[3].Corner[2*x].Stop.Length.Value = 0.002
	}
	a := run(t, job, func(o *Options) { o.NoWorkings = false })
	v := value(t, a, "stop-contact-acceleration", "kit", "driver", 1)
	if v.State != figure.Outside || v.Reason == "" || v.Value > 0.8*equilibrium.Gravity {
		t.Errorf("front stop of a car that tips: %.3g m/s2, %s (%s)", v.Value, v.State, v.Reason)
	}
}

// The inner wheel leaves the ground where its tyre carries nothing, and that is before the
// whole car would tip: a rigid car does at t/(2·h) of standard gravity, a sprung one
// sooner, because it leans. Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics,
// ch. 9 (from memory).
func TestInnerWheelLifts(t *testing.T) {
	job := Job(demo.Marl())
	job.Car.CGHeight.Value = 1.0
	a := run(t, job, func(o *Options) { o.NoWorkings = false })
	found := 0
	for _, build := range builds {
		c, err := a.Cornering(build, "driver")
		if err != nil {
			t.Fatal(err)
		}
		first := math.Inf(1)
		for i := range 4 {
			v := value(t, a, "wheel-lift-acceleration", build, "driver", i)
			if v.State == figure.Outside {
				continue
			}
			found++
			first = math.Min(first, v.Value)
			way := 1.0 // a left turn
			if i&1 == 1 {
				way = -1
			}
			at, err := c.At(way*(v.Value-1e-3), 0, nil)
			if err != nil {
				t.Fatal(err)
			}
			past, err := c.At(way*(v.Value+2e-3*equilibrium.Gravity), 0, &at)
			if err != nil {
				t.Fatal(err)
			}
			if at.Tyre[i] > 5 || past.Tyre[i] > 0 {
				t.Errorf("%s, wheel %d at %.3f m/s2: the tyre carries %.1f N just short of it, %.1f N past it", build, i, v.Value, at.Tyre[i], past.Tyre[i])
			}
		}
		rigid := 0.5 * math.Max(a.Job.Car.Track[0].Value, a.Job.Car.Track[1].Value) / 1.0 * equilibrium.Gravity
		if first > rigid || first < 0.75*rigid {
			t.Errorf("%s: the first wheel lifts at %.2f m/s2, a rigid car would tip at %.2f", build, first, rigid)
		}
	}
	if found < 4 {
		t.Errorf("only %d wheels leave the ground", found)
	}
}

// Same seed, same figures for any number of workers, and without draws the same
// values without bands.
func TestCornersBySeedAndWorkers(t *testing.T) {
	of := func(samples, workers int) []figure.Value {
		var out []figure.Value
		a := run(t, Job(demo.Marl()), func(o *Options) { o.Samples, o.Workers = samples, workers })
		for i := range a.Values {
			if bendCodes[a.Values[i].Code] {
				out = append(out, a.Values[i])
			}
		}
		return out
	}
	one, three, bare := of(60, 1), of(60, 3), of(0, 2)
	if d := cmp.Diff(one, three, cmpopts.EquateNaNs()); d != "" {
		t.Errorf("workers change the answer:\n%.1500s", d)
	}
	if len(one) != len(bare) || len(one) < 500 {
		t.Fatalf("%d and %d figures", len(one), len(bare))
	}
	for i := range one {
		if bare[i].HasBand || one[i].Value != bare[i].Value && !math.IsNaN(one[i].Value) {
			t.Errorf("%s: %.9g with draws, %.9g without", one[i].Code, one[i].Value, bare[i].Value)
		}
	}
}

// A job without stops, brief or damper lengths has corners all the same.
func TestCornersOfLittle(t *testing.T) {
	job := Job(demo.Marl())
	job.Brief = nil
	for _, b := range job.Builds {
		for x := range 2 {
			b.Both(x, func(p *car.BuildCorner) { p.Stop = nil })
		}
	}
	a, err := Run(context.Background(), job, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	v := value(t, a, "stop-contact-acceleration", "kit", "driver", 1)
	if v.State != figure.Unknown || v.Reason == "" {
		t.Errorf("without a stop: %+v", v)
	}
	if v := value(t, a, "yaw-damping", "kit", "driver", figure.NoCorner); v.Place.Speed != usualTopSpeed {
		t.Errorf("without a brief yaw is looked at at %.1f m/s", v.Place.Speed)
	}
}
