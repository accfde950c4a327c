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
