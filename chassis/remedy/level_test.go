package remedy

import (
	"math"
	"slices"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// crooked is the demo with one collar of the kit moved by so much.
func crooked(t *testing.T, corner int, up float64) *study.Answer {
	return answered(t, 100, 2, func(d *demo.Job) {
		for _, b := range d.Builds {
			if b.ID != "kit" {
				continue
			}
			for axle := range 2 {
				p := &car.PlatformSpec{ID: "own", Kind: "seat", Flats: 6}
				p.Pitch = figure.Input{Value: 1.5e-3, Origin: figure.Measured}
				p.Up, p.Down = figure.Input{Value: 25e-3, Origin: figure.Measured}, figure.Input{Value: 25e-3, Origin: figure.Measured}
				b.Both(axle, func(c *car.BuildCorner) { c.Platform = p })
			}
			b.Setup.Platform[corner] = figure.Input{Value: up, Origin: figure.Chosen}
		}
	})
}

// A car that stands crooked on its collars has cross weight and heights off, both as
// figures and as findings, and both are mended by its collars against each other.
func TestCrossWeightAndASideThatStandsLow(t *testing.T) {
	standsCrooked(t, crooked(t, figure.FrontLeft, -18e-3), "cross-weight-off")
	standsCrooked(t, crooked(t, figure.RearLeft, 14e-3), "stands-crooked")
}

// A car that was read after fitting is mended by its collars like one that was not: the
// readings are of the seats as they stood then.
func TestCollarsOfACarThatWasRead(t *testing.T) {
	was := crooked(t, figure.FrontLeft, -18e-3)
	standsCrooked(t, answered(t, 100, 2, func(d *demo.Job) {
		for _, b := range d.Builds {
			if b.ID != "kit" {
				continue
			}
			for _, crooked := range was.Job.Builds {
				if crooked.ID == b.ID {
					*b = *crooked
				}
			}
			b.Readings = &car.Readings{BarsOn: true}
			for i := range 4 {
				read := was.Get("arch-height", "kit", "empty", i).Value - 2e-3
				b.Readings.Height[i] = figure.Input{Value: read, Half: 2e-3, Shape: figure.Normal95, Origin: figure.Measured}
			}
		}
	}), "cross-weight-off")
}

func standsCrooked(t *testing.T, a *study.Answer, code string) {
	usual := a.UsualLoad()
	cross := a.Get("cross-share-front-right-rear-left", "kit", usual, figure.NoCorner).Value
	if off := a.Get("cross-off-half", "kit", usual, figure.NoCorner); math.Abs(off.Value-math.Abs(cross-0.5)) > 1e-12 || !off.HasBand {
		t.Errorf("cross of %.4f is off by %+v", cross, off)
	}
	for _, c := range []int{figure.FrontLeft, figure.RearRight} {
		low, own, other := a.Get("side-lower", "kit", usual, c), a.Get("arch-height", "kit", usual, c), a.Get("arch-height", "kit", usual, c^1)
		if math.Abs(low.Value-(other.Value-own.Value)) > 1e-12 {
			t.Errorf("corner %d is %.4f lower, the arches say %.4f", c, low.Value, other.Value-own.Value)
		}
	}
	f := mended(t, a, code, "kit", -1)
	if f.Verdict == finding.Clear {
		t.Fatalf("%s is clear with a collar far off: %+v", code, f.Value)
	}
	if len(f.Remedies) == 0 {
		t.Fatalf("%s has no remedy", code)
	}
	for i := range f.Remedies {
		r := &f.Remedies[i]
		collars := slices.ContainsFunc(r.Sizes, func(s finding.Size) bool { return s.Code == "collar" })
		if r.Kind != finding.Level || !collars || math.Abs(r.After) >= math.Abs(f.Value.Value) {
			t.Errorf("%s: %s by %.4f: %.4f → %.4f", code, r.Code, r.Change, f.Value.Value, r.After)
		}
		if got := again(t, a, r.Build, 0).At(f.Value.Code, r.AfterAt); math.Abs(got.Value-r.After) > 1e-6 {
			t.Errorf("%s: the remedy says %.6f, the study %.6f", code, r.After, got.Value)
		}
	}
}

// The nose is judged against the baseline by an angle, either way, and by what the
// workshop chose.
func TestRakeAgainstTheBaseline(t *testing.T) {
	for _, c := range []struct {
		up, rake float64
		code     string
		want     finding.Verdict
	}{
		{0, 0, "stands-nose-up", finding.Clear},
		{45e-3, 0, "stands-nose-up", finding.Over},
		{-45e-3, 0, "stands-nose-down", finding.Over},
		{-45e-3, 30e-3, "stands-nose-down", finding.Clear},
	} {
		a := answered(t, 100, 2, func(d *demo.Job) {
			d.Builds = d.Builds[:2]
			d.Builds[1].Both(0, func(p *car.BuildCorner) { p.SeatsCloser = figure.Input{Value: 25e-3 + c.up, Origin: figure.Chosen} })
			d.Builds[1].Both(1, func(p *car.BuildCorner) { p.SeatsCloser = figure.Input{Value: 19e-3, Origin: figure.Chosen} })
			if c.rake > 0 {
				d.Brief.Limits.Rake = figure.Input{Value: c.rake, Origin: figure.Chosen, Path: "brief.limits.rake"}
			}
		})
		list := finding.Judge(a)
		i := slices.IndexFunc(list, func(f finding.Finding) bool { return f.Code == c.code && f.Value.Place.Build == "lower-old" })
		if i < 0 || list[i].Verdict != c.want {
			t.Errorf("front %.0f mm up, limit %.3f: %s is %+v", c.up*1e3, c.rake, c.code, list[i])
		}
	}
}
