package screening_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/screening"
)

const g0 = 9.80665

// car is a road car without stops; uneven left and right where skew is not zero. All numbers are invented.
func car(skew, friction, digression float64) ride.Car {
	c := ride.Car{
		SprungMass: 1400, InertiaRoll: 460, InertiaPitch: 2000, CGToFront: 1.2, CGOffset: -0.05 * skew,
		Wheelbase: 2.7, TrackFront: 1.55, TrackRear: 1.55, Bars: [2]float64{9000, 4000}, RollArm: 0.46, PitchArm: 0.25,
		Points: []ride.FloorPoint{{Name: "driver", X: -1.3, Y: -0.37}, {Name: "middle", X: -1.2}},
	}
	for i := range c.Corners {
		mu, k, load, cd := 44.0, 26e3, 3800.0, 1700.0
		if i >= 2 {
			mu, k, load, cd = 41, 24e3, 3050, 1500
		}
		if i == 1 {
			k *= 1 + 0.2*skew
			cd *= 1 - 0.3*skew
		}
		if i == 2 {
			mu *= 1 + 0.1*skew
		}
		c.Corners[i] = ride.Corner{
			UnsprungMass: mu,
			Spring:       func(w float64) (float64, float64) { return load + k*w, k },
			DamperTravel: func(w float64) (float64, float64, float64) { return 0.92 * w, 0.92, 0 },
			Damper: func(v float64) float64 {
				f := cd * v
				if digression > 0 {
					f = cd * ((1-digression)*v + digression*0.3*math.Tanh(v/0.3))
				}
				if v < 0 {
					f *= 1 + digression
				}
				return f
			},
			Friction: friction,
			Tyre:     ride.Tyre{Rate: 225e3},
		}
	}
	return c
}

