package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/wording"
)

type levelCommand struct {
	Job      string `arg:"" help:"Job file, or - for standard input."`
	Readings string `help:"What was read and turned, round by round: a file, or - for standard input; else what the build's readings hold." placeholder:"FILE"`
	Format   string `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.LevelAsk
}

// Run says what to turn.
func (c *levelCommand) Run(ctx context.Context, s streams) error {
	if c.Job == "-" && c.Readings == "-" {
		return usage("job and readings cannot both come from standard input")
	}
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	rounds, err := c.rounds(s.in)
	if err != nil {
		return err
	}
	got, err := asking().Level(ctx, job, c.LevelAsk, rounds)
	if err != nil {
		return unanswered(ctx, err)
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

// rounds are those of a file; nil: what the job holds.
func (c *levelCommand) rounds(in io.Reader) ([]intake.Weighing, error) {
	if c.Readings == "" {
		return nil, nil
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
