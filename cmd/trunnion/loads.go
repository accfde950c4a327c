package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"trunnion/chassis/strut"
	"trunnion/chassis/study"
	"trunnion/shop/desk"
	"trunnion/shop/wording"
)

type loadsCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	Units  string `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	desk.StrutsAsk
}

// Run puts each build's strut under its loads.
func (c *loadsCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	got, err := asking().Struts(ctx, job, c.StrutsAsk)
	var all *study.Struts
	if got != nil {
		all = got.Struts
	}
	if all != nil {
		for _, b := range all.Unguided {
			say(s.err, "trunnion: %s: nothing is known of its guide; it is left out\n", b.Name)
		}
	}
	switch {
	case errors.Is(err, study.ErrNoStrut):
		return &status{exitNoAnswer, fmt.Errorf("the job gives no hardpoints of a strut on the %s axle", c.Axle)}
	case errors.Is(err, study.ErrNoGuide):
		return &status{exitNoAnswer, fmt.Errorf("no build says how its strut is guided: give guide under its damper")}
	case err != nil:
		return unanswered(ctx, err)
	}
	tell := wording.New(got.Answer, system)
	switch c.Format {
	case "json":
		return got.Document(version).WriteJSON(s.out)
	case "csv":
		return writeLoads(s, tell, all)
	}
	say(s.out, "%s, %s axle: forces in the strut, left side\n\n", job.Car.Name, c.Axle)
	c.print(s, tell, all)
	return nil
}

func (c *loadsCommand) print(s streams, tell *wording.Teller, all *study.Struts) {
	for n := range all.Builds {
		one := &all.Builds[n]
		say(s.out, "%s\n", one.Build.Name)
		var names []string
		var rows []strut.Moment
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err == nil {
				names, rows = append(names, tell.StrutCase(k)), append(rows, k.Moment)
			}
		}
		printFigures(s.out, tell, wording.LoadColumns(), rows, names)
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err != nil {
				say(s.out, "%s\n", wrapped(fmt.Sprintf("%s: no answer: %v", tell.StrutCase(k), k.Err), lineWidth, ""))
			}
		}
		for i := range one.Cases {
			if text := tell.StrutLoad(&one.Cases[i]); text != "" {
				say(s.out, "%s\n", wrapped(text, lineWidth, ""))
			}
		}
		for i := range one.Against {
			say(s.out, "%s\n", wrapped(tell.StrutAgainst(one, &all.Builds[all.Reference], &one.Against[i]), lineWidth, ""))
		}
		say(s.out, "\n")
		if len(one.Over) > 0 {
			say(s.out, "%s\n", tell.StrutOver(one.Build.Name))
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
			say(s.out, "%s\n", wrapped(tell.Buckling(one.Build.Name, tell.StrutCase(&one.Cases[one.Hardest]), one.Buckling, one.Yields), lineWidth, ""))
		}
		if !math.IsNaN(one.Straight) {
			say(s.out, "%s\n", wrapped(tell.StraightSpring(one.Build.Name, one.Straight), lineWidth, ""))
		}
	}
	say(s.out, "\n")
	c.changes(s, tell, &all.Builds[max(all.Reference, 0)])
	if all.Inverted {
		say(s.out, "%s\n", wrapped(wording.InversionCosts(), lineWidth, ""))
	}
	say(s.out, "%s\n", wrapped(wording.StrutAssumptions(), lineWidth, ""))
}

// changes are what workshops do to a corner, tried on one build.
func (c *loadsCommand) changes(s streams, tell *wording.Teller, one *study.BuildStrut) {
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
		names, rows = append([]string{tell.StrutCase(k)}, names...), append([]strut.Moment{k.Moment}, rows...)
		say(s.out, "%s\n", tell.LoadChanges(one.Build.Name, tell.StrutCase(k)))
		printFigures(s.out, tell, wording.LoadColumns()[:8], rows, names)
	}
}

func writeLoads(s streams, tell *wording.Teller, all *study.Struts) error {
	var texts [][]string
	var rows []strut.Moment
	for n := range all.Builds {
		one := &all.Builds[n]
		for i := range one.Cases {
			if k := &one.Cases[i]; k.Err == nil {
				texts, rows = append(texts, []string{one.Build.ID, tell.StrutCase(k)}), append(rows, k.Moment)
			}
		}
		for i := range one.Over {
			if one.OverErrs[i] == nil {
				texts, rows = append(texts, []string{one.Build.ID, "over travel"}), append(rows, one.Over[i])
			}
		}
	}
	return writeFigures(s.out, []string{"build", "case"}, texts, wording.LoadColumns(), rows)
}
