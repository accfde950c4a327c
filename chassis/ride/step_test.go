package ride

import (
	"context"
	"math"
	"testing"
)

func compile(t testing.TB, c Car) *Model {
	t.Helper()
	m, err := Compile(c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestAtRestStaysAtRest(t *testing.T) {
	cars := map[string]Car{"quarter": setA.car(), "estate": estate()}
	low := estate()
	for i := range low.Corners {
		low.Corners[i].Stop.TouchTravel = -0.03 // stands on its stops
	}
	cars["on its stops"] = low
	soft := estate()
	for i := range soft.Corners {
		soft.Corners[i].MountStiffness = 400e3
	}
	cars["on mounts"] = soft
	for name, car := range cars {
		m := compile(t, car)
		var res Result
		if err := m.Simulate(context.Background(), Run{Speed: 20, Duration: 10}, &res); err != nil {
			t.Fatal(err)
		}
		for i := range res.Corners {
			c := &res.Corners[i]
			if moved := math.Max(c.Bump, c.Droop); moved > 1e-10 {
				t.Errorf("%s: corner %d moved %g m on a flat road", name, i, moved)
			}
		}
		rest := m.Rest()
		sum, weight := 0.0, m.mass*m.gravity
		for i := range rest.TyreLoad {
			sum += rest.TyreLoad[i]
			weight += m.corner[i].mass * m.gravity
		}
		if math.Abs(sum-weight) > 1e-4 {
			t.Errorf("%s: tyres carry %.5f N of %.5f N", name, sum, weight)
		}
		if name == "on its stops" && !(rest.StopForce[0] > 50) {
			t.Errorf("%s: the stop carries %.1f N: the case checks nothing", name, rest.StopForce[0])
		}
	}
}

// TestOrderOfTheMethod: a smooth car on a smooth road; halving the step must shrink the error by about 2³.
func TestOrderOfTheMethod(t *testing.T) {
	m := compile(t, setA.car())
	road := pit{4, 3.3, 0.02}
	at := func(h float64) [3]float64 {
		var out [3]float64
		var res Result
		run := Run{Left: road, Right: road, Speed: 11, Duration: 1.2, Step: h, Event: true, Each: func(o *Moment) {
			if math.Abs(o.Time-1.0) < 1e-9 {
				out = [3]float64{o.Heave, o.Travel[0], o.TyreLoad[2] / 1e5}
			}
		}}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		return out
	}
	exact := at(1e-3 / 16)
	var last [3]float64
	for k, h := range []float64{2e-3, 1e-3, 0.5e-3} {
		got := at(h)
		for j := range got {
			e := math.Abs(got[j] - exact[j])
			if k > 0 {
				order := math.Log2(last[j] / e)
				if order < 2.6 {
					t.Errorf("result %d: order %.2f between steps %g and %g s (errors %.3g, %.3g)", j, order, 2*h, h, last[j], e)
				}
			}
			last[j] = e
		}
	}
}

// coreError compares the engine with a Runge-Kutta peer at 20 µs on the same tables over a course.
type core struct{ acc, load, travel, force float64 }

func referenceRun(m *Model, course *Course, seconds, fade float64) (rms float64, loads [4]float64, most, least [4]float64) {
	p := &peer{m: m}
	h := 2 * course.step
	steps := int(math.Round(seconds / h))
	skip := int(math.Round(fade / h))
	var f floors
	if err := f.ready(h, len(m.px)); err != nil {
		panic(err)
	}
	var s1, s2 [4]float64
	for i := range most {
		most[i], least[i] = math.Inf(-1), math.Inf(1)
	}
	p.drive(course, steps, fade, func(n int, q, v, a *[7]float64) {
		if n == skip {
			f.meters[0].Begin()
		}
		f.meters[0].Add(a[0] - m.px[0]*a[1] + m.py[0]*a[2])
		if n < skip {
			return
		}
		road := course.heights[2*n]
		for i := range m.corner {
			c := &m.corner[i]
			w := c.restTravel + q[3+i] - (q[0] - c.x*q[1] + c.y*q[2])
			most[i], least[i] = math.Max(most[i], w), math.Min(least[i], w)
			l, _ := c.tyre(c.restDeflection + road[i] - q[3+i])
			s1[i] += l
			s2[i] += l * l
		}
	})
	n := float64(steps - skip)
	for i := range loads {
		loads[i] = math.Sqrt(s2[i]/n - s1[i]/n*s1[i]/n)
	}
	sum, err := f.meters[0].Result()
	if err != nil {
		panic(err)
	}
	return sum.RMS, loads, most, least
}

func TestAgainstRungeKutta(t *testing.T) {
	m := compile(t, lossless(estate()))
	for _, tc := range []struct {
		name     string
		road     Track
		speed    float64
		seconds  float64
		fade     float64
		accurate float64
	}{
		{"class C road", newWavy(3, 256e-6, 60), 20, 12, 2, 0.005},
		{"class C road, fast", newWavy(3, 256e-6, 60), 40, 12, 2, 0.005},
		{"pothole", pit{5, 1.2, 0.07}, 60 / 3.6, 2.5, 0, 0.005},
		{"hump", pit{5, 3.7, -0.1}, 60 / 3.6, 2.5, 0, 0.005},
	} {
		fine, err := NewCourse(tc.road, tc.road, m.car.Wheelbase, tc.speed, tc.seconds, 25e-6)
		if err != nil {
			t.Fatal(err)
		}
		rms, loads, most, least := referenceRun(m, fine, tc.seconds, tc.fade)
		for _, h := range []float64{0.5e-3, 1e-3, 1.5e-3} {
			var res Result
			run := Run{Course: fine, Step: h, Duration: tc.seconds, Settle: tc.fade, Event: tc.fade == 0}
			run.Duration = math.Floor(tc.seconds/h) * h
			if err := m.Simulate(context.Background(), run, &res); err != nil {
				t.Fatal(err)
			}
			var c core
			c.acc = math.Abs(res.Floor[0].Comfort.RMS/rms - 1)
			for i := range res.Corners {
				r := &res.Corners[i]
				c.load = math.Max(c.load, math.Abs(r.LoadDeviation/loads[i]-1))
				used := most[i] - least[i]
				c.travel = math.Max(c.travel, math.Max(math.Abs(r.TravelMax-most[i]), math.Abs(r.TravelMin-least[i]))/used)
			}
			t.Logf("%s at %.2g ms: acceleration %.4f %%, load %.4f %%, travel %.4f %%; energy gap %.4f %%, stop %.0f N", tc.name, h*1e3, 100*c.acc, 100*c.load, 100*c.travel, 100*res.Energy.Share, res.Corners[0].StopPeak)
			if h <= 1e-3 && math.Max(c.acc, math.Max(c.load, c.travel)) > tc.accurate {
				t.Errorf("%s at %g s: core error %+v", tc.name, h, c)
			}
		}
	}
}
