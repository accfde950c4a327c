package ride

import (
	"context"
	"math"
	"sort"
	"testing"

	"trunnion/chassis/road"
)

// TestStepIsFound: on cars that are hard on an integrator the check settles below half a per cent by itself.
func TestStepIsFound(t *testing.T) {
	with := func(change func(*Corner)) Car {
		c := estate()
		for i := range c.Corners {
			change(&c.Corners[i])
		}
		return c
	}
	cars := map[string]Car{
		"estate":         estate(),
		"low":            lowEstate(),
		"on mounts":      mounted(),
		"light wheels":   with(func(c *Corner) { c.UnsprungMass, c.Tyre.Rate = 22, 300e3 }),
		"stiff mounts":   with(func(c *Corner) { c.MountStiffness = 3e6 }),
		"heavy friction": with(func(c *Corner) { c.Friction, c.FrictionSpeed = 200, 0.002 }),
		"race springs": with(func(c *Corner) {
			f := c.Spring
			c.Spring = func(w float64) (float64, float64) { a, b := f(w); return a + 100e3*w, b + 100e3 }
		}),
		"damped tyres":    with(func(c *Corner) { c.Tyre.Damping = 100 }),
		"soft stop alone": with(func(c *Corner) { c.MetalStiffness = 0 }),
	}
	lowered := 0
	for name, car := range cars {
		m := compile(t, car)
		for road, run := range map[string]Run{
			"class C": {Left: newWavy(5, 256e-6, 50), Right: newWavy(6, 256e-6, 50), Speed: 20, Duration: 17, Settle: 2},
			"hump":    {Left: pit{5, 3.7, -0.09}, Right: pit{5, 3.7, -0.09}, Speed: 9, Duration: 3, Event: true},
			"pothole": {Left: pit{5, 1.0, 0.05}, Speed: 14, Duration: 3, Event: true},
		} {
			var res Result
			if err := m.SimulateChecked(context.Background(), run, 0.005, &res); err != nil {
				t.Errorf("%s, %s: %v", name, road, err)
				continue
			}
			if res.Check.Worst() > 0.005 {
				t.Errorf("%s, %s: %+v", name, road, res.Check)
			}
			if name != "damped tyres" && math.Abs(res.Energy.Share) > 0.003 {
				t.Errorf("%s, %s: energy gap %.4f", name, road, res.Energy.Share)
			}
			lowered += res.Check.Halvings
		}
	}
	if lowered == 0 {
		t.Error("no step was ever lowered: the case was not checked")
	}
}

// straightLines interpolates a measured table, the last line carried on.
func straightLines(x, y []float64) Curve {
	return func(v float64) (float64, float64) {
		i := min(max(sort.SearchFloat64s(x, v), 1), len(x)-1)
		slope := (y[i] - y[i-1]) / (x[i] - x[i-1])
		return y[i-1] + slope*(v-x[i-1]), slope
	}
}

// rearCorner is one rear corner of an invented estate with four aboard, as a quarter car, in one build.
type rearCorner struct {
	spring, free         float64 // at the spring [N/m]; gap to the stop at rest, at the wheel [m]
	touch                float64 // wheel travel at the stop [m]
	friction             float64 // [N]
	gas, gasRate         float64 // [N], [N/m]
	crush, force         []float64
	bump, rebound        []float64
	hump, hitsAKilometre float64 // what an independent quarter car says: stop force [N], hits above 1 kN
}

var rearDynoSpeeds = []float64{0, 0.025, 0.05, 0.13, 0.26, 0.39, 0.52, 1.04}

func (r rearCorner) car(loss, dynamic float64) Car {
	const sprung, unsprung, tyre, bush = 365.7, 41.0, 225e3, 3000.0
	damper := func(w float64) (float64, float64, float64) { return 0.905*w + 0.1*w*w, 0.905 + 0.2*w, 0.2 }
	spring := func(w float64) (float64, float64, float64) { return 0.64*w + 0.15*w*w, 0.64 + 0.3*w, 0.3 }
	bump, rebound := straightLines(rearDynoSpeeds, r.bump), straightLines(rearDynoSpeeds, r.rebound)
	stop := straightLines(r.crush, r.force)
	rest := r.touch - r.free
	touch, _, _ := damper(r.touch)
	x0, d0, _ := damper(rest)
	s0, r0, _ := spring(rest)
	onStop := 0.0
	if x0 > touch {
		onStop, _ = stop(x0 - touch)
	}
	carried := (sprung*standardGravity - onStop*d0 - (r.gas+r.gasRate*x0)*d0) / r0
	car := quarter{sprung, unsprung, 1, tyre, 1}.car()
	for i := range car.Corners {
		c := &car.Corners[i]
		c.Spring = func(w float64) (float64, float64) {
			s, rs, drs := spring(w)
			x, rd, drd := damper(w)
			f, gas := carried+r.spring*(s-s0), r.gas+r.gasRate*x
			return f*rs + bush*(w-rest) + gas*rd, r.spring*rs*rs + f*drs + bush + r.gasRate*rd*rd + gas*drd
		}
		c.DamperTravel, c.DamperSlope = damper, nil
		c.Damper = func(v float64) float64 {
			if v < 0 {
				f, _ := rebound(-v)
				return -f
			}
			f, _ := bump(v)
			return f
		}
		c.Friction = r.friction
		c.Stop = Stop{TouchTravel: touch, Force: stop, Loss: loss, Dynamic: dynamic, TableEnd: r.crush[len(r.crush)-1]}
	}
	return car
}

