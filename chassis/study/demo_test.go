package study

import (
	"context"
	"math"
	"sync"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/travel"
)

// The demo's expected figures come from an independent model of the same
// invented car (tyres, bushes, bars, gas, stops, motion tables, nonlinear
// rest), written before this program and apart from it: own numbers, no
// source. They are printed to 0.1 mm and rounded; a tolerance of 0.6 mm covers
// the rounding and small differences in how a motion table is fitted.

// assessed is the whole demo, answered once for all tests.
var assessed = sync.OnceValues(func() (*Answer, error) {
	return Run(context.Background(), Job(demo.Marl()), Defaults())
})

func theDemo(t *testing.T) *Answer {
	t.Helper()
	a, err := assessed()
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Failures) > 0 {
		t.Fatalf("cases without a rest position: %+v", a.Failures)
	}
	return a
}

// value returns a figure of the demo; it must exist.
func value(t *testing.T, a *Answer, code, build, load string, corner int) *figure.Value {
	t.Helper()
	v := a.Get(code, build, load, corner)
	if v == nil {
		t.Fatalf("no %s of %s, %s, corner %d", code, build, load, corner)
	}
	return v
}

// check compares a figure with what is expected, in its own unit times scale.
func check(t *testing.T, v *figure.Value, scale, want, tol float64, unit string) {
	t.Helper()
	where := "car"
	if v.Place.Corner != figure.NoCorner {
		where = figure.CornerNames[v.Place.Corner]
	}
	if got := v.Value * scale; !(math.Abs(got-want) <= tol) {
		t.Errorf("%s, %s, %s, %s: %.4g %s, expected %.4g ± %.2g %s", v.Code, v.Place.Build, v.Place.Load, where, got, unit, want, tol, unit)
	}
}

var builds = [4]string{"arrived", "lower-old", "lower-uprated", "kit"}

var unmeasured = math.NaN()

func TestDemoHeights(t *testing.T) {
	a := theDemo(t)
	for b, row := range [4][4]float64{{376, 377, 378, 382}, {349, 350, 347, 350}, {352, 353, 348, 351}, {352, 352, 360, 363}} {
		for i, want := range row {
			check(t, value(t, a, "arch-height", builds[b], "empty", i), 1e3, want, 0.6, "mm")
		}
	}
}

func TestDemoGaps(t *testing.T) {
	a := theDemo(t)
	for load, rows := range map[string][4][4]float64{
		"driver":      {{39.5, 35.0, 41.2, 39.5}, {14.0, 9.8, 11.0, 9.4}, {34.1, 30.0, 40.2, 38.6}, {39.4, 35.9, 45.1, 43.9}},
		"four-aboard": {{25.5, 25.3, 9.1, 11.8}, {2.6, 1.8, -10.6, -8.8}, {22.7, 22.1, 14.0, 16.2}, {31.3, 30.7, 24.8, 26.5}},
		"holiday": {
			{unmeasured, unmeasured, -10.0, -7.5},
			{unmeasured, unmeasured, -21.7, -19.9},
			{unmeasured, unmeasured, -4.1, -2.0},
			{unmeasured, unmeasured, 9.4, 11.5},
		},
	} {
		for b, row := range rows {
			for i, want := range row {
				if !math.IsNaN(want) {
					check(t, value(t, a, "travel-to-stop", builds[b], load, i), 1e3, want, 0.6, "mm")
				}
			}
		}
	}
}

// Bands of the gap with the driver: 95 % about ±4 mm for the car as it came,
// ±6 mm for what is still to be fitted. Makers' tolerances of the demo leave a
// spring's rate ±5 %, which alone is ±6.6 mm at the front; the figures expected
// are met within three tenths where rates are held to 2 %, and as typed the bands
// may only be wider.
func TestDemoBands(t *testing.T) {
	typed := theDemo(t)
	job := Job(demo.Marl())
	for _, b := range job.Builds {
		for x := range 2 {
			b.Corner[2*x].Spring.Rate.Half = 0.02 * b.Corner[2*x].Spring.Rate.Value
		}
	}
	held := run(t, job, func(o *Options) { o.Samples = 2000 })
	for b, want := range [4]float64{4, 6, 6, 6} {
		for i := range 4 {
			half := func(a *Answer) float64 {
				v := value(t, a, "travel-to-stop", builds[b], "driver", i)
				if !v.HasBand {
					t.Fatalf("%s has no band", builds[b])
				}
				return 0.5e3 * (v.High - v.Low)
			}
			if h := half(held); math.Abs(h-want) > 0.3*want {
				t.Errorf("gap of %s, %s, rates to 2 %%: ±%.1f mm, expected about ±%.0f mm", builds[b], figure.CornerNames[i], h, want)
			}
			if h, least := half(typed), half(held); h < least-0.2 || h > 1.6*want {
				t.Errorf("gap of %s, %s: ±%.1f mm as typed, ±%.1f mm with rates to 2 %%", builds[b], figure.CornerNames[i], h, least)
			}
		}
	}
}

