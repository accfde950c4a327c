package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"trunnion/chassis/valving"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/sheet"
	"trunnion/shop/wording"
)

type damperTargetCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	Units  string `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	PDF    string `help:"Write the order sheet there as PDF." placeholder:"FILE"`
	XLSX   string `help:"Write the order sheet there as a workbook." placeholder:"FILE"`
	Paper  string `enum:"a4,letter" default:"a4" help:"Paper of the PDF: ${enum}."`
	outFile
	desk.TargetAsk
}

// Run makes an order of forces for a damper's builder.
func (c *damperTargetCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
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
	Order string   `arg:"" help:"The order as CSV, from target."`
	Files []string `arg:"" help:"Files or folders of the returned damper's sweeps."`
	For   string   `help:"Which damper of the order: front, rear or a corner." placeholder:"NAME"`
	sweepFlags
}

// Run holds a returned damper against its order.
func (c *damperAcceptCommand) Run(ctx context.Context, s streams) error {
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	text, err := readMost(c.Order)
	if err != nil {
		return usage("%s cannot be read: %w", c.Order, err)
	}
	order, err := intake.Order(bytes.NewReader(text))
	if err != nil {
		return usage("%s is no order: %w", c.Order, err)
	}
	if order, err = c.chosen(order); err != nil {
		return err
	}
	list, err := c.reduced(ctx, s, c.Files)
	if err != nil {
		return err
	}
	if len(list) > 1 {
		return usage("the files hold %s: choose one with --damper: %s", many(len(list), "damper", "dampers"), names(list))
	}
	one := &list[0]
	if len(one.set.Adjusters) > 1 {
		return usage("%s has %d adjusters; an order has the clicks of one", one.name, len(one.set.Adjusters))
	}
	got, err := valving.Accept(&one.set, order)
	if err != nil {
		return &status{exitNoAnswer, err}
	}
	tell := wording.New(nil, system)
	say(s.out, "%s\n\n", wrapped(tell.Accepted(got, one.name), lineWidth, ""))
	t := table{gap: 2}
	t.row(tell.AcceptedColumns()...)
	for i := range got.Lines {
		t.row(tell.AcceptedRow(&got.Lines[i])...)
	}
	t.write(s.out, lineWidth)
	if !got.Accept {
		return &status{exitNoAnswer, errors.New("the damper is not accepted")}
	}
	return nil
}

// chosen are the lines of the damper that is meant.
func (c *damperAcceptCommand) chosen(order []valving.Line) ([]valving.Line, error) {
	var have []string
	for _, l := range order {
		if !slices.Contains(have, l.Damper) {
			have = append(have, l.Damper)
		}
	}
	if c.For == "" && len(have) > 1 {
		return nil, usage("the order is for %s: choose one with --for", strings.Join(have, ", "))
	}
	if c.For != "" && !slices.Contains(have, c.For) {
		return nil, usage("the order has no damper %q; it has %s", c.For, strings.Join(have, ", "))
	}
	return slices.DeleteFunc(order, func(l valving.Line) bool { return c.For != "" && l.Damper != c.For }), nil
}
