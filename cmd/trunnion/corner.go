package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type cornerCommand struct {
	Job     string   `arg:"" help:"Job file, or - for standard input."`
	Load    string   `help:"Load state, by id; that of ordinary driving without it." placeholder:"ID"`
	Build   []string `help:"Only these builds, by id." placeholder:"ID"`
	To      string   `default:"1g" help:"Lateral acceleration to go to." placeholder:"0.9g"`
	Along   string   `default:"0g" help:"Acceleration along the car at the end, in step with the lateral one; negative is braking." placeholder:"-0.4g"`
	Right   bool     `help:"Turn right instead of left."`
	Points  int      `default:"20" help:"Rows from straight ahead to the end."`
	Format  string   `enum:"text,csv" default:"text" help:"What to print: ${enum}."`
	Units   string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	Samples int      `default:"200" help:"Draws behind the bands of the figures; 48 of them serve here, 0 leaves bands out."`
	Workers int      `default:"2" help:"How many at once; changes nothing in the answer."`
}

// cornered are the figures that stand over a build's table.
var cornered = []string{
	"roll-gradient", "camber-to-road", "front-transfer-share", "front-roll-share", "bar-roll-share", "understeer-gradient", "links-steer", "critical-speed", "yaw-damping", "yaw-frequency",
}

const mostRows = 1000

// Run takes a job's builds round a corner.
func (c *cornerCommand) Run(ctx context.Context, s streams) error {
	ask, err := c.asked()
	if err != nil {
		return err
	}
	job, faults, err := readJob(c.Job, s.in)
	if err != nil {
		return err
	}
	if job == nil {
		listFaults(s.err, nameOf(c.Job), faults)
		return &status{exitFaults, fmt.Errorf("%s has %s; nothing was computed", nameOf(c.Job), many(refused(faults), "fault", "faults"))}
	}
	known := assessCommand{Build: c.Build}
	if c.Load != "" {
		known.Load = []string{c.Load}
	}
	if err := known.known(job); err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	opt := study.Defaults()
	opt.Samples, opt.Workers, opt.NoModes, opt.NoWorkings = c.Samples, c.Workers, true, true
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return noAnswer(ctx, err)
	}
	load := c.Load
	if load == "" {
		load = a.UsualLoad()
	}
	w := &cornerWriter{out: s.out, a: a, tell: wording.New(a, system), system: system, load: load, ask: ask}
	failed := false
	if c.Format == "csv" {
		w.csv = csv.NewWriter(s.out)
		defer w.csv.Flush()
		_ = w.csv.Write(cornerColumns)
	}
	first := true
	for _, b := range job.Builds {
		if len(c.Build) > 0 && !slices.Contains(c.Build, b.ID) {
			continue
		}
		car, err := a.Cornering(b.ID, load)
		if err != nil {
			say(s.err, "trunnion: %s: %v\n", w.tell.Build(b.ID), err)
			failed = true
			continue
		}
		swept := car.Sweep(ask)
		if w.csv != nil {
			w.rows(b.ID, car, &swept)
			continue
		}
		if !first {
			say(s.out, "\n")
		}
		first = false
		w.build(b.ID, car, &swept)
	}
	if failed {
		return &status{code: exitNoAnswer}
	}
	return nil
}

func (c *cornerCommand) asked() (cornering.Asked, error) {
	ask := cornering.Asked{Points: c.Points}
	switch {
	case c.Points < 1 || c.Points > mostRows:
		return ask, usage("--points is 1 to %d", mostRows)
	case c.Samples < 0 || c.Samples > mostSamples:
		return ask, usage("--samples is 0 to %d", mostSamples)
	case c.Workers < 1 || c.Workers > mostWorkers:
		return ask, usage("--workers is 1 to %d", mostWorkers)
	}
	for _, one := range []struct {
		flag, text string
		into       *float64
	}{{"--to", c.To, &ask.Lateral}, {"--along", c.Along, &ask.Longitudinal}} {
		v, err := quantity.Parse(one.text, quantity.Acceleration)
		if err != nil {
			return ask, usage("%s %s: %w", one.flag, one.text, err)
		}
		if math.Abs(v.Value) > 3*equilibrium.Gravity {
			return ask, usage("%s %s: more than 3 g is no road car's", one.flag, one.text)
		}
		*one.into = v.Value
	}
	if ask.Lateral == 0 && ask.Longitudinal == 0 {
		return ask, usage("--to and --along are both nothing: the car stands still on the road")
	}
	if c.Right {
		ask.Lateral = -ask.Lateral
	}
	return ask, nil
}

