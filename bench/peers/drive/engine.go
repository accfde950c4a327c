package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/ride"
)

// repeats is how often a run is timed; the quickest counts, because everything else on the machine only adds.
const repeats = 15

// engine times the ride engine with everything it computes, at fixed steps and at the step of its own rule.
func engine(w *strings.Builder) error {
	cases, err := drives()
	if err != nil {
		return err
	}
	for _, mount := range []float64{0, mountRate} {
		m, err := ride.Compile(estate(mount))
		if err != nil {
			return err
		}
		for _, step := range []float64{0, 0.5e-3, 0.75e-3, 1e-3, 1.25e-3, 1.5e-3, 1.75e-3, 2e-3, 2.5e-3} {
			for i := range cases {
				if err := timed(w, m, &cases[i], mount, step); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// timed writes the line of one drive.
func timed(w *strings.Builder, m *ride.Model, d *drive, mount, step float64) error {
	name := "engine"
	if step == 0 {
		name, step = "engine-rule", m.StepFor(d.event)
	}
	left, right := ride.Tracks(&d.profile)
	course, err := ride.NewCourse(left, right, estate(0).Wheelbase, d.speed, d.duration, step)
	if err != nil {
		return err
	}
	run := ride.Run{Course: course, Duration: d.duration, Settle: d.settle, Step: step}
	var res ride.Result
	best := math.Inf(1)
	for range repeats {
		start := clock()
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			return fmt.Errorf("%s: %w", d.name, err)
		}
		best = math.Min(best, clock()-start)
	}
	kind := "rigid"
	if mount > 0 {
		kind = "mount"
	}
	fmt.Fprintf(w, "%s %s %s %.9g 0 %.6g", name, kind, d.name, step, best/d.duration*1e6)
	for _, f := range res.Floor {
		fmt.Fprintf(w, " %.12g", f.Comfort.RMS)
	}
	for i := range res.Corners {
		fmt.Fprintf(w, " %.12g", res.Corners[i].LoadDeviation)
	}
	for i := range res.Corners {
		fmt.Fprintf(w, " %.12g %.12g", res.Corners[i].TravelMax, res.Corners[i].TravelMin)
	}
	for i := range res.Corners {
		fmt.Fprintf(w, " %.12g", res.Corners[i].ForceMax)
	}
	fmt.Fprintln(w)
	return nil
}
