package study

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/modes"
)

// tall is the demo with a box on the roof in its second load state: its height as typed, none where it is 0.
func tall(t *testing.T, height float64) Job {
	t.Helper()
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Chosen} }
	job := Job(demo.Marl())
	box := car.Payload{Name: "roof box", Mass: in(70), Behind: in(1.6), Left: in(0.1)}
	if height != 0 {
		box.Height = in(height)
	}
	job.Loads = append(append([]car.Load{}, job.Loads...), car.Load{ID: "box", Name: "Roof box", Items: []car.Payload{box}})
	return job
}

// bendOf is a figure of the kit with the box.
func bendOf(t *testing.T, job Job, code string) float64 {
	t.Helper()
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoRemedies = 0, true, true
	a, err := Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	v := a.Get(code, "kit", "box", figure.NoCorner)
	if v == nil || v.State == figure.Unknown {
		t.Fatalf("no %s", code)
	}
	return v.Value
}

// TestHeightOfPayload: what is aboard raises the centre of gravity to the mean of heights by weight (the definition of a
// centre of gravity): a bend sees that, and no more. At the height of the car's own it is as if none was said.
func TestHeightOfPayload(t *testing.T) {
	plain := tall(t, 0)
	own := plain.Car.CGHeight.Value
	for _, code := range []string{"roll-gradient", "front-transfer-share"} {
		was := bendOf(t, plain, code)
		if is := bendOf(t, tall(t, own), code); math.Abs(is-was) > 1e-9*math.Abs(was) {
			t.Errorf("%s: %.10g at the height of the car's own, %.10g where none is said", code, is, was)
		}
		job := tall(t, 1.55)
		high := bendOf(t, job, code)
		opt := Defaults()
		opt.Samples, opt.NoWorkings, opt.NoRemedies, opt.NoCorners = 0, true, true, true
		a, err := Run(t.Context(), job, opt)
		if err != nil {
			t.Fatal(err)
		}
		b, l, err := a.Find("kit", "box")
		if err != nil {
			t.Fatal(err)
		}
		weight := a.Cases[b][l].System.SprungWeight / equilibrium.Gravity
		mean := tall(t, 0)
		mean.Car.CGHeight.Value = (weight*own + 70*1.55) / (weight + 70)
		if want := bendOf(t, mean, code); math.Abs(high-want) > 1e-6*math.Abs(want) {
			t.Errorf("%s: %.10g with the box on the roof, %.10g of a car whose centre is as high", code, high, want)
		}
		if code == "roll-gradient" && !(high > 1.02*was) {
			t.Errorf("a box on the roof rolls the car no further: %g, %g", high, was)
		}
	}
}

// TestInertiaOfPayloadAbove: the inertia about the common centre is that of its parts about their own and Steiner's term of
// each, in height too.
func TestInertiaOfPayloadAbove(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Chosen} }
	sys := equilibrium.System{SprungWeight: 1200 * equilibrium.Gravity, MomentBehind: 1200 * equilibrium.Gravity * 1.3, CGHeight: 0.55}
	items := []car.Payload{{Mass: in(80), Behind: in(1.3), Left: in(0), Height: in(1.5)}, {Mass: in(60), Behind: in(1.3), Left: in(0)}}
	extra := equilibrium.Of(items, nil)
	got := modes.BodyOf(&sys, extra, 400, 2000, items...)
	centre := (1200*0.55 + 80*1.5 + 60*0.55) / 1340
	more := 1260*(0.55-centre)*(0.55-centre) + 80*(1.5-centre)*(1.5-centre)
	if math.Abs(got.InertiaRoll-400-more) > 1e-9 || math.Abs(got.InertiaPitch-2000-more) > 1e-9 {
		t.Errorf("roll %.6f, pitch %.6f; %.6f more by Steiner", got.InertiaRoll, got.InertiaPitch, more)
	}
	if h := sys.CentreHeight(extra); math.Abs(h-centre) > 1e-12 {
		t.Errorf("the common centre is at %.6f m, by weight %.6f m", h, centre)
	}
}

// TestHeightOfUnsprungMass: as high as is taken where none is said gives the same car; higher moves more load across.
func TestHeightOfUnsprungMass(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	with := func(front, rear float64) Job {
		job := tall(t, 0)
		c := *job.Car
		if front != 0 {
			c.UnsprungHeight = [2]car.Input{in(front), in(rear)}
		}
		job.Car = &c
		return job
	}
	const usual = car.UsualHubHeight
	was := bendOf(t, with(0, 0), "front-transfer-share")
	if is := bendOf(t, with(usual, usual), "front-transfer-share"); math.Abs(is-was) > 1e-9*was {
		t.Errorf("%.10g with the usual height typed, %.10g without", is, was)
	}
	if is := bendOf(t, with(usual+0.05, usual), "front-transfer-share"); !(is > was+1e-4) {
		t.Errorf("heavier hubs 50 mm higher in front leave the front's share at %.6f, it was %.6f", is, was)
	}
}
