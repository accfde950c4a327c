package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type levelCommand struct {
	Job      string   `arg:"" help:"Job file, or - for standard input."`
	Build    string   `help:"The build on the scales, by id; needed where several have collars." placeholder:"ID"`
	Load     string   `help:"The load state on the scales, by id; else the usual one of the brief." placeholder:"ID"`
	Readings string   `help:"What was read and turned, round by round: a file, or - for standard input; else what the build's readings hold." placeholder:"FILE"`
	Preset   string   `enum:"road,track,race" default:"road" help:"Tolerances, and what a millimetre is worth: ${enum}."`
	Target   []string `help:"What is wanted: front=350mm, rear=360mm, rake=10mm, level-front=0mm, level-rear=0mm, cross=50%, cross=none, front-share=55%, left-share=50%." placeholder:"WISH" sep:"none"`
	Price    string   `help:"Cross weight worth one millimetre, in %, instead of the preset's." placeholder:"PERCENT"`
	Diagonal string   `enum:"front-right-rear-left,front-left-rear-right" default:"front-right-rear-left" help:"Which diagonal cross weight counts: ${enum}."`
	Only     []string `help:"Turn only these collars." placeholder:"CORNER"`
	Step     string   `default:"1/8" help:"Smallest turn, as a fraction of one."`
	Flats    int      `help:"Flats of the collar, instead of a step." placeholder:"N"`
	Format   string   `enum:"text,json" default:"text" help:"What to print: ${enum}."`
	Units    string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// levelled is all that is known when it is printed.
type levelled struct {
	build    *car.Build
	load     string
	target   scales.Target
	model    *scales.Model
	gates    []*scales.Gate
	rounds   []scales.Round
	forecast []scales.Forecast // of each round, before it was read
	plan     *scales.Plan
	stopped  bool
	suspects []scales.Suspect
	tell     *wording.Teller
}

// Run says what to turn.
func (c *levelCommand) Run(s streams) error {
	if c.Job == "-" && c.Readings == "-" {
		return usage("job and readings cannot both come from standard input")
	}
	job, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	got, err := c.level(job, s)
	if err != nil {
		return err
	}
	got.tell = wording.New(nil, system)
	if c.Format == "json" {
		err = c.document(got).WriteJSON(s.out)
	} else {
		printLevel(s.out, got)
	}
	if err == nil && got.stopped {
		return &status{code: exitNoAnswer}
	}
	return err
}

func (c *levelCommand) level(job *jobfile.Job, s streams) (*levelled, error) {
	build, err := c.find(job)
	if err != nil {
		return nil, err
	}
	rig, load, err := c.rig(job, build)
	if err != nil {
		return nil, err
	}
	got := &levelled{build: build, load: load}
	if got.target, err = c.target(); err != nil {
		return nil, err
	}
	weighings, err := c.weighings(s.in, build)
	if err != nil {
		return nil, err
	}
	var friction [4]float64
	for i := range 4 {
		friction[i] = rig.System.Corner[i].Friction
	}
	got.model = scales.NewModel(rig, scales.Priors(), scales.Noises(friction))
	return got, got.work(weighings)
}

// work goes through the rounds: forecast, gate, learn; then plans.
func (l *levelled) work(weighings []intake.Weighing) error {
	for k := range weighings {
		w := &weighings[k]
		var turned [4]float64
		for i := range 4 {
			turned[i] = w.Turned[i] * l.model.Rig.Adjuster[car.AxleOf(i)].Pitch
		}
		before := l.model.Turn(turned)
		f, err := before.Forecast(l.target.Diagonal, [4]float64{})
		if err != nil {
			return noRest(err)
		}
		gate, err := scales.Judge(before, &w.Session, &l.target)
		if err != nil {
			return noRest(err)
		}
		l.gates, l.forecast = append(l.gates, gate), append(l.forecast, f)
		l.rounds = append(l.rounds, scales.Round{Turned: turned, Got: w.Session.Reading()})
		if gate.Verdict == scales.Stop {
			l.stopped = true
			return nil
		}
		for i := range 4 {
			if !math.IsNaN(gate.Friction[i]) {
				l.model.Noise.Friction[i] = gate.Friction[i]
			}
		}
		if l.model, err = l.model.Learn(l.rounds); err != nil {
			return noRest(err)
		}
	}
	l.suspects = l.model.Suspect()
	plan, err := l.model.Plan(l.target)
	if err != nil {
		return noRest(err)
	}
	l.plan = plan
	if len(l.gates) == 0 {
		l.gates = []*scales.Gate{{Verdict: scales.Caution, Checks: []scales.Check{{Code: "not-read", Verdict: scales.Caution, Corner: -1, Other: -1}}}}
	}
	last := l.gates[len(l.gates)-1]
	last.Reach(plan)
	l.stopped = last.Verdict == scales.Stop || len(plan.Refused) > 0
	return nil
}

func noRest(err error) error { return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)} }

