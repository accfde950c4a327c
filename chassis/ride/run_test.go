package ride

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"
	"time"
)

func simulate(t *testing.T, m *Model, run Run) *Result {
	t.Helper()
	res := new(Result)
	if err := m.Simulate(context.Background(), run, res); err != nil {
		t.Fatal(err)
	}
	return res
}

// lowEstate stands with its rear on the stops.
func lowEstate() Car {
	c := estate()
	for i := range c.Corners {
		if i >= RearLeft {
			c.Corners[i].Stop.TouchTravel = -0.005
		}
	}
	return c
}

// TestEnergyBalance: what the road puts in is found again in dampers, stops, springs and motion, on every nonlinear run.
func TestEnergyBalance(t *testing.T) {
	cars := map[string]Car{"estate": estate(), "low": lowEstate(), "mounted": mounted()}
	heavy := lowEstate()
	heavy.SprungMass += 350
	heavy.CGToFront += 0.15
	cars["low with luggage"] = heavy
	touched := false
	for name, car := range cars {
		m := compile(t, car)
		for road, run := range map[string]Run{
			"class C":  {Left: newWavy(5, 256e-6, 50), Right: newWavy(6, 256e-6, 50), Speed: 22, Duration: 20, Settle: 2},
			"hump":     {Left: pit{5, 3.7, -0.09}, Right: pit{5, 3.7, -0.09}, Speed: 9, Duration: 3, Event: true},
			"pothole":  {Left: pit{5, 1.0, 0.05}, Speed: 14, Duration: 3, Event: true},
			"let fall": {Speed: 10, Duration: 2, HeaveSpeed: -0.5, Event: true},
		} {
			for _, h := range []float64{0.25e-3, 1e-3} {
				run.Step = h
				res := simulate(t, m, run)
				e := res.Energy
				limit := 0.002
				if h > 0.5e-3 {
					limit = 0.01
				}
				for i := range res.Corners {
					touched = touched || res.Corners[i].StopLost > 1
					if res.Corners[i].Metal > 0 || res.Corners[i].RimTime > 0 {
						limit *= 2 // metal on metal within a step or two
					}
				}
				if name == "mounted" {
					limit *= 5 // the mount's own energy is taken half a step off
				}
				if math.Abs(e.Share) > limit {
					t.Errorf("%s, %s, %g s: %.3f J of %.1f J in are missing (%+v)", name, road, h, e.Gap, e.FromRoad+e.Start, e)
				}
				if e.Damper <= 0 {
					t.Errorf("%s, %s: dampers took %.3f J", name, road, e.Damper)
				}
			}
		}
	}
	if !touched {
		t.Error("no stop kept any energy: the balance with stops was not checked")
	}
}

// TestMirror: the mirror image of an uneven car on the mirrored road has the mirrored answer: other masses, a wheel further
// out, a mount on one side and none on the other with the same damper.
func TestMirror(t *testing.T) {
	a := lowEstate()
	a.Corners[0].UnsprungMass += 4
	a.Corners[1].MountStiffness = 300e3
	a.Corners[2].MountStiffness = 400e3
	a.TrackFront, a.TrackCentre = a.TrackFront+0.02, [2]float64{0.01, 0}
	b := a
	b.TrackCentre = [2]float64{-a.TrackCentre[0], -a.TrackCentre[1]}
	b.CGOffset = -a.CGOffset
	b.BarFree = [2]float64{-a.BarFree[0], -a.BarFree[1]}
	b.Points = nil
	for _, p := range a.Points {
		b.Points = append(b.Points, FloorPoint{p.Name, p.X, -p.Y})
	}
	for i := range b.Corners {
		b.Corners[i] = a.Corners[i^1]
	}
	left, right := newWavy(8, 256e-6, 40), newWavy(9, 256e-6, 40)
	run := Run{Left: left, Right: right, Speed: 25, Duration: 6, Settle: 1}
	ra := simulate(t, compile(t, a), run)
	run.Left, run.Right = right, left
	rb := simulate(t, compile(t, b), run)
	near := func(what string, x, y float64) {
		t.Helper()
		// Sums are taken in another order; a chaotic growth of last bits would show here too.
		if math.Abs(x-y) > 1e-7*math.Abs(x)+1e-12 {
			t.Errorf("%s: %.12g against %.12g in the mirror", what, x, y)
		}
	}
	for k := range ra.Floor {
		near("floor", ra.Floor[k].Comfort.RMS, rb.Floor[k].Comfort.RMS)
	}
	for i := range ra.Corners {
		x, y := &ra.Corners[i], &rb.Corners[i^1]
		near("load", x.LoadDeviation, y.LoadDeviation)
		near("greatest travel", x.TravelMax, y.TravelMax)
		near("stop", x.StopPeak, y.StopPeak)
		near("power", x.Power, y.Power)
	}
}

