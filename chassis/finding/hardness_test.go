package finding

import (
	"slices"
	"testing"
)

// Every finding has its place in the order, once.
func TestEveryFindingHasItsHardness(t *testing.T) {
	in := map[string]int{}
	for i := range hardness {
		if hardness[i].reason == "" {
			t.Errorf("group %d has no reason", i)
		}
		for _, c := range hardness[i].codes {
			in[c]++
		}
	}
	var codes []string
	for _, r := range append(Rules(), RoadRules()...) {
		codes = append(codes, r.Code)
	}
	for c := range restCodes {
		codes = append(codes, c)
	}
	for _, c := range codes {
		if in[c] != 1 {
			t.Errorf("%s stands %d times in the order of hardness, want once", c, in[c])
		}
	}
	for c := range in {
		if !slices.Contains(codes, c) {
			t.Errorf("%s is no finding", c)
		}
	}
}

// The order that a specialist was asked for.
func TestOrderOfHardness(t *testing.T) {
	for i, codes := 1, []string{"rests-on-metal", "spring-loose-at-droop", "coils-touch-first", "tyre-meets-arch-first", "stop-carries-load", "stop-blow", "damping-low"}; i < len(codes); i++ {
		if AtLeastAsHard(codes[i], codes[i-1]) {
			t.Errorf("%s counts as hard as %s", codes[i], codes[i-1])
		}
	}
}
