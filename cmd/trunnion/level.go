package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/wording"
)

type levelCommand struct {
	Job      string   `arg:"" help:"Job file, or - for standard input."`
	Build    string   `help:"The build on the scales, by id; needed where several have collars." placeholder:"ID"`
	Load     string   `help:"The load state on the scales, by id; else the usual one of the brief." placeholder:"ID"`
	Readings string   `help:"What was read and turned, round by round: a file, or - for standard input; else what the build's readings hold." placeholder:"FILE"`
	Preset   string   `enum:"road,track,race" default:"road" help:"Tolerances, and what a millimetre is worth: ${enum}."`
	Target   []string `help:"What is wanted: front=350mm, rear=360mm, rake=10mm, level-front=0mm, level-rear=0mm, cross=50%, cross=none, front-share=55%, left-share=50%." placeholder:"WISH" sep:"none"`
	Price    string   `help:"Cross weight worth one millimetre, in %, instead of the preset's." placeholder:"PERCENT"`
	Diagonal string   `enum:"front-right-rear-left,front-left-rear-right" default:"front-right-rear-left" help:"Which diagonal cross weight counts: ${enum}."`
	Only     []string `help:"Turn only these collars." placeholder:"CORNER"`
	Step     string   `help:"Smallest turn, as a fraction of one; else one of the collar's flats, where the job says how many, else 1/8." placeholder:"TURN"`
	Flats    int      `help:"Flats of the collar, instead of a step." placeholder:"N"`
	Format   string   `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	Units    string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// Run says what to turn.
func (c *levelCommand) Run(s streams) error {
	if c.Job == "-" && c.Readings == "-" {
		return usage("job and readings cannot both come from standard input")
	}
	job, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	got, err := c.level(job, s)
	if err != nil {
		return err
	}
	tell := wording.New(nil, system)
	if c.Format == "json" {
		err = got.Document(version, tell).WriteJSON(s.out)
	} else {
		printLevel(s.out, got, tell)
	}
	if err == nil && got.Stopped {
		return &status{code: exitNoAnswer}
	}
	return err
}

func (c *levelCommand) level(job *jobfile.Job, s streams) (*levelling.Result, error) {
	build, err := levelling.Find(job, c.Build)
	if err != nil {
		return nil, notAsked(err)
	}
	if !levelling.HasCollars(build) {
		return nil, usage("build %q has no collars to turn: no platform is named at either axle", build.ID)
	}
	step, err := levelling.Step(c.Step, c.Flats)
	if err != nil {
		return nil, notAsked(err)
	}
	load := c.Load
	if load == "" {
		load = job.Brief.UsualLoad
		if build.Readings != nil && c.Readings == "" {
			load = build.Readings.State
		}
	}
	rig, err := levelling.Stand(job, build, load, nil, step)
	if err != nil {
		return nil, notAsked(err)
	}
	target, err := c.target()
	if err != nil {
		return nil, notAsked(err)
	}
	weighings, err := c.weighings(s.in, build)
	if err != nil {
		return nil, err
	}
	got, err := levelling.Work(build, load, rig, target, weighings)
	if err != nil {
		return nil, notAsked(err)
	}
	got.Accuse()
	return got, nil
}

// notAsked is what a fault of the asking ends the command with.
func notAsked(err error) error {
	var ask *levelling.AskError
	var rest *levelling.NoRest
	switch {
	case errors.As(err, &ask) && ask.Field == "target" && slices.Contains(levelling.Wishes, ask.Wish):
		return usage("--target %s: %s", ask.Wish, ask.Text)
	case errors.As(err, &ask) && (ask.Field == "build" || ask.Field == "load"):
		return usage("%s (--%s)", ask.Text, ask.Field)
	case errors.As(err, &ask):
		return usage("--%s %s", ask.Field, ask.Text)
	case errors.As(err, &rest):
		return &status{exitNoAnswer, err}
	}
	return err
}

func (c *levelCommand) target() (scales.Target, error) {
	t := scales.Preset(c.Preset).Level(scales.Diagonal(c.Diagonal))
	for _, wish := range c.Target {
		name, value, _ := strings.Cut(wish, "=")
		if err := levelling.Wish(&t, strings.TrimSpace(name), value); err != nil {
			return t, err
		}
	}
	if c.Price != "" {
		var err error
		if t.CrossPerMetre, err = levelling.Price(c.Price); err != nil {
			return t, err
		}
	}
	return t, levelling.Only(&t, c.Only)
}

// weighings are the rounds: from a file, or what the job keeps with the build.
func (c *levelCommand) weighings(in io.Reader, build *car.Build) ([]intake.Weighing, error) {
	if c.Readings == "" {
		return levelling.Kept(build), nil
	}
	if c.Readings != "-" {
		file, err := os.Open(c.Readings)
		if err != nil {
			return nil, usage("the readings cannot be read: %w", err)
		}
		defer file.Close() //nolint:errcheck // it was only read
		in = file
	}
	list, err := intake.Scales(in)
	if err != nil {
		var text strings.Builder
		for line := range strings.Lines(err.Error()) {
			fmt.Fprintf(&text, "%s: %s\n", nameOf(c.Readings), strings.TrimSuffix(line, "\n"))
		}
		return nil, &status{exitFaults, errors.New(strings.TrimSuffix(text.String(), "\n"))}
	}
	return list, nil
}