// TestRearFollowsFront: on a car whose axles do not feel each other the rear does what the front did a wheelbase ago.
func TestRearFollowsFront(t *testing.T) {
	m := compile(t, setC.car())
	const speed, h = 13.0, 1e-3 // 2.6 m are 200 steps
	var front, rear []float64
	run := Run{Left: pit{3, 1.1, 0.03}, Right: pit{3, 1.1, 0.03}, Speed: speed, Duration: 2, Step: h, Event: true, Each: func(o *Moment) {
		front, rear = append(front, o.Travel[0]), append(rear, o.Travel[2])
	}}
	simulate(t, m, run)
	most := 0.0
	for n := range front[:len(front)-200] {
		most = math.Max(most, math.Abs(front[n]))
		if math.Abs(front[n]-rear[n+200]) > 1e-9 {
			t.Fatalf("step %d: front %.9f m, rear 200 steps later %.9f m", n, front[n], rear[n+200])
		}
	}
	if most < 0.01 {
		t.Errorf("travel of %.4f m only: nothing was checked", most)
	}
}

// TestCourseIsTheRoad: heights sampled before give the very same run.
func TestCourseIsTheRoad(t *testing.T) {
	m := compile(t, estate())
	left, right := newWavy(8, 64e-6, 30), newWavy(9, 64e-6, 30)
	course, err := NewCourse(left, right, 2.7, 20, 6, 0.5e-3)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []float64{0.5e-3, 1e-3} {
		a := simulate(t, m, Run{Left: left, Right: right, Speed: 20, Duration: 6, Settle: 1, Step: h})
		b := simulate(t, m, Run{Course: course, Duration: 6, Settle: 1, Step: h})
		if x, y := a.Corners[2].LoadDeviation, b.Corners[2].LoadDeviation; math.Abs(x/y-1) > 1e-9 {
			t.Errorf("step %g s: %.9f N on the road, %.9f N on the course", h, x, y)
		}
	}
}

// TestStiffMountIsNone: a very stiff mount gives the answer of none; a soft one another.
func TestStiffMountIsNone(t *testing.T) {
	with := func(k float64) *Result {
		c := estate()
		for i := range c.Corners {
			c.Corners[i].MountStiffness = k
		}
		return simulate(t, compile(t, c), Run{Left: pit{4, 1.1, 0.03}, Right: pit{4, 1.1, 0.03}, Speed: 12, Duration: 2, Step: 0.1e-3, Event: true})
	}
	none, stiff, soft := with(0), with(3e7), with(3e5)
	for i := range none.Corners {
		a, b, c := &none.Corners[i], &stiff.Corners[i], &soft.Corners[i]
		if math.Abs(b.DamperForceMin/a.DamperForceMin-1) > 0.01 || math.Abs(b.TravelMax-a.TravelMax) > 1e-4 {
			t.Errorf("corner %d: rigid %.1f N, %.3f mm; stiff mount %.1f N, %.3f mm", i, a.DamperForceMin, 1e3*a.TravelMax, b.DamperForceMin, 1e3*b.TravelMax)
		}
		if math.Abs(c.DamperForceMin/a.DamperForceMin-1) < 0.001 {
			t.Errorf("corner %d: a soft mount changes nothing (%.1f N)", i, c.DamperForceMin)
		}
	}
}

func TestCancel(t *testing.T) {
	m := compile(t, estate())
	ctx, cancel := context.WithCancel(context.Background())
	var asked time.Time
	res := new(Result)
	n := 0
	run := Run{Speed: 20, Duration: 20000, Left: newWavy(3, 64e-6, 5), Every: 1000, Each: func(*Moment) {
		if n++; n == 30 {
			asked = time.Now()
			cancel()
		}
	}, Settle: 1}
	err := m.Simulate(ctx, run, res)
	late := time.Since(asked)
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("ended with %v", err)
	}
	if late > 50*time.Millisecond {
		t.Errorf("stopped %v after it was asked", late)
	}
}

