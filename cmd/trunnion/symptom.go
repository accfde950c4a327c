package main

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"strconv"
	"strings"

	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

type symptomCommand struct {
	Job     string `arg:"" optional:"" help:"Job file, or - for standard input."`
	Words   string `arg:"" optional:"" help:"What the owner says, in quotes."`
	When    string `help:"When it happens, in words: full load, braking, motorway." placeholder:"WORDS"`
	Build   string `help:"The build that is on the car, by id; needed where there are several." placeholder:"ID"`
	Load    string `help:"Load state, by id; else what the words say, else the usual one." placeholder:"ID"`
	Symptom string `help:"A row of the table, by its id, instead of words." placeholder:"ID"`
	Rules   string `help:"A file of your own symptoms and causes, over those of the program." placeholder:"FILE"`
	Table   bool   `help:"Print the program's table of symptoms and causes, and end."`
	Format  string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	Units   string `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	Most    int    `default:"3" help:"How many causes."`
	Seed    uint64 `default:"1" help:"Seed of the draws and roads."`
	Workers int    `default:"2" help:"How many at once; changes nothing in the answer."`
}

// Run proposes what may be behind what an owner says.
func (c *symptomCommand) Run(ctx context.Context, s streams) error {
	if c.Table {
		_, err := s.out.Write(symptom.StandardText())
		return err
	}
	switch {
	case c.Job == "":
		return usage("a job is due; --table prints the symptoms and causes")
	case strings.TrimSpace(c.Words) == "" && c.Symptom == "":
		return usage("the owner's words are due, or --symptom")
	case c.Most < 1 || c.Most > 20:
		return usage("--most is 1 to 20")
	case c.Workers < 1 || c.Workers > mostWorkers:
		return usage("--workers is 1 to %d", mostWorkers)
	}
	rules, err := c.rules()
	if err != nil {
		return err
	}
	job, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	build, err := c.find(job)
	if err != nil {
		return err
	}
	a, findings, err := c.compute(ctx, s, job)
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	got, err := rules.Ask(ctx, a, findings, wording.New(a, system), symptom.Question{
		Words: c.Words, When: c.When, Build: build, Load: c.Load, Symptom: c.Symptom, Most: c.Most,
	})
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return usage("%w", err)
	}
	if c.Format == "json" {
		return writeIndented(s.out, struct {
			Format string `json:"format"`
			*symptom.Asked
		}{"trunnion.symptom/1", got})
	}
	printSymptom(s, got)
	return nil
}

// writeIndented writes a document as JSON.
func writeIndented(to io.Writer, document any) error {
	e := json.NewEncoder(to)
	e.SetIndent("", "  ")
	return e.Encode(document)
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

// find is the build that is on the car: the one named, the only one besides the
// one that was weighed, or the only one at all.
func (c *symptomCommand) find(job *jobfile.Job) (string, error) {
	var ids []string
	for _, b := range job.Builds {
		if b.ID == c.Build {
			return b.ID, nil
		}
		ids = append(ids, b.ID)
	}
	if c.Build != "" {
		return "", usage("the job has no build %q; it has %s", c.Build, strings.Join(ids, ", "))
	}
	if len(ids) == 1 {
		return ids[0], nil
	}
	return "", usage("which build is on the car? --build is one of %s", strings.Join(ids, ", "))
}

func (c *symptomCommand) compute(ctx context.Context, s streams, job *jobfile.Job) (*study.Answer, []finding.Finding, error) {
	opt := study.Defaults()
	opt.Samples, opt.Seed, opt.Workers, opt.NoWorkings, opt.NoRemedies = 500, c.Seed, c.Workers, true, true
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return nil, nil, noAnswer(ctx, err)
	}
	drive := study.RideDefaults()
	drive.Seed, drive.Samples, drive.Unchecked = c.Seed, 2, true
	show, end := progress(s.err)
	err = a.Ride(ctx, drive, show)
	end()
	if err != nil {
		if ctx.Err() != nil {
			return nil, nil, err
		}
		say(s.err, "trunnion: the brief was not driven: %v\n", err)
	}
	findings, err := finding.Judge(ctx, a)
	return a, findings, err
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
		line("", "No row of the table was heard in these words. Name one with --symptom:")
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
		line("Heard as: ", text)
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
		line("   way back   ", p.Back)
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