var (
	longStop = [2][]float64{{0, 0.005, 0.010, 0.015, 0.020, 0.025, 0.030, 0.033, 0.036, 0.038}, {0, 80, 170, 290, 470, 780, 1400, 2250, 4000, 6800}}
	worn     = [2][]float64{{0, 24, 44, 96, 165, 222, 275, 480}, {0, 55, 102, 220, 345, 435, 520, 840}}

	rearBuilds = []struct {
		name string
		rearCorner
	}{
		{"as it arrived", rearCorner{48e3, 0.0091, 0.048, 45, 48, 100, longStop[0], longStop[1], worn[0], worn[1], 5400, 8.5}},
		{"low springs, worn dampers", rearCorner{60e3, -0.0106, 0.048, 45, 48, 100, longStop[0], longStop[1], worn[0], worn[1], 10400, 98.5}},
		{"low springs, short dampers", rearCorner{
			60e3, 0.0140, 0.077, 50, 75, 100,
			[]float64{0, 0.005, 0.010, 0.015, 0.020, 0.023, 0.026, 0.028},
			[]float64{0, 90, 205, 390, 780, 1300, 2700, 5200},
			[]float64{0, 52, 92, 178, 270, 345, 415, 700},
			[]float64{0, 115, 205, 390, 575, 715, 835, 1280},
			4300, 1.5,
		}},
		{"kit", rearCorner{
			80e3, 0.0248, 0.068, 60, 235, 1100,
			[]float64{0, 0.005, 0.010, 0.015, 0.018, 0.021, 0.023, 0.024},
			[]float64{0, 110, 270, 580, 980, 1850, 3400, 5200},
			[]float64{0, 68, 122, 238, 365, 472, 568, 925},
			[]float64{0, 150, 278, 580, 855, 1050, 1215, 1770},
			2800, 0,
		}},
	}
)

// TestRearOnTheStop drives the four builds over a round hump (75 mm by 3.7 m, 30 km/h, a stop that gives everything back)
// and along a class C road at 60 km/h. The stop forces are those of an independent quarter car, printed to 0.1 kN, to
// half of that and 2 % for its interpolation of the tables; hits above 1 kN a kilometre to a quarter or two hits, since
// roads differ. A regression reference, not a published value.
func TestRearOnTheStop(t *testing.T) {
	hump, err := road.RoundHump(0.075, 3.7)
	if err != nil {
		t.Fatal(err)
	}
	flat := road.Profile{Step: 0.02, Left: make([]float64, 4000), Right: make([]float64, 4000)}
	over := flat.With(hump, 5)
	random := road.UsualRoad(road.ClassC.Spectrum(), 10100)
	random.TrackDistance = 0
	generator, err := road.NewGenerator(random)
	if err != nil {
		t.Fatal(err)
	}
	lane := generator.Generate(5)
	if lane, err = lane.Averaged(0.1); err != nil {
		t.Fatal(err)
	}
	touches := map[string]float64{}
	for _, b := range rearBuilds {
		m := compile(t, b.car(0, 1))
		if gap := b.touch - m.Rest().Travel[RearLeft]; math.Abs(gap-b.free) > 1e-5 {
			t.Errorf("%s: %.2f mm to the stop; was set to %.2f", b.name, 1e3*gap, 1e3*b.free)
		}
		left, right := Tracks(&over)
		var res Result
		if err := m.SimulateChecked(context.Background(), Run{Left: left, Right: right, Speed: 30 / 3.6, Duration: 3, Event: true}, 0, &res); err != nil {
			t.Fatal(err)
		}
		if got := res.Corners[RearLeft].StopPeak; math.Abs(got-b.hump) > 50+0.02*b.hump {
			t.Errorf("%s: stop force over the hump %.0f N; independent model %.0f N", b.name, got, b.hump)
		}
		left, right = Tracks(&lane)
		run := Run{Left: left, Right: right, Speed: 60 / 3.6, Duration: 600, Settle: 3, StopForces: []float64{0, 1000}}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		c := &res.Corners[RearLeft]
		perKilometre := 1000 * c.StopHits[1].PerMetre
		if math.Abs(perKilometre-b.hitsAKilometre) > math.Max(0.25*b.hitsAKilometre, 2) {
			t.Errorf("%s: %.1f hits above 1 kN a kilometre; independent model %.1f", b.name, perKilometre, b.hitsAKilometre)
		}
		touches[b.name] = c.StopTime
	}
	if !(touches["low springs, worn dampers"] > 0.6 && touches["kit"] < 0.05) {
		t.Errorf("shares of time in the stop: %v", touches)
	}
}
