package drives

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// TestRerunIsRun changes one build and wants the same answer, to the bit, from
// a study that takes over the others as from one that starts anew.
func TestRerunIsRun(t *testing.T) {
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.ModesIn = 60, true, "driver"
	ropt := Defaults()
	ropt.EventsOnly, ropt.Unchecked = true, true
	answer := func(earlier *study.Answer, factor float64) *study.Answer {
		job := study.Job(demo.Marl())
		s := *job.Builds[3].Corner[0].Spring
		s.Rate.Value *= factor
		job.Builds[3].Both(0, func(p *car.BuildCorner) { p.Spring = &s })
		a, err := study.Rerun(context.Background(), earlier, job, opt)
		if err != nil {
			t.Fatal(err)
		}
		kept := 0
		for b := range job.Builds {
			if a.Kept(b) != nil {
				kept++
			}
		}
		if earlier != nil && kept != 3 {
			t.Errorf("%d builds were taken over, want the 3 that did not change", kept)
		}
		if err := Ride(context.Background(), a, ropt, nil); err != nil {
			t.Fatal(err)
		}
		for b := range job.Builds {
			if a.Kept(b) != nil {
				t.Error("the answer holds on to the one before")
			}
		}
		return a
	}
	first := answer(nil, 1)
	again, anew := answer(first, 1.04), answer(nil, 1.04)
	of := func(a *study.Answer) map[string]figure.Value {
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

func placeKey(p figure.Place) string {
	return fmt.Sprintf("%+v", p)
}
