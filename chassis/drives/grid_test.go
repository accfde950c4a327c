package drives

import (
	"math"
	"slices"
	"testing"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// TestObstacleGrid: what a drive over an obstacle says does not hang on the grid the obstacle is laid on: beside one eight
// times as fine the forces of the stops are within half a hundredth, and so are those of the single drive of a try. On 10 mm,
// whatever the edge, a pothole's were up to 4.3 % off.
func TestObstacleGrid(t *testing.T) {
	in := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Chosen} }
	job := study.Job(demo.Marl())
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := study.Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	load := slices.IndexFunc(a.Job.Loads, func(l car.Load) bool { return l.ID == "four-aboard" })
	for _, e := range []brief.Event{
		{Kind: "pothole", Depth: in(0.05), Length: in(0.6)},
		{Kind: "joint", Height: in(0.012), Length: in(0.3)},
		{Kind: "flat-hump", Height: in(0.075), Length: in(4)},
	} {
		for _, speed := range []float64{5.5, 13.9} {
			shape, err := route.Shape(&e)
			if err != nil {
				t.Fatal(err)
			}
			c := route.Obstacle{Event: shape, Speed: speed, Load: load}
			for b := range a.Job.Builds {
				m, err := ride.Compile(rider(&a.Job, &a.Cases[b][load], b, load, nil))
				if err != nil {
					t.Fatal(err)
				}
				step, wheelbase := m.StepFor(true), job.Car.Wheelbase.Value
				coarse, fine, duration, err := c.Courses(wheelbase, step, true)
				if err != nil {
					t.Fatal(err)
				}
				p, err := c.Lay(math.Max(c.Grid(step)/8, 1e-4))
				if err != nil {
					t.Fatal(err)
				}
				finest, err := route.Course(&p, wheelbase, speed, duration, step/2)
				if err != nil {
					t.Fatal(err)
				}
				run := ride.Run{Course: coarse, Finer: fine, Duration: duration, Step: step, Event: true}
				var try, checked, truth ride.Result
				if err := m.Simulate(t.Context(), run, &try); err != nil {
					t.Fatal(err)
				}
				if err := m.SimulateChecked(t.Context(), run, 0, &checked); err != nil {
					t.Fatal(err)
				}
				for _, h := range []float64{step, checked.Step} {
					if err := m.Simulate(t.Context(), ride.Run{Course: finest, Duration: duration, Step: h, Event: true}, &truth); err != nil {
						t.Fatal(err)
					}
					got := &try
					if h != step {
						got = &checked
					}
					for i := range 4 {
						x, y := got.Corners[i].StopPeak, truth.Corners[i].StopPeak
						if y < 200 {
							continue
						}
						compared++
						if math.Abs(x/y-1) > 0.005 {
							t.Errorf("%s at %.1f m/s, %s, corner %d, step %.2g s: the stop takes %.0f N, on the finest grid %.0f N", e.Kind, speed, job.Builds[b].ID, i, h, x, y)
						}
					}
				}
			}
		}
	}
	if compared < 20 {
		t.Errorf("%d forces were compared", compared)
	}
}
