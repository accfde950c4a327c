package levelling_test

import (
	"testing"

	"trunnion/chassis/scales"
	"trunnion/chassis/study"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
)

// Readings that are kept in the job narrow what is predicted of the build: its
// gap to the stop and its heights, in the load state that was read and in all
// others. Other builds stay as they were.
func TestKeptReadingsNarrowPredictions(t *testing.T) {
	text, job, b := demo(t)
	rig := rigOf(t, job, b, nil)
	// A car that stands 3 mm lower at the front left than the parts lead to.
	moved := *rig
	moved.System.Corner[0].Compressed0 -= 3e-3
	st, err := moved.Stand([4]float64{})
	if err != nil {
		t.Fatal(err)
	}
	round := typed(st.Reading)
	w, _ := round.Weigh()
	l, err := levelling.Work(b, "driver", rig, scales.Road.Level(scales.FrontRightRearLeft), []intake.Weighing{w})
	if err != nil {
		t.Fatal(err)
	}
	length := func(v float64) string { return quantity.Format(v, quantity.Length, quantity.Metric, 2) }
	mass := func(v float64) string { return quantity.Format(v, quantity.Mass, quantity.Metric, 2) }
	kept := text
	for _, p := range l.Keep(text, length, mass, round) {
		if kept, err = jobfile.Put(kept, p.Path, p.Value); err != nil {
			t.Fatal(err)
		}
	}
	answer := func(text []byte) *study.Answer {
		job, faults := jobfile.ReadBytes(text, "job.yaml")
		if job == nil {
			t.Fatal(faults)
		}
		opt := study.Defaults()
		opt.Samples, opt.NoWorkings, opt.NoRemedies, opt.NoCorners, opt.NoModes = 300, true, true, true, true
		a, err := study.Run(t.Context(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	before, after := answer(text), answer(kept)
	for _, load := range []string{"driver", "four-aboard", "holiday"} {
		for _, code := range []string{"travel-to-stop", "arch-height"} {
			for i := range 4 {
				was, is := before.Get(code, "kit", load, i), after.Get(code, "kit", load, i)
				if was == nil || is == nil || !was.HasBand || !is.HasBand {
					t.Fatalf("%s of corner %d under %s has no band: %+v, %+v", code, i, load, was, is)
				}
				old, now := was.High-was.Low, is.High-is.Low
				if now > 0.75*old {
					t.Errorf("%s of corner %d under %s: band of %.1f mm, before %.1f mm", code, i, load, now*1e3, old*1e3)
				}
				if i == 0 {
					t.Logf("%s, front left, %s: %.1f (%.1f to %.1f) mm, before %.1f (%.1f to %.1f) mm", code, load, is.Value*1e3, is.Low*1e3, is.High*1e3, was.Value*1e3, was.Low*1e3, was.High*1e3)
				}
			}
		}
	}
	// It lies where it was read, not where the parts led to.
	read := st.Reading.Height[0]
	if is := after.Get("arch-height", "kit", "driver", 0); read < is.Low || read > is.High {
		t.Errorf("front left was read at %.1f mm and is predicted at %.1f to %.1f mm", read*1e3, is.Low*1e3, is.High*1e3)
	}
	for i := range 4 {
		was, is := before.Get("travel-to-stop", "lower-uprated", "driver", i), after.Get("travel-to-stop", "lower-uprated", "driver", i)
		if was.Value != is.Value || was.Low != is.Low || was.High != is.High {
			t.Errorf("readings of the kit change another build: %+v, %+v", was, is)
		}
	}
}
