package desk_test

import (
	"strings"
	"testing"

	"trunnion/chassis/finding"
	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
)

// Wheels 20 mm further out show what they ask of the struts in the builds' findings, and
// no part that does not change it is said to clear it.
func TestWheelsFurtherOutAreToldInBuilds(t *testing.T) {
	text, err := examples.Jobs.ReadFile("marl-estate/wheels.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "wheels.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	none := 0
	r, err := desk.New("test").Assess(t.Context(), job, desk.AssessAsk{Settings: desk.Settings{Draws: &none}})
	if err != nil {
		t.Fatal(err)
	}
	load := r.Answer.UsualLoad()
	// Standing the wheel's load tips the strut's top inward, by 20 mm more lever of it. In a
	// hard corner the lateral force on the ground tips the outer one's top outward, and
	// more so: there the longer lever takes off it.
	for code, more := range map[string]bool{"strut-side-load": true, "strut-side-load-in-bend": false, "strut-bending-stress": false} {
		was, is := r.Answer.Get(code, "arrived", load, 0), r.Answer.Get(code, "wheels-old", load, 0)
		if was == nil || is == nil || (is.Value > was.Value) != more {
			t.Errorf("%s with the wheels 20 mm out: %+v, was %+v", code, is, was)
		}
	}
	told := false
	for _, f := range r.Findings {
		if !strings.HasPrefix(f.Value.Place.Build, "wheels-") || f.Code != "strut-side-load-up" {
			continue
		}
		told = told || f.Verdict == finding.Over
		for _, one := range f.Remedies {
			t.Errorf("%s: %s is offered against the side load and changes none of it", f.Value.Place.Build, one.Code)
		}
	}
	if !told {
		t.Error("nothing is said of the struts' side load")
	}
}