// TestBoundedMemory: half an hour of road takes no more than half a minute.
func TestBoundedMemory(t *testing.T) {
	m := compile(t, estate())
	res := new(Result)
	grown := func(seconds float64) uint64 {
		var a, b runtime.MemStats
		run := Run{Speed: 20, Duration: seconds, Left: newQuick(newWavy(3, 64e-6, 5), 100, 0.05), Settle: 1}
		runtime.ReadMemStats(&a)
		if err := m.Simulate(context.Background(), run, res); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&b)
		return b.TotalAlloc - a.TotalAlloc
	}
	grown(5)
	short, long := grown(30), grown(1800)
	if long > short+64<<10 {
		t.Errorf("30 s allocate %d bytes, 1800 s %d", short, long)
	}
}

func TestNoAllocation(t *testing.T) {
	m := compile(t, estate())
	course, err := NewCourse(newWavy(1, 64e-6, 5), nil, 2.7, 20, 2, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	res := new(Result)
	run := Run{Course: course, Duration: 2, Settle: 0.5}
	if n := testing.AllocsPerRun(20, func() {
		if err := m.Simulate(context.Background(), run, res); err != nil {
			t.Fatal(err)
		}
	}); n > 0 {
		t.Errorf("%g allocations a run", n)
	}
}

func TestDiverges(t *testing.T) {
	light := func(unsprung, rate float64) *Model {
		c := estate()
		for i := range c.Corners {
			c.Corners[i].UnsprungMass = unsprung // hops far too fast for the step
			c.Corners[i].Tyre.Rate = rate
		}
		return compile(t, c)
	}
	res := new(Result)
	run := Run{Left: pit{1, 1, 0.02}, Speed: 10, Duration: 3, Step: 3e-3, Event: true}
	err := light(1, 2e6).Simulate(context.Background(), run, res)
	var d *DivergedError
	if !errors.As(err, &d) {
		t.Fatalf("ended with %v", err)
	}
	if !(d.Time > 0 && d.Time < 3) || d.Step != 3e-3 {
		t.Errorf("%+v", d)
	}
	// The check finds the step by itself.
	run.Step = 1.2e-3
	if err := light(4, 1e6).SimulateChecked(context.Background(), run, 0.02, res); err != nil {
		t.Errorf("the check found no step: %v", err)
	} else if res.Check.Halvings == 0 || res.Check.Worst() > 0.02 {
		t.Errorf("check %+v", res.Check)
	}
}

func TestChecked(t *testing.T) {
	m := compile(t, estate())
	res := new(Result)
	heard, last := 0, -1.0
	run := Run{Left: newWavy(5, 256e-6, 50), Right: newWavy(6, 256e-6, 50), Speed: 20, Duration: 12, Settle: 2, Every: 5, Each: func(o *Moment) {
		if o.Time <= last {
			t.Fatalf("time went back from %g to %g s", last, o.Time)
		}
		last = o.Time
		heard++
	}}
	if err := m.SimulateChecked(context.Background(), run, 0.005, res); err != nil {
		t.Fatal(err)
	}
	if w := res.Check.Worst(); !(w > 0 && w <= 0.005) || res.Step*2 != res.Check.Coarse {
		t.Errorf("check %+v at step %g s", res.Check, res.Step)
	}
	if heard < 1000 {
		t.Errorf("the listener heard %d moments", heard)
	}
	// Asked for too much, it says so.
	run.Each = nil
	if err := m.SimulateChecked(context.Background(), run, 1e-9, res); err != nil {
		t.Fatal(err)
	}
	found := false
	for _, w := range res.Warnings {
		found = found || w.Code == StepNotSettled
	}
	if !found || res.Check.Halvings != mostHalvings {
		t.Errorf("no warning after %d halvings: %v", res.Check.Halvings, res.Warnings)
	}
}

func TestRefusesRuns(t *testing.T) {
	m := compile(t, estate())
	course, err := NewCourse(nil, nil, 2.7, 20, 5, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	for name, run := range map[string]Run{
		"speed zero":                {Duration: 5},
		"speed 500 km/h":            {Speed: 500 / 3.6, Duration: 5},
		"backwards":                 {Speed: -3, Duration: 5},
		"speed not a number":        {Speed: math.NaN(), Duration: 5},
		"no time":                   {Speed: 10},
		"only settling":             {Speed: 10, Duration: 5, Settle: 5},
		"endless event":             {Speed: 10, Duration: 500, Event: true},
		"step of 10 ms":             {Speed: 10, Duration: 5, Step: 0.01},
		"road starts on a step":     {Speed: 10, Duration: 5, Left: pit{-0.5, 1, 0.1}},
		"nine levels":               {Speed: 10, Duration: 5, StopForces: make([]float64, 9)},
		"bounds fall":               {Speed: 10, Duration: 5, DamperBounds: []float64{2, 1}},
		"longer than course":        {Course: course, Duration: 6},
		"course and road":           {Course: course, Duration: 5, Left: pit{}},
		"other speed":               {Course: course, Duration: 5, Speed: 21},
		"empty course":              {Course: new(Course), Duration: 5},
		"two steps":                 {Speed: 10, Duration: 0.002, HeaveSpeed: 1},
		"hardly more than settling": {Speed: 10, Duration: 5.0001, Settle: 5},
		"negative bound":            {Speed: 10, Duration: 5, DamperBounds: []float64{-1, 1}},
		"odd step":                  {Course: course, Duration: 5, Step: 1.5e-3},
	} {
		var e *InputError
		if err := m.Simulate(context.Background(), run, new(Result)); !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A road that is no number further on ends the run; it does not get into a result.
	var d *DivergedError
	if err := m.Simulate(context.Background(), Run{Speed: 10, Duration: 5, Left: gap{}}, new(Result)); !errors.As(err, &d) {
		t.Errorf("a road with a hole in its numbers: %v", err)
	}
	res := new(Result)
	if err := m.Simulate(context.Background(), Run{Speed: 90, Duration: 6}, res); err != nil || len(res.Warnings) == 0 || res.Warnings[len(res.Warnings)-1].Code != VeryFast {
		t.Errorf("324 km/h: %v, %v", err, res.Warnings)
	}
}

func TestRefusesCars(t *testing.T) {
	for name, tc := range map[string]struct {
		spoil func(*Car)
		field string
	}{
		"no mass":           {func(c *Car) { c.SprungMass = 0 }, "SprungMass"},
		"no wheel":          {func(c *Car) { c.Corners[2].UnsprungMass = 0 }, "Corners[2].UnsprungMass"},
		"no tyre":           {func(c *Car) { c.Corners[1].Tyre.Rate = math.NaN() }, "Corners[1].Tyre.Rate"},
		"no spring":         {func(c *Car) { c.Corners[3].Spring = nil }, "Corners[3].Spring"},
		"behind the axles":  {func(c *Car) { c.CGToFront = 3 }, "CGToFront"},
		"negative bar":      {func(c *Car) { c.Bars[1] = -1 }, "Bars[1]"},
		"damper gives":      {func(c *Car) { c.Corners[0].Damper = func(v float64) float64 { return -v } }, "Corners[0].Damper"},
		"gas in the damper": {func(c *Car) { c.Corners[0].Damper = func(v float64) float64 { return 100 + v } }, "Corners[0].Damper"},
		"ratio turns": {func(c *Car) {
			c.Corners[0].DamperTravel = func(w float64) (float64, float64, float64) { return w * w, 2 * w, 2 }
		}, "Corners[0].DamperTravel"},
		"friction too sharp": {func(c *Car) { c.Corners[1].FrictionSpeed = 1e-4 }, "Corners[1].FrictionSpeed"},
		"stop gives all":     {func(c *Car) { c.Corners[0].Stop.Loss = 0.9 }, "Corners[0].Stop.Loss"},
		"force not a number": {func(c *Car) { c.Corners[0].Spring = func(w float64) (float64, float64) { return math.Log(w), 1 } }, "Corners[0].Spring"},
	} {
		car := estate()
		tc.spoil(&car)
		_, err := Compile(car)
		var e *InputError
		if !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if e.Faults[0].Field != tc.field {
			t.Errorf("%s: fault at %s; want %s", name, e.Faults[0].Field, tc.field)
		}
	}
	// All faults at once.
	car := estate()
	car.SprungMass, car.Corners[2].UnsprungMass = 0, -1
	var e *InputError
	if _, err := Compile(car); !errors.As(err, &e) || len(e.Faults) != 2 {
		t.Errorf("two faults: %v", err)
	}
	// A car too heavy for its springs.
	car = estate()
	for i := range car.Corners {
		car.Corners[i].Spring = linearSpring(0, 1000)
		car.Corners[i].Stop, car.Corners[i].MetalStiffness = Stop{}, 0
	}
	var r *RestError
	if _, err := Compile(car); !errors.As(err, &r) {
		t.Errorf("no springs: %v", err)
	}
}

// gap is a road whose heights are no numbers from 20 m on.
type gap struct{}

func (gap) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		dst[k] = 0
		if x0+float64(k)*dx > 20 {
			dst[k] = math.NaN()
		}
	}
}
