package presets_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"trunnion/chassis/demo"
	"trunnion/chassis/drives"
	"trunnion/chassis/presets"
	"trunnion/chassis/study"
)

func marl() study.Job { return study.Job(demo.Marl()) }

// The demo's kit: every purpose has a preset within the clicks measured; town is softer
// than track and gives the floor less than the clicks set; the bounce is held longest
// with the most aboard. What a preset says is what a drive of its clicks says.
func TestPresetsOfTheDemo(t *testing.T) {
	job := marl()
	f, err := presets.Find(context.Background(), job, presets.Ask{Build: "kit", Seed: 1, Workers: 2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Presets) != len(presets.Purposes) || f.AsSet != (presets.Setting{7, 7}) {
		t.Fatalf("%d presets, as set %v", len(f.Presets), f.AsSet)
	}
	by := map[string]*presets.Preset{}
	for i := range f.Presets {
		p := &f.Presets[i]
		by[p.Purpose.Code] = p
		for axle, n := range p.Setting {
			if n < 0 || n > 15 || n < p.AsGood[axle][0] || n > p.AsGood[axle][1] {
				t.Errorf("%s: click %d of axle %d, as good %v", p.Purpose.Code, n, axle, p.AsGood[axle])
			}
		}
		if len(p.Ways) == 0 || !(p.Is.Seat > 0) || !(p.Is.Tyre > 0) {
			t.Errorf("%s: %d roads, %+v", p.Purpose.Code, len(p.Ways), p.Is)
		}
		// The demo in Go drives no closed hill road and no circuit.
		if own := p.Purpose.Code != "track" && p.Purpose.Code != "bumpy-closed-road"; own != p.Ways[0].Brief {
			t.Errorf("%s is driven over %+v", p.Purpose.Code, p.Ways)
		}
	}
	town, track := by["town"], by["track"]
	if town.Setting[0] <= track.Setting[0] || town.Is.Seat >= town.AsSet.Seat || town.Is.Seat >= town.Hard.Seat {
		t.Errorf("town %v with %.3f, as set %.3f; track %v", town.Setting, town.Is.Seat, town.AsSet.Seat, track.Setting)
	}
	held := map[string]float64{}
	for _, w := range f.Wanted {
		held[w.Load] = w.BounceSoft
		// At full hard the empty car bounces on its tyres.
		if w.Failed || !w.Firm || w.TownHard <= w.TownSoft || w.Load != "empty" && w.BounceHard >= w.BounceSoft {
			t.Errorf("%s: %+v", w.Load, w)
		}
	}
	if len(held) != len(job.Loads) || held["holiday"] <= held["driver"] {
		t.Errorf("bounce left at full soft: %v", held)
	}

	// Driven once more, through the drives of an assessment.
	for _, b := range job.Builds {
		if b.ID == "kit" {
			b.Setup.SetClick(0, track.Setting[0])
			b.Setup.SetClick(1, track.Setting[1])
		}
	}
	own := *job.Brief
	own.Roads, own.Events = own.Roads[:1], nil
	own.Roads[0].Name, own.Roads[0].Load = "circuit", "driver"
	own.Roads[0].Speeds = own.Roads[0].Speeds[:1]
	own.Roads[0].Speeds[0].Value = track.Ways[0].Speed
	job.Brief = &own
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes, opt.NoCorners = 0, true, true, true
	a, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	how := drives.Defaults()
	how.Duration = 60
	if err := drives.Ride(context.Background(), a, how, nil); err != nil {
		t.Fatal(err)
	}
	for i := range a.Values {
		v := &a.Values[i]
		// Two samples of 10 s against four of 58 s: their floors scatter by 5 %.
		if v.Code == "floor-acceleration" && v.Place.Build == "kit" && v.Place.At == drives.FloorDriver && v.Place.Road == "circuit" && v.Place.Load == "driver" &&
			math.Abs(track.Is.Seat/v.Value-1) > 0.1 {
			t.Errorf("the floor has %.3f m/s2 by the preset and %.3f by the drives", track.Is.Seat, v.Value)
		}
	}
}

// A damping ratio of 0.2 leaves 0.277329256 of a bounce after a cycle, by the logarithmic
// decrement.
func TestBounceOfTheLeastRatio(t *testing.T) {
	if want := math.Exp(-2 * math.Pi * 0.2 / math.Sqrt(1-0.04)); math.Abs(presets.MostBounce-want) > 5e-4 {
		t.Errorf("%.4f, %.4f wanted", presets.MostBounce, want)
	}
}

func TestNothingToSet(t *testing.T) {
	if _, err := presets.Find(context.Background(), marl(), presets.Ask{Build: "arrived", Seed: 1, Workers: 1}, nil); !errors.Is(err, presets.ErrNoClicks) {
		t.Errorf("dampers without clicks: %v", err)
	}
}
