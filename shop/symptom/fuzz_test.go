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

// No words of an owner end in a panic, or in a symptom that the table does not have.
func FuzzHear(f *testing.F) {
	rules, err := Standard()
	if err != nil {
		f.Fatal(err)
	}
	for _, words := range []string{"it bangs in dips when the car is full", "", "klonkt hinten links!", "\x00\xff", "but but but, and and and."} {
		f.Add(words, "full load")
	}
	f.Fuzz(func(t *testing.T, words, when string) {
		for _, one := range rules.Hear(words, when) {
			if one.ID == "" || !(one.Share > 0 && one.Share <= 1) {
				t.Fatalf("%q is heard as %+v", words, one)
			}
		}
	})
}
