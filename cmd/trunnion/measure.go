package main

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/sheet"
)

type measureCommand struct {
	Job   string `arg:"" help:"Job file, or - for standard input; it need not be complete."`
	Out   string `required:"" help:"PDF to write; - is standard output." placeholder:"FILE"`
	Paper string `enum:"a4,letter" default:"a4" help:"Paper: ${enum}."`
	Date  string `help:"Date of printing, as 2026-11-16; today when not given." placeholder:"DATE"`
	inUnits
	outFile
}

// Run writes what a job still lacks as a sheet to write on at the car.
func (c *measureCommand) Run(_ context.Context, s streams) error {
	text, err := jobText(c.Job, s.in)
	if err != nil {
		return err
	}
	date := c.Date
	if date == "" {
		date = time.Now().Format(time.DateOnly)
	}
	if _, err := time.Parse(time.DateOnly, date); err != nil {
		return usage("--date is written 2026-11-16, not %q", c.Date)
	}
	// A job that is not complete is what the sheet is for; a text that is none is refused.
	if job, faults := jobfile.ReadBytes(text, nameOf(c.Job)); job == nil && len(jobfile.Fields(text)) == 0 {
		listFaults(s.err, nameOf(c.Job), faults)
		return &status{exitFaults, fmt.Errorf("%s is no job that can be read; no sheet was made", nameOf(c.Job))}
	}
	made := sheet.MeasuringOf(text, c.system(), version, date)
	var out bytes.Buffer
	if err := sheet.WriteMeasuringPDF(&out, made, sheet.Paper(c.Paper)); err != nil {
		return err
	}
	if c.Out == "-" {
		_, err = s.out.Write(out.Bytes())
		return err
	}
	if err := c.write(c.Out, out.Bytes(), c.Job); err != nil {
		return err
	}
	say(s.err, "trunnion: %s written, %s to measure\n", c.Out, many(len(made.Todo), "thing", "things"))
	return nil
}
