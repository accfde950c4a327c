package main

import (
	"bytes"
	"context"
	"errors"
	"io"

	"trunnion/shop/desk"
	"trunnion/shop/sheet"
	"trunnion/shop/wording"
)

type damperTargetCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	PDF   string `help:"Write the order sheet there as PDF." placeholder:"FILE"`
	XLSX  string `help:"Write the order sheet there as a workbook." placeholder:"FILE"`
	Paper string `enum:"a4,letter" default:"a4" help:"Paper of the PDF: ${enum}."`
	outFile
	desk.TargetAsk
}

// Run makes an order of forces for a damper's builder.
func (c *damperTargetCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	got, err := asking().Target(ctx, job, c.TargetAsk)
	if err != nil {
		return unanswered(ctx, err)
	}
	tell := wording.New(got.Answer, system)
	if err := c.sheets(got, tell); err != nil {
		return err
	}
	switch c.Format {
	case "json":
		return got.Document(version).WriteJSON(s.out)
	case "csv":
		return got.Document(version).WriteCSV(s.out)
	}
	o := got.Order
	line := func(text string) { say(s.out, "%s\n", wrapped(text, lineWidth, "")) }
	line(tell.OrderTitle(job.Car.Name, o))
	for i := range o.Dampers {
		d := &o.Dampers[i]
		say(s.out, "\n%s\n", wording.OrderDamper(d))
		t := table{gap: 2}
		t.row(tell.OrderColumns()...)
		for _, row := range tell.OrderRows(d) {
			t.row(row...)
		}
		t.write(s.out, wideTable)
		line(tell.Cavitation(d))
	}
	say(s.out, "\n")
	for _, text := range tell.OrderNotes(o) {
		line(text)
	}
	for _, name := range []string{c.PDF, c.XLSX} {
		if name != "" {
			say(s.out, "\nWritten: %s\n", name)
		}
	}
	return nil
}

// sheets writes the order as the files that are wanted.
func (c *damperTargetCommand) sheets(got *desk.Ordered, tell *wording.Teller) error {
	made := sheet.OfOrder(got.Job, got.Order, tell, version)
	for _, one := range []struct {
		name  string
		write func(w io.Writer) error
	}{
		{c.PDF, func(w io.Writer) error { return sheet.WritePDF(w, made, sheet.Paper(c.Paper)) }},
		{c.XLSX, func(w io.Writer) error { return sheet.WriteXLSX(w, made) }},
	} {
		if one.name == "" {
			continue
		}
		var out bytes.Buffer
		if err := one.write(&out); err != nil {
			return err
		}
		if err := c.write(one.name, out.Bytes(), c.Job); err != nil {
			return err
		}
	}
	return nil
}

type damperAcceptCommand struct {
	Path  string   `arg:"" help:"The order as CSV, from target." name:"order"`
	Paths []string `arg:"" help:"Files or folders of the returned damper's sweeps." name:"files"`
	desk.AcceptAsk
	sweepFlags
}

// Run holds a returned damper against its order.
func (c *damperAcceptCommand) Run(ctx context.Context, s streams) error {
	system := c.system()
	text, err := readMost(c.Path)
	if err != nil {
		return usage("%s cannot be read: %w", c.Path, err)
	}
	ask := c.AcceptAsk
	ask.Order = string(text)
	if _, err := ask.Lines(); err != nil {
		return unanswered(ctx, err) // before anything is asked about the sweeps
	}
	if _, err := c.reduced(ctx, s, c.SweepsAsk, c.Paths); err != nil {
		return err
	}
	if err := c.into(&ask.SweepsAsk, c.Paths); err != nil {
		return err
	}
	got, err := asking().Accept(ctx, ask)
	if err != nil {
		return unanswered(ctx, err)
	}
	if c.Format == "json" {
		err = got.Document(version).WriteJSON(s.out)
	} else {
		tell := wording.New(nil, system)
		say(s.out, "%s\n\n", wrapped(tell.Accepted(got.Accepted, got.Name), lineWidth, ""))
		t := table{gap: 2}
		t.row(tell.AcceptedColumns()...)
		for i := range got.Accepted.Lines {
			t.row(tell.AcceptedRow(&got.Accepted.Lines[i])...)
		}
		t.write(s.out, lineWidth)
	}
	if err == nil && !got.Accepted.Accept {
		return &status{exitNoAnswer, errors.New("the damper is not accepted")}
	}
	return err
}
