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
	axle := &job.Car.Axle[axleNumber(c.Axle)]
	if axle.Hardpoints == nil {
		return &status{exitNoAnswer, fmt.Errorf("the job gives no hardpoints of the %s axle", c.Axle)}
	}
	points, done, err := c.changed(axle.Hardpoints)
	if err != nil {
		return err
	}
	l, err := points.New()
	if err != nil {
		return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
	}
	if rack != 0 && !l.Steers() {
		return usage("nothing of the %s axle is steered", c.Axle)
	}
	mode := map[string]linkage.Mode{"parallel": linkage.Parallel, "opposite": linkage.Opposite, "single": linkage.Single}[c.Mode]
	curves, err := l.Sweep(mode, linkage.Travels(-travel, travel, c.Points), rack)
	if err != nil {
		return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
	}
	if c.Format == "csv" {
		return writeFigures(s.out, nil, nil, wording.LinkageColumns(), curves.Points)
	}
	tell := wording.New(nil, system)
	say(s.out, "%s, %s axle, %s\n\n", job.Car.Name, c.Axle, axle.Kind)
	printFigures(s.out, tell, wording.LinkageColumns(), curves.Points, nil)
	for _, text := range c.sentences(tell, axle, l, &curves, done) {
		say(s.out, "%s\n", wrapped(text, lineWidth, ""))
	}
	return nil
}

// done is what the command line changed.
type done struct {
	change linkage.Change
	lower  float64
	any    bool
	before *linkage.Hardpoints
}

// changed makes the points with what the command line changes.
func (c *linkageCommand) changed(h *linkage.Hardpoints) (*linkage.Hardpoints, done, error) {
	d := done{before: h}
	for _, f := range []struct {
		flag, text string
		to         *float64
	}{{"--lower", c.Lower, &d.lower}, {"--offset", c.Offset, &d.change.Offset}, {"--plate", c.Plate, &d.change.Plate.Y}, {"--extend", c.Extend, &d.change.Extension}} {
		if f.text == "" {
			continue
		}
		v, err := aLength(f.flag, f.text)
		if err != nil {
			return nil, d, err
		}
		*f.to, d.any = v, true
	}
	d.change.Plate = geom.Vec{Y: -d.change.Plate.Y}
	if d.change == (linkage.Change{}) {
		return h, d, nil
	}
	if h.Corner == nil {
		return nil, d, usage("--offset, --plate and --extend are for independent suspensions")
	}
	if c.Plate != "" && h.Corner.Strut == nil {
		return nil, d, usage("--plate is for struts")
	}
	if c.Extend != "" && len(h.Corner.Arms) == 0 {
		return nil, d, usage("--extend is for an axle with arms")
	}
	corner := h.Corner.With(d.change)
	return &linkage.Hardpoints{Corner: &corner}, d, nil
}

// sentences say what matters under the table.
func (c *linkageCommand) sentences(tell *wording.Teller, axle *car.Axle, l *linkage.Linkage, curves *linkage.Curves, d done) []string {
	var out []string
	for _, lock := range []*linkage.LockError{curves.Low, curves.High} {
		if lock != nil {
			out = append(out, tell.Lock(lock))
		}
	}
	if home, err := l.Figures(linkage.Parallel, 0, 0); err == nil {
		out = append(out, tell.LinkageSentences(&home)...)
	}
	if d.any {
		out = append(out, c.difference(tell, l, d)...)
	}
	for _, part := range []struct {
		name   string
		motion *car.Motion
		of     func(*linkage.Figures) linkage.Motion
	}{
		{"spring", &axle.Spring, func(f *linkage.Figures) linkage.Motion { return f.Spring }},
		{"damper", &axle.Damper, func(f *linkage.Figures) linkage.Motion { return f.Damper }},
	} {
		if part.motion.Known() && part.motion.Origin == "measured" {
			out = append(out, tell.Disagreement(part.name, l.Disagree(part.motion.Wheel, part.motion.Part, part.of)))
		}
	}
	return out
}

func (c *linkageCommand) difference(tell *wording.Teller, l *linkage.Linkage, d done) []string {
	before, err := d.before.New()
	if err != nil {
		return nil
	}
	was, err := before.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		return nil
	}
	is, err := l.Figures(linkage.Parallel, d.lower, 0)
	var lock *linkage.LockError
	if errors.As(err, &lock) {
		return []string{tell.Lock(lock)}
	}
	if err != nil {
		return nil
	}
	return tell.Realignment("With what was changed", &was, &is)
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
