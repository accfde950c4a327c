package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"trunnion/chassis/car"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type linkageCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Axle   string `enum:"front,rear" default:"front" help:"Which axle: ${enum}."`
	Travel string `default:"80mm" help:"How far up and down." placeholder:"LENGTH"`
	Points int    `default:"9" help:"How many wheel travels to print."`
	Rack   string `default:"0mm" help:"How far the rack stands to the left." placeholder:"LENGTH"`
	Mode   string `enum:"parallel,opposite,single" default:"parallel" help:"How the other wheel moves: ${enum}."`
	Lower  string `help:"Say what standing lower by this changes." placeholder:"LENGTH"`
	Offset string `help:"Wheel further out by this, by offset or spacer." placeholder:"LENGTH"`
	Plate  string `help:"Top mount inward by this, by a camber plate." placeholder:"LENGTH"`
	Extend string `help:"First arm longer by this." placeholder:"LENGTH"`
	Format string `enum:"text,csv" default:"text" help:"What to print: ${enum}."`
	Units  string `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// mostPoints is taken for meant.
const mostPoints = 1001

// Run moves an axle's linkage.
func (c *linkageCommand) Run(s streams) error {
	job, err := jobOrFaults(c.Job, s, "nothing was moved")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	if c.Points < 2 || c.Points > mostPoints {
		return usage("--points is 2 to %d", mostPoints)
	}
	travel, err := aLength("--travel", c.Travel)
	if err != nil {
		return err
	}
	if !(travel > 0 && travel <= 0.5) {
		return usage("--travel is more than 0 and no more than half a metre")
	}
	rack, err := aLength("--rack", c.Rack)
	if err != nil {
		return err
	}
	ask := study.LinkageAsk{
		Axle: axleNumber(c.Axle), Low: -travel, High: travel, Points: c.Points, Rack: rack,
		Mode: map[string]linkage.Mode{"parallel": linkage.Parallel, "opposite": linkage.Opposite, "single": linkage.Single}[c.Mode],
	}
	if err := c.changed(&ask); err != nil {
		return err
	}
	m, err := study.MoveLinkage(job.Car, ask)
	if err != nil {
		return c.refused(err, rack)
	}
	if c.Format == "csv" {
		return writeFigures(s.out, nil, nil, wording.LinkageColumns(), m.Curves.Points)
	}
	tell := wording.New(nil, system)
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
func (c *linkageCommand) refused(err error, rack float64) error {
	var fault *linkage.FaultError
	switch {
	case errors.Is(err, study.ErrNoHardpoints):
		return &status{exitNoAnswer, fmt.Errorf("the job gives no hardpoints of the %s axle", c.Axle)}
	case errors.Is(err, study.ErrDependent):
		return usage("--offset, --plate and --extend are for independent suspensions")
	case errors.Is(err, study.ErrNoTop):
		return usage("--plate is for struts")
	case errors.Is(err, study.ErrNoArm):
		return usage("--extend is for an axle with arms")
	case rack != 0 && errors.As(err, &fault) && len(fault.Faults) == 1 && fault.Faults[0].Code == linkage.NothingSteered:
		return usage("nothing of the %s axle is steered", c.Axle)
	}
	return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
}

// changed lays what the command line changes into what is asked.
func (c *linkageCommand) changed(ask *study.LinkageAsk) error {
	plate := 0.0
	for _, f := range []struct {
		flag, text string
		to         *float64
	}{{"--lower", c.Lower, &ask.Lower}, {"--offset", c.Offset, &ask.Change.Offset}, {"--plate", c.Plate, &plate}, {"--extend", c.Extend, &ask.Change.Extension}} {
		if f.text == "" {
			continue
		}
		v, err := aLength(f.flag, f.text)
		if err != nil {
			return err
		}
		*f.to = v
	}
	ask.Change.Plate = geom.Vec{Y: -plate}
	return nil
}

// jobOrFaults reads a job or lists its faults.
func jobOrFaults(path string, s streams, nothing string) (*jobfile.Job, error) {
	job, faults, err := readJob(path, s.in)
	if err != nil {
		return nil, err
	}
	if job == nil {
		listFaults(s.err, nameOf(path), faults)
		return nil, &status{exitFaults, fmt.Errorf("%s has %s; %s", nameOf(path), many(refused(faults), "fault", "faults"), nothing)}
	}
	return job, nil
}

func axleNumber(name string) int {
	if name == "rear" {
		return car.Rear
	}
	return car.Front
}

func aLength(flag, text string) (float64, error) {
	v, err := quantity.Parse(text, quantity.Length)
	if err != nil {
		return 0, usage("%s %s: %w", flag, text, err)
	}
	return v.Value, nil
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
