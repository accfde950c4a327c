package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/drives"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

type rideCommand struct {
	Job    string   `arg:"" help:"Job file, or - for standard input."`
	Marker []string `help:"What a marker on the rod read after the drive, from rest to the deepest point: rear-left=62mm." placeholder:"CORNER=LENGTH"`
	Trace  string   `help:"Write the movement over the first obstacle as CSV to this file, - for standard output." placeholder:"FILE"`
	Format string   `enum:"text,json,csv" default:"text" help:"What to print: ${enum}."`
	inUnits
	Profile string `help:"A measured road as CSV, distance and heights of one or two tracks, in place of the brief's roads." placeholder:"FILE"`
	outFile
	desk.RideAsk
}

// ridden are the blocks a ride prints. Comfort never stands alone: what it is
// traded for stands under it.
var ridden = []block{
	{"floor-acceleration", false, 0, drives.FloorDriver},
	{"floor-acceleration", false, 0, drives.FloorRear},
	{"tyre-load-variation", false, 0, ""},
	{"tyre-light-share", false, 0, ""},
	{"stop-hits", false, 1, ""},
	{"stop-hits", false, 2, ""},
	{"stop-force-peak", false, 0, ""},
	{"damper-travel-used", false, 0, ""},
	{"damper-power", false, 0, ""},
	{"mean-sink", false, 0, ""},
	{"mount-damage-relative", false, 0, ""},
	{"stop-force-peak", true, 0, ""},
	{"damper-travel-used", true, 0, ""},
	{"body-acceleration-peak", true, 0, ""},
	{"bounce-left", true, 0, ""},
	{"settling-time", true, 0, ""},
}

// Run drives a job.
func (c *rideCommand) Run(ctx context.Context, s streams) error {
	job, faults, err := jobOrFaults(c.Job, s, "nothing was driven")
	if err != nil {
		return err
	}
	system := c.system()
	if err := c.readProfile(); err != nil {
		return err
	}
	show, end := progress(s.err)
	c.Progress = show
	ridden, err := asking().Ride(ctx, job, c.RideAsk)
	end()
	if err != nil {
		return unanswered(ctx, err)
	}
	for _, d := range ridden.Doubts {
		say(s.err, "%s: %s\n", c.Profile, d)
	}
	got := &assessed{job: job, faults: faults, answer: ridden.Answer, findings: ridden.Findings, plans: ridden.Plans, inShort: ridden.InShort, tell: wording.New(ridden.Answer, system), keep: c.Keeps}
	if c.Trace != "" {
		if err := c.traces(ctx, s, got); err != nil {
			return err
		}
		if c.Trace == "-" {
			return nil
		}
	}
	return c.print(s, got)
}

// mostProfile is the largest file of a measured road that is read. [B]
const mostProfile = 64 << 20

// readProfile reads the measured road.
func (c *rideCommand) readProfile() error {
	if c.Profile == "" {
		return nil
	}
	text, err := readUpTo(c.Profile, mostProfile)
	if err != nil {
		return usage("the profile cannot be read: %w", err)
	}
	c.RideAsk.Profile, c.Name = string(text), strings.TrimSuffix(filepath.Base(c.Profile), filepath.Ext(c.Profile))
	if strings.TrimSpace(c.RideAsk.Profile) == "" {
		return usage("%s: the profile is empty", c.Profile)
	}
	return nil
}

func (c *rideCommand) print(s streams, got *assessed) error {
	document := got.document()
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
	r.para(wording.FloorNote, "")
	r.para(wording.RideNote, "")
	if bands := wording.DriveBands(r.answer.Values); bands != "" {
		r.para(bands, "")
	}
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
	r.title("Marker on the rod against the prediction")
	for _, text := range c.Marker {
		name, typed, _ := strings.Cut(text, "=")
		corner := slices.Index(figure.CornerNames[:], name)
		read, err := quantity.Parse(typed, quantity.Length)
		if corner < 0 || err != nil {
			return usage("--marker is rear-left=62mm and the like; %q is not", text)
		}
		r.para(r.tell.MarkerRead(corner, read.Value), "")
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
func (c *rideCommand) traces(ctx context.Context, s streams, got *assessed) error {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	_ = w.Write([]string{"build", "time_s", "corner", "road_m", "travel_m", "stop_N", "tyre_load_N", "floor_m_per_s2"})
	for _, b := range got.answer.Job.Builds {
		if !got.keep(b.ID, "") {
			continue
		}
		t, err := drives.Follow(ctx, got.answer, b.ID, 0, 2000)
		if errors.Is(err, drives.ErrNoEvent) {
			return usage("a trace needs an obstacle: give --event")
		}
		if err != nil {
			return unanswered(ctx, err)
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
	if c.Trace == "-" {
		_, err := s.out.Write(out.Bytes())
		return err
	}
	return c.write(c.Trace, out.Bytes(), c.Job, c.Profile)
}
