package desk

import (
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// A finding stands for its code at its worst place: gone from one and new at another, it
// is one change.
func TestAFindingThatMovesIsOneChange(t *testing.T) {
	at := func(code, build string, corner int, v float64) finding.Finding {
		return finding.Finding{Code: code, Verdict: finding.Over, Value: &figure.Value{Code: code, Value: v, Place: figure.Place{Build: build, Load: "driver", Corner: corner}}}
	}
	before := []finding.Finding{at("hits", "kit", figure.RearLeft, 2), at("rubs", "kit", figure.FrontLeft, 1), at("hits", "other", figure.RearLeft, 2)}
	after := []finding.Finding{at("hits", "kit", figure.FrontLeft, 3), at("loose", "kit", figure.FrontLeft, 1), at("hits", "other", figure.FrontLeft, 2)}
	got := changes(before, after, "kit")
	seen := map[string]int{}
	for _, c := range got {
		switch {
		case c.Before == nil:
			seen["new "+c.After.Code]++
		case c.After == nil:
			seen["gone "+c.Before.Code]++
		default:
			seen["moved "+c.After.Code]++
			if c.Before.Value.Place.Corner != figure.RearLeft || c.After.Value.Place.Corner != figure.FrontLeft {
				t.Errorf("%+v to %+v", c.Before.Value.Place, c.After.Value.Place)
			}
		}
	}
	if len(got) != 3 || seen["moved hits"] != 1 || seen["new loose"] != 1 || seen["gone rubs"] != 1 {
		t.Errorf("changes are %v", seen)
	}
}
