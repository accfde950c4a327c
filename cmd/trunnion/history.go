package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/pastjobs"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

type historyCommand struct {
	place
	Job    string   `arg:"" help:"Job file as the car stands now, or the id of a job in the data folder."`
	Other  string   `arg:"" optional:"" help:"Job file as the car shall stand; then nothing is looked up in the data folder."`
	At     string   `help:"Print the job's text as of this revision, or of a moment in UTC (2026-11-16, or 2026-11-16T14:30); with --since or --back-to, start from it." placeholder:"N"`
	Since  int      `help:"What differs from this revision to the newest, or to --at." placeholder:"N"`
	BackTo int      `help:"What to do on the car to restore this revision." placeholder:"N"`
	Build  []string `help:"Only these builds, by id." placeholder:"ID"`
	All    bool     `help:"Say all that changed, not the settings and parts alone."`
	Format string   `enum:"text,json,yaml" default:"text" help:"What to print: ${enum}. yaml is the job put back, for --back-to and two files."`
	inUnits
}

// Run shows a history, a difference, or a way back.
func (c *historyCommand) Run(ctx context.Context, s streams) error {
	system := c.system()
	if c.Other != "" {
		if c.At != "" || c.Since != 0 || c.BackTo != 0 {
			return usage("revisions are of a job in the data folder; two files have none")
		}
		now, err := readText(c.Job, s.in)
		if err != nil {
			return err
		}
		then, err := readText(c.Other, s.in)
		if err != nil {
			return err
		}
		return c.compare(s, system, now, then, nameOf(c.Job), nameOf(c.Other))
	}
	if c.Since < 0 || c.BackTo < 0 {
		return usage("revisions count from 1")
	}
	if c.Since != 0 && c.BackTo != 0 {
		return usage("--since and --back-to ask for two things")
	}
	where, err := c.where()
	if err != nil {
		return err
	}
	if !store.IsServer(where) {
		// A question makes no folder.
		if info, err := os.Stat(where); err != nil || !info.IsDir() {
			return usage("there is no data folder %s; two job files are compared by naming both", where)
		}
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion history"})
	if err != nil {
		return serving(err)
	}
	err = c.fromStore(ctx, s, system, kept)
	if err = errors.Join(err, kept.Close()); err != nil {
		var absent *store.NotFound
		if errors.As(err, &absent) {
			return usage("%w", absent)
		}
		return serving(err)
	}
	return nil
}

// mostJobText is how much of a file is read at all; the format has less.
const mostJobText = 16 << 20

func readText(path string, in io.Reader) ([]byte, error) {
	if path == "-" {
		return io.ReadAll(io.LimitReader(in, mostJobText))
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, usage("%s cannot be read: %w", path, err)
	}
	return text, nil
}

func (c *historyCommand) fromStore(ctx context.Context, s streams, system quantity.System, kept *store.Store) error {
	text := func(number int) (store.Revision, error) {
		if number == 0 {
			return kept.Job(ctx, c.Job)
		}
		return kept.Revision(ctx, c.Job, number)
	}
	at, err := c.moment(ctx, kept)
	if err != nil {
		return err
	}
	switch {
	case c.BackTo != 0, c.Since != 0:
		now, err := text(at)
		if err != nil {
			return err
		}
		then, err := text(max(c.BackTo, c.Since))
		if err != nil {
			return err
		}
		if c.Since != 0 {
			return c.differences(s, then, now)
		}
		return c.compare(s, system, now.Text, then.Text, revisionName(now), revisionName(then))
	case at != 0:
		r, err := text(at)
		if err != nil {
			return err
		}
		_, err = s.out.Write(r.Text)
		return err
	}
	return c.list(ctx, s, kept)
}

// moment is the revision that --at names; 0 where it names none.
func (c *historyCommand) moment(ctx context.Context, kept *store.Store) (int, error) {
	if c.At == "" {
		return 0, nil
	}
	if n, err := strconv.Atoi(c.At); err == nil {
		if n < 1 {
			return 0, usage("revisions count from 1")
		}
		return n, nil
	}
	at, err := time.Parse("2006-01-02T15:04", c.At)
	if err != nil {
		if at, err = time.Parse(time.DateOnly, c.At); err != nil {
			return 0, usage("--at is a revision, 3, or a moment, 2026-11-16 or 2026-11-16T14:30")
		}
		at = at.AddDate(0, 0, 1).Add(-time.Microsecond) // the day's end
	}
	history, err := kept.History(ctx, c.Job)
	if err != nil {
		return 0, err
	}
	n := pastjobs.RevisionAt(history, at)
	if n == 0 {
		return 0, usage("the job began after %s: its first revision was saved at %s", c.At, when(history[len(history)-1].When))
	}
	return n, nil
}

func revisionName(r store.Revision) string {
	return fmt.Sprintf("revision %d (%s, %s)", r.Number, when(r.When), r.Who)
}

func when(t time.Time) string { return t.Format("2006-01-02 15:04 UTC") }

// list prints every revision with what it changed, and the notes between them.
func (c *historyCommand) list(ctx context.Context, s streams, kept *store.Store) error {
	steps, err := kept.Steps(ctx, c.Job)
	if err != nil {
		return err
	}
	notes, err := kept.FindNotes(ctx, store.NoteQuery{Job: c.Job})
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return answer.WriteJSON(s.out, historyDocument(steps, notes))
	}
	for _, st := range steps {
		why := ""
		if st.Why != "" {
			why = ": " + st.Why
		}
		say(s.out, "%4d  %s  %s%s\n", st.Number, when(st.When), st.Who, why)
		c.lines(s.out, pastjobs.Lines(st.Changes))
		for i := range notes {
			if notes[i].Revision == st.Number {
				printNote(s.out, &notes[i])
			}
		}
	}
	return nil
}

