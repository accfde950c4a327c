package symptom

import (
	"strings"
	"testing"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// The owner said that it thumps when full: the rear stop when full leads, and only
// the kit answers it.
func TestInShort(t *testing.T) {
	answer, _, tell := answerOf(t, demo(t))
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	words := "It thumps when all of us are aboard, and I want it lower for the hill climbs without it crashing on the school run."
	got := rules.InShort(answer, tell, words)
	if got == nil || got.Load != "holiday" || got.Words != "It thumps when all of us are aboard" {
		t.Fatalf("got %+v", got)
	}
	want := map[string]finding.Verdict{"kit": finding.Clear, "lower-uprated": finding.Over, "lower-old": finding.Over, "arrived": finding.Over}
	for _, b := range got.Builds {
		if b.Value == nil || b.Value.Code != "travel-to-stop" || b.Value.Place.Corner < figure.RearLeft {
			t.Errorf("%s is told by %+v, not by a rear stop", b.Build, b.Value)
		}
		if b.Verdict != want[b.Build] {
			t.Errorf("%s is %s, want %s", b.Build, b.Verdict, want[b.Build])
		}
	}
	text := tell.InShort(got)
	if at := strings.Index(text, "answered by “Adjustable kit"); at < 0 || strings.Index(text, "Not by “Lower springs, old dampers") < at {
		t.Errorf("got %s", text)
	}
	// Lower springs on the old dampers damp less than what is complained of: under no limit, and no answer. A ratio is told
	// to the owner in per cent of what it was.
	got = rules.InShort(answer, tell, "It scrapes, and it wallows on the motorway.")
	if got == nil || got.Words != "it wallows on the motorway" {
		t.Fatalf("got %+v", got)
	}
	for build, want := range map[string]string{"lower-old": "does not answer it", "kit": "this answers it"} {
		text := tell.AnswerOf(got, build)
		if !strings.Contains(text, want) || !strings.Contains(text, " % ") || strings.Contains(text, "ratio") {
			t.Errorf("%s: %s", build, text)
		}
	}
	if got := rules.InShort(answer, tell, "What does it cost?"); got != nil {
		t.Errorf("a question without a complaint was understood as %+v", got)
	}
}

// Support's first change goes through the same judge as remedies: for a clonk it took
// the kit's coil-bind margin below nothing. No first change of any row of the table
// breaks what is as hard as a corner on its stop, unless it is the remedy of what is
// harder still, and then it says so.
func TestFirstChangeBreaksNothingHarder(t *testing.T) {
	answer, findings, tell := answerOf(t, demo(t))
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	asked, computed := 0, 0
	for i := range rules.Symptoms {
		if i%4 != 1 && rules.Symptoms[i].ID != "clunk-droop" {
			continue
		}
		got, err := rules.Ask(t.Context(), answer, findings, tell, Question{Symptom: rules.Symptoms[i].ID, Build: "kit"})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range got.Causes {
			asked++
			if !p.First.Computed {
				continue
			}
			computed++
			for _, w := range append(p.First.Worsens, p.First.Text) {
				if strings.Contains(w, "reaches coil bind") || strings.Contains(w, "meets the arch") {
					t.Errorf("%s: %s: %s", rules.Symptoms[i].ID, p.First.Text, w)
				}
			}
		}
	}
	if computed < 3 || asked < 10 {
		t.Fatalf("only %d of %d first changes were computed", computed, asked)
	}
}
