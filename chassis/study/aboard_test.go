package study

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
)

// honest is the demo with old springs that are what they are said to be, so that nothing has to be shared between their
// length and their rate: that share is another with more load on them.
func honest(t *testing.T) Job {
	t.Helper()
	job := Job(demo.Marl())
	s, err := prepare(job, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	for i := range 4 {
		job.Car.Weighed.SpringLength[i].Value -= base.Preload[i]
	}
	return job
}

// weighedWith is that car as the scales would have read it with a payload aboard: other readings.
func weighedWith(t *testing.T, aboard []car.Payload, barsOn bool) Job {
	t.Helper()
	job := honest(t)
	job.Car.Weighed.BarsOn = barsOn
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	var sys equilibrium.System
	for b, build := range job.Builds {
		if build.ID == job.Car.Weighed.Build {
			sys = a.Cases[b][0].System
		}
	}
	if !barsOn {
		sys = sys.WithoutBars()
	}
	st, err := sys.Solve(equilibrium.Of(aboard, nil), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := job.Car
	c.Weighed.Aboard = aboard
	for i := range 4 {
		m := &sys.Corner[i]
		moved := func(travel *numeric.Smooth) float64 {
			now, _, _ := travel.At(st.Travel[i])
			was, _, _ := travel.At(m.MeasuredAt)
			return now - was
		}
		c.Weighed.Load[i].Value = st.Load[i] / equilibrium.Gravity
		c.Weighed.Height[i].Value = c.ZeroHeight[car.AxleOf(i)].Value - st.Travel[i]
		c.Weighed.SpringLength[i].Value -= moved(&m.SpringTravel)
		c.Weighed.DamperLength[i].Value -= moved(&m.DamperTravel)
		c.Weighed.RodShowing[i].Value -= moved(&m.DamperTravel)
	}
	return job
}

// TestWeighedWithSomebodyAboard: a car weighed with its driver in it, and said so, is the same car as weighed empty: every
// figure in every state agrees. Counted twice, the driver made 175 of 224 figures wrong.
func TestWeighedWithSomebodyAboard(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	item := func(mass, behind, left float64) car.Payload {
		return car.Payload{Name: "aboard", Mass: in(mass), Behind: in(behind), Left: in(left)}
	}
	opt := Defaults()
	opt.Samples, opt.NoWorkings = 0, true
	empty := honest(t)
	for name, row := range map[string]struct {
		aboard []car.Payload
		barsOn bool
	}{
		"driver, bars off":            {[]car.Payload{item(78, 1.3, -0.37)}, false},
		"driver, bars on":             {[]car.Payload{item(78, 1.3, -0.37)}, true},
		"driver in two halves":        {[]car.Payload{item(39, 1.3, -0.37), item(39, 1.3, -0.37)}, false},
		"two aboard, spare wheel out": {[]car.Payload{item(78, 1.3, -0.37), item(71, 1.3, 0.37), item(-24, 3.05, 0)}, true},
	} {
		// The car as weighed empty, bars as in this weighing.
		empty.Car.Weighed.BarsOn = row.barsOn
		want, err := Run(t.Context(), empty, opt)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Run(t.Context(), weighedWith(t, row.aboard, row.barsOn), opt)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Values) != len(want.Values) {
			t.Fatalf("%s: %d figures, %d when weighed empty", name, len(got.Values), len(want.Values))
		}
		wrong := 0
		for i := range want.Values {
			w, g := &want.Values[i], &got.Values[i]
			if w.State == figure.Unknown && g.State == figure.Unknown {
				continue
			}
			if math.Abs(w.Value-g.Value) > 2e-6*math.Max(math.Abs(w.Value), 0.1) {
				if wrong++; wrong < 6 {
					t.Errorf("%s: %s %s %s corner %d is %.8g, weighed empty %.8g", name, w.Code, w.Place.Build, w.Place.Load, w.Place.Corner, g.Value, w.Value)
				}
			}
		}
		if wrong > 0 {
			t.Errorf("%s: %d of %d figures differ", name, wrong, len(want.Values))
		}
	}
}

// TestDropSpringOnOneSide: a spring known by how far it lowers the car has one free length, on the left, on the right, on both,
// and under a helper.
func TestDropSpringOnOneSide(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	job := Job(demo.Marl())
	spring := &car.SpringSpec{ID: "lower", Rate: in(31e3), Drop: in(0.032), Block: in(0.105)}
	helper := &car.SpringSpec{ID: "helper", Rate: in(4e3), Free: in(0.060), Block: in(0.014)}
	with := func(id string, change func(b *car.Build), corners ...int) {
		b := *job.Builds[0]
		b.ID = id
		for _, i := range corners {
			b.Corner[i].Spring = spring
		}
		change(&b)
		job.Builds = append(job.Builds, &b)
	}
	none := func(*car.Build) {}
	from := len(job.Builds)
	with("both", none, 0, 1)
	with("left", none, 0)
	with("right", none, 1)
	with("helped", func(b *car.Build) { b.Corner[0].Helper = helper }, 0)
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	want := a.Cases[from][0].System.Corner[0].Spring.Free
	for k := from; k < len(job.Builds); k++ {
		for i := range 2 {
			if job.Builds[k].Corner[i].Spring != spring {
				continue
			}
			if got := a.Cases[k][0].System.Corner[i].Spring.Free; math.Abs(got-want) > 1e-12 {
				t.Errorf("%s, corner %d: free length %.4f mm, %.4f mm on both sides", job.Builds[k].ID, i, got*1e3, want*1e3)
			}
		}
	}
}

// TestDropSpringIsOnePart: a spring known by how far it lowers the car has one free length, whatever damper and stop stand
// beside it; on the car as measured it lowers by that much.
func TestDropSpringIsOnePart(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Measured} }
	job := Job(demo.Marl())
	var arrived *car.Build
	for _, b := range job.Builds {
		if b.ID == job.Car.Weighed.Build {
			arrived = b
		}
	}
	spring := &car.SpringSpec{ID: "lower", Rate: in(31e3), Drop: in(0.032), Block: in(0.105)}
	for k, b := range job.Builds[1:] {
		changed := *b
		changed.Setup.Platform, changed.Setup.WantedHeight = [4]car.Input{}, [4]car.Input{}
		changed.Corner[0].Spring, changed.Corner[1].Spring = spring, spring
		job.Builds[k+1] = &changed
	}
	plain := *arrived
	plain.ID = "springs-alone"
	plain.Corner[0].Spring, plain.Corner[1].Spring = spring, spring
	job.Builds = append(job.Builds, &plain)
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	last := len(job.Builds) - 1
	want := a.Cases[last][0].System.Corner[0].Spring.Free
	if want < 0.15 || want > 0.45 {
		t.Errorf("a free length of %.1f mm", want*1e3)
	}
	for k := 1; k < last; k++ {
		for i := range 2 {
			if got := a.Cases[k][0].System.Corner[i].Spring.Free; math.Abs(got-want) > 1e-12 {
				t.Errorf("%s, corner %d: free length %.4f mm, %.4f mm on the car as measured", job.Builds[k].ID, i, got*1e3, want*1e3)
			}
		}
	}
	was, now := a.Cases[0][0].State.Travel, a.Cases[last][0].State.Travel
	if sank := 0.5 * (now[0] + now[1] - was[0] - was[1]); math.Abs(sank-0.032) > 0.001 {
		t.Errorf("on the car as measured it lowers by %.2f mm, sold as 32 mm", sank*1e3)
	}
}
