package study

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
)

// TestExplainIsTheWorking wants the working that is written later to give the
// value it belongs to.
func TestExplainIsTheWorking(t *testing.T) {
	opt := Defaults()
	opt.Samples, opt.NoWorkings, opt.ModesIn = 0, true, "driver"
	a, err := Run(context.Background(), Job(demo.Marl()), opt)
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