// find is the build on the scales.
func (c *levelCommand) find(job *jobfile.Job) (*car.Build, error) {
	var ids []string
	var with []*car.Build
	for _, b := range job.Builds {
		ids = append(ids, b.ID)
		if b.ID == c.Build {
			with = []*car.Build{b}
			break
		}
		if c.Build == "" && (b.Axle[0].Platform != nil || b.Axle[1].Platform != nil) {
			with = append(with, b)
		}
	}
	switch {
	case c.Build != "" && (len(with) != 1 || with[0].ID != c.Build):
		return nil, usage("the job has no build %q; it has %s", c.Build, strings.Join(ids, ", "))
	case len(with) != 1:
		return nil, usage("%d builds have collars; say which with --build: %s", len(with), strings.Join(ids, ", "))
	case with[0].Axle[0].Platform == nil && with[0].Axle[1].Platform == nil:
		return nil, usage("build %q has no collars to turn: no platform is named at either axle", with[0].ID)
	}
	return with[0], nil
}

// rig puts the build on the scales in its load state, with the margins that the
// brief wants kept.
func (c *levelCommand) rig(job *jobfile.Job, build *car.Build) (*scales.Rig, string, error) {
	load := c.Load
	if load == "" && (build.Readings == nil || c.Readings != "") {
		load = job.Brief.UsualLoad
	} else if load == "" {
		load = build.Readings.State
	}
	var aboard []car.Payload
	var ids []string
	found := load == ""
	for i := range job.Loads {
		ids = append(ids, job.Loads[i].ID)
		if job.Loads[i].ID == load {
			aboard, found = job.Loads[i].Items, true
		}
	}
	if !found {
		return nil, "", usage("the job has no load state %q; it has %s", load, strings.Join(ids, ", "))
	}
	var fitted *car.Build
	for _, b := range job.Builds {
		if b.ID == job.Car.Weighed.Build {
			fitted = b
		}
	}
	if fitted == nil {
		return nil, "", usage("the build that was weighed, %q, is not among the builds", job.Car.Weighed.Build)
	}
	old, err := corner.NewDesign(job.Car, fitted)
	if err != nil {
		return nil, "", noRest(err)
	}
	design, err := corner.NewDesign(job.Car, build)
	if err != nil {
		return nil, "", noRest(err)
	}
	base := equilibrium.Calibrate(old, equilibrium.NewHangup(), nil)
	rig, err := scales.NewRig(design, &base, aboard)
	if err != nil {
		return nil, "", noRest(err)
	}
	step, err := c.step()
	if err != nil {
		return nil, "", err
	}
	for a := range 2 {
		rig.Adjuster[a].Step = step
	}
	rig.Guards = guards(job)
	return rig, load, nil
}

// guards are the margins of every load state that a move may not use up.
func guards(job *jobfile.Job) []scales.Guard {
	or := func(in *figure.Input, otherwise float64) float64 {
		if in.Known() {
			return in.Value
		}
		return otherwise
	}
	limits := &job.Brief.Limits
	loose := or(&limits.SpringLoose, scales.Loose)
	var list []scales.Guard
	for i := range job.Loads {
		l := &job.Loads[i]
		least := or(&limits.BumpLeftLaden, math.NaN())
		if l.ID == job.Brief.UsualLoad {
			least = or(&limits.BumpLeft, math.NaN())
		}
		list = append(list, scales.Guard{Load: l.ID, Aboard: equilibrium.Of(l.Items, nil), StopLeast: least, LooseMost: loose})
		loose = math.NaN() // how loose a spring is at full droop does not hang on the load
	}
	return list
}

