package main

import (
	"context"
	"errors"
	"os"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
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
	Paths []string `arg:"" optional:"" help:"Files or folders of sweeps." name:"files"`
	Into  string   `help:"Put the curves into this job file, where the damper has none yet." placeholder:"JOB"`
	As    string   `help:"With --into: id of the damper in the job." placeholder:"ID"`
	desk.SweepsAsk
	sweepFlags
}

type damperPairCommand struct {
	Paths []string `arg:"" optional:"" help:"Two files or folders, or one that holds two dampers." name:"files"`
	desk.PairAsk
	sweepFlags
}

// errNoFiles is said where no sweep was named.
var errNoFiles = usage("enter the files of a sweep, or their folder")

// Run reads sweeps of dampers into curves.
func (c *damperReadCommand) Run(ctx context.Context, s streams) error {
	system := c.system()
	if len(c.Paths) == 0 {
		return errNoFiles
	}
	if (c.Into == "") != (c.As == "") {
		return usage("--into JOB and --as ID go together")
	}
	got, err := c.reduced(ctx, s, c.SweepsAsk, c.Paths)
	if got != nil && c.Format == "json" {
		err = errors.Join(err, got.Document(version).WriteJSON(s.out))
	}
	if err != nil || c.Format == "json" && c.Into == "" {
		return err
	}
	if c.Into != "" && len(got.Curves) > 1 {
		return usage("the files hold %s: choose one with --damper: %s", many(len(got.Curves), "damper", "dampers"), got.Names())
	}
	if c.Format != "json" {
		tell := wording.New(nil, system)
		for i := range got.Curves {
			if i > 0 {
				say(s.out, "\n")
			}
			printSwept(s.out, &got.Curves[i], got.Assumptions, tell)
		}
	}
	if c.Into != "" {
		return c.put(s, &got.Curves[0])
	}
	return nil
}

// put writes the curves into a job, where the damper has none.
func (c *damperReadCommand) put(s streams, d *desk.Swept) error {
	if len(d.Set.Adjusters) > 1 {
		return usage("%s has %d adjusters; a job holds the clicks of one: nothing was written", d.Name, len(d.Set.Adjusters))
	}
	piece, _, err := jobfile.SweptPiece(&d.Set)
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
	if err == nil && len(d.Set.Adjusters) == 1 {
		clicks := itoa(d.Set.Adjusters[0].Clicks)
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
	system := c.system()
	if len(c.Paths) == 0 {
		return errNoFiles
	}
	if len(c.Paths) > 2 {
		return usage("pair takes two files or folders, or one that holds two dampers")
	}
	// What is asked of the files, and what cannot be read in them, is said of each.
	for _, path := range c.Paths {
		if _, err := c.reduced(ctx, s, c.SweepsAsk, []string{path}); err != nil {
			return err
		}
	}
	ask := c.PairAsk
	if err := c.into(&ask.SweepsAsk, c.Paths[:1]); err != nil {
		return err
	}
	if len(c.Paths) == 2 {
		other, err := sweepFiles(c.Paths[1:])
		if err != nil {
			return err
		}
		ask.Other = other
	}
	got, err := asking().Pair(ctx, ask)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return got.Document(version).WriteJSON(s.out)
	}
	tell := wording.New(nil, system)
	for _, line := range tell.Pair(&got.Pair, got.A.Name, got.B.Name, got.A.Set.Adjusters) {
		say(s.out, "%s\n", wrapped(line, lineWidth, ""))
	}
	printDifferences(s.out, &got.Pair, &got.A.Set, tell)
	return nil
}
