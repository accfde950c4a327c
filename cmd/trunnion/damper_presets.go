package main

import (
	"context"

	"trunnion/shop/desk"
	"trunnion/shop/wording"
)

type damperPresetsCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.PresetsAsk
}

// Run finds clicks for what the car is used for.
func (c *damperPresetsCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	got, err := asking().Presets(ctx, job, c.PresetsAsk)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		return got.Document(version).WriteJSON(s.out)
	}
	tell := wording.OfJob(job.Builds, job.Loads, system)
	line := func(text string) { say(s.out, "%s\n", wrapped(text, lineWidth, "")) }
	line(tell.PresetsTitle(job.Car.Name, got.Found))
	for k := range got.Found.Presets {
		head, text, step := tell.Preset(got.Found, k)
		say(s.out, "\n")
		line(head)
		line(text)
		line(step)
	}
	say(s.out, "\nThe adjuster, both axles together, load by load\n")
	for k := range got.Found.Wanted {
		line(tell.PresetWanted(&got.Found.Wanted[k]))
	}
	say(s.out, "\n")
	line(tell.PresetsBasis(got.Found))
	return nil
}
