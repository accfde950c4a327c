package main

import (
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"

	"trunnion/chassis/drives"

	"github.com/rivo/uniseg"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
	"trunnion/shop/wording"
)

func printReport(w io.Writer, got *assessed, p paint) error {
	r := &report{assessed: got, paint: p}
	for _, b := range got.job.Builds {
		if got.keep(b.ID, "") {
			r.builds = append(r.builds, b)
		}
	}
	for i := range got.job.Loads {
		if got.keep("", got.job.Loads[i].ID) {
			r.loads = append(r.loads, got.job.Loads[i])
		}
	}
	r.heading()
	r.failures()
	r.short()
	r.matrix()
	for _, b := range r.builds {
		r.build(b)
	}
	r.figures()
	r.drives(driven)
	if bands := wording.DriveBands(r.answer.Values); bands != "" {
		r.line("")
		r.para(bands, "")
	}
	r.next()
	r.notes()
	_, err := io.WriteString(w, trimmed(r.String()))
	return err
}

func (r *report) heading() {
	info := &r.job.Info
	left := r.job.Car.Name
	if info.Plate != "" {
		left += ", " + info.Plate
	}
	var side []string
	if info.Number != "" {
		side = append(side, "job "+info.Number)
	}
	for _, s := range []string{info.Date, info.Workshop} {
		if s != "" {
			side = append(side, s)
		}
	}
	end := strings.Join(side, ", ")
	if room := lineWidth - uniseg.StringWidth(end); uniseg.StringWidth(left) < room {
		r.line("%s%s", padded(left, room), end)
	} else { // a long name has lines of its own
		r.para(left, "")
		r.line("%s", end)
	}
	if info.Words != "" {
		who := info.Owner
		if who == "" {
			who = "The owner"
		}
		r.para(who+": “"+strings.TrimSpace(info.Words)+"”", "")
	}
	r.para(r.tell.Compared(r.answer.Reference, r.answer.Options.Samples)+" "+wording.CornersNote, "")
	for _, f := range r.faults {
		r.para(f.Check(nameOf(r.job.Name)), "")
	}
}

func (r *report) failures() {
	for i := range r.answer.Failures {
		if f := &r.answer.Failures[i]; r.keep(f.Build, f.Load) {
			r.para(r.tell.Failure(f), "")
		}
	}
}

// short says in a line or two a build what its worst finding is.
func (r *report) short() {
	r.title("Summary")
	if text := r.tell.InShort(r.inShort); text != "" {
		r.para("In short: "+text, "")
	}
	for _, b := range r.builds {
		list := r.shown(b.ID)
		r.line("%s  %s", r.tell.Build(b.ID), wording.Counts(list))
		told := 0
		for _, want := range []finding.Verdict{finding.Over, finding.Close} {
			for _, f := range list {
				if f.Verdict == want && told < mostInShort {
					r.line("  %s %s", r.verdict(f.Verdict, 5), wrapped(r.tell.Finding(f).What, lineWidth-8, "        "))
					told++
				}
			}
		}
		if told == 0 {
			r.line("  %s", wording.NothingFound)
		}
	}
}

// mostInShort is how many findings of a build the summary holds.
const mostInShort = 3

// build tells a build's findings in words, worst first, with what to do.
func (r *report) build(b *car.Build) {
	name := r.tell.Build(b.ID)
	var cost []string
	if b.Price != "" {
		cost = append(cost, b.Price)
	}
	if b.Hours.Known() {
		cost = append(cost, strings.TrimSuffix(fmt.Sprintf("%.1f", b.Hours.Value/3600), ".0")+" h")
	}
	if len(cost) > 0 {
		name += " (" + strings.Join(cost, ", ") + ")"
	}
	r.title(name)
	r.plan(b.ID)
	var clear, open, reasons []string
	n, loud, missing := 0, map[string]bool{}, map[string][]string{}
	list := r.shown(b.ID)
	sort.SliceStable(list, func(i, j int) bool { return grade(list[i]) < grade(list[j]) })
	for _, f := range list {
		switch f.Verdict {
		case finding.Over, finding.Close:
			n++
			loud[f.Code] = true
			r.finding(f)
		case finding.Clear:
			if loud[f.Code] {
				continue // of the other axle: the row was told
			}
			clear = append(clear, strings.ToLower(wording.Row(f.Code)))
		case finding.NoLimit:
			open = append(open, strings.ToLower(wording.Row(f.Code)))
		case finding.Unknown:
			why := r.tell.Doubt(f.Value)
			if missing[why] == nil {
				reasons = append(reasons, why)
			}
			missing[why] = append(missing[why], strings.ToLower(wording.Row(f.Code)))
		}
	}
	if n == 0 {
		r.line("%s", wording.NothingFound)
	}
	for _, why := range reasons {
		r.line("%s", hung("Not known: ", strings.Join(slices.Compact(missing[why]), ", ")+" ("+why+")."))
	}
	r.listed("Clear: ", clear)
	r.listed("No limit chosen: ", open)
}

