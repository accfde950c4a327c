package drawing

import (
	"context"
	"math"
	"os"
	"testing"

	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
)

func demo(t *testing.T) *study.Answer {
	t.Helper()
	text, err := os.ReadFile("../../examples/marl-estate/job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		t.Fatal(faults)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 40, true, true
	a, err := study.Run(context.Background(), study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestStripsFitTheFigures holds the lines of a strip to the figures of the same
// corner: what is drawn and what is said are one thing.
func TestStripsFitTheFigures(t *testing.T) {
	a := demo(t)
	for _, b := range a.Job.Builds {
		for _, s := range Strips(a, b.ID, "four-aboard") {
			for code, drawn := range map[string]float64{
				"travel-to-stop": s.Touch - s.Rest, "travel-to-open": s.Rest - s.Open, "travel-to-solid": s.Solid - s.Rest, "travel-to-arch": s.Arch - s.Rest,
			} {
				v := a.Get(code, b.ID, "four-aboard", s.Corner)
				if !(math.Abs(v.Value-drawn) < 1e-9) {
					t.Errorf("%s corner %d: %s is drawn as %.2f mm and said as %.2f mm", b.ID, s.Corner, code, drawn*1e3, v.Value*1e3)
				}
			}
			if !(s.Open < s.Rest && s.RestLow <= s.Rest && s.Rest <= s.RestHigh && s.Touch < s.Solid && s.Solid < s.Closed+0.02) {
				t.Errorf("%s corner %d: lines out of order: %+v", b.ID, s.Corner, s)
			}
			if has := !math.IsNaN(s.RangeLow); has != (b.ID == "kit") {
				t.Errorf("%s corner %d: has a platform's range: %v", b.ID, s.Corner, has)
			}
		}
	}
	if s := Strips(a, "nobody", "driver"); s[0].Known {
		t.Error("a build that is not there has strips")
	}
	low, high := Scale(Strips(a, "arrived", "driver"), Strips(a, "kit", "driver"))
	if !(low < -0.08 && high > 0.09) {
		t.Errorf("the scale is %.0f to %.0f mm", low*1e3, high*1e3)
	}
}

func TestDensity(t *testing.T) {
	x, y := Density([]float64{0, 0.2, 0.8, 1}, []float64{-0.02, -0.005, 0.007, 0.02})
	if len(x) != 3 || y[1] != 1 || y[0] >= 1 || math.Abs(x[1]-0.001) > 1e-12 {
		t.Errorf("got %v %v", x, y)
	}
	if x, _ := Density([]float64{0, 1}, []float64{0, 0}); x != nil {
		t.Errorf("a wheel that does not move has a distribution: %v", x)
	}
}

func TestPlan(t *testing.T) {
	p := PlanOf(demo(t), "driver")
	if p.Wheel[2] != [2]float64{2.7, 0.772} || len(p.Weights) != 1 || p.Weights[0] != [2]float64{1.3, -0.37} {
		t.Errorf("got %+v", p)
	}
}
