package order_test

import (
	"regexp"
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
			text := strings.TrimSuffix(trial.Teller.Finding(f).What, ".")
			gained := slices.ContainsFunc(line.Buys, func(b order.Bought) bool { return strings.HasSuffix(b.Text, text) })
			was := *f
			place := f.Value.Place
			place.Build = reference
			was.Value = trial.Answer.At(f.Value.Code, place)
			if was.Value == nil || !(was.Margin() < 0 && was.Margin() < f.Margin()) {
				if gained {
					t.Errorf("%s: a gain, and no better than on %s at the same place: %s", line.Build, reference, text)
				}
				continue
			}
			improved++
			if slices.Contains(line.Costs, text) {
				t.Errorf("%s: a drawback, and better than on %s: %s", line.Build, reference, text)
			}
			if !gained {
				t.Errorf("%s: no gain: %s", line.Build, text)
			}
		}
	}
	if improved == 0 {
		t.Error("nothing that is over got better: nothing was checked")
	}
}

// An owner reads no frequency and no ratio, and first what a build says to their words.
func TestOrderSpeaksToTheOwner(t *testing.T) {
	req := viewtest.Demo(t)
	trial, err := viewtest.Desk(t).Compared(t.Context(), &req, nil)
	if err != nil {
		t.Fatal(err)
	}
	var lines []order.Line
	for _, b := range trial.Answer.Job.Builds {
		lines = append(lines, order.Line{Build: b.ID, Name: b.Name})
	}
	for _, line := range order.Of(trial, lines).Lines {
		all := slices.Clone(line.Costs)
		for _, b := range line.Buys {
			all = append(all, b.Text)
		}
		for _, text := range all {
			if strings.Contains(text, "Hz") || strings.HasPrefix(text, "0.") && strings.Contains(text, "damping") {
				t.Errorf("%s: %q", line.Build, text)
			}
		}
		if !strings.Contains(line.Answers, "“") {
			t.Errorf("%s says %q to the owner's words", line.Build, line.Answers)
		}
		if line.Build != trial.Answer.Reference && !strings.HasPrefix(line.Stands, "It stands ") {
			t.Errorf("%s: %q", line.Build, line.Stands)
		}
	}
}

// What is gained and given up is told an owner in two digits: 62 % and 4600 N, no 62.2 % and 4625 N.
func TestOrderIsNoFinerThanAnOwnerReads(t *testing.T) {
	fine := regexp.MustCompile(`^(\d{2,}\.\d|\d*[1-9]\d[1-9] N|\d+\.\d+ %|\d{2}[1-9]\d? N)`)
	for _, units := range []string{"metric", "imperial"} {
		req := viewtest.Demo(t)
		req.Units = units
		trial, err := viewtest.Desk(t).Compared(t.Context(), &req, nil)
		if err != nil {
			t.Fatal(err)
		}
		var lines []order.Line
		for _, b := range trial.Answer.Job.Builds {
			lines = append(lines, order.Line{Build: b.ID, Name: b.Name})
		}
		told := 0
		for _, line := range order.Of(trial, lines).Lines {
			all := slices.Clone(line.Costs)
			for _, b := range line.Buys {
				all = append(all, b.Text)
			}
			for _, text := range all {
				if !strings.Contains(text, "more") && !strings.Contains(text, "less") && !strings.Contains(text, "firmer") || strings.Contains(text, "over:") {
					continue
				}
				told++
				if fine.MatchString(text) {
					t.Errorf("%s, %s: %q", units, line.Build, text)
				}
			}
		}
		if told < 10 {
			t.Errorf("%s: %d lines compare", units, told)
		}
	}
}
