package order_test

import (
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/finding"
	"trunnion/shop/view/order"
	"trunnion/shop/view/viewtest"
)

// What is over on the car as it is, and clearly less so on a build, is no drawback of the build.
func TestAnImprovementIsNoDrawback(t *testing.T) {
	req := viewtest.Demo(t)
	trial, err := viewtest.Desk(t).Compared(t.Context(), &req, nil)
	if err != nil {
		t.Fatal(err)
	}
	var lines []order.Line
	for _, b := range trial.Answer.Job.Builds {
		lines = append(lines, order.Line{Build: b.ID, Name: b.Name})
	}
	reference, improved := trial.Answer.Reference, 0
	for _, line := range order.Of(trial, lines).Lines {
		for i := range trial.Findings {
			f := &trial.Findings[i]
			if f.Value.Place.Build != line.Build || line.Build == reference || f.Verdict != finding.Over {
				continue
			}
			now, was := f.Margin(), 0.0
			for k := range trial.Findings {
				if g := &trial.Findings[k]; g.Code == f.Code && g.Value.Place.Build == reference && g.Verdict == finding.Over {
					was = min(was, g.Margin())
				}
			}
			if !(was < 1.2*now) {
				continue
			}
			improved++
			text := strings.TrimSuffix(trial.Teller.Finding(f).What, ".")
			if slices.Contains(line.Costs, text) {
				t.Errorf("%s: a drawback, and better than on %s: %s", line.Build, reference, text)
			}
			if !slices.ContainsFunc(line.Buys, func(b order.Bought) bool { return strings.HasSuffix(b.Text, text) }) {
				t.Errorf("%s: no gain: %s", line.Build, text)
			}
		}
	}
	if improved == 0 {
		t.Error("nothing that is over got better: nothing was checked")
	}
}
