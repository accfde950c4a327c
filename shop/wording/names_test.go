package wording

import (
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

func TestEveryCodeHasAName(t *testing.T) {
	for _, e := range figure.Register() {
		if names[e.Code] == "" {
			t.Errorf("result code %s has no name", e.Code)
		}
	}
	for _, r := range append(append([]finding.Rule{}, finding.Rules()...), finding.RoadRules()...) {
		if rows[r.Code] == "" {
			t.Errorf("finding code %s has no row", r.Code)
		}
		if tellings[r.Code] == nil {
			t.Errorf("finding code %s has no sentence", r.Code)
		}
	}
	for code := range atRest {
		if rows[code] == "" || tellings[code] == nil {
			t.Errorf("finding code %s has no row or no sentence", code)
		}
	}
}

// TestUpperLower: first letters of any alphabet, and short names that stay.
func TestUpperLower(t *testing.T) {
	for text, want := range map[string][2]string{
		"": {"", ""}, "half a tank": {"Half a tank", "half a tank"}, "Äußerer Tank": {"Äußerer Tank", "äußerer Tank"}, "écrou": {"Écrou", "écrou"},
		"ISO class": {"ISO class", "ISO class"}, "Driver": {"Driver", "driver"}, "7 out": {"7 out", "7 out"},
	} {
		if up, low := Upper(text), Lower(text); up != want[0] || low != want[1] {
			t.Errorf("%q is %q and %q, want %q", text, up, low, want)
		}
	}
}
