package drives

import (
	"math"
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/study"
)

// onRoads drives two builds of the demo over its first road and returns the figures.
func onRoads(t *testing.T, workers int, change func(*study.Job, *Options)) map[drawnAt]figure.Value {
	t.Helper()
	job, with := study.Job(demo.Marl()), Defaults()
	job.Builds, job.Brief.Roads, job.Brief.Events = job.Builds[:2], job.Brief.Roads[:1], nil
	job.Brief.Roads[0].Speeds = job.Brief.Roads[0].Speeds[:1]
	with.Duration, with.Settle = 9, 1
	if change != nil {
		change(&job, &with)
	}
	return figures(t, job, with, workers, 60, func(v *figure.Value) bool { return v.Tier == figure.Time })
}

// TestRoadsHaveBandsOfBoth: the nominal figures are what they are without draws, every band holds the road's own, the share
// of the car closes the sum of squares, and neither workers nor lanes change anything.
func TestRoadsHaveBandsOfBoth(t *testing.T) {
	got := onRoads(t, 2, nil)
	one := onRoads(t, 1, func(_ *study.Job, o *Options) { o.Lanes = ride.Alone })
	none := onRoads(t, 2, func(_ *study.Job, o *Options) { o.Draws = 0 })
	both, wider := 0, 0
	for at, v := range got {
		n := none[at]
		if n.Value != v.Value && !(math.IsNaN(n.Value) && math.IsNaN(v.Value)) {
			t.Errorf("%v: %g, without draws %g", at, v.Value, n.Value)
		}
		if strings.HasPrefix(at.code, "mount-") {
			if v.BandOf != figure.OfRuns || v.Low != n.Low {
				t.Errorf("%v: what is set against the baseline sample by sample has a band of %q", at, v.BandOf)
			}
			continue
		}
		if v.BandOf != figure.OfBoth || n.BandOf != figure.OfRuns {
			t.Errorf("%v: a band of %q, without draws of %q", at, v.BandOf, n.BandOf)
			continue
		}
		both++
		half, road := v.High-v.Value, n.High-n.Value
		if half < road || math.Abs(road*road-(1-v.CarShare)*half*half) > 1e-9*half*half {
			t.Errorf("%v: half-width %g, the road's %g, the car's share %g", at, half, road, v.CarShare)
		}
		if half > 1.05*road {
			wider++
		}
		if o := one[at]; math.Abs(o.High-v.High) > 1e-3*math.Max(half, 1e-9) || math.Abs(o.CarShare-v.CarShare) > 2e-3 {
			t.Errorf("%v: up to %g, alone and with one worker up to %g", at, v.High, o.High)
		}
	}
	if both < 60 || wider < both/2 {
		t.Errorf("%d bands of both, of which %d are wider than the road's", both, wider)
	}
}

// TestKnownCarLeavesTheRoadsChance: a car of which everything is exact moves nothing but by the coarser step of the draws.
func TestKnownCarLeavesTheRoadsChance(t *testing.T) {
	got := onRoads(t, 2, func(job *study.Job, _ *Options) {
		for _, in := range figure.Number(&struct {
			Car    *car.Car
			Builds []*car.Build
			Loads  []car.Load
		}{job.Car, job.Builds, job.Loads}, nil) {
			in.Half = 0
		}
	})
	for at, v := range got {
		if at.code == "floor-acceleration" && !(v.CarShare < 0.3) {
			t.Errorf("%v: the known car makes %.2f of the band", at, v.CarShare)
		}
	}
}

// TestFewDrawsKnowTheirDeviation: Student's band of four draws, over its quantile, is the deviation that seven others give,
// within the scatter of a deviation of so few (its logarithm's standard deviation is about √(1/(2·3) + 1/(2·6)) = 0.5; in
// the mean over figures that move together no better than half of that).
func TestFewDrawsKnowTheirDeviation(t *testing.T) {
	few := onRoads(t, 2, nil)
	many := onRoads(t, 2, func(_ *study.Job, o *Options) { o.Samples, o.Seed = 7, 5 })
	sum, n := 0.0, 0
	for at, v := range few {
		m := many[at]
		if v.BandOf != figure.OfBoth || m.BandOf != figure.OfBoth || !(v.CarShare > 0.5 && m.CarShare > 0.5) {
			continue
		}
		deviation := func(v *figure.Value, t float64) float64 { return (v.High - v.Value) * math.Sqrt(v.CarShare) / t }
		sum += math.Log(deviation(&v, 3.182) / deviation(&m, 2.447))
		n++
	}
	if n < 20 || math.Abs(sum/float64(n)) > 0.5 {
		t.Errorf("%d deviations by 4 draws are %.2f times those by 7 in the mean", n, math.Exp(sum/float64(n)))
	}
	t.Logf("%d deviations by 4 draws are %.2f times those by 7 in the mean", n, math.Exp(sum/float64(n)))
}