func grid(t testing.TB, gd, speed float64, lines int) *screening.Grid {
	t.Helper()
	g, err := screening.NewGrid(screening.Road{
		Spectrum: road.Spectrum{Roughness: gd, Waviness: 2}, Speed: speed, Wheelbase: 2.7, Track: 1.55, Lines: lines,
	})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func compile(t testing.TB, c ride.Car) *ride.Model {
	t.Helper()
	m, err := ride.Compile(c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func solve(t testing.TB, m screening.Model, g *screening.Grid) screening.Result {
	t.Helper()
	r, err := screening.Solve(m, g)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// drive runs the time simulation over road samples and returns root mean squares over all of them.
func drive(t *testing.T, m *ride.Model, gd, speed float64, samples int) (weighted float64, load, speedDev, travel, mean, power [4]float64) {
	t.Helper()
	random := road.UsualRoad(road.Spectrum{Roughness: gd, Waviness: 2}, 62*speed)
	// The estimate's lines end at 0.15 and 60 Hz; a fair road has the same band.
	random.TrackDistance, random.Longest, random.Shortest = 1.55, 0.15/speed, 60/speed
	gen, err := road.NewGenerator(random)
	if err != nil {
		t.Fatal(err)
	}
	for k := range samples {
		p := gen.Generate(uint64(k + 1))
		left, right := ride.Tracks(&p)
		var res ride.Result
		run := ride.Run{Left: left, Right: right, Speed: speed, Duration: 60, Settle: 3}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		n := float64(samples)
		weighted += res.Floor[0].Comfort.RMS * res.Floor[0].Comfort.RMS / n
		for i := range load {
			c := &res.Corners[i]
			load[i] += c.LoadDeviation * c.LoadDeviation / n
			speedDev[i] += c.DamperDeviation * c.DamperDeviation / n
			travel[i] += c.TravelDeviation * c.TravelDeviation / n
			mean[i] += c.TravelMean / n
			power[i] += c.Power / n
		}
	}
	for i := range load {
		load[i], speedDev[i], travel[i] = math.Sqrt(load[i]), math.Sqrt(speedDev[i]), math.Sqrt(travel[i])
	}
	return math.Sqrt(weighted), load, speedDev, travel, mean, power
}

// TestAgainstTime compares the estimate with the time simulation on common statistics: six samples of 57 s. The
// tolerances are a little above the scatter of such samples; a mildly nonlinear car is allowed half as much again.
func TestAgainstTime(t *testing.T) {
	for _, tc := range []struct {
		name             string
		car              ride.Car
		gd               float64
		acc, load, speed float64
	}{
		{"linear, even", car(0, 0, 0), 64e-6, 0.01, 0.01, 0.01},
		{"linear, uneven", car(1, 0, 0), 64e-6, 0.01, 0.01, 0.01},
		{"digressive, uneven", car(1, 0, 0.6), 256e-6, 0.015, 0.015, 0.015},
		{"digressive with friction", car(0.5, 40, 0.5), 256e-6, 0.015, 0.015, 0.015},
	} {
		m := compile(t, tc.car)
		r := solve(t, m, grid(t, tc.gd, 20, 0))
		acc, load, speed, travel, mean, power := drive(t, m, tc.gd, 20, 6)
		t.Logf("%s: %d passes, floor %.4f / %.4f", tc.name, r.Passes, r.Floor[0].Weighted, acc)
		if e := r.Floor[0].Weighted/acc - 1; math.Abs(e) > tc.acc {
			t.Errorf("%s: weighted acceleration %.4f m/s² by spectrum, %.4f in time (%.1f %%)", tc.name, r.Floor[0].Weighted, acc, 100*e)
		}
		for i := range load {
			o := &r.Corners[i]
			t.Logf("  corner %d: load %.1f / %.1f N, speed %.4f / %.4f, travel %.2f / %.2f mm, mean %.2f / %.2f mm, power %.2f / %.2f W", i, o.LoadDeviation, load[i], o.DamperSpeed, speed[i], 1e3*o.Travel, 1e3*travel[i], 1e3*o.TravelMean, 1e3*mean[i], o.Power, power[i])
			if e := o.LoadDeviation/load[i] - 1; math.Abs(e) > tc.load {
				t.Errorf("%s: corner %d: tyre load %.1f N by spectrum, %.1f N in time (%.1f %%)", tc.name, i, o.LoadDeviation, load[i], 100*e)
			}
			if e := o.DamperSpeed/speed[i] - 1; math.Abs(e) > tc.speed {
				t.Errorf("%s: corner %d: damper speed %.4f by spectrum, %.4f in time (%.1f %%)", tc.name, i, o.DamperSpeed, speed[i], 100*e)
			}
			if e := o.Power/power[i] - 1; math.Abs(e) > 2*tc.speed+0.01 {
				t.Errorf("%s: corner %d: power %.2f W by spectrum, %.2f W in time", tc.name, i, o.Power, power[i])
			}
			// The mean sinks with the asymmetry of the damper; half a millimetre, or a tenth of it.
			if e := o.TravelMean - mean[i]; math.Abs(e) > 0.0005+0.1*math.Abs(mean[i]) {
				t.Errorf("%s: corner %d: mean travel %.2f mm by spectrum, %.2f mm in time", tc.name, i, 1e3*o.TravelMean, 1e3*mean[i])
			}
		}
	}
}

// TestMirror: the mirror image of an uneven car has the mirror image of its answer; and a car that is uneven by almost
// nothing has the answer of the even car, which takes another path through the algebra.
func TestMirror(t *testing.T) {
	g := grid(t, 256e-6, 17, 0)
	a := car(1, 40, 0.6)
	b := a
	b.CGOffset = -a.CGOffset
	for i := range b.Corners {
		b.Corners[i] = a.Corners[i^1]
	}
	b.Points = []ride.FloorPoint{{Name: "driver", X: -1.3, Y: 0.37}, {Name: "middle", X: -1.2}}
	ra, rb := solve(t, compile(t, a), g), solve(t, compile(t, b), g)
	near := func(what string, x, y, tol float64) {
		t.Helper()
		if math.Abs(x-y) > tol*math.Abs(x) {
			t.Errorf("%s: %.9g against %.9g", what, x, y)
		}
	}
	for k := range ra.Floor {
		near("floor", ra.Floor[k].Weighted, rb.Floor[k].Weighted, 1e-9)
	}
	for i := range ra.Corners {
		near("travel", ra.Corners[i].Travel, rb.Corners[i^1].Travel, 1e-9)
		near("load", ra.Corners[i].LoadDeviation, rb.Corners[i^1].LoadDeviation, 1e-9)
		near("mean", ra.Corners[i].TravelMean, rb.Corners[i^1].TravelMean, 1e-6)
	}
	even, almost := solve(t, compile(t, car(0, 40, 0.6)), g), solve(t, compile(t, car(1e-7, 40, 0.6)), g)
	for k := range even.Floor {
		near("almost even floor", even.Floor[k].Weighted, almost.Floor[k].Weighted, 1e-6)
	}
	for i := range even.Corners {
		near("almost even load", even.Corners[i].LoadDeviation, almost.Corners[i].LoadDeviation, 1e-6)
		near("almost even travel", even.Corners[i].Travel, almost.Corners[i].Travel, 1e-6)
	}
}

// TestLines: the usual 60 lines against 6,000.
func TestLines(t *testing.T) {
	m := compile(t, car(0.5, 0, 0.5))
	few, many := solve(t, m, grid(t, 64e-6, 20, 0)), solve(t, m, grid(t, 64e-6, 20, 6000))
	if e := few.Floor[0].Weighted/many.Floor[0].Weighted - 1; math.Abs(e) > 0.0005 {
		t.Errorf("60 lines miss the weighted acceleration of 6,000 by %.3f %%", 100*e)
	}
	for i := range few.Corners {
		if e := few.Corners[i].LoadDeviation/many.Corners[i].LoadDeviation - 1; math.Abs(e) > 0.001 {
			t.Errorf("corner %d: 60 lines miss the tyre load of 6,000 by %.3f %%", i, 100*e)
		}
	}
}

// TestWithholds: each cause is found on a car made for it, and no number comes with it.
func TestWithholds(t *testing.T) {
	withStop := func(touch float64) ride.Car {
		c := car(0, 0, 0)
		for i := range c.Corners {
			c.Corners[i].Stop = ride.Stop{TouchTravel: touch, Loss: 0.25, Force: func(x float64) (float64, float64) {
				return 2e5 * x, 2e5
			}}
		}
		return c
	}
	for _, tc := range []struct {
		name string
		car  ride.Car
		gd   float64
		want screening.Cause
	}{
		{"stop near", withStop(0.008), 256e-6, screening.Contact},
		{"stop stiff", withStop(0.008), 256e-6, screening.StopShare},
		{"standing on the stop", withStop(-0.01), 16e-6, screening.Contact},
		{"very rough road", car(0, 0, 0), 4096e-6, screening.Lift},
		{"smooth road, much friction", car(0, 200, 0), 1e-6, screening.Stuck},
	} {
		r, err := screening.Solve(compile(t, tc.car), grid(t, tc.gd, 25, 0))
		var w *screening.WithheldError
		if !errors.As(err, &w) {
			t.Errorf("%s: not withheld", tc.name)
			continue
		}
		if len(r.Floor) != 0 || r.Corners[0].Travel != 0 {
			t.Errorf("%s: numbers beside the reasons", tc.name)
		}
		found := false
		for _, reason := range w.Reasons {
			found = found || reason.Cause == tc.want
		}
		if !found {
			t.Errorf("%s: %v, wanted %s", tc.name, w, tc.want)
		}
	}
	if _, err := screening.Solve(compile(t, withStop(0.06)), grid(t, 16e-6, 20, 0)); err != nil {
		t.Errorf("a stop far away: %v", err)
	}
}

func TestGridRefuses(t *testing.T) {
	good := screening.Road{Spectrum: road.Spectrum{Roughness: 64e-6, Waviness: 2}, Speed: 20, Wheelbase: 2.7, Track: 1.5}
	for name, spoil := range map[string]func(*screening.Road){
		"speed 0":        func(r *screening.Road) { r.Speed = 0 },
		"speed 500 km/h": func(r *screening.Road) { r.Speed = 500 / 3.6 },
		"no track":       func(r *screening.Road) { r.Track = 0 },
		"negative road":  func(r *screening.Road) { r.Spectrum.Roughness = -1 },
		"falling lines":  func(r *screening.Road) { r.Low = 90 },
		"not a number":   func(r *screening.Road) { r.Contact = math.NaN() },
	} {
		bad := good
		spoil(&bad)
		var e *screening.InputError
		if _, err := screening.NewGrid(bad); !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkSolveEven(b *testing.B)   { benchmark(b, car(0, 40, 0.5)) }
func BenchmarkSolveUneven(b *testing.B) { benchmark(b, car(1, 40, 0.5)) }

func benchmark(b *testing.B, c ride.Car) {
	m := compile(b, c)
	g := grid(b, 256e-6, 20, 0)
	b.ReportAllocs()
	passes := 0
	for b.Loop() {
		passes = solve(b, m, g).Passes
	}
	b.ReportMetric(float64(passes), "passes")
}
