package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"trunnion/chassis/axles"

	"trunnion/chassis/linkage"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type linkageCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.LinkageAsk
}

// Run moves an axle's linkage.
func (c *linkageCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was moved")
	if err != nil {
		return err
	}
	system := c.system()
	m, err := asking().Linkage(ctx, job, c.LinkageAsk)
	if err != nil {
		return c.refused(ctx, err)
	}
	tell := wording.New(nil, system)
	if c.Format == "csv" {
		return writeFigures(s.out, nil, nil, wording.LinkageColumns(), m.Curves.Points)
	}
	if c.Format == "json" {
		return desk.LinkageDocument(version, job, m, tell).WriteJSON(s.out)
	}
	say(s.out, "%s, %s axle, %s\n\n", job.Car.Name, c.Axle, m.Kind)
	printFigures(s.out, tell, wording.LinkageColumns(), m.Curves.Points, nil)
	for _, text := range tell.Moved(m) {
		say(s.out, "%s\n", wrapped(text, lineWidth, ""))
	}
	for i := range m.Motions {
		if t := &m.Motions[i]; t.Table {
			if i == 0 {
				say(s.out, "\n")
			}
			say(s.out, "%s\n", wrapped(tell.Disagreement(t), lineWidth, ""))
			printFigures(s.out, tell, wording.MotionColumns(), t.Rows, nil)
		}
	}
	return nil
}

// refused tells what cannot be moved.
func (c *linkageCommand) refused(ctx context.Context, err error) error {
	var fault *linkage.FaultError
	switch {
	case errors.Is(err, axles.ErrNoHardpoints):
		return &status{exitNoAnswer, fmt.Errorf("the job gives no hardpoints of the %s axle", c.Axle)}
	case errors.Is(err, axles.ErrDependent):
		return usage("--offset, --plate and --extend are for independent suspensions")
	case errors.Is(err, axles.ErrNoTop):
		return usage("--plate is for struts")
	case errors.Is(err, axles.ErrNoArm):
		return usage("--extend is for an axle with arms")
	case c.Rack != "" && errors.As(err, &fault) && len(fault.Faults) == 1 && fault.Faults[0].Code == linkage.NothingSteered:
		return usage("nothing of the %s axle is steered", c.Axle)
	}
	return unanswered(ctx, err)
}

// printFigures prints columns of figures, as many beside each other as a line
// takes, the first column beside every block.
func printFigures[T any](w io.Writer, tell *wording.Teller, columns []wording.Column[T], rows []T, names []string) {
	const width, perLine = 14, 6
	var shown []wording.Column[T]
	for _, c := range columns {
		known := false
		for i := range rows {
			known = known || !math.IsNaN(c.Of(&rows[i]))
		}
		if c.Head != "" && known {
			shown = append(shown, c)
		}
	}
	if len(shown) == 0 || len(rows) == 0 {
		return
	}
	lead := 0
	for _, n := range names {
		lead = max(lead, len([]rune(n))+1)
	}
	lead = min(lead, lineWidth-width*3)
	across := min(perLine, (lineWidth-lead)/width-1)
	first, rest := shown[:1], shown[1:]
	for len(rest) > 0 {
		n := min(across, len(rest))
		block := append(append([]wording.Column[T]{}, first...), rest[:n]...)
		rest = rest[n:]
		heads, units := padded("", lead), padded("", lead)
		for _, c := range block {
			heads += right(c.Head, width)
			units += right(tell.Label(c.SI), width)
		}
		say(w, "%s", trimmed(heads+"\n"+units+"\n"))
		for i := range rows {
			line := ""
			if names != nil {
				line = padded(names[i], lead)
			}
			for _, c := range block {
				text := quantity.Nothing
				if v := c.Of(&rows[i]); !math.IsNaN(v) {
					text = tell.Figure(c.SI, v)
				}
				line += right(text, width)
			}
			say(w, "%s", trimmed(line+"\n"))
		}
		say(w, "\n")
	}
}

// writeFigures writes columns of figures in SI, led by texts.
func writeFigures[T any](w io.Writer, leads []string, texts [][]string, columns []wording.Column[T], rows []T) error {
	out := csv.NewWriter(w)
	head := append([]string{}, leads...)
	for _, c := range columns {
		head = append(head, c.Name)
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for i := range rows {
		var line []string
		if texts != nil {
			line = append(line, texts[i]...)
		}
		for _, c := range columns {
			text := ""
			if v := c.Of(&rows[i]); !math.IsNaN(v) {
				text = strconv.FormatFloat(v, 'g', -1, 64)
			}
			line = append(line, text)
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