// lines prints changes; settings and parts alone unless all are asked for.
func (c *historyCommand) lines(out io.Writer, list []pastjobs.Line) {
	hidden := 0
	for i := range list {
		l := &list[i]
		words := strings.Split(l.Path, ".")
		if len(c.Build) > 0 && (words[0] != "builds" || len(words) < 2 || !slices.Contains(c.Build, words[1])) {
			continue
		}
		if !c.All && l.Kind != "setup" && l.Kind != "part" {
			hidden++
			continue
		}
		say(out, "        %s: %s -> %s\n", l.Label, shown(l.From), shown(l.To))
	}
	if hidden > 0 {
		say(out, "        and %s in readings, loads, brief and words (--all)\n", many(hidden, "value", "values"))
	}
}

func shown(text string) string {
	const most = 60
	if text == "" {
		return "nothing"
	}
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

func printNote(out io.Writer, n *store.Note) {
	text := n.Text
	switch {
	case n.Change != nil:
		what := n.Change.What
		if strings.HasPrefix(what, "builds.") {
			what = wording.Label(what)
		}
		text = joinText(what+": "+shown(n.Change.From)+" -> "+shown(n.Change.To), n.Change.Where, n.Change.Reason, n.Change.Words, n.Change.Verdict, n.Text)
	case n.ComeBack != nil:
		text = joinText(n.ComeBack.Cause, "step "+n.ComeBack.Step, n.ComeBack.Part, n.ComeBack.Cost, n.Text)
	case n.Recheck != nil:
		text = joinText(fmt.Sprintf("after %.0f km", n.Recheck.Km), n.Recheck.Found, n.Text)
	case n.Service != nil:
		text = joinText(n.Service.Serial, n.Service.Work, n.Service.Gas, n.Service.Found, n.Text)
	}
	say(out, "        %s, %s, %s: %s\n", n.Kind, when(n.Taken), n.Who, oneLine(text))
}

func joinText(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func (c *historyCommand) differences(s streams, from, to store.Revision) error {
	list := pastjobs.Lines(jobfile.Differ(from.Text, to.Text))
	if c.Format == "json" {
		return answer.WriteJSON(s.out, struct {
			Format  string          `json:"format"`
			From    int             `json:"from"`
			To      int             `json:"to"`
			Changes []pastjobs.Line `json:"changes"`
		}{"trunnion.difference/1", from.Number, to.Number, list})
	}
	say(s.out, "From %s to %s:\n", revisionName(from), revisionName(to))
	if len(list) == 0 {
		say(s.out, "        nothing differs\n")
	}
	c.lines(s.out, list)
	return nil
}

// compare prints how to bring a car from one text of a job to another.
func (c *historyCommand) compare(s streams, system quantity.System, now, then []byte, nowName, thenName string) error {
	way, err := pastjobs.WayBack(now, then, system, c.Build...)
	if err != nil {
		var faults *jobfile.Faults
		if errors.As(err, &faults) {
			return &status{exitFaults, err}
		}
		return usage("%w", err)
	}
	switch c.Format {
	case "yaml":
		text := way.Text
		if text == nil {
			text = now
		}
		_, err := s.out.Write(text)
		return err
	case "json":
		return answer.WriteJSON(s.out, struct {
			Format  string          `json:"format"`
			From    string          `json:"from"`
			To      string          `json:"to"`
			Changes []pastjobs.Line `json:"changes"`
			*pastjobs.Way
		}{"trunnion.way/1", nowName, thenName, pastjobs.Lines(jobfile.Differ(now, then)), way})
	}
	printWay(s.out, way, nowName, thenName)
	return nil
}

func printWay(out io.Writer, way *pastjobs.Way, nowName, thenName string) {
	say(out, "From %s to %s:\n", nowName, thenName)
	if len(way.Turns) == 0 {
		say(out, "  nothing to do on the car\n")
	}
	bullets := func(title string, list []string) {
		if len(list) == 0 {
			return
		}
		say(out, "%s\n", title)
		for _, one := range list {
			say(out, "  - %s\n", wrapped(one, lineWidth-4, "    "))
		}
	}
	bullets("\nBefore you start", way.Cautions)
	build := ""
	for i := range way.Turns {
		t := &way.Turns[i]
		if i == 0 {
			say(out, "\nIn this order\n")
		}
		lead := fmt.Sprintf("  %2d. ", t.Order)
		text := t.Text
		if t.Build != build && severalBuilds(way.Turns) {
			text = t.Build + ": " + text
		}
		say(out, "%s\n", lead+wrapped(text, lineWidth-len(lead), strings.Repeat(" ", len(lead))))
	}
	bullets("\nThen", way.After)
	if len(way.Record) > 0 {
		say(out, "\nDiffers on paper only\n")
		for i := range way.Record {
			l := &way.Record[i]
			say(out, "  %s: %s -> %s\n", l.Label, shown(l.From), shown(l.To))
		}
	}
}

// severalBuilds reports turns of more than one build: each then says which.
func severalBuilds(turns []pastjobs.Turn) bool {
	return slices.ContainsFunc(turns, func(t pastjobs.Turn) bool { return t.Build != turns[0].Build })
}

// The document of a history.
type (
	revisionDocument struct {
		Revision int             `json:"revision"`
		SavedAt  time.Time       `json:"saved_at"`
		Who      string          `json:"who"`
		Why      string          `json:"why"`
		SHA256   string          `json:"sha256"`
		Changes  []pastjobs.Line `json:"changes"`
	}
	noteDocument struct {
		ID       string    `json:"id"`
		Kind     string    `json:"kind"`
		Revision int       `json:"revision"`
		TakenAt  time.Time `json:"taken_at"`
		SavedAt  time.Time `json:"saved_at"`
		Who      string    `json:"who"`
		store.NoteBody
	}
)

func historyDocument(steps []store.Step, notes []store.Note) any {
	out := struct {
		Format    string             `json:"format"`
		Revisions []revisionDocument `json:"revisions"`
		Notes     []noteDocument     `json:"notes"`
	}{"trunnion.history/1", []revisionDocument{}, []noteDocument{}}
	for _, st := range steps {
		out.Revisions = append(out.Revisions, revisionDocument{st.Number, st.When, st.Who, st.Why, st.SHA256, pastjobs.Lines(st.Changes)})
	}
	for _, n := range notes {
		out.Notes = append(out.Notes, noteDocument{n.ID, n.Kind, n.Revision, n.Taken, n.Saved, n.Who, n.NoteBody})
	}
	return out
}