// Stop's share of what the rear suspension carries with luggage, on the left,
// where it is greater; printed to the per cent. The register's share is of the
// tyre's load, which holds the wheel too.
func TestDemoStopShares(t *testing.T) {
	a := theDemo(t)
	for b, want := range [4]float64{3, 10, 1, 0} {
		v := value(t, a, "stop-share", builds[b], "holiday", figure.RearLeft)
		c := &a.Cases[b][3]
		load := c.State.Load[figure.RearLeft]
		sprung := load - 41*equilibrium.Gravity
		if got := 100 * v.Value * load / sprung; math.Abs(got-want) > 0.5 {
			t.Errorf("%s, holiday: the stop carries %.2f %% of what the rear left suspension does, expected %.0f %%", builds[b], got, want)
		}
	}
}

// Limits of travel at the wheel, printed to the millimetre: 0.6 mm.
func TestDemoLimits(t *testing.T) {
	a := theDemo(t)
	for b, axles := range [4][2][4]float64{
		{{-83, 46, 85, 89}, {-97, 48, 90, 99}},
		{{-83, 46, 85, 89}, {-97, 48, 90, 99}},
		{{-67, 63, 94, 99}, {-77, 77, 107, 110}},
		{{-43, 67, 95, 98}, {-43, 68, 94, 96}},
	} {
		for x, want := range axles {
			// The corners of an axle differ by how crooked the car stood.
			var got [4]float64
			for i := 2 * x; i < 2*x+2; i++ {
				c := &a.Cases[b][1]
				l := c.System.Corner[i].Limits(c.State.Load[i])
				for k, v := range [4]float64{l.Open, l.Touch, l.Solid, l.Closed} {
					got[k] += 0.5e3 * v
				}
			}
			for k, name := range [4]string{"open", "touch", "solid", "closed"} {
				if math.Abs(got[k]-want[k]) > 1.1 {
					t.Errorf("%s, %d: %s at a wheel travel of %.2f mm, expected %.0f mm", builds[b], x, name, got[k], want[k])
				}
			}
		}
	}
	// The uprated rear: the tyre meets the arch before the stop is solid.
	if v := value(t, a, "solid-before-arch", "lower-uprated", "driver", figure.RearLeft); v.Value >= 0 {
		t.Errorf("uprated rear: the stop is solid %.1f mm before the arch; the arch was to come first", v.Value*1e3)
	}
}

// Spring at full droop, at the spring, positive seated: printed to the
// millimetre, with a band of 4 mm.
func TestDemoSpringAtDroop(t *testing.T) {
	a := theDemo(t)
	for b, row := range [4][4]float64{{72, 74, 24, 20}, {15, 17, -14, -18}, {30, 32, -2, -5}, {10, 12, 8, 5}} {
		for i, want := range row {
			v := value(t, a, "spring-gap-open", builds[b], "driver", i)
			check(t, v, -1e3, want, 1.1, "mm seated")
			// The old springs' own figure is wider: what the weighing and the
			// stated rate disagree by is all taken for length.
			if half := 0.5e3 * (v.High - v.Low); b > 0 && math.Abs(half-4) > 1.5 {
				t.Errorf("%s, %s: spring at droop ±%.1f mm, expected about ±4 mm", builds[b], figure.CornerNames[i], half)
			}
		}
	}
}

