package wording

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// A finding that a correction moves to another place is said once, with both places.
func TestChangeSaysBothPlaces(t *testing.T) {
	tell := New(nil, quantity.Metric)
	at := func(corner int, load string, v float64) *finding.Finding {
		return &finding.Finding{Code: "stop-hit", Verdict: finding.Over, Value: &figure.Value{Code: "stop-force-peak", Value: v, Place: figure.Place{Build: "kit", Load: load, Corner: corner}}}
	}
	got := TestChange(tell, tell, at(figure.RearLeft, "holiday", 4000), at(figure.FrontLeft, "driver", 5000))
	for _, want := range []string{"Over: ", "front left", "Before: ", "rear left", "holiday"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
	if strings.Contains(got, "New") || strings.Contains(got, "No longer") {
		t.Errorf("said %q of a finding that moved", got)
	}
	same := TestChange(tell, tell, at(figure.FrontLeft, "driver", 4000), at(figure.FrontLeft, "driver", 5000))
	if strings.Contains(same, "(") {
		t.Errorf("said %q: the place has not changed", same)
	}
}
