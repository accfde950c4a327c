package main

import (
	"context"
	"errors"
	"math"
	"slices"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/strut"
	"trunnion/shop/desk"
	"trunnion/shop/wording"
)

type loadsCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.StrutsAsk
}

// Run puts each build's strut under its loads.
func (c *loadsCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	got, err := asking().Struts(ctx, job, c.StrutsAsk)
	var all *axles.Struts
	if got != nil {
		all = got.Struts
	}
	if all != nil {
		for _, b := range all.Unguided {
			say(s.err, "trunnion: %s\n", wording.Unguided(b))
		}
	}
	if text := wording.StrutsRefused(err, c.Axle); text != "" {
		return &status{exitNoAnswer, errors.New(text)}
	}
	if err != nil {
		return unanswered(ctx, err)
	}
	tell := wording.New(got.Answer, system)
	switch c.Format {
	case "json":
		return got.Document(version).WriteJSON(s.out)
	case "csv":
		return writeLoads(s, tell, all)
	}
	say(s.out, "%s\n\n", tell.StrutsTitle(job.Car.Name, c.Axle, all, sided(all)))
	c.print(s, tell, got)
	return nil
}

func (c *loadsCommand) print(s streams, tell *wording.Teller, got *desk.Strutted) {
	all := got.Struts
	for n := range all.Builds {
		one := &all.Builds[n]
		say(s.out, "%s\n", wording.StrutName(one))
		var names []string
		var rows []strut.Moment
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err == nil {
				names, rows = append(names, tell.StrutCaseLoaded(k)), append(rows, k.Moment)
			}
		}
		printFigures(s.out, tell, wording.LoadColumns(), rows, names)
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err != nil {
				say(s.out, "%s\n", wrapped(tell.StrutCaseFailed(k), lineWidth, ""))
			}
		}
		for i := range one.Cases {
			if text := tell.StrutLoad(&one.Cases[i]); text != "" {
				say(s.out, "%s\n", wrapped(text, lineWidth, ""))
			}
		}
		drawn := got.Drawn(one, &desk.StrutMove{})
		for i := range one.Cases {
			if text := tell.StrutBanded(all.Ask.Axle, one, &one.Cases[i], drawn[i]); text != "" {
				say(s.out, "%s\n", wrapped(text, lineWidth, ""))
			}
		}
		for i := range one.Against {
			say(s.out, "%s\n", wrapped(tell.StrutAgainst(one, all.Baseline(one), &one.Against[i]), lineWidth, ""))
		}
		say(s.out, "\n")
		if len(one.Over) > 0 {
			say(s.out, "%s\n", tell.StrutOver(wording.StrutName(one)))
			rows = rows[:0]
			for i := range one.Over {
				if one.OverErrs[i] == nil {
					rows = append(rows, one.Over[i])
				}
			}
			printFigures(s.out, tell, wording.LoadColumns(), rows, nil)
		}
	}
	for n := range all.Builds {
		one := &all.Builds[n]
		if !math.IsNaN(one.Buckling) {
			say(s.out, "%s\n", wrapped(tell.Buckling(wording.StrutName(one), tell.StrutCaseLoaded(&one.Cases[one.Hardest]), one.Buckling, one.Yields), lineWidth, ""))
		}
		if !math.IsNaN(one.Straight) {
			say(s.out, "%s\n", wrapped(tell.StraightSpring(wording.StrutName(one), one.Straight), lineWidth, ""))
		}
	}
	say(s.out, "\n")
	tried := all.Builds[max(all.Reference, 0)].Build
	for n := range all.Builds {
		if all.Builds[n].Build == tried {
			c.changes(s, tell, &all.Builds[n])
		}
	}
	if all.Inverted {
		say(s.out, "%s\n", wrapped(wording.InversionCosts(), lineWidth, ""))
	}
	say(s.out, "%s\n\n", wrapped(wording.StrutSide(all), lineWidth, ""))
	say(s.out, "%s\n\n", wrapped(wording.StrutBands(), lineWidth, ""))
	say(s.out, "%s\n", wrapped(wording.StrutAssumptions(), lineWidth, ""))
	if sided(all) {
		say(s.out, "%s\n", wrapped(wording.StrutSides(), lineWidth, ""))
	}
}

// changes are what workshops do to a corner, tried on one build.
func (c *loadsCommand) changes(s streams, tell *wording.Teller, one *axles.BuildStrut) {
	for i := range one.Cases {
		var names []string
		var rows []strut.Moment
		for k := range one.Changes {
			if ch := &one.Changes[k]; ch.Case == i && ch.Err == nil {
				names, rows = append(names, tell.LoadCase(ch.Code, ch.By)), append(rows, ch.Moment)
			}
		}
		if len(rows) == 0 {
			continue
		}
		k := &one.Cases[i]
		names, rows = append([]string{tell.StrutCaseLoaded(k)}, names...), append([]strut.Moment{k.Moment}, rows...)
		say(s.out, "%s\n", tell.LoadChanges(wording.StrutName(one), tell.StrutCaseLoaded(k)))
		printFigures(s.out, tell, wording.LoadColumns()[:8], rows, names)
	}
}

func writeLoads(s streams, tell *wording.Teller, all *axles.Struts) error {
	var texts [][]string
	var rows []strut.Moment
	head := []string{"build", "case"}
	if sided(all) {
		head = append(head, "side")
	}
	add := func(one *axles.BuildStrut, what string, m *strut.Moment) {
		row := []string{one.Build.ID, what}
		if len(head) > 2 {
			row = append(row, car.SideNames[one.Side])
		}
		texts, rows = append(texts, row), append(rows, *m)
	}
	for n := range all.Builds {
		one := &all.Builds[n]
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err == nil {
				add(one, tell.StrutCaseLoaded(k), &k.Moment)
			}
		}
		for i := range one.Over {
			if one.OverErrs[i] == nil {
				add(one, "over travel", &one.Over[i])
			}
		}
	}
	return writeFigures(s.out, head, texts, wording.LoadColumns(), rows)
}

// sided reports struts of which one side is another than the other.
func sided(all *axles.Struts) bool {
	return slices.ContainsFunc(all.Builds, func(one axles.BuildStrut) bool { return one.Sided })
}