// Rates 1 %, frequencies and ratios to half their last digit and a digit's
// worth of rounding in what they come from.
func TestDemoRatesAndRatios(t *testing.T) {
	a := theDemo(t)
	for b, r := range [4]struct{ rate, hz, onTyre, ratio [2]float64 }{
		{[2]float64{26.7, 24.2}, [2]float64{1.28, 1.46}, [2]float64{1.21, 1.39}, [2]float64{0.21, 0.19}},
		{[2]float64{32.9, 29.8}, [2]float64{1.42, 1.62}, [2]float64{1.32, 1.52}, [2]float64{0.19, 0.17}},
		{[2]float64{33.1, 29.8}, [2]float64{1.42, 1.62}, [2]float64{1.33, 1.52}, [2]float64{0.31, 0.31}},
		{[2]float64{47.7, 38.6}, [2]float64{1.70, 1.84}, [2]float64{1.55, 1.70}, [2]float64{0.40, 0.39}},
	} {
		for k, i := range [2]int{figure.FrontRight, figure.RearLeft} {
			check(t, value(t, a, "wheel-rate", builds[b], "driver", i), 1e-3, r.rate[k], 0.01*r.rate[k], "N/mm")
			check(t, value(t, a, "corner-frequency", builds[b], "driver", i), 1, r.hz[k], 0.01*r.hz[k], "Hz")
			check(t, value(t, a, "corner-frequency-on-tyre", builds[b], "driver", i), 1, r.onTyre[k], 0.01*r.onTyre[k], "Hz")
			check(t, value(t, a, "damping-ratio", builds[b], "driver", i), 1, r.ratio[k], 0.0065, "-")
		}
	}
	for b, want := range [4]float64{0.17, 0.12, 0.27, 0.34} {
		check(t, value(t, a, "damping-ratio", builds[b], "four-aboard", figure.RearLeft), 1, want, 0.0065, "-")
	}
}

// Ratio of the kit at 50, 130 and 260 mm/s for the clicks that were measured,
// front left and rear left with the driver; clicks counted from closed.
func TestDemoKitClicks(t *testing.T) {
	a := theDemo(t)
	for _, r := range []struct {
		click       int
		front, rear [3]float64
	}{
		{15, [3]float64{.29, .26, .20}, [3]float64{.25, .23, .20}},
		{11, [3]float64{.39, .32, .25}, [3]float64{.35, .30, .23}},
		{7, [3]float64{.55, .41, .30}, [3]float64{.50, .39, .29}},
		{3, [3]float64{.77, .53, .37}, [3]float64{.71, .51, .37}},
		{0, [3]float64{1.01, .66, .44}, [3]float64{.94, .63, .43}},
	} {
		for k, speed := range [3]float64{0.05, 0.13, 0.26} {
			for i, want := range map[int]float64{figure.FrontLeft: r.front[k], figure.RearLeft: r.rear[k]} {
				found := 0
				for n := range a.Values {
					v := &a.Values[n]
					p := &v.Place
					if v.Code == "damping-ratio" && p.Build == "kit" && p.Load == "driver" && p.Corner == i &&
						p.Direction == "mean" && p.Velocity == speed && p.HasClick && p.Click == r.click {
						found++
						check(t, v, 1, want, 0.0085, "-")
					}
				}
				if found != 1 {
					t.Errorf("%d ratios at click %d and %g m/s of corner %d", found, r.click, speed, i)
				}
			}
		}
	}
}

// The body's modes with the driver: frequencies 2 %, ratios 0.015.
func TestDemoModes(t *testing.T) {
	a := theDemo(t)
	modeOf := func(code, build, name string) *figure.Value {
		for n := range a.Values {
			v := &a.Values[n]
			if v.Code == code && v.Place.Build == build && v.Place.Load == "driver" && v.Place.Mode == name {
				return v
			}
		}
		t.Fatalf("no %s of %s, %s", code, build, name)
		return nil
	}
	for b, r := range [4]struct{ hz, ratio [3]float64 }{
		{[3]float64{1.26, 1.47, 1.94}, [3]float64{.18, .17, .18}},
		{[3]float64{1.37, 1.61, 2.08}, [3]float64{.16, .15, .16}},
		{[3]float64{1.40, 1.63, 2.12}, [3]float64{.27, .28, .28}},
		{[3]float64{1.67, 1.87, 2.44}, [3]float64{.31, .33, .35}},
	} {
		for k, name := range [3]string{"heave", "pitch", "roll"} {
			check(t, modeOf("mode-frequency", builds[b], name), 1, r.hz[k], 0.02*r.hz[k], "Hz ("+name+")")
			check(t, modeOf("mode-damping", builds[b], name), 1, r.ratio[k], 0.015, "- ("+name+")")
		}
	}
	for _, name := range []string{"front-hop", "front-tramp", "rear-hop", "rear-tramp"} {
		for _, r := range []struct {
			build                  string
			low, high, least, most float64
		}{{"arrived", 12.0, 12.6, .16, .21}, {"kit", 12, 12.8, .41, .56}} {
			if v := modeOf("mode-frequency", r.build, name); v.Value < r.low*0.97 || v.Value > r.high*1.03 {
				t.Errorf("%s of %s: %.2f Hz, expected %.1f to %.1f Hz", name, r.build, v.Value, r.low, r.high)
			}
			if v := modeOf("mode-damping", r.build, name); v.Value < r.least-0.02 || v.Value > r.most+0.02 {
				t.Errorf("%s of %s: ratio %.3f, expected %.2f to %.2f", name, r.build, v.Value, r.least, r.most)
			}
		}
	}
}

