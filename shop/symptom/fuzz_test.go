package symptom

import "testing"

// No expression ends in a panic, and one that is read has a unit that can be
// compared or is refused later.
func FuzzExpression(f *testing.F) {
	for _, seed := range []string{
		"lowest(travel-to-stop)", "highest(damping-ratio[rebound, 260 mm/s] / damping-ratio[bump, 260 mm/s])", "abs(cross-share-front-right-rear-left - 0.5)",
		"((((", "a[b", "1 - ", "- 1", "mean()", "[", "front(1)", "1/0", "stop-hits[over 1000 N, roads]",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		e, _, err := parseExpression(text)
		if err == nil && e == nil {
			t.Fatalf("%q is nothing and no fault", text)
		}
	})
}

// No file of rules ends in a panic.
func FuzzRules(f *testing.F) {
	f.Add([]byte(ownRules)) // the whole table makes the fuzzer slow
	f.Add([]byte("trunnion: symptoms/1\ncauses: {a: }\nsymptoms: [{id: a}]"))
	f.Fuzz(func(_ *testing.T, text []byte) {
		rules, err := Standard(text)
		if err == nil {
			rules.Hear("it crashes", "full load")
		}
	})
}
