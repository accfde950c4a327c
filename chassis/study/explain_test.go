package study

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// TestRerunIsRun changes one build and wants the same answer, to the bit, from
// a study that takes over the others as from one that starts anew.
func TestRerunIsRun(t *testing.T) {
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.ModesIn = 60, true, "driver"
	ropt := RideDefaults()
	ropt.EventsOnly, ropt.Unchecked = true, true
	answer := func(earlier *Answer, factor float64) *Answer {
		job := marl(t)
		s := *job.Builds[3].Corner[0].Spring
		s.Rate.Value *= factor
		job.Builds[3].Both(0, func(p *car.BuildCorner) { p.Spring = &s })
		a, err := Rerun(context.Background(), earlier, job, opt)
		if err != nil {
			t.Fatal(err)
		}
		kept := 0
		for b := range a.ready.kept {
			if a.ready.keeps(b) {
				kept++
			}
		}
		if earlier != nil && kept != 3 {
			t.Errorf("%d builds were taken over, want the 3 that did not change", kept)
		}
		if err := a.Ride(context.Background(), ropt, nil); err != nil {
			t.Fatal(err)
		}
		if a.ready.earlier != nil {
			t.Error("the answer holds on to the one before")
		}
		return a
	}
	first := answer(nil, 1)
	again, anew := answer(first, 1.04), answer(nil, 1.04)
	of := func(a *Answer) map[string]figure.Value {
		out := map[string]figure.Value{}
		for _, v := range a.Values {
			if math.IsNaN(v.Value) {
				v.Value = -1
			}
			if math.IsNaN(v.Low) {
				v.Low, v.High = -1, -1
			}
			key := v.Code + string(v.Tier)
			out[key+placeKey(v.Place)] = v
		}
		return out
	}
	x, y := of(again), of(anew)
	if len(x) != len(y) || len(again.Values) != len(anew.Values) {
		t.Fatalf("%d and %d values, want as many", len(again.Values), len(anew.Values))
	}
	for k := range y {
		if !reflect.DeepEqual(x[k], y[k]) {
			t.Fatalf("%s: %+v after taking over, %+v anew", k, x[k], y[k])
		}
	}
}

// TestExplainIsTheWorking wants the working that is written later to give the
// value it belongs to.
func TestExplainIsTheWorking(t *testing.T) {
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.ModesIn = 0, true, "driver"
	a, err := Run(context.Background(), marl(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for i := range a.Values {
		v := &a.Values[i]
		w := a.Explain(v)
		if w == nil || v.State == figure.Unknown {
			continue
		}
		checked++
		got, err := w.Evaluate()
		if err != nil || math.Abs(got-v.Value) > 1e-6*math.Max(1e-3, math.Abs(v.Value)) {
			t.Errorf("%s %+v: the working gives %g (%v), the value is %g", v.Code, v.Place, got, err, v.Value)
		}
	}
	if checked < 500 {
		t.Errorf("%d values have a working, want most of %d", checked, len(a.Values))
	}
}

// TestTraceFitsTheDrive wants a trace to reach the travel that the drive
// reports, and to end where it began.
func TestTraceFitsTheDrive(t *testing.T) {
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 0, true, true
	a, err := Run(context.Background(), marl(t), opt)
	if err != nil {
		t.Fatal(err)
	}
	ropt := RideDefaults()
	ropt.EventsOnly, ropt.Unchecked = true, true
	if err := a.Ride(context.Background(), ropt, nil); err != nil {
		t.Fatal(err)
	}
	for e := range a.Job.Brief.Events {
		tr, err := a.Trace(context.Background(), "lower-old", e, 4000)
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
	if _, err := a.Trace(context.Background(), "lower-old", 9, 100); err == nil {
		t.Error("an obstacle that is not there was driven")
	}
}

func placeKey(p figure.Place) string {
	return fmt.Sprintf("%+v", p)
}
