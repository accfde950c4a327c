package finding

import (
	"context"
	"testing"

	"trunnion/chassis/drives"

	"trunnion/chassis/brief"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

func answer(t testing.TB, samples, workers int) *study.Answer {
	t.Helper()
	d := demo.Marl()
	opt := study.Defaults()
	opt.Samples, opt.Workers = samples, workers
	a, err := study.Run(context.Background(), study.Job(d), opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func judged(t testing.TB, a *study.Answer) []Finding {
	t.Helper()
	return Judge(a)
}

func at(list []Finding, code, build string, axle int) *Finding {
	for i := range list {
		f := &list[i]
		if f.Code == code && f.Value.Place.Build == build && (axle < 0 || max(0, f.Value.Place.Corner)/2 == axle) {
			return f
		}
	}
	return nil
}

// The demo was drawn up so that these hold; an independent model agreed before
// this program existed.
func TestDemoIsJudgedAsASpecialistWould(t *testing.T) {
	a := answer(t, 500, 2)
	list := judged(t, a)
	for _, c := range []struct {
		code, build string
		axle        int
		want        Verdict
		why         string
	}{
		{"rests-on-bump-stop", "lower-old", 1, Over, "low springs on the old dampers sit on the rear stops when laden"},
		{"spring-loose-at-droop", "lower-old", 1, Over, "and are loose at the rear at full droop"},
		{"spring-loose-at-droop", "arrived", -1, Clear, "the car as it arrived keeps its springs seated"},
		{"spring-loose-at-droop", "lower-uprated", 1, Over, "the shorter damper still leaves the rear spring loose"},
		{"tyre-meets-arch-first", "lower-uprated", 1, Over, "with the shorter stop the tyre meets the arch first"},
		{"rests-on-bump-stop", "lower-uprated", 1, Close, "uprated dampers only touch on holiday"},
		{"stop-carries-load", "kit", -1, Clear, "the kit never rests on its stops"},
		{"rests-on-bump-stop", "kit", -1, Clear, "and keeps its gap in every load state"},
	} {
		f := at(list, c.code, c.build, c.axle)
		if f == nil {
			t.Errorf("%s of %s was not judged: %s", c.code, c.build, c.why)
			continue
		}
		if f.Verdict != c.want {
			t.Errorf("%s of %s is %s at %.1f mm, probability %.2f; want %s: %s", c.code, c.build, f.Verdict, f.Value.Value*1e3, f.Probability, c.want, c.why)
		}
	}
	if first := list[0].Value.Place.Build; first != "lower-old" {
		t.Errorf("the worst finding is of %s; it should be of the low springs on the old dampers", first)
	}
}

func TestFindingsAreRankedByProbabilityTimesConsequence(t *testing.T) {
	list := judged(t, answer(t, 200, 2))
	for i := range list {
		if list[i].Rank != i+1 {
			t.Fatalf("finding %d has rank %d", i, list[i].Rank)
		}
		if i > 0 && list[i].loud() && list[i-1].weight() < list[i].weight()-1e-12 {
			t.Errorf("rank %d weighs %.3f, more than rank %d with %.3f", i+1, list[i].weight(), i, list[i-1].weight())
		}
		if i > 0 && list[i].loud() && !list[i-1].loud() {
			t.Errorf("rank %d stands behind a quiet one", i+1)
		}
	}
}

// Ride findings and their remedies.
func TestRideFindings(t *testing.T) {
	a := answer(t, 100, 2)
	if err := drives.Ride(context.Background(), a, drives.Defaults(), nil); err != nil {
		t.Fatal(err)
	}
	list := judged(t, a)
	f := at(list, "hits-stops-hard", "lower-old", 1)
	// Over the limit as the car stands; how sure that is, its tolerances say.
	if f == nil || f.Value.Value < 2*f.Limit.Value || f.Probability < 0.9 || f.Value.BandOf != figure.OfBoth {
		t.Fatalf("low springs on the old dampers with four aboard do not hit their rear stops hard: %+v", f)
	}
	if f.Value.Tier != figure.Time {
		t.Errorf("hits come from the %s tier", f.Value.Tier)
	}
	if f := at(list, "hits-stops-hard", "kit", -1); f == nil || f.Verdict != Clear {
		t.Errorf("the kit is not clear of hard hits: %+v", f)
	}
}

// TestLeavesTheGround: a crest that throws the car is a finding of every build, whatever its other figures; the same crest
// at a tenth of the speed is none.
func TestLeavesTheGround(t *testing.T) {
	in := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Chosen} }
	for speed, flies := range map[float64]bool{38.9: true, 8: false} {
		d := demo.Marl()
		asked := *d.Brief
		asked.Roads, asked.Events = nil, []brief.Event{{Kind: "crest", Height: in(0.25), Length: in(16), Speed: in(speed), Load: "driver"}}
		opt := study.Defaults()
		opt.Samples, opt.NoModes, opt.NoCorners, opt.NoRemedies = 0, true, true, true
		a, err := study.Run(t.Context(), study.Job{Car: d.Car, Builds: d.Builds, Loads: d.Loads, Brief: &asked}, opt)
		if err != nil {
			t.Fatal(err)
		}
		ride := drives.Defaults()
		ride.EventsOnly, ride.Unchecked = true, true
		if err := drives.Ride(t.Context(), a, ride, nil); err != nil {
			t.Fatal(err)
		}
		list := Judge(a)
		over := map[string]bool{}
		for _, f := range list {
			if f.Code == "leaves-the-ground" && f.Verdict == Over {
				over[f.Value.Place.Build] = true
				if f.Value.Value < 0.05 || f.Value.Value > 1.5 {
					t.Errorf("%s flies for %.3f s", f.Value.Place.Build, f.Value.Value)
				}
			}
		}
		if want := len(d.Builds); flies && len(over) != want || !flies && len(over) != 0 {
			t.Errorf("at %g m/s %d of %d builds leave the ground", speed, len(over), want)
		}
	}
}
