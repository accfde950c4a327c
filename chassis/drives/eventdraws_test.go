package drives

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"

	"trunnion/chassis/study"

	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
)

// obstacles drives the demo's obstacles and returns their figures.
func obstacles(t *testing.T, workers int, change func(*study.Job, *Options)) map[drawnAt]figure.Value {
	t.Helper()
	job, with := study.Job(demo.Marl()), Defaults()
	with.EventsOnly = true
	if change != nil {
		change(&job, &with)
	}
	return figures(t, job, with, workers, 100, func(v *figure.Value) bool { return v.Place.Event != "" })
}

// figures drives a job and returns those of its figures that are wanted, so many at
// least.
func figures(t *testing.T, job study.Job, with Options, workers, least int, want func(*figure.Value) bool) map[drawnAt]figure.Value {
	t.Helper()
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners, opt.Workers = 0, true, true, true, workers
	a, err := study.Run(t.Context(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	if err := Ride(t.Context(), a, with, nil); err != nil {
		t.Fatal(err)
	}
	out := map[drawnAt]figure.Value{}
	for i := range a.Values {
		if v := &a.Values[i]; want(v) {
			out[drawnAt{v.Code, v.Place}] = *v
		}
	}
	if len(out) < least {
		t.Fatalf("%d figures, fewer than %d", len(out), least)
	}
	return out
}

// TestObstaclesHaveBands: every known figure of an obstacle has a band of draws round the nominal run, which is what it is
// without draws; the same for any number of workers and with lanes off.
func TestObstaclesHaveBands(t *testing.T) {
	got := obstacles(t, 2, nil)
	one := obstacles(t, 1, func(_ *study.Job, o *Options) { o.Lanes = ride.Alone })
	none := obstacles(t, 2, func(_ *study.Job, o *Options) { o.Draws = 0 })
	without, wide := 0, 0
	for at, v := range got {
		if n := none[at]; n.Value != v.Value && !(math.IsNaN(n.Value) && math.IsNaN(v.Value)) || n.HasBand {
			t.Errorf("%v: %g nominal, %g beside draws", at, n.Value, v.Value)
		}
		if v.State == figure.Unknown {
			continue
		}
		if !v.HasBand {
			without++
			continue
		}
		if v.BandOf != figure.OfDraws || !(v.Low <= v.Value && v.Value <= v.High) {
			t.Errorf("%v: %g to %g of %q round %g", at, v.Low, v.High, v.BandOf, v.Value)
		}
		o := one[at]
		if size := math.Max(math.Abs(v.High-v.Low), 1e-6*math.Abs(v.Value)); math.Abs(o.Low-v.Low) > 1e-3*size || math.Abs(o.High-v.High) > 1e-3*size {
			t.Errorf("%v: %g to %g; alone and with one worker %g to %g", at, v.Low, v.High, o.Low, o.High)
		}
		if v.High > v.Low {
			wide++
		}
	}
	// A bounce that only some of the draws excite has none.
	if without > len(got)/20 || wide < len(got)/2 {
		t.Errorf("of %d figures %d are without a band and %d have one of some width", len(got), without, wide)
	}
}

// TestManyDrawsAgree: sixteen draws give the half-widths that sixty-four do, within the scatter of a deviation from sixteen
// (its relative standard deviation is 1/√30 = 18 %, for normal figures; W. G. Cochran's and any text's).
func TestManyDrawsAgree(t *testing.T) {
	few := obstacles(t, 2, nil)
	many := obstacles(t, 2, func(_ *study.Job, o *Options) { o.Draws = 64 })
	sum, n := 0.0, 0
	for at, v := range few {
		m := many[at]
		if at.code != "travel-peak-bump" && at.code != "travel-peak-droop" || !v.HasBand || !m.HasBand {
			continue
		}
		ratio := (v.High - v.Low) / (m.High - m.Low)
		if !(ratio > 0.4 && ratio < 1.8) {
			t.Errorf("%v: half-width %g by 16 draws, %g by 64", at, (v.High-v.Low)/2, (m.High-m.Low)/2)
		}
		sum += math.Log(ratio)
		n++
	}
	if n < 20 || math.Abs(sum/float64(n)) > 0.2 {
		t.Errorf("%d half-widths by 16 draws are %.2f times those by 64 in the mean", n, math.Exp(sum/float64(n)))
	}
}

// TestKnownCarHasNarrowBands: a car and builds of which everything is exact leave only the speed and where the edge falls.
func TestKnownCarHasNarrowBands(t *testing.T) {
	loose := obstacles(t, 2, nil)
	exact := obstacles(t, 2, func(job *study.Job, _ *Options) {
		for _, in := range figure.Number(&struct {
			Car    *car.Car
			Builds []*car.Build
			Loads  []car.Load
		}{job.Car, job.Builds, job.Loads}, nil) {
			in.Half = 0
		}
	})
	narrower, n := 0, 0
	for at, v := range loose {
		e := exact[at]
		if at.code != "travel-peak-bump" || !v.HasBand || !e.HasBand {
			continue
		}
		n++
		if e.High-e.Low < 0.6*(v.High-v.Low) {
			narrower++
		}
		if !(e.High > e.Low) {
			t.Errorf("%v: speed and edge move nothing", at)
		}
	}
	if n < 20 || narrower < n*3/4 {
		t.Errorf("of %d bands %d are much narrower with everything known", n, narrower)
	}
}
