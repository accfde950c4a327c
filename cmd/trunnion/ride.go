package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/road"
	"trunnion/chassis/study"
	"trunnion/shop/answer"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type rideCommand struct {
	Job     string   `arg:"" help:"Job file, or - for standard input."`
	Road    string   `help:"A road by name in place of the brief's: town-street, village-lane, motorway and others, a class such as class-C, or a measured roughness such as gd-256e-6." placeholder:"NAME"`
	Profile string   `help:"A measured road as CSV, distance and heights of one or two tracks, in place of the brief's roads." placeholder:"FILE"`
	Event   string   `help:"An obstacle in place of the brief's: pothole, round-hump, sine-hump, dip, hollow, crest, kerb, joint." placeholder:"KIND"`
	Size    string   `help:"How high or deep the obstacle is." placeholder:"75mm"`
	Length  string   `help:"How long the obstacle is along the road." placeholder:"3.7m"`
	Speed   []string `help:"Road speeds." placeholder:"60km/h"`
	Load    string   `help:"Load state, by id." placeholder:"ID"`
	Build   []string `help:"Only these builds, by id." placeholder:"ID"`
	Click   []string `help:"Clicks from closed: front=7, rear=5, for every build that has them." placeholder:"AXLE=N"`
	Marker  []string `help:"What a marker on the rod read after the drive, from rest to the deepest point: rear-left=62mm." placeholder:"CORNER=LENGTH"`
	Trace   string   `help:"Write the movement over the first obstacle as CSV to this file, - for standard output." placeholder:"FILE"`
	Format  string   `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	Units   string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
	Seed    uint64   `default:"1" help:"Seed of the roads."`
	Workers int      `default:"2" help:"How many at once; changes nothing in the answer."`
}

// ridden are the blocks a ride prints. Comfort never stands alone: what it is
// traded for stands under it.
var ridden = []block{
	{"floor-acceleration", "Floor under the driver, weighted rms", false, 0, study.FloorDriver},
	{"floor-acceleration", "Floor between the rear seats, weighted rms", false, 0, study.FloorRear},
	{"tyre-load-variation", "Tyre load, standard deviation over mean", false, 0, ""},
	{"tyre-light-share", "Time with less than a fifth of the load", false, 0, ""},
	{"stop-hits", "Hits on a stop", false, 1000, ""},
	{"stop-hits", "Hits on a stop", false, 2000, ""},
	{"stop-force-peak", "Greatest force of a stop", false, 0, ""},
	{"damper-travel-used", "Damper travel used in bump", false, 0, ""},
	{"damper-power", "Power in a damper", false, 0, ""},
	{"mean-sink", "Mean sink while driving", false, 0, ""},
	{"stop-force-peak", "Greatest force of a stop", true, 0, ""},
	{"damper-travel-used", "Damper travel used in bump", true, 0, ""},
	{"body-acceleration-peak", "Greatest acceleration of the floor", true, 0, ""},
	{"bounce-left", "Bounce left one cycle later", true, 0, ""},
	{"settling-time", "Time until the body is still", true, 0, ""},
}

// Run drives a job.
func (c *rideCommand) Run(ctx context.Context, s streams) error {
	job, faults, err := readJob(c.Job, s.in)
	if err != nil {
		return err
	}
	if job == nil {
		listFaults(s.err, nameOf(c.Job), faults)
		return &status{exitFaults, fmt.Errorf("%s has %s; nothing was driven", nameOf(c.Job), many(refused(faults), "fault", "faults"))}
	}
	asked := job.Brief
	if err := c.change(&asked, job.Loads); err != nil {
		return err
	}
	builds, err := c.set(job.Builds)
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	opt := study.Defaults()
	opt.Samples, opt.NoModes, opt.Workers = 0, true, c.Workers
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: builds, Loads: job.Loads, Brief: &asked}, opt)
	if err != nil {
		return noAnswer(ctx, err)
	}
	drive := study.RideDefaults()
	drive.Seed = c.Seed
	if err := c.measured(&drive, s); err != nil {
		return err
	}
	show, end := progress(s.err)
	err = a.Ride(ctx, drive, show)
	end()
	if err != nil {
		return noAnswer(ctx, err)
	}
	got := &assessed{
		job: job, faults: faults, answer: a, tell: wording.New(a, system),
		keep: func(build, _ string) bool { return build == "" || len(c.Build) == 0 || slices.Contains(c.Build, build) },
	}
	if got.findings, err = finding.Judge(ctx, a); err != nil {
		return err
	}
	if c.Trace != "" {
		if err := c.traces(ctx, s, got, builds); err != nil {
			return err
		}
		if c.Trace == "-" {
			return nil
		}
	}
	return c.print(s, got)
}

// change puts the road or obstacle of the command line in the brief's place.
func (c *rideCommand) change(b *brief.Brief, loads []car.Load) error {
	load := c.Load
	if load != "" && !slices.ContainsFunc(loads, func(l car.Load) bool { return l.ID == load }) {
		return usage("the job has no load state %q", load)
	}
	if n := len(slices.DeleteFunc([]string{c.Road, c.Event, c.Profile}, func(s string) bool { return s == "" })); n > 1 {
		return usage("--road, --profile and --event do not go together: drive one after the other")
	}
	var speeds []brief.Input
	for _, text := range c.Speed {
		v, err := quantity.Parse(text, quantity.SpeedRoad)
		if err != nil {
			return usage("--speed %s: %w", text, err)
		}
		speeds = append(speeds, brief.Input{Value: v.Value, Origin: figure.Chosen, Typed: text, Path: "--speed"})
	}
	switch {
	case c.Profile != "":
		if len(speeds) == 0 {
			return usage("--profile needs a --speed, such as --speed 60km/h")
		}
		b.Roads, b.Events = nil, nil
		return nil
	case c.Road != "":
		if len(speeds) == 0 {
			return usage("--road needs a --speed, such as --speed 60km/h")
		}
		b.Roads, b.Events = []brief.Road{{Name: c.Road, Speeds: speeds, Load: load}}, nil
	case c.Event != "":
		if len(speeds) != 1 {
			return usage("--event needs one --speed, such as --speed 30km/h")
		}
		e, err := c.event(speeds[0], load)
		if err != nil {
			return err
		}
		b.Roads, b.Events = nil, []brief.Event{e}
	default:
		for i := range b.Roads {
			if len(speeds) > 0 {
				b.Roads[i].Speeds = speeds
			}
			if load != "" {
				b.Roads[i].Load = load
			}
		}
		for i := range b.Events {
			if load != "" {
				b.Events[i].Load = load
			}
		}
	}
	for _, p := range brief.Check(b) {
		if p.Refuse {
			return usage("%s %s; %s", p.Path, jobfile.Phrase(p.Got), jobfile.Phrase(p.Want))
		}
	}
	if len(b.Roads)+len(b.Events) == 0 {
		return usage("the brief names no road and no obstacle: give --road or --event")
	}
	return nil
}

// measured reads the profile of the command line.
func (c *rideCommand) measured(drive *study.RideOptions, s streams) error {
	if c.Profile == "" {
		return nil
	}
	file, err := os.Open(c.Profile)
	if err != nil {
		return usage("the profile cannot be read: %w", err)
	}
	defer file.Close() //nolint:errcheck // it was only read
	readings, err := intake.Profile(file)
	if err != nil {
		return usage("%s: %w", c.Profile, err)
	}
	p, doubts, err := road.FromReadings(readings)
	if err != nil {
		return usage("%s is no road: %w", c.Profile, err)
	}
	for _, d := range doubts {
		if _, err := fmt.Fprintf(s.err, "%s: %s\n", c.Profile, d); err != nil {
			return err
		}
	}
	drive.Profile, drive.ProfileName, drive.Load = &p, strings.TrimSuffix(filepath.Base(c.Profile), filepath.Ext(c.Profile)), c.Load
	for _, text := range c.Speed {
		v, err := quantity.Parse(text, quantity.SpeedRoad)
		if err != nil || v.Value < 0.5 || v.Value > 100 {
			return usage("--speed %s: a road speed of 2 to 360 km/h is due", text)
		}
		drive.Speeds = append(drive.Speeds, v.Value)
	}
	return nil
}

func (c *rideCommand) event(speed brief.Input, load string) (brief.Event, error) {
	e := brief.Event{Kind: c.Event, Speed: speed, Load: load}
	length := func(flag, text string) (brief.Input, error) {
		if text == "" {
			return brief.Input{}, usage("--event %s needs %s", c.Event, flag)
		}
		v, err := quantity.Parse(text, quantity.Length)
		if err != nil {
			return brief.Input{}, usage("%s %s: %w", flag, text, err)
		}
		return brief.Input{Value: v.Value, Origin: figure.Chosen, Typed: text, Path: flag}, nil
	}
	size, err := length("--size", c.Size)
	if err != nil {
		return e, err
	}
	if e.Length, err = length("--length", c.Length); err != nil {
		return e, err
	}
	switch c.Event {
	case "pothole", "dip", "hollow", "joint":
		e.Depth = size
	default:
		e.Height = size
	}
	if _, err := study.Shape(&e); err != nil {
		return e, usage("%w", err)
	}
	return e, nil
}

// set returns the builds at the clicks of the command line.
func (c *rideCommand) set(builds []*car.Build) ([]*car.Build, error) {
	for _, id := range c.Build {
		if !slices.ContainsFunc(builds, func(b *car.Build) bool { return b.ID == id }) {
			return nil, usage("the job has no build %q", id)
		}
	}
	out := slices.Clone(builds)
	for _, text := range c.Click {
		name, count, _ := strings.Cut(text, "=")
		axle := slices.Index(car.AxleNames[:], name)
		n, err := strconv.Atoi(count)
		if axle < 0 || err != nil || n < 0 {
			return nil, usage("--click is front=7 or rear=7, counted from closed; %q is not", text)
		}
		set := false
		for i, b := range out {
			d := b.Corner[2*axle].Damper
			if d == nil || d.ClickMost == 0 {
				continue
			}
			if n > d.ClickMost {
				return nil, usage("--click %s: %s has %d clicks", text, d.ID, d.ClickMost)
			}
			changed := *b
			changed.Setup.SetClick(axle, n)
			out[i], set = &changed, true
		}
		if !set {
			return nil, usage("--click %s: no build has %s dampers with clicks", text, name)
		}
	}
	return out, nil
}

func (c *rideCommand) print(s streams, got *assessed) error {
	document := answer.New(answer.Source{
		Answer: got.answer, Findings: got.findings, Filled: got.job.Filled, Teller: got.tell,
		Program: version, SHA256: got.job.SHA256, Keep: got.keep,
	})
	switch c.Format {
	case "json":
		return document.WriteJSON(s.out)
	case "csv":
		return document.WriteCSV(s.out)
	}
	r := &report{assessed: got, paint: paint(coloured(s.out))}
	for _, b := range got.answer.Job.Builds {
		if got.keep(b.ID, "") {
			r.builds = append(r.builds, b)
		}
	}
	r.loads = got.job.Loads
	r.heading()
	r.failures()
	r.drives(ridden)
	r.line("")
	r.para("Words for the floor, ISO 2631-1:1997 annex C, ranges that overlap on purpose: below 0.315 m/s² not uncomfortable, 0.315 to 0.63 a little, 0.5 to 1 fairly, 0.8 to 1.6 uncomfortable, 1.25 to 2.5 very, above 2 extremely.", "")
	r.para("The figure is the build's worst corner. The softest worn damper always wins the first block: read it with those below. The floor is not the seat.", "")
	if err := c.markers(r); err != nil {
		return err
	}
	_, err := io.WriteString(s.out, trimmed(r.String()))
	return err
}

// markers lays what markers on the rods read beside what was predicted.
func (c *rideCommand) markers(r *report) error {
	if len(c.Marker) == 0 {
		return nil
	}
	r.title("Marker on the rod, beside the prediction")
	for _, text := range c.Marker {
		name, typed, _ := strings.Cut(text, "=")
		corner := slices.Index(figure.CornerNames[:], name)
		read, err := quantity.Parse(typed, quantity.Length)
		if corner < 0 || err != nil {
			return usage("--marker is rear-left=62mm and the like; %q is not", text)
		}
		r.line("%s read %s; predicted, and how much deeper the marker went", wording.Corner(corner), r.tell.Amount(markerCode, "m", read.Value))
		r.marker(corner, read.Value)
	}
	return nil
}

// markerCode is what a marker on a rod shows.
const markerCode = "damper-travel-used"

// marker prints the predictions for one corner with the builds in columns.
func (r *report) marker(corner int, read float64) {
	var drives []figure.Place
	var names []string
	for i := range r.answer.Values {
		p := r.answer.Values[i].Place
		if r.answer.Values[i].Code != markerCode || p.Corner != corner {
			continue
		}
		p.Build = ""
		if !slices.Contains(drives, p) {
			drives, names = append(drives, p), append(names, r.tell.Drive(&p))
		}
	}
	r.across(func(builds []*car.Build) {
		r.side(builds, names, func(row int, b *car.Build) cell {
			p := drives[row]
			p.Build = b.ID
			v := r.answer.At(markerCode, p)
			if v == nil || v.State == figure.Unknown {
				return cell{lines: []string{"–"}}
			}
			deeper := r.tell.Number(markerCode, read-v.Value)
			if read > v.Value {
				deeper = "+" + deeper
			}
			return cell{lines: []string{r.tell.Number(markerCode, v.Value) + mark(v) + "  " + deeper}}
		}, false)
	})
}

// traces writes the movement over the brief's first obstacle.
func (c *rideCommand) traces(ctx context.Context, s streams, got *assessed, builds []*car.Build) (err error) {
	out := s.out
	if c.Trace != "-" {
		file, err := os.OpenFile(c.Trace, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return usage("the trace cannot be written: %w", err)
		}
		defer func() { err = errors.Join(err, file.Close()) }()
		out = file
	}
	w := csv.NewWriter(out)
	_ = w.Write([]string{"build", "time_s", "corner", "road_m", "travel_m", "stop_N", "tyre_load_N", "floor_m_per_s2"})
	for _, b := range builds {
		if !got.keep(b.ID, "") {
			continue
		}
		t, err := got.answer.Trace(ctx, b.ID, 0, 2000)
		if errors.Is(err, study.ErrNoEvent) {
			return usage("a trace needs an obstacle: give --event")
		}
		if err != nil {
			return noAnswer(ctx, err)
		}
		number := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
		for k := range t.Floor {
			for i := range 4 {
				_ = w.Write([]string{
					b.ID, number(float64(k) * t.Step), figure.CornerNames[i], number(t.Road[i][k]), number(t.Travel[i][k]),
					number(t.Stop[i][k]), number(t.TyreLoad[i][k]), number(t.Floor[k]),
				})
			}
		}
	}
	w.Flush()
	return w.Error()
}