// cornerWriter prints what builds do in one load state.
type cornerWriter struct {
	out    io.Writer
	csv    *csv.Writer
	a      *study.Answer
	tell   *wording.Teller
	system quantity.System
	load   string
	ask    cornering.Asked
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
func (w *cornerWriter) build(id string, c *cornering.Car, s *cornering.Swept) {
	say(w.out, "%s, %s\n", w.tell.Build(id), w.tell.Load(w.load))
	figures := table{gap: 2}
	for i := range w.a.Values {
		v := &w.a.Values[i]
		if v.Place.Build != id || v.Place.Load != w.load || !slices.Contains(cornered, v.Code) {
			continue
		}
		name := wording.Name(v.Code)
		p := v.Place
		p.Build, p.Load = "", ""
		if where := w.tell.Place(p); where != "" {
			name += ", " + where
		}
		if v.Place.Speed > 0 {
			name += ", at " + quantity.Format(v.Place.Speed, quantity.SpeedRoad, w.system, quantity.Auto)
		}
		text := w.tell.Value(v)
		if doubt := w.tell.Doubt(v); doubt != "" {
			text += "  " + doubt
		}
		figures.row("  "+name, text)
	}
	if len(figures.rows) > 0 {
		figures.write(w.out, lineWidth)
	}
	for a := range 2 {
		if f := c.RollStiffness(a).Preload; math.Abs(f) >= 1 {
			side := 2 * a
			if f < 0 {
				side++
			}
			say(w.out, "  Straight ahead the bar lifts the %s corner by %s.\n", wording.Corner(side), quantity.Format(math.Abs(f), quantity.Force, w.system, 0))
		}
	}
	w.holes(id)
	for i := range s.Contacts {
		k := &s.Contacts[i]
		name := wording.Corner(k.Corner)
		switch {
		case k.AtRest:
			say(w.out, "  The %s stop is in contact straight ahead.\n", name)
		case math.IsNaN(k.Before):
			say(w.out, "  The %s stop is met at %s along the car.\n", name, inG(k.Longitudinal))
		default:
			say(w.out, "  The %s stop is met at %s: the front's share of what is moved across jumps from %.1f to %.1f %%.\n", name, inG(math.Abs(k.Lateral)), 100*k.Before, 100*k.After)
		}
	}
	for i := range s.Lifts {
		say(w.out, "  The %s wheel leaves the ground by %s.\n", wording.Corner(s.Lifts[i].Corner), inG(math.Hypot(s.Lifts[i].Lateral, s.Lifts[i].Longitudinal)))
	}
	w.table(c, s)
	if s.Ended != nil {
		why := "no position was found in which the car is held"
		if s.Ended.Over {
			why = "the car would tip over"
		}
		say(w.out, "  Past %s %s.\n", inG(math.Hypot(s.ReachedLateral, s.ReachedLongitudinal)), why)
	}
}

// holes prints what an adjustable bar does in each of its holes.
func (w *cornerWriter) holes(id string) {
	for a, axle := range []string{"front", "rear"} {
		list, err := w.a.BarHoles(id, w.load, a)
		if err != nil || len(list) == 0 {
			continue
		}
		var names []string
		var rows []study.BarHole
		for i := range list {
			if list[i].Err == nil {
				names, rows = append(names, w.tell.BarHole(&list[i])), append(rows, list[i])
			}
		}
		say(w.out, "\n%s\n", wrapped("  "+w.tell.BarHoles(axle)+".", lineWidth, "  "))
		printFigures(w.out, w.tell, wording.BarHoleColumns(), rows, names)
	}
}

func (w *cornerWriter) table(c *cornering.Car, s *cornering.Swept) {
	t := table{gap: 2}
	t.row("  sideways", "along", "roll", "nose down", "travel FL", "FR", "RL", "RR", "load FL", "FR", "RL", "RR", "front share")
	angle := func(v float64) string { return quantity.Format(v, quantity.Angle, w.system, quantity.Auto) }
	for i := range s.Points {
		p := &s.Points[i]
		row := []string{"  " + inG(p.Lateral), inG(p.Longitudinal), angle(c.RollAt(p)), angle(c.PitchAt(p))}
		for k := range 4 {
			text := w.length(p.Travel[k])
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
	say(w.out, "%s\n", "  * in the stop. Travel is from the car's zero height, bump positive; angles against straight ahead.")
	if c.Led(0) || c.Led(1) {
		w.links(c, s)
	}
}

// links prints how the wheels stand where their links are known by points.
func (w *cornerWriter) links(c *cornering.Car, s *cornering.Swept) {
	t := table{gap: 2}
	t.row("  sideways", "along", "camber FL", "FR", "RL", "RR", "toe FL", "FR", "RL", "RR", "steer F", "R", "roll centre F", "R")
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
	say(w.out, "%s\n", "  From hardpoints: camber against the road's upright, top outward positive; toe-in positive, the steering straight; steer is an axle's mean by its links, to the left positive.")
}

// cornerColumns are in SI, as in every CSV of the program.
var cornerColumns = []string{
	"build", "load", "lateral_m_s2", "longitudinal_m_s2", "roll_rad", "pitch_rad", "heave_m", "front_share",
	"travel_fl_m", "travel_fr_m", "travel_rl_m", "travel_rr_m", "load_fl_n", "load_fr_n", "load_rl_n", "load_rr_n",
	"stop_fl_n", "stop_fr_n", "stop_rl_n", "stop_rr_n", "droop_fl_m", "droop_fr_m", "droop_rl_m", "droop_rr_m",
	"camber_fl_rad", "camber_fr_rad", "camber_rl_rad", "camber_rr_rad", "toe_fl_rad", "toe_fr_rad", "toe_rl_rad", "toe_rr_rad",
	"roll_centre_front_m", "roll_centre_rear_m", "steer_front_rad", "steer_rear_rad",
}

func (w *cornerWriter) rows(id string, c *cornering.Car, s *cornering.Swept) {
	number := func(v float64) string {
		if math.IsNaN(v) {
			return ""
		}
		return strconv.FormatFloat(v, 'g', 8, 64)
	}
	for i := range s.Points {
		p := &s.Points[i]
		row := []string{
			id, w.load, number(p.Lateral), number(p.Longitudinal), number(c.RollAt(p)), number(c.PitchAt(p)),
			number(p.Heave - c.Rest().Heave), number(c.FrontShare(p)),
		}
		for _, of := range []func(int) float64{
			func(k int) float64 { return p.Travel[k] },
			func(k int) float64 { return p.Load[k] },
			func(k int) float64 { return c.StopForce(p, k) },
			func(k int) float64 { return c.Droop(p, k) },
			func(k int) float64 { return c.Camber(p, k) },
			func(k int) float64 { return c.Toe(p, k) },
		} {
			for k := figure.FrontLeft; k <= figure.RearRight; k++ {
				row = append(row, number(of(k)))
			}
		}
		_ = w.csv.Write(append(row, number(c.RollCentreAt(p, 0)), number(c.RollCentreAt(p, 1)), number(c.Steer(p, 0)), number(c.Steer(p, 1))))
	}
}
