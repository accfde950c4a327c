package jobfile_test

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/shop/jobfile"
)

// Every kind of car makes a job that can be read, in which every figure of the car is
// an estimate with a range: none is taken for a reading.
func TestTypicalCarsAreEstimates(t *testing.T) {
	if len(jobfile.Typicals()) < 5 {
		t.Fatal("fewer than five kinds")
	}
	for _, kind := range jobfile.Typicals() {
		told := jobfile.Told{Date: "2026-03-01", LowerFront: "25 mm"}
		told.Fill(&kind)
		text, faults := told.Text()
		if len(faults) > 0 {
			t.Errorf("%s: %+v", kind.ID, faults)
			continue
		}
		job, faults := jobfile.ReadBytes(text, "job.yaml")
		if job == nil {
			t.Fatalf("%s: %v", kind.ID, faults)
		}
		if !strings.Contains(string(text), "common practice, no source") {
			t.Errorf("%s: the job does not say what its figures rest on", kind.ID)
		}
		c := job.Car
		inputs := []figure.Input{c.Wheelbase, c.Track[0], c.Track[1]}
		for i := range 4 {
			inputs = append(inputs, c.Weighed.Load[i], c.Weighed.Height[i])
		}
		for i := range inputs {
			if in := &inputs[i]; in.Origin != figure.Estimated || in.Half <= 0 {
				t.Errorf("%s: %s is %s ± %g, no estimate", kind.ID, in.Path, in.Origin, in.Half)
			}
		}
	}
}

// What was told stands; only what was not is typical.
func TestTypicalFillsWhatWasNotTold(t *testing.T) {
	kind, err := jobfile.FindTypical("roadster")
	if err != nil {
		t.Fatal(err)
	}
	told := jobfile.Told{Car: "Wend", Wheelbase: "2301 mm"}
	told.Fill(&kind)
	if told.Car != "Wend" || told.Wheelbase != "2301 mm" || !strings.HasPrefix(told.Track, "est ") {
		t.Errorf("%+v", told)
	}
	if _, err := jobfile.FindTypical("spaceship"); err == nil {
		t.Error("a kind that is none is found")
	}
}
