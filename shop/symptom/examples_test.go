package symptom

import (
	"strings"
	"testing"

	"trunnion/examples"
)

// Every row of the table can be asked of every build of every example: an answer
// comes, it says what to check and change, and no change that was computed is
// without its figures.
func TestEveryRowOnEveryExample(t *testing.T) {
	rules, err := Standard()
	if err != nil {
		t.Fatal(err)
	}
	asked, computed := 0, 0
	for _, name := range []string{"marl-estate/job.yaml", "wend-roadster/job.yaml", "sedley-hatch/job.yaml"} {
		text, err := examples.Jobs.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		a, findings, tell := answerOf(t, text)
		for _, b := range a.Job.Builds {
			for _, row := range rules.Symptoms {
				got, err := rules.Ask(t.Context(), a, findings, tell, Question{Symptom: row.ID, Build: b.ID})
				if err != nil {
					t.Fatalf("%s, %s, %s: %v", name, b.ID, row.ID, err)
				}
				for _, p := range got.Causes {
					asked++
					if p.Name == "" || p.Check == "" || p.First.Text == "" || p.Back == "" || len(p.Evidence) == 0 {
						t.Errorf("%s, %s, %s: %s says too little: %+v", name, b.ID, row.ID, p.ID, p)
					}
					if p.First.Computed {
						computed++
					}
					said := append(append([]string{p.First.Text, p.Back, p.Check, p.Costs}, p.First.Then...), p.First.Worsens...)
					for _, e := range p.Evidence {
						said = append(said, e.Text)
					}
					for _, text := range said {
						for _, bad := range []string{"NaN", "Inf", "%!", "  ", "..", ": ;", " ,"} {
							if strings.Contains(text, bad) {
								t.Errorf("%s, %s, %s: %s says %q", name, b.ID, row.ID, p.ID, text)
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d causes were proposed, %d with a change that was computed", asked, computed)
	if asked < 800 || computed < 200 {
		t.Errorf("%d causes were proposed, %d computed", asked, computed)
	}
}

// BenchmarkAsk is one question with its changes, on an answer that is there.
func BenchmarkAsk(b *testing.B) {
	rules, err := Standard()
	if err != nil {
		b.Fatal(err)
	}
	text, err := examples.Jobs.ReadFile("marl-estate/job.yaml")
	if err != nil {
		b.Fatal(err)
	}
	a, findings, tell := answerOf(b, text)
	for b.Loop() {
		if _, err := rules.Ask(b.Context(), a, findings, tell, Question{Words: "it crashes over the bridge", When: "full load", Build: "lower-old"}); err != nil {
			b.Fatal(err)
		}
	}
}