func (c *levelCommand) step() (float64, error) {
	if c.Flats != 0 {
		if c.Flats < 2 || c.Flats > 60 {
			return 0, usage("--flats is 2 to 60")
		}
		return 1 / float64(c.Flats), nil
	}
	top, bottom, fraction := strings.Cut(c.Step, "/")
	v, err := strconv.ParseFloat(top, 64)
	if err == nil && fraction {
		var d float64
		d, err = strconv.ParseFloat(bottom, 64)
		v /= d
	}
	if err != nil || !(v >= 0.01 && v <= 2) {
		return 0, usage("--step is a turn or a part of one, as 1/8, not %q", c.Step)
	}
	return v, nil
}

func (c *levelCommand) target() (scales.Target, error) {
	t := scales.Preset(c.Preset).Level(scales.Diagonal(c.Diagonal))
	for _, wish := range c.Target {
		name, value, ok := strings.Cut(wish, "=")
		at, kind := wishOf(&t, strings.TrimSpace(name))
		if !ok || at == nil {
			return t, usage("--target %q is no wish: front=350mm, rear=360mm, rake=10mm, level-front=0mm, level-rear=0mm, cross=50%%, front-share=55%%, left-share=50%%", wish)
		}
		if value == "none" {
			*at = math.NaN()
			continue
		}
		v, err := quantity.Parse(value, kind)
		if err != nil {
			return t, usage("--target %s: %w", name, err)
		}
		*at = v.Value
	}
	if c.Price != "" {
		v, err := quantity.Parse(c.Price, quantity.Share)
		if err != nil || !(v.Value > 0 && v.Value < 0.1) {
			return t, usage("--price is per cent of cross worth a millimetre, as 0.25%%, not %q", c.Price)
		}
		t.CrossPerMetre = v.Value * 1e3
	}
	if len(c.Only) > 0 {
		t.Locked = [4]bool{true, true, true, true}
		for _, name := range c.Only {
			i := slices.Index(figure.CornerNames[:], strings.ReplaceAll(name, "_", "-"))
			if i < 0 {
				return t, usage("--only %q is no corner; they are %s", name, strings.Join(figure.CornerNames[:], ", "))
			}
			t.Locked[i] = false
		}
	}
	return t, nil
}

func wishOf(t *scales.Target, name string) (*float64, quantity.Kind) {
	switch name {
	case "front":
		return &t.Mean[0], quantity.Length
	case "rear":
		return &t.Mean[1], quantity.Length
	case "rake":
		return &t.Rake, quantity.Length
	case "level-front":
		return &t.Level[0], quantity.Length
	case "level-rear":
		return &t.Level[1], quantity.Length
	case "cross":
		return &t.Cross, quantity.Share
	case "front-share":
		return &t.FrontShare, quantity.Share
	case "left-share":
		return &t.LeftShare, quantity.Share
	}
	return nil, quantity.Length
}

// weighings are the rounds: from a file, or what the job keeps with the build.
func (c *levelCommand) weighings(in io.Reader, build *car.Build) ([]intake.Weighing, error) {
	if c.Readings == "" {
		return kept(build), nil
	}
	if c.Readings != "-" {
		file, err := os.Open(c.Readings)
		if err != nil {
			return nil, usage("the readings cannot be read: %w", err)
		}
		defer file.Close() //nolint:errcheck // it was only read
		in = file
	}
	list, err := intake.Scales(in)
	if err != nil {
		var text strings.Builder
		for line := range strings.Lines(err.Error()) {
			fmt.Fprintf(&text, "%s: %s\n", nameOf(c.Readings), strings.TrimSuffix(line, "\n"))
		}
		return nil, &status{exitFaults, errors.New(strings.TrimSuffix(text.String(), "\n"))}
	}
	return list, nil
}

// kept is what the job has read of a build after it was fitted.
func kept(build *car.Build) []intake.Weighing {
	r := build.Readings
	if r == nil {
		return nil
	}
	w := intake.Weighing{Session: scales.NewSession()}
	got := scales.Unread()
	for i := range 4 {
		if r.Load[i].Known() {
			got.Load[i] = r.Load[i].Value
		}
		if r.Height[i].Known() {
			got.Height[i] = r.Height[i].Value
		}
	}
	w.Session.Settled = []scales.Reading{got}
	w.Session.BarsOff = scales.Yes
	if r.BarsOn {
		w.Session.BarsOff = scales.No
	}
	return []intake.Weighing{w}
}