// What the demo claims, with how sure it is.
func TestDemoClaims(t *testing.T) {
	a := theDemo(t)
	share := func(code, build, load string, corner int, limit float64, upper bool) float64 {
		return a.Broken(value(t, a, code, build, load, corner), limit, upper)
	}
	for _, i := range []int{figure.RearLeft, figure.RearRight} {
		if p := share("travel-to-stop", "lower-old", "four-aboard", i, 0, false); p < 0.95 {
			t.Errorf("low springs, four aboard, %s: on the stop in %.1f %% of the draws, at least 95 %% expected", figure.CornerNames[i], p*100)
		}
		if p := share("spring-gap-open", "lower-old", "driver", i, 0, true); p < 0.95 {
			t.Errorf("low springs, %s: loose at full droop in %.1f %% of the draws, at least 95 %% expected", figure.CornerNames[i], p*100)
		}
		// The honest middle: clear with four aboard, touching on holiday.
		if p := share("travel-to-stop", "lower-uprated", "four-aboard", i, 0, false); p > 0.05 {
			t.Errorf("uprated, four aboard, %s: on the stop in %.1f %% of the draws", figure.CornerNames[i], p*100)
		}
		if v := value(t, a, "travel-to-stop", "lower-uprated", "holiday", i); v.Value >= 0 {
			t.Errorf("uprated, holiday, %s: %.1f mm clear; it was to touch", figure.CornerNames[i], v.Value*1e3)
		}
	}
	// The kit is clear in every state; its rear left has a gap below 0 on
	// holiday in about one draw of 250.
	for _, l := range a.Job.Loads {
		for i := range 4 {
			if v := value(t, a, "travel-to-stop", "kit", l.ID, i); v.Value <= 0 {
				t.Errorf("kit, %s, %s: %.1f mm in the stop", l.ID, figure.CornerNames[i], -v.Value*1e3)
			}
			if p := share("travel-to-stop", "kit", l.ID, i, 0, false); p > 0.02 {
				t.Errorf("kit, %s, %s: in the stop in %.1f %% of the draws", l.ID, figure.CornerNames[i], p*100)
			}
		}
	}
	// Said so.
	said := map[[2]string]int{}
	for _, w := range a.Warnings {
		if w.Code == "rests-on-stop" {
			said[[2]string{w.Build, w.Load}]++
		}
	}
	for at, want := range map[[2]string]int{
		{"lower-old", "four-aboard"}: 2, {"lower-old", "holiday"}: 2, {"lower-uprated", "holiday"}: 2,
		{"lower-uprated", "four-aboard"}: 0, {"kit", "holiday"}: 0, {"arrived", "holiday"}: 2,
	} {
		if at == [2]string{"lower-old", "holiday"} {
			// With luggage the fronts may touch too.
			if said[at] < want {
				t.Errorf("%v: %d corners are said to rest on their stops, at least %d do", at, said[at], want)
			}
			continue
		}
		if said[at] != want {
			t.Errorf("%v: %d corners are said to rest on their stops, %d do", at, said[at], want)
		}
	}
}