// plan tells what would make a build clear, before its findings.
func (r *report) plan(build string) {
	for i := range r.plans {
		if r.plans[i].Build != build {
			continue
		}
		s := r.tell.Plan(&r.plans[i])
		for _, text := range append(s.TooLow, s.NotFor) {
			if text != "" {
				r.line("%s", wrapped(text, lineWidth, ""))
			}
		}
		if s.Told != "" {
			r.line("%s", hung("Plan   ", s.Told))
		} else {
			r.line("Plan")
		}
		for k, text := range s.Steps {
			r.line("%s", hung(fmt.Sprintf("  %d  ", k+1), text))
		}
		for _, text := range s.Lines() {
			r.line("%s", hung("     ", text))
		}
		r.line("")
	}
}

// grade puts what is over first, then what is close, then the rest.
func grade(f *finding.Finding) int {
	switch f.Verdict {
	case finding.Over:
		return 0
	case finding.Close:
		return 1
	case finding.Clear, finding.NoLimit, finding.Unknown:
	}
	return 2
}

// mostRemedies is how many ways out of a finding are printed.
const mostRemedies = 2

func (r *report) finding(f *finding.Finding) {
	const indent = "       "
	s := r.tell.Finding(f)
	text := strings.Join(nonEmpty(s.What, s.Why, s.Limit, s.Also), " ")
	r.line("%s %s", r.verdict(f.Verdict, 6), wrapped(text, lineWidth-len(indent), indent))
	for i, remedy := range s.Remedies {
		if i < mostRemedies {
			r.line("%s", hung(indent+"→ ", remedy))
		}
	}
}

func nonEmpty(list ...string) (out []string) {
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// next lists what to measure: first what figures stay open without, then what
// narrows the gravest findings most.
func (r *report) next() {
	seen := map[string]bool{}
	var list []string
	for _, m := range wording.MissingReadings(r.job.Open) {
		list = append(list, m.Text)
	}
	for i := range r.findings {
		f := &r.findings[i]
		if f.Narrow == nil || seen[f.Narrow.Path] || !r.keep(f.Value.Place.Build, f.Value.Place.Load) {
			continue
		}
		seen[f.Narrow.Path] = true
		list = append(list, r.tell.Measure(f.Value, f.Narrow))
	}
	if len(list) == 0 {
		return
	}
	r.title("Measure next")
	for i, text := range list {
		if i == mostToMeasure {
			break
		}
		r.line("%s", hung(fmt.Sprintf("%d  ", i+1), text))
	}
	r.line("%s", wording.MinutesNote)
}

const mostToMeasure = 6

// notes are what one weighing cannot tell, what else to know, and cautions.
func (r *report) notes() {
	var weighing, other []string
	places := map[string][]string{} // where each warning applies, by its sentence
	var order []string
	for i := range r.answer.Warnings {
		w := &r.answer.Warnings[i]
		if !r.keep(w.Build, w.Load) || told[w.Code] {
			continue
		}
		if strings.HasPrefix(w.Code, "one-weighing") || w.Code == "not-settled" {
			weighing = append(weighing, r.tell.Warning(w))
			continue
		}
		at, text := r.tell.WarningAt(w)
		if _, ok := places[text]; !ok {
			order = append(order, text)
			places[text] = nil
		}
		if at != "" {
			places[text] = append(places[text], at)
		}
	}
	for _, text := range order {
		if at := places[text]; len(at) > 0 {
			text = strings.Join(at, "; ") + ": " + text
		}
		other = append(other, strings.ToUpper(text[:1])+text[1:])
	}
	r.bullets("Limits of one weighing", weighing)
	if n := len(r.job.Filled); n > 0 {
		paths := make([]string, n)
		for i, f := range r.job.Filled {
			paths[i] = f.Path
		}
		other = append(other, wording.Estimated(paths, mostEstimates))
	}
	r.bullets("Doubts", other)
	r.bullets("Cautions", wording.Cautions())
}

const mostEstimates = 12

// told are the warnings that findings tell already.
var told = map[string]bool{
	"rests-on-stop": true, "wheel-hangs": true, "coils-touch-at-rest": true, "rests-on-metal": true, "rests-past-stop-table": true,
}

func (r *report) bullets(title string, list []string) {
	if len(list) == 0 {
		return
	}
	r.title(title)
	for _, text := range list {
		r.line("%s", hung("· ", text))
	}
}

// driven are the blocks an assessment prints.
var driven = []block{
	{"floor-acceleration", false, 0, drives.FloorDriver},
	{"stop-hits", false, 1, ""},
	{"mount-damage-relative", false, 0, ""},
	{"stop-force-peak", true, 0, ""},
	{"body-acceleration-peak", true, 0, ""},
}
