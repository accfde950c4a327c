package study

import (
	"context"
	"slices"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// From what force a hit on a stop counts: the brief's, or a quarter of what the car's
// corners carry; a car twice as heavy counts from twice as much.
func TestForceOfAHit(t *testing.T) {
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := Run(context.Background(), Job(demo.Marl()), opt)
	if err != nil {
		t.Fatal(err)
	}
	// 1463 kg on the scales and a driver of 82 kg: a quarter of a quarter is 947 N.
	if got := a.StopForces(); !slices.Equal(got, []float64{1000, 2000}) {
		t.Errorf("the demo's hits count from %v", got)
	}
	for i := range a.Values {
		if a.Values[i].Code == "corner-load" {
			a.Values[i].Value *= 2
		}
	}
	if got := a.StopForces(); !slices.Equal(got, []float64{2000, 4000}) {
		t.Errorf("those of a car twice as heavy from %v", got)
	}
	a.Job.Brief.Limits.StopHit = figure.Input{Value: 700, Origin: figure.Chosen, Path: "brief.limits.stop_hit"}
	if got := a.StopForces(); !slices.Equal(got, []float64{700, 1400}) {
		t.Errorf("the workshop's own from %v", got)
	}
}
