package desk_test

import (
	"math"
	"testing"

	"trunnion/chassis/axles"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/examples"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
)

// The band of a strut's figure lies round the figure, is there for every build, and is
// wider than what is not known of the wheel's load alone; a wheel that is moved moves it;
// without draws there is none.
func TestStrutBandsLieRoundTheFigures(t *testing.T) {
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
	side := func(_ *axles.BuildStrut, m *strut.Moment) float64 { return m.Forces.Across }
	stress := func(_ *axles.BuildStrut, m *strut.Moment) float64 { return m.Stress }
	for i := range s.Struts.Builds {
		one := &s.Struts.Builds[i]
		still := s.Drawn(one, &desk.StrutMove{})
		out := s.Drawn(one, &desk.StrutMove{Change: linkage.Change{Offset: 0.02}})
		for n := range one.Cases {
			c := &one.Cases[n]
			if c.Err != nil || c.Code != axles.StrutStanding && c.Code != axles.StrutCornering {
				continue
			}
			for name, of := range map[string]func(*axles.BuildStrut, *strut.Moment) float64{"side": side, "stress": stress} {
				low, high, ok := axles.StrutBand(still[n], of)
				is := of(one, &c.Moment)
				if !ok || !(low < is && is < high) || high-low < 0.02*is {
					t.Errorf("%s, %s, %s: %.4g in %.4g to %.4g", one.Build.ID, c.Code, name, is, low, high)
				}
				if further, _, _ := axles.StrutBand(out[n], of); math.Abs(further-low) < 1e-6*is {
					t.Errorf("%s, %s, %s: with the wheel 20 mm out the band begins where it did", one.Build.ID, c.Code, name)
				}
			}
		}
	}
	none := 0
	plain, err := desk.New("test").Struts(t.Context(), job, desk.StrutsAsk{Axle: "front", Settings: desk.Settings{Draws: &none}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range plain.Drawn(&plain.Struts.Builds[0], &desk.StrutMove{}) {
		if len(c) != 0 {
			t.Error("there are draws where none were asked for")
		}
	}
}
