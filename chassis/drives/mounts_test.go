package drives

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/demo"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// mountsOf drives the demo's roads and returns the mounts' damage by build,
// corner, road and speed.
func mountsOf(t *testing.T, a *study.Answer) map[figure.Place]figure.Value {
	t.Helper()
	opt := Defaults()
	opt.Samples, opt.Duration, opt.Unchecked = 3, 8, true
	if err := Ride(context.Background(), a, opt, nil); err != nil {
		t.Fatal(err)
	}
	out := map[figure.Place]figure.Value{}
	for _, v := range a.Values {
		if v.Code == "mount-damage-relative" {
			if _, twice := out[v.Place]; twice {
				t.Errorf("%+v is given twice", v.Place)
			}
			out[v.Place] = v
		}
	}
	return out
}

// Over all roads the reference wears its mounts as much as itself, and the roads' own
// figures have that for their mean; a build that only differs in its reference is the
// other way up, and a kept build is set against the reference as it is now.
func TestMountDamage(t *testing.T) {
	opt := study.Defaults()
	opt.Samples, opt.NoWorkings, opt.NoModes = 0, true, true
	run := func(earlier *study.Answer, reference string) *study.Answer {
		t.Helper()
		job := study.Job(demo.Marl())
		job.Brief.Reference = reference
		a, err := study.Rerun(context.Background(), earlier, job, opt)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	builds := study.Job(demo.Marl()).Builds
	first, last := builds[0].ID, builds[len(builds)-1].ID
	a := run(nil, first)
	by := mountsOf(t, a)
	if len(by) < 4*len(builds) {
		t.Fatalf("%d values", len(by))
	}
	mean := map[int]float64{}
	for p, v := range by {
		if p.Build == first && p.Road == "" && math.Abs(v.Value-1) > 1e-12 {
			t.Errorf("%+v: the reference is %g of itself", p, v.Value)
		}
		if p.Build == first && p.Road != "" {
			mean[p.Corner] += v.Value
		}
		if !(v.Value > 0) || math.IsInf(v.Value, 0) || math.Abs(v.Low*v.High/(v.Value*v.Value)-1) > 1e-9 {
			t.Errorf("%+v: %g, %g to %g: no factor either way", p, v.Value, v.Low, v.High)
		}
	}
	roads := 0.0
	for _, r := range study.Job(demo.Marl()).Brief.Roads {
		roads += float64(len(r.Speeds))
	}
	for i, sum := range mean {
		if math.Abs(sum/roads-1) > 1e-9 {
			t.Errorf("corner %d: the reference's roads have a mean of %g", i, sum/roads)
		}
	}
	other := mountsOf(t, run(nil, last))
	n := 0
	for p, v := range by {
		q := p
		q.Build = first
		// One sample's ratio turned over is the other's: the means multiply to 1 or
		// more, and to little more while the samples are alike.
		if p.Build == last && p.Road == "" {
			if prod := v.Value * other[q].Value; !(prod > 1-1e-9 && prod < 6) {
				t.Errorf("%+v: %g one way and %g the other", p, v.Value, other[q].Value)
			}
			n++
		}
	}
	if n == 0 {
		t.Error("nothing was compared")
	}
	// Nothing changed: all drives are kept, the figures stay to the bit.
	again := mountsOf(t, run(a, first))
	if len(again) != len(by) {
		t.Fatalf("%d values, before %d", len(again), len(by))
	}
	for p, v := range by {
		if again[p].Value != v.Value || again[p].Low != v.Low {
			t.Errorf("%+v: %g kept as %g", p, v.Value, again[p].Value)
		}
	}
}

// BenchmarkMounts is what counting adds to the drives of the demo's roads.
func BenchmarkMounts(b *testing.B) {
	for _, c := range []struct {
		name   string
		mounts bool
	}{{"without", false}, {"with", true}} {
		b.Run(c.name, func(b *testing.B) {
			o := study.Defaults()
			o.Samples, o.NoWorkings, o.NoModes = 0, true, true
			for b.Loop() {
				a, err := study.Run(context.Background(), study.Job(demo.Marl()), o)
				if err != nil {
					b.Fatal(err)
				}
				opt := Defaults()
				opt.Mounts = c.mounts
				if err := Ride(context.Background(), a, opt, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What was found of a mount says what of the job it rests on: over all roads the build in
// each load state that is driven, its mount's own line, and the baseline where it is set
// against that.
func TestMountsLeadToTheJob(t *testing.T) {
	opt := study.Defaults()
	opt.Samples, opt.NoModes = 0, true
	job := study.Job(demo.Marl())
	job.Builds[len(job.Builds)-1].Corner[0].Mount = &car.MountSpec{Rated: figure.Input{Value: 4200, Origin: figure.Makers, Path: "parts.mounts.entered.rated"}}
	a, err := study.Rerun(context.Background(), nil, job, opt)
	if err != nil {
		t.Fatal(err)
	}
	mountsOf(t, a)
	seen := map[string]int{}
	for i := range a.Values {
		v := &a.Values[i]
		if !strings.HasPrefix(v.Code, "mount-") || v.Working == nil {
			continue
		}
		seen[v.Code]++
		has := map[*figure.Input]int{}
		for _, in := range v.Working.Given {
			if has[in]++; has[in] > 1 {
				t.Errorf("%s %+v: %q stands %d times", v.Code, v.Place, in.Path, has[in])
			}
		}
		wants := slices.Clone(a.Given(v.Place.Build, v.Place.Load))
		if v.Code == "mount-damage-relative" {
			wants = append(wants, a.Given(a.Reference, "")...)
		}
		b := slices.IndexFunc(job.Builds, func(b *car.Build) bool { return b.ID == v.Place.Build })
		if m := job.Builds[b].Corner[v.Place.Corner].Mount; m != nil && m.Rated.Known() {
			wants = append(wants, &m.Rated)
		}
		if len(wants) < 20 {
			t.Fatalf("%s %+v: only %d inputs are wanted", v.Code, v.Place, len(wants))
		}
		for _, in := range wants {
			if has[in] == 0 {
				t.Errorf("%s %+v: nothing is said of %s", v.Code, v.Place, in.Path)
			}
		}
	}
	if len(seen) != 3 {
		t.Errorf("seen: %v", seen)
	}
}
