package reference

import (
	"math"
	"testing"

	"trunnion/chassis/road"
	"trunnion/reference/validation"
)

// Round-top hump: a segment of a cylinder 3.7 m (12 ft) long and 75 to 100 mm
// high (TRL 377; first described by G.R. Watts, TRRL LR 597, 1973, from memory).
// Numbers derived here.
func TestRoundHump(t *testing.T) {
	validation.Against(t, "Round-top hump", validation.Derived, "segment of a cylinder; sizes of TRL 377 (from memory)")
	for _, r := range []struct{ height, length, quarter float64 }{
		{0.1, 3.7, 75.0547045},
		{0.075, 3.7, 56.2730932},
		{4 * 0.0254, 12 * 0.3048, 76.2587056},
	} {
		e, err := road.RoundHump(r.height, r.length)
		if err != nil {
			t.Fatal(err)
		}
		if got := 1000 * e.Height(r.length/4); validation.Share(t, got, r.quarter, 1e-8) {
			t.Errorf("%g by %g m: %.7f mm at a quarter; want %.7f", r.height, r.length, got, r.quarter)
		}
		if got := e.Height(r.length / 2); validation.Share(t, got, r.height, 1e-12) {
			t.Errorf("%g by %g m: crest %.9f m", r.height, r.length, got)
		}
	}
	e, err := road.RoundHump(0.1, 3.7)
	if err != nil {
		t.Fatal(err)
	}
	if got := math.Atan(e.Slope(0)) * 180 / math.Pi; validation.Share(t, got, 6.18811612, 1e-8) {
		t.Errorf("entry angle %.8f°; want 6.18811612°", got)
	}
	// Against a parabola of the same height and length.
	most, at := 0.0, 0.0
	for x := 0.0; x < 1.85; x += 1e-4 {
		u := (x - 1.85) / 1.85
		if d := 1000 * (e.Height(x) - 0.1*(1-u*u)); d > most {
			most, at = d, x
		}
	}
	if validation.Off(t, most, 0.0730, 0.5e-4) || validation.Off(t, at, 0.5409, 1.5e-4) {
		t.Errorf("greatest difference from a parabola %.5f mm at %.4f m; want 0.0730 at 0.5409", most, at)
	}
}

// Sinusoidal hump 100 mm by 3.7 m: steepest slope π·h/L = 0.0849079096 (derived
// here); 120 mm by 4.8 m is the Belgian guidance.
func TestSineHump(t *testing.T) {
	validation.Against(t, "Sinusoidal hump", validation.Derived, "closed form")
	e, err := road.Crest(0.1, 3.7) // a crest is as short as it is said to be
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0
	for x := 0.0; x < 3.7; x += 1e-4 {
		most = math.Max(most, e.Slope(x))
	}
	if validation.Share(t, most, 0.0849079096, 1e-7) {
		t.Errorf("steepest slope %.10f; want 0.0849079096", most)
	}
	if got := math.Atan(e.Slope(3.7/4)) * 180 / math.Pi; validation.Share(t, got, 4.85322433, 1e-8) {
		t.Errorf("steepest angle %.8f°; want 4.85322433°", got)
	}
}

// A rolling rigid wheel of radius 0.31 m over a gap g drops r − √(r² − g²/4);
// it meets a step of 50 mm 168.8194 mm ahead. Derived here.
func TestRollingWheel(t *testing.T) {
	validation.Against(t, "A rigid wheel over gaps and steps", validation.Derived, "rolling of a circle")
	const radius = 0.31
	for _, r := range []struct{ gap, drop float64 }{{0.2, 16.5720}, {0.3, 38.7068}, {0.4, 73.1456}} {
		hole, err := road.JointGap(r.gap, 0.2)
		if err != nil {
			t.Fatal(err)
		}
		p := road.Profile{Step: 0.001}.With(hole, 2)
		w, err := p.Enveloped(radius)
		if err != nil {
			t.Fatal(err)
		}
		low := 0.0
		for _, z := range w.Left {
			low = math.Min(low, z)
		}
		if got := -1000 * low; validation.Off(t, got, r.drop, 0.5e-4) {
			t.Errorf("gap of %g m: the wheel drops %.5f mm; want %.4f", r.gap, got, r.drop)
		}
	}
	step, err := road.StepUp(0.05, 0, road.BothSides)
	if err != nil {
		t.Fatal(err)
	}
	p := road.Profile{Step: 0.0005}.With(step, 2)
	w, err := p.Enveloped(radius)
	if err != nil {
		t.Fatal(err)
	}
	// The edge stands at the first grid point of full height.
	edge := math.Inf(1)
	for x := 1.99; x < 2.01; x += 1e-5 {
		at := w.Start + math.Round((x-w.Start)/w.Step)*w.Step
		if p.Height(road.LeftTrack, at) > 0.0499 {
			edge = math.Min(edge, at)
		}
	}
	for i, z := range w.Left {
		if z > 1e-12 {
			ahead := 1000 * (edge - (w.Start + float64(i)*w.Step))
			if ahead > 168.8194 || ahead < 168.8194-1000*w.Step {
				t.Errorf("step of 50 mm is met %.4f mm ahead; want the last grid point within 168.8194", ahead)
			}
			// There the axle has already risen along the arc.
			if want := 0.05 - radius + math.Sqrt(radius*radius-ahead*ahead*1e-6); validation.Off(t, z, want, 1e-9) {
				t.Errorf("the wheel has risen %.9f m there; want %.9f", z, want)
			}
			return
		}
	}
	t.Error("the wheel never meets the step")
}