// Without the bushes gaps move by 0 to 5 mm, printed to the millimetre, and the
// claims stand.
func TestDemoWithoutBushes(t *testing.T) {
	with := theDemo(t)
	job := Job(demo.Marl())
	for x := range 2 {
		job.Car.Axle[x].BushRate.Value, job.Car.Axle[x].BushRate.Half = 0, 0
	}
	opt := Defaults()
	opt.Samples = 0
	without, err := Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0
	for _, build := range builds {
		for _, l := range job.Loads {
			for i := range 4 {
				moved := 1e3 * (value(t, without, "travel-to-stop", build, l.ID, i).Value - value(t, with, "travel-to-stop", build, l.ID, i).Value)
				most = max(most, math.Abs(moved))
				if math.Abs(moved) > 5.5 {
					t.Errorf("%s, %s, %s: the gap moves by %.1f mm without bushes, expected 0 to 5 mm", build, l.ID, figure.CornerNames[i], moved)
				}
			}
		}
	}
	if most < 0.5 {
		t.Errorf("bushes move no gap by more than %.2f mm: they are not in the model", most)
	}
	for _, i := range []int{figure.RearLeft, figure.RearRight} {
		if v := value(t, without, "travel-to-stop", "lower-old", "four-aboard", i); v.Value >= 0 {
			t.Errorf("without bushes the low springs are %.1f mm off the stop", v.Value*1e3)
		}
		if v := value(t, without, "travel-to-stop", "kit", "holiday", i); v.Value <= 0 {
			t.Errorf("without bushes the kit is %.1f mm in the stop", -v.Value*1e3)
		}
	}
}

// On the scales: the kit at its start marks, driver aboard, bars off. Heights
// 0.3 mm, loads 1 kg, cross 0.1 point.
func TestDemoScales(t *testing.T) {
	a := theDemo(t)
	c := &a.Cases[3][1]
	off := c.System.WithoutBars()
	st, err := off.Solve(weightsOf(a, 1), &c.State)
	if err != nil {
		t.Fatal(err)
	}
	zero := [2]float64{377, 380}
	total := 0.0
	for i := range 4 {
		total += st.Load[i]
		if h, want := zero[i/2]-st.Travel[i]*1e3, [4]float64{350.1, 345.0, 357.9, 355.1}[i]; math.Abs(h-want) > 0.6 {
			t.Errorf("%s stands at %.2f mm, expected %.1f mm", figure.CornerNames[i], h, want)
		}
		if kg, want := st.Load[i]/9.80665, [4]float64{431.8, 464.7, 327.3, 321.2}[i]; math.Abs(kg-want) > 1 {
			t.Errorf("%s weighs %.2f kg, expected %.1f kg", figure.CornerNames[i], kg, want)
		}
	}
	if cross := 100 * (st.Load[1] + st.Load[2]) / total; math.Abs(cross-51.26) > 0.1 {
		t.Errorf("cross weight is %.2f %%, expected 51.26 %%", cross)
	}
}

// Both ways to lower the car, from the state with the driver: a seat loses the
// gap millimetre for millimetre; a body keeps it where spring and damper move
// alike, but for what their ratio changes over the way: 3 % of it.
func TestAdjustersDiffer(t *testing.T) {
	a := theDemo(t)
	c := &a.Cases[3][1]
	steps := []float64{0, 0.007, 0.019}
	for i := range 4 {
		seat := travel.Lower(&c.System, &c.State, i, travel.BySeat, steps)
		body := travel.Lower(&c.System, &c.State, i, travel.ByBody, steps)
		for k, by := range steps {
			if lost := seat[0].Budget.ToStop - seat[k].Budget.ToStop; math.Abs(lost-by) > 1e-9 {
				t.Errorf("corner %d lowered %.0f mm on its seat loses %.3f mm of gap", i, by*1e3, lost*1e3)
			}
			if i < 2 {
				if moved := math.Abs(body[0].Budget.ToStop - body[k].Budget.ToStop); moved > 0.03*by+1e-9 {
					t.Errorf("corner %d lowered %.0f mm by its body loses %.3f mm of gap", i, by*1e3, moved*1e3)
				}
			}
		}
		if i < 2 {
			if d := body[2].Budget.GapOpen - seat[2].Budget.GapOpen; math.Abs(d) < 5e-3 {
				t.Errorf("corner %d: the spring at droop is the same for both ways, %.2f mm apart", i, d*1e3)
			}
		}
	}
}
