package main

import (
	"context"
	"errors"
	"os"
	"strings"

	"trunnion/chassis/dyno"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type damperCommand struct {
	Read    damperReadCommand    `cmd:"" help:"Sweeps from the dyno to force over speed by click, with bands."`
	Pair    damperPairCommand    `cmd:"" help:"Two dampers side by side, or one beside its older sweep."`
	Clicks  damperClicksCommand  `cmd:"" help:"What each click is worth on the car: forces, damping ratios, range, steps that feel equal."`
	Presets damperPresetsCommand `cmd:"" help:"Clicks for town, motorway, fast road, wet, bumpy closed road and track, found by driving them."`
	Target  damperTargetCommand  `cmd:"" help:"What to ask the builder for: forces by click and speed from wanted damping ratios."`
	Accept  damperAcceptCommand  `cmd:"" help:"A returned damper's sweep against its order, line by line."`
}

type damperReadCommand struct {
	Files []string `arg:"" optional:"" help:"Files or folders of sweeps."`
	Into  string   `help:"Put the curves into this job file, where the damper has none yet." placeholder:"JOB"`
	As    string   `help:"With --into: id of the damper in the job." placeholder:"ID"`
	sweepFlags
}

type damperPairCommand struct {
	Files []string `arg:"" optional:"" help:"Two files or folders, or one that holds two dampers."`
	Use   string   `enum:"club,race,road" default:"club" help:"Tolerance of common practice: ${enum}."`
	Share string   `help:"A tolerance of your own, such as 4 %." placeholder:"SHARE"`
	Least string   `help:"The least force that counts as apart." placeholder:"FORCE"`
	sweepFlags
}

// errNoFiles is said where no sweep was named.
var errNoFiles = usage("enter the files of a sweep, or their folder")

// Run reads sweeps of dampers into curves.
func (c *damperReadCommand) Run(ctx context.Context, s streams) error {
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	if len(c.Files) == 0 {
		return errNoFiles
	}
	if (c.Into == "") != (c.As == "") {
		return usage("--into JOB and --as ID go together")
	}
	tell := wording.New(nil, system)
	list, err := c.reduced(ctx, s, c.Files)
	if err != nil {
		return err
	}
	if c.Into != "" && len(list) > 1 {
		return usage("the files hold %s: choose one with --damper: %s", many(len(list), "damper", "dampers"), names(list))
	}
	for i := range list {
		if i > 0 {
			say(s.out, "\n")
		}
		printSwept(s.out, &list[i], tell)
	}
	if c.Into != "" {
		return c.put(s, &list[0])
	}
	return nil
}

// put writes the curves into a job, where the damper has none.
func (c *damperReadCommand) put(s streams, d *swept) error {
	if len(d.set.Adjusters) > 1 {
		return usage("%s has %d adjusters; a job holds the clicks of one: nothing was written", d.name, len(d.set.Adjusters))
	}
	piece, _, err := curvesOf(&d.set)
	if err != nil {
		return err
	}
	text, err := os.ReadFile(c.Into)
	if err != nil {
		return usage("%s cannot be read: %w", c.Into, err)
	}
	path := "parts.dampers." + c.As
	if there, err := jobfile.Piece(text, path+".curves"); err == nil {
		if there == piece {
			say(s.out, "\n%s holds these curves already.\n", c.Into)
			return nil
		}
		return usage("%s has curves in %s already: nothing was written; take them out first, or choose another id", c.As, c.Into)
	}
	after, err := jobfile.Insert(text, path+".curves", piece)
	if err == nil && len(d.set.Adjusters) == 1 {
		clicks := itoa(d.set.Adjusters[0].Clicks)
		if was, missing := jobfile.Piece(after, path+".clicks"); missing == nil && was != clicks {
			return usage("%s has %s clicks in %s, and %s here: nothing was written", c.As, was, c.Into, clicks)
		}
		after, err = jobfile.Put(after, path+".clicks", clicks)
	}
	if err == nil {
		after, err = jobfile.Put(after, path+".origin", "measured")
	}
	if err != nil {
		return usage("the curves cannot be put into %s: %w", c.Into, err)
	}
	if _, faults := jobfile.Read(strings.NewReader(string(after)), c.Into); refused(faults) > 0 {
		before, was := jobfile.Read(strings.NewReader(string(text)), c.Into)
		if before != nil && refused(was) < refused(faults) {
			listFaults(s.err, c.Into, faults)
			return &status{exitFaults, errors.New("with these curves the job has faults: nothing was written")}
		}
	}
	if err := (outFile{Force: true}).write(c.Into, after); err != nil {
		return err
	}
	say(s.out, "\nWritten into %s: %s.curves.\n", c.Into, path)
	return nil
}

// Run holds two dampers side by side.
func (c *damperPairCommand) Run(ctx context.Context, s streams) error {
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	if len(c.Files) == 0 {
		return errNoFiles
	}
	tell := wording.New(nil, system)
	tolerance := map[string]dyno.Tolerance{"club": dyno.Club, "race": dyno.Race, "road": dyno.Road}[c.Use]
	for _, one := range []struct {
		text string
		kind quantity.Kind
		to   *float64
	}{{c.Share, quantity.Share, &tolerance.Share}, {c.Least, quantity.Force, &tolerance.Least}} {
		if one.text == "" {
			continue
		}
		v, err := quantity.Parse(one.text, one.kind)
		if err != nil {
			return usage("%w", err)
		}
		if v.Value < 0 {
			return usage("a tolerance is not negative")
		}
		*one.to = v.Value
	}
	var both []swept
	switch len(c.Files) {
	case 1:
		list, err := c.reduced(ctx, s, c.Files)
		if err != nil {
			return err
		}
		if len(list) != 2 {
			return usage("%s holds %s: name two files or folders", c.Files[0], many(len(list), "damper", "dampers"))
		}
		both = list
	case 2:
		for _, path := range c.Files {
			list, err := c.reduced(ctx, s, []string{path})
			if err != nil {
				return err
			}
			if len(list) != 1 {
				return usage("%s holds %s: choose one with --damper: %s", path, many(len(list), "damper", "dampers"), names(list))
			}
			both = append(both, list[0])
		}
	default:
		return usage("pair takes two files or folders, or one that holds two dampers")
	}
	a, b := &both[0], &both[1]
	p, err := dyno.Compare(&a.set, &b.set, tolerance)
	if err != nil {
		return &status{exitNoAnswer, err}
	}
	for _, line := range tell.Pair(&p, a.name, b.name, a.set.Adjusters) {
		say(s.out, "%s\n", wrapped(line, lineWidth, ""))
	}
	printDifferences(s.out, &p, a, tell)
	return nil
}
