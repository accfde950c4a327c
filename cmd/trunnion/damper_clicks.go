package main

import (
	"context"

	"trunnion/shop/desk"
	"trunnion/shop/wording"
)

type damperClicksCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.ClicksAsk
}

// Run maps the clicks of a build's dampers on the car.
func (c *damperClicksCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	got, err := asking().Clicks(ctx, job, c.ClicksAsk)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return got.Document(version).WriteJSON(s.out)
	}
	tell := wording.New(got.Answer, system)
	m := got.Map
	line := func(text string) { say(s.out, "%s\n", wrapped(text, lineWidth, "")) }
	line(tell.ClicksTitle(job.Car.Name, m))
	for i := range m.Wheels {
		w := &m.Wheels[i]
		say(s.out, "\n%s\n", tell.ClickWheel(w))
		t := table{gap: 2}
		t.row(tell.ClickColumns(m)...)
		for k := range w.Clicks {
			t.row(tell.ClickRow(&w.Clicks[k])...)
		}
		t.write(s.out, wideTable)
		for _, text := range tell.ClickAuthority(w) {
			line(text)
		}
		for _, text := range tell.ClickFaults(w) {
			line(text)
		}
		line(tell.ClickLadder(w))
		for k := range w.Wanted {
			line(tell.ClickWanted(&w.Wanted[k]))
		}
		for k := range m.Seen {
			if m.Seen[k].Corner == w.Corner {
				line(tell.ClickSeen(&m.Seen[k]))
			}
		}
	}
	for i := range m.Unlike {
		say(s.out, "\n")
		for _, text := range tell.Unlike(m, &m.Unlike[i]) {
			line(text)
		}
	}
	say(s.out, "\n")
	line(tell.ClicksNote(m))
	return nil
}

// wideTable is the width of a table that is too wide for lineWidth and is read across.
const wideTable = 200
