package main

import (
	"fmt"
	"io"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

type explainCommand struct {
	Code string `arg:"" optional:"" help:"A result code or a finding code; none lists them all."`
	inUnits
}

// Run prints the register of result codes and of findings.
func (c *explainCommand) Run(s streams) error {
	system := c.system()
	t := wording.New(nil, system)
	if c.Code == "" {
		return c.all(s.out)
	}
	if e, ok := figure.Look(c.Code); ok {
		explainFigure(s.out, t, &e)
		return nil
	}
	for _, r := range findingRules() {
		if r.Code == c.Code {
			explainFinding(s.out, t, &r)
			return nil
		}
	}
	if text := t.Warning(&study.Warning{Code: c.Code, Corner: figure.NoCorner}); hasWarning(c.Code) {
		say(s.out, "%s, a warning\n\n%s\n", c.Code, wrapped(text, lineWidth, ""))
		return nil
	}
	return usage("no code is called %s%s; trunnion explain lists them", c.Code, nearest(c.Code))
}

func hasWarning(code string) bool {
	for _, w := range wording.WarningCodes() {
		if w == code {
			return true
		}
	}
	return false
}

func findingRules() []finding.Rule {
	return append(append([]finding.Rule{}, finding.Rules()...), finding.RoadRules()...)
}

func (c *explainCommand) all(w io.Writer) error {
	say(w, "%s\n", "Results: what is computed, in SI, and where")
	say(w, "\n")
	t := table{gap: 2}
	t.row("code", "unit", "per", "at", "meaning")
	for _, e := range figure.Register() {
		t.row(e.Code, e.Unit, e.Per, e.At, e.Meaning)
	}
	t.write(w, lineWidth)
	say(w, "%s\n", "\nFindings: what a result is judged for, gravest first")
	say(w, "\n")
	t = table{gap: 2}
	t.row("code", "judges", "meaning")
	for _, r := range findingRules() {
		t.row(r.Code, r.Judges, r.Meaning)
	}
	t.write(w, lineWidth)
	say(w, "%s\n", "\nWarnings: "+wrapped(strings.Join(wording.WarningCodes(), ", "), lineWidth-10, "          "))
	say(w, "%s\n", "\ntrunnion explain CODE says more of one.")
	return nil
}

func explainFigure(w io.Writer, t *wording.Teller, e *figure.Entry) {
	say(w, "%s: %s\n\n", e.Code, wording.Name(e.Code))
	shown := t.Unit(e.Code)
	unit := e.Unit
	if shown != "" && shown != e.Unit {
		unit += ", shown in " + shown
	}
	rows := table{gap: 2}
	for _, r := range [][2]string{
		{"meaning", e.Meaning},
		{"unit", unit},
		{"for each", e.Per},
		{"measured at", e.At},
		{"sign", e.Sign},
		{"equation", e.Equation},
		{"x is of one run", figure.OfRun(e.Code)},
		{"source", wording.Source(e.Source)},
	} {
		if r[1] != "" {
			rows.row(r[0], r[1])
		}
	}
	for _, r := range findingRules() {
		if r.Judges == e.Code {
			rows.row("judged by", r.Code)
		}
	}
	rows.write(w, lineWidth)
}

func explainFinding(w io.Writer, t *wording.Teller, r *finding.Rule) {
	say(w, "%s: %s\n\n", r.Code, wording.Row(r.Code))
	rows := table{gap: 2}
	rows.row("meaning", r.Meaning)
	rows.row("judges", r.Judges)
	rows.row("usual limit", r.Default)
	if l := r.DefaultLimit(); l != nil {
		word := "at least"
		if l.Upper {
			word = "at most"
		}
		rows.row("", word+" "+t.Amount(r.Judges, l.Unit, l.Value)+" ("+l.Basis+")")
	}
	where := "every load state"
	if r.UsualOnly {
		where = "the usual load state"
	}
	rows.row("judged in", where)
	rows.row("weight", fmt.Sprintf("%.2f of 1, common practice, no source; findings are ranked by probability times weight", r.Consequence))
	rows.write(w, lineWidth)
}

// nearest offers a code that begins alike.
func nearest(code string) string {
	best, length := "", 2
	try := func(have string) {
		n := 0
		for n < len(have) && n < len(code) && have[n] == code[n] {
			n++
		}
		if n > length {
			best, length = have, n
		}
	}
	for _, e := range figure.Register() {
		try(e.Code)
	}
	for _, r := range findingRules() {
		try(r.Code)
	}
	if best == "" {
		return ""
	}
	return " (did you mean " + best + "?)"
}
