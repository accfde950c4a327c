package main

import (
	"context"
	"os"
	"strconv"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

type symptomCommand struct {
	Job    string `arg:"" optional:"" help:"Job file, or - for standard input."`
	Words  string `arg:"" optional:"" help:"What the owner says, in quotes."`
	Rules  string `help:"A file of your own symptoms and causes, over those of the program." placeholder:"FILE"`
	Table  bool   `help:"Print the program's table of symptoms and causes, and end."`
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.SymptomAsk
}

// Run proposes what may be behind what an owner says.
func (c *symptomCommand) Run(ctx context.Context, s streams) error {
	if c.Table {
		_, err := s.out.Write(symptom.StandardText())
		return err
	}
	if c.Job == "" {
		return usage("enter a job; --table prints the symptoms and causes")
	}
	rules, err := c.rules()
	if err != nil {
		return err
	}
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	show, end := progress(s.err)
	c.Progress = show
	found, err := asking().Symptom(ctx, job, rules, c.Words, system, c.SymptomAsk)
	end()
	if err != nil {
		return unanswered(ctx, err)
	}
	if found.NotDriven != nil {
		say(s.err, "trunnion: the brief was not driven: %v\n", found.NotDriven)
	}
	got := found.Asked
	if c.Format == "json" {
		return found.Document().WriteJSON(s.out)
	}
	printSymptom(s, got)
	return nil
}

func (c *symptomCommand) rules() (*symptom.Rules, error) {
	if c.Rules == "" {
		return symptom.Standard()
	}
	text, err := os.ReadFile(c.Rules)
	if err != nil {
		return nil, usage("%s cannot be read: %w", c.Rules, err)
	}
	rules, err := symptom.Standard(text)
	if err != nil {
		return nil, &status{exitFaults, err}
	}
	return rules, nil
}

func printSymptom(s streams, got *symptom.Asked) {
	line := func(lead, text string) {
		if text == "" {
			return
		}
		blank := strings.Repeat(" ", len([]rune(lead)))
		for i, one := range strings.Split(wrapped(text, lineWidth-len(blank), ""), "\n") {
			if i == 0 {
				say(s.out, "%s%s\n", lead, one)
			} else {
				say(s.out, "%s%s\n", blank, one)
			}
		}
	}
	said := "“" + got.Words + "”" + comma(got.When)
	if got.Words == "" {
		said = wording.Upper(got.Symptoms[0].Say)
	}
	line("", said+": "+got.BuildName+", "+got.LoadName+" ("+got.LoadWhy+").")
	if got.Open {
		line("", "These words match no known symptom. Name one with --symptom:")
		for _, r := range got.Rows {
			say(s.out, "  %-18s %s\n", r.ID, r.Say)
		}
		return
	}
	for _, h := range got.Symptoms {
		if got.Words == "" {
			break
		}
		text := h.Say
		if len(h.Matched) > 0 {
			text += " (" + strings.Join(h.Matched, ", ") + ")"
		}
		if h.RuleOut != "" {
			text += ". First: " + h.RuleOut
		}
		line("Understood as: ", text)
	}
	for i := range got.Causes {
		p := &got.Causes[i]
		say(s.out, "\n")
		line("", itoaRank(p.Rank)+" "+wording.Upper(p.Name))
		for _, e := range p.Evidence {
			line("   "+leadOf[e.Speaks], e.Text)
		}
		line("   check      ", p.Check)
		line("   first      ", p.First.Text)
		for _, t := range p.First.Then {
			line("              ", t)
		}
		for _, t := range p.First.Worsens {
			line("   elsewhere  ", t)
		}
		if !p.First.Computed {
			line("   elsewhere  ", "Not computed for this change. In general: "+p.Costs)
		}
		line("   revert     ", p.Back)
	}
	say(s.out, "\n")
	line("", got.Caution)
}

var leadOf = map[symptom.Speaks]string{
	symptom.For: "for        ", symptom.Against: "against    ", symptom.Neither: "neither    ", symptom.Silent: "silent     ",
}

func comma(text string) string {
	if text == "" {
		return ""
	}
	return ", " + text
}

func itoaRank(n int) string { return strconv.Itoa(n) + "." }
