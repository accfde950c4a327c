package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

type assessCommand struct {
	Job     string   `arg:"" help:"Job file, or - for standard input."`
	Format  string   `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	Units   string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	Samples int      `default:"2000" help:"Draws behind the bands; 0 leaves bands out."`
	Seed    uint64   `default:"1" help:"Seed of the draws and roads."`
	Workers int      `default:"2" help:"How many at once; changes nothing in the answer."`
	Working []string `help:"Print the working of a value (v17), a working (w17) or a result code instead." placeholder:"ID"`
	Build   []string `help:"Only these builds, by id." placeholder:"ID"`
	Load    []string `help:"Only these load states, by id." placeholder:"ID"`
}

// most samples and workers that are taken for meant.
const (
	mostSamples = 200_000
	mostWorkers = 256
)

// assessed is all that is known of a job when it is printed.
type assessed struct {
	job      *jobfile.Job
	faults   []jobfile.Fault // that only warn
	answer   *study.Answer
	findings []finding.Finding
	tell     *wording.Teller
	keep     func(build, load string) bool
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
	if err := c.known(job); err != nil {
		return err
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
	case c.Samples < 0 || c.Samples > mostSamples:
		return usage("--samples is 0 to %d", mostSamples)
	case c.Workers < 1 || c.Workers > mostWorkers:
		return usage("--workers is 1 to %d", mostWorkers)
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

// known refuses builds and load states that the job does not have.
func (c *assessCommand) known(job *jobfile.Job) error {
	var builds, loads []string
	for _, b := range job.Builds {
		builds = append(builds, b.ID)
	}
	for i := range job.Loads {
		loads = append(loads, job.Loads[i].ID)
	}
	for _, id := range c.Build {
		if !slices.Contains(builds, id) {
			return usage("the job has no build %q; it has %s", id, strings.Join(builds, ", "))
		}
	}
	for _, id := range c.Load {
		if !slices.Contains(loads, id) {
			return usage("the job has no load state %q; it has %s", id, strings.Join(loads, ", "))
		}
	}
	return nil
}

// assess computes everything: the study, the drives, the findings.
func (c *assessCommand) assess(ctx context.Context, s streams, job *jobfile.Job, faults []jobfile.Fault) (*assessed, error) {
	system, err := wording.System(c.Units)
	if err != nil {
		return nil, usage("%w", err)
	}
	opt := study.Defaults()
	opt.Samples, opt.Seed, opt.Workers = c.Samples, c.Seed, c.Workers
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return nil, noAnswer(ctx, err)
	}
	drive := study.RideDefaults()
	drive.Seed = c.Seed
	show, end := progress(s.err)
	err = a.Ride(ctx, drive, show)
	end()
	if err != nil {
		if ctx.Err() != nil {
			return nil, err
		}
		// The rest stands without the drives; that they are missing is said.
		a.Warnings = append(a.Warnings, study.Warning{Code: "roads-not-driven", Corner: figure.NoCorner, Path: "brief"})
		say(s.err, "trunnion: the brief was not driven: %v\n", err)
	}
	findings, err := finding.Judge(ctx, a)
	if err != nil {
		return nil, err
	}
	return &assessed{
		job: job, faults: faults, answer: a, findings: findings, tell: wording.New(a, system),
		keep: func(build, load string) bool {
			return (build == "" || len(c.Build) == 0 || slices.Contains(c.Build, build)) &&
				(load == "" || len(c.Load) == 0 || slices.Contains(c.Load, load))
		},
	}, nil
}

func noAnswer(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return err
	}
	return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
}

func (c *assessCommand) print(s streams, got *assessed) error {
	document := func() *answer.Document {
		return answer.New(answer.Source{
			Answer: got.answer, Findings: got.findings, Filled: got.job.Filled, Teller: got.tell,
			Program: version, SHA256: got.job.SHA256, Keep: got.keep,
		})
	}
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
