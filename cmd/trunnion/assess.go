package main

import (
	"context"
	"fmt"

	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

type assessCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	Working []string `help:"Print the working of a value (v17), a working (w17) or a result code instead." placeholder:"ID"`
	catalogue
	desk.AssessAsk
}

// Run assesses a job.
func (c *assessCommand) Run(ctx context.Context, s streams) error {
	if err := c.check(); err != nil {
		return err
	}
	job, faults, err := readJob(c.Job, s.in)
	if err != nil {
		return err
	}
	if job == nil {
		return c.refuse(s, faults)
	}
	got, err := c.assess(ctx, s, job, faults)
	if err != nil {
		return err
	}
	if err := c.print(s, got); err != nil {
		return err
	}
	for i := range got.answer.Failures {
		if f := &got.answer.Failures[i]; got.keep(f.Build, f.Load) {
			return &status{code: exitNoAnswer}
		}
	}
	return nil
}

func (c *assessCommand) check() error {
	switch {
	case len(c.Working) > 0 && c.Format != "text":
		return usage("--working prints text; in JSON the workings stand under their ids")
	}
	return nil
}

func (c *assessCommand) refuse(s streams, faults []jobfile.Fault) error {
	if c.Format == "json" {
		if err := answer.WriteFaults(s.out, nameOf(c.Job), faults); err != nil {
			return err
		}
	} else {
		listFaults(s.err, nameOf(c.Job), faults)
	}
	return &status{exitFaults, fmt.Errorf("%s has %s; nothing was computed", nameOf(c.Job), many(refused(faults), "fault", "faults"))}
}

// assess computes everything: the study, the drives, the findings.
func (c *assessCommand) assess(ctx context.Context, s streams, job *jobfile.Job, faults []jobfile.Fault) (*assessed, error) {
	if err := c.buy(ctx); err != nil {
		return nil, err
	}
	system := c.system()
	show, end := progress(s.err)
	c.Progress = show
	got, err := asking().Assess(ctx, job, c.AssessAsk)
	end()
	if err != nil {
		return nil, unanswered(ctx, err)
	}
	if got.NotDriven != nil {
		say(s.err, "trunnion: the brief was not driven: %v\n", got.NotDriven)
	}
	return &assessed{
		job: job, faults: faults, answer: got.Answer, findings: got.Findings, plans: got.Plans, inShort: got.InShort, tell: wording.New(got.Answer, system), keep: c.Keeps,
	}, nil
}

func (c *assessCommand) print(s streams, got *assessed) error {
	document := got.document
	switch {
	case c.Format == "json":
		return document().WriteJSON(s.out)
	case c.Format == "csv":
		return document().WriteCSV(s.out)
	case len(c.Working) > 0:
		return printWorkings(s.out, document(), got.tell, c.Working)
	}
	return printReport(s.out, got, paint(coloured(s.out)))
}
