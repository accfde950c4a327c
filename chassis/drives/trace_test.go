package drives

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// TestTraceFitsTheDrive wants a trace to reach the travel that the drive
// reports, and to end where it began.
func TestTraceFitsTheDrive(t *testing.T) {
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 0, true, true
	a, err := study.Run(context.Background(), study.Job(demo.Marl()), opt)
	if err != nil {
		t.Fatal(err)
	}
	ropt := Defaults()
	ropt.EventsOnly, ropt.Unchecked = true, true
	if err := Ride(context.Background(), a, ropt, nil); err != nil {
		t.Fatal(err)
	}
	for e := range a.Job.Brief.Events {
		tr, err := Follow(context.Background(), a, "lower-old", e, 4000)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			peak := math.Inf(-1)
			for _, w := range tr.Travel[i] {
				peak = math.Max(peak, w)
			}
			want := math.NaN()
			for k := range a.Values {
				v := &a.Values[k]
				if v.Code == "travel-peak-bump" && v.Place.Build == "lower-old" && v.Place.Event == tr.Event && v.Place.Corner == i {
					want = v.Value
				}
			}
			if !(math.Abs(peak-want) < 1e-3) {
				t.Errorf("%s %s: the trace reaches %.1f e-3 m, the drive says %.1f e-3 m", tr.Event, figure.CornerNames[i], peak*1e3, want*1e3)
			}
			if n := len(tr.Body[i]); math.Abs(tr.Body[i][n-1]) > 3e-3 || math.Abs(tr.Wheel[i][n-1]) > 3e-3 {
				t.Errorf("%s %s: ends %.1f e-3 m off its rest", tr.Event, figure.CornerNames[i], tr.Body[i][n-1]*1e3)
			}
		}
	}
	if _, err := Follow(context.Background(), a, "lower-old", 9, 100); err == nil {
		t.Error("an obstacle that is not there was driven")
	}
}
