package main

import (
	"context"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strconv"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/study"
	"trunnion/shop/answer"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type cornerCommand struct {
	Job    string `arg:"" help:"Job file, or - for standard input."`
	Format string `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	desk.CornerAsk
}

// Run takes a job's builds round a corner.
func (c *cornerCommand) Run(ctx context.Context, s streams) error {
	job, _, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system := c.system()
	got, err := asking().Corner(ctx, job, c.CornerAsk)
	if err != nil {
		return unanswered(ctx, err)
	}
	tell := wording.New(got.Answer, system)
	w := &cornerWriter{out: s.out, a: got.Answer, tell: tell, system: system, load: got.Load, steady: &got.Steady}
	if c.Format == "json" {
		if err := got.Document(version, tell).WriteJSON(s.out); err != nil {
			return err
		}
	}
	failed := false
	if c.Format == "csv" {
		w.csv = csv.NewWriter(s.out)
		defer w.csv.Flush()
	}
	first := true
	for i := range got.Builds {
		b := &got.Builds[i]
		if b.Err != nil {
			say(s.err, "trunnion: %s: %v\n", w.tell.Build(b.Build.ID), b.Err)
			failed = true
			continue
		}
		switch {
		case c.Format == "json":
		case w.csv != nil:
			w.rows(b)
		default:
			if !first {
				say(s.out, "\n")
			}
			first = false
			w.build(b)
		}
	}
	if failed {
		return &status{code: exitNoAnswer}
	}
	return nil
}

// cornerWriter prints what builds do in one load state.
type cornerWriter struct {
	out    io.Writer
	csv    *csv.Writer
	a      *study.Answer
	tell   *wording.Teller
	system quantity.System
	load   string
	steady *desk.Steadied
	headed bool
}

func (w *cornerWriter) length(v float64) string {
	if math.IsNaN(v) {
		return quantity.Nothing
	}
	return quantity.Format(v, quantity.Length, w.system, quantity.Auto)
}

// inG shows an acceleration as everybody counts it sideways.
func inG(v float64) string { return quantity.Format(v, quantity.Acceleration, quantity.Imperial, 3) }

// build prints one build: its figures, its stops, its table.
func (w *cornerWriter) build(b *desk.CorneredBuild) {
	id, c, s := b.Build.ID, b.Car, &b.Swept
	say(w.out, "%s, %s\n", w.tell.Build(id), w.tell.Load(w.load))
	figures := table{gap: 2}
	for i := range w.a.Values {
		v := &w.a.Values[i]
		if v.Place.Build != id || v.Place.Load != w.load || !slices.Contains(answer.CornerCodes, v.Code) {
			continue
		}
		name, text := w.tell.CornerFigure(v)
		figures.row("  "+name, text)
	}
	if len(figures.rows) > 0 {
		figures.write(w.out, lineWidth)
	}
	var says []string
	for a := range 2 {
		says = append(says, w.tell.BarLifts(a, c.RollStiffness(a).Preload))
	}
	w.sentences(says)
	w.holes(b)
	w.sentences(w.tell.Meets(w.a, id, w.load, s))
	if y := w.steady.Of(id); y != nil {
		w.sentences([]string{w.tell.Steering(y.Yaw, w.steady.Top), y.Says(w.tell, w.steady)})
	}
	w.table(c, s)
	w.sentences([]string{wording.BendEnds(s)})
}

// sentences prints sentences below the figures.
func (w *cornerWriter) sentences(list []string) {
	for _, text := range list {
		if text != "" {
			printWrapped(w.out, "  ", text)
		}
	}
}

// holes prints what an adjustable bar does in each of its holes.
func (w *cornerWriter) holes(b *desk.CorneredBuild) {
	for a, axle := range []string{"front", "rear"} {
		list := b.Holes[a]
		if len(list) == 0 {
			continue
		}
		var names []string
		var rows []study.BarHole
		for i := range list {
			if list[i].Err == nil {
				names, rows = append(names, w.tell.BarHole(&list[i])), append(rows, list[i])
			}
		}
		say(w.out, "\n%s\n", "  "+wrapped(w.tell.BarHoles(axle)+".", lineWidth-2, "  "))
		printFigures(w.out, w.tell, wording.BarHoleColumns(), rows, names)
	}
}

func (w *cornerWriter) table(c *cornering.Car, s *cornering.Swept) {
	t := table{gap: 2}
	t.row("  lateral", "along", "roll", "nose down", "wheel FL", "FR", "RL", "RR", "load FL", "FR", "RL", "RR", "front share")
	angle := func(v float64) string { return quantity.Format(v, quantity.Angle, w.system, quantity.Auto) }
	for i := range s.Points {
		p := &s.Points[i]
		row := []string{"  " + inG(p.Lateral), inG(p.Longitudinal), angle(c.RollAt(p)), angle(c.PitchAt(p))}
		for k := range 4 {
			text := w.tell.WheelMoved(p.Travel[k] - c.Rest().Travel[k])
			if c.ToStop(p, k) < 0 {
				text += "*"
			}
			row = append(row, text)
		}
		for k := range 4 {
			row = append(row, quantity.Format(p.Load[k]/equilibrium.Gravity, quantity.Mass, w.system, 0))
		}
		share := quantity.Nothing
		if f := c.FrontShare(p); !math.IsNaN(f) {
			share = quantity.Format(f, quantity.Share, w.system, 1)
		}
		t.row(append(row, share)...)
	}
	t.write(w.out, 240)
	w.sentences([]string{wording.CornerNote})
	if c.Led(0) || c.Led(1) {
		w.links(c, s)
	}
}

// links prints how the wheels stand where their links are known by points.
func (w *cornerWriter) links(c *cornering.Car, s *cornering.Swept) {
	t := table{gap: 2}
	t.row("  lateral", "along", "camber FL", "FR", "RL", "RR", "toe FL", "FR", "RL", "RR", "steer F", "R", "roll centre F", "R")
	angle := func(v float64) string {
		if math.IsNaN(v) {
			return quantity.Nothing
		}
		return quantity.Format(v, quantity.Angle, w.system, quantity.Auto)
	}
	for i := range s.Points {
		p := &s.Points[i]
		row := []string{"  " + inG(p.Lateral), inG(p.Longitudinal)}
		for k := range 4 {
			row = append(row, angle(c.Camber(p, k)))
		}
		for k := range 4 {
			row = append(row, angle(c.Toe(p, k)))
		}
		row = append(row, angle(c.Steer(p, 0)), angle(c.Steer(p, 1)))
		t.row(append(row, w.length(c.RollCentreAt(p, 0)), w.length(c.RollCentreAt(p, 1)))...)
	}
	t.write(w.out, 240)
	w.sentences([]string{wording.CornerLinksNote})
}

// rows writes the points of a build in SI, as in every CSV of the program.
func (w *cornerWriter) rows(b *desk.CorneredBuild) {
	points := answer.CornerPoints(b.Car, &b.Swept)
	if !w.headed {
		w.headed = true
		head := []string{"build", "load"}
		for _, c := range points.Columns {
			head = append(head, c.Name)
		}
		_ = w.csv.Write(head)
	}
	for _, figures := range points.Rows {
		row := []string{b.Build.ID, w.load}
		for _, v := range figures {
			text := ""
			if v != nil {
				text = strconv.FormatFloat(*v, 'g', 8, 64)
			}
			row = append(row, text)
		}
		_ = w.csv.Write(row)
	}
}
