package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
	"trunnion/shop/wording"
)

type loadsCommand struct {
	Job       string   `arg:"" help:"Job file, or - for standard input."`
	Axle      string   `enum:"front,rear" default:"front" help:"Which axle: ${enum}."`
	Build     []string `help:"Only these builds, by id." placeholder:"ID"`
	Load      string   `help:"Load state, by id; that of ordinary driving without it." placeholder:"ID"`
	Cornering float64  `default:"0.9" help:"Lateral acceleration of the car in the bend, in g."`
	Transfer  float64  `help:"Load of the outside wheel over its load at rest while cornering; without it, as the car itself leans." placeholder:"RATIO"`
	Braking   float64  `default:"0.9" help:"Deceleration, in g."`
	Dive      float64  `help:"Load of the wheel over its load at rest while braking; without it, as the car itself dives." placeholder:"RATIO"`
	Offset    string   `help:"Wheel further out by this, by offset or spacer." placeholder:"LENGTH"`
	Travel    bool     `help:"Print each strut over its travel too."`
	Format    string   `enum:"text,csv" default:"text" help:"What to print: ${enum}."`
	Units     string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// Run puts each build's strut under its loads.
func (c *loadsCommand) Run(ctx context.Context, s streams) error {
	job, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	ask, err := c.asked()
	if err != nil {
		return err
	}
	known := assessCommand{Build: c.Build}
	if c.Load != "" {
		known.Load = []string{c.Load}
	}
	if err := known.known(job); err != nil {
		return err
	}
	opt := study.Defaults()
	opt.Samples, opt.NoModes, opt.NoWorkings, opt.NoCorners = 0, true, true, true
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return noAnswer(ctx, err)
	}
	all, err := a.Struts(ctx, ask)
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
		return noAnswer(ctx, err)
	}
	if c.Format == "csv" {
		return writeLoads(s, wording.New(a, system), all)
	}
	say(s.out, "%s, %s axle: forces in the strut, left side\n\n", job.Car.Name, c.Axle)
	c.print(s, wording.New(a, system), all)
	return nil
}

func (c *loadsCommand) asked() (study.StrutAsk, error) {
	ask := study.UsualStrutAsk(axleNumber(c.Axle))
	for name, v := range map[string]float64{"--cornering": c.Cornering, "--transfer": c.Transfer, "--braking": c.Braking, "--dive": c.Dive} {
		if !(v >= 0 && v <= 5) {
			return ask, usage("%s is 0 to 5", name)
		}
	}
	ask.Builds, ask.Load = c.Build, c.Load
	ask.Lateral, ask.Braking = c.Cornering*equilibrium.Gravity, c.Braking*equilibrium.Gravity
	ask.Transfer, ask.Dive = c.Transfer, c.Dive
	if !c.Travel {
		ask.Points = 0
	}
	if c.Offset == "" {
		return ask, nil
	}
	var err error
	ask.Offset, err = aLength("--offset", c.Offset)
	return ask, err
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
