package route

import (
	"math"
	"testing"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
)

// TestShape: every obstacle that a brief may name has the shape of its name.
func TestShape(t *testing.T) {
	in := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Chosen} }
	for _, row := range []struct {
		event brief.Event
		at    float64 // [m]
		want  float64 // [m]
	}{
		{brief.Event{Kind: "pothole", Depth: in(0.05), Length: in(0.6)}, 0.3, -0.05},
		{brief.Event{Kind: "dip", Depth: in(0.06), Length: in(1.2)}, 0.6, -0.06},
		{brief.Event{Kind: "round-hump", Height: in(0.075), Length: in(3.7)}, 1.85, 0.075},
		{brief.Event{Kind: "flat-hump", Height: in(0.075), Length: in(6)}, 0.45, 0.0375},
		{brief.Event{Kind: "crest", Height: in(0.08), Length: in(12)}, 6, 0.08},
		{brief.Event{Kind: "kerb", Height: in(0.04), Length: in(0.4)}, 0.9, 0.04},
		{brief.Event{Kind: "joint", Depth: in(0.03), Length: in(0.06)}, 0.03, -0.03},
		{brief.Event{Kind: "joint", Height: in(0.012), Length: in(0.3)}, 0.15, 0.012},
	} {
		e, err := Shape(&row.event)
		if err != nil {
			t.Errorf("%s: %v", row.event.Kind, err)
			continue
		}
		if got := e.Height(row.at); math.Abs(got-row.want) > 1e-9 {
			t.Errorf("%s is %g m high %g m along it, want %g", row.event.Kind, got, row.at, row.want)
		}
	}
	if _, err := Shape(&brief.Event{Kind: "volcano"}); err == nil {
		t.Error("a volcano has a shape")
	}
}
