package desk_test

import (
	"math"
	"testing"

	"trunnion/chassis/linkage"
	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
)

// A strut that nothing was moved of carries what its cases say; every load of the road by
// a fifth greater is a fifth greater at the contact; and the case that follows springs and
// stop is drawn at every travel.
func TestStrutsAsMoved(t *testing.T) {
	text, err := examples.Jobs.ReadFile("sedley-hatch/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	s, err := desk.New("test").Struts(t.Context(), job, desk.StrutsAsk{Axle: "front"})
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for i := range s.Struts.Builds {
		one := &s.Struts.Builds[i]
		still := s.Moments(one, &desk.StrutMove{})
		out := s.Moments(one, &desk.StrutMove{Change: linkage.Change{Offset: 0.02}})
		for n := range one.Cases {
			c := &one.Cases[n]
			if c.Err != nil {
				continue
			}
			looked++
			if still[n].Err != nil || still[n].Is != c.Moment || still[n].Was != c.Moment {
				t.Errorf("%s, %s: moved by nothing it is another moment (%v)", one.Build.ID, c.Code, still[n].Err)
			}
			if out[n].Err != nil || out[n].Is == c.Moment || out[n].Was != c.Moment {
				t.Errorf("%s, %s: with the wheel 20 mm out it carries the same (%v)", one.Build.ID, c.Code, out[n].Err)
			}
			_, _, load := s.Over(one, &desk.StrutMove{Heavier: 0.2}, n, []float64{c.Travel})
			if got, want := load(c.Travel).Contact.Z, 1.2*c.Load.Contact.Z; math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s, %s: a fifth heavier presses with %.0f N, not %.0f N", one.Build.ID, c.Code, got, want)
			}
		}
		if _, errs, _ := s.Over(one, &desk.StrutMove{}, -1, []float64{0}); errs[0] == nil {
			t.Errorf("%s: a case that it does not have is drawn", one.Build.ID)
		}
		travels := []float64{-0.02, 0, 0.02}
		if list, errs, _ := s.Over(one, &desk.StrutMove{}, desk.StrutCarried, travels); len(list) != 3 || errs[1] != nil {
			t.Errorf("%s: carried over the travel: %d moments, %v", one.Build.ID, len(list), errs)
		}
	}
	if looked == 0 {
		t.Error("no case was looked at")
	}
}
