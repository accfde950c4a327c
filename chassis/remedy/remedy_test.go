package remedy

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"sync"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/demo"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// answered studies the demo's job, changed.
func answered(t testing.TB, samples, workers int, change func(*demo.Job)) *study.Answer {
	t.Helper()
	d := demo.Marl()
	if change != nil {
		change(&d)
	}
	opt := study.Defaults()
	opt.Samples, opt.Workers, opt.NoWorkings, opt.NoModes = samples, workers, true, true
	a, err := study.Run(context.Background(), study.Job(d), opt)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// mended gives the worst finding of a code and build its remedies.
func mended(t *testing.T, a *study.Answer, code, build string, axle int) *finding.Finding {
	t.Helper()
	list := finding.Judge(a)
	for i := range list {
		f := &list[i]
		if f.Code == code && f.Value.Place.Build == build && (axle < 0 || f.Axle() == axle) {
			if err := Mend(context.Background(), a, f); err != nil {
				t.Fatal(err)
			}
			return f
		}
	}
	t.Fatalf("no finding %s of %s", code, build)
	return nil
}

func codes(f *finding.Finding) []string {
	var out []string
	for i := range f.Remedies {
		out = append(out, f.Remedies[i].Code)
	}
	return out
}

// again studies a job with one build as a remedy or plan makes it.
func again(t testing.TB, a *study.Answer, made *car.Build, samples int) *study.Answer {
	t.Helper()
	job := a.Job
	job.Builds = slices.Clone(job.Builds)
	for i, b := range job.Builds {
		if b.ID == made.ID {
			job.Builds[i] = made
		}
	}
	opt := a.Options
	opt.Samples = samples
	b, err := study.Run(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	// A study numbers the inputs of its job: those of the first answer get theirs back.
	opt.Samples = 0
	if _, err := study.Run(context.Background(), a.Job, opt); err != nil {
		t.Fatal(err)
	}
	return b
}

// A remedy's figures are those of the study with the change made: running
// everything anew has to give them again.
func TestRemedyIsTheStudyRunAgain(t *testing.T) {
	a := answered(t, 200, 2, nil)
	n := 0
	for _, c := range []struct{ code, build string }{
		{"spring-loose-at-droop", "lower-old"}, {"meets-stop-in-corner", "lower-old"}, {"rests-on-bump-stop", "lower-uprated"}, {"tyre-meets-arch-first", "lower-uprated"},
	} {
		f := mended(t, a, c.code, c.build, -1)
		for i := range f.Remedies {
			r := &f.Remedies[i]
			n++
			b := again(t, a, r.Build, 0)
			p := r.AfterAt
			if got := b.Get(f.Value.Code, p.Build, p.Load, p.Corner).Value; math.Abs(got-r.After) > 1e-6 {
				t.Errorf("%s by %s: the remedy says %.6g, the study with the change %.6g", c.code, r.Code, r.After, got)
			}
			for axle := range 2 {
				usual := a.UsualLoad()
				if by := height(b, p.Build, usual, axle) - height(a, p.Build, usual, axle); math.Abs(by-r.Higher[axle]) > 1e-6 {
					t.Errorf("%s by %s: the axle stands %.2f mm higher, the remedy says %.2f", c.code, r.Code, by*1e3, r.Higher[axle]*1e3)
				}
			}
		}
	}
	if n < 4 {
		t.Fatalf("only %d remedies", n)
	}
}

// grid are jobs of one axle's springs, dampers and stops, low and high, cheap and
// adjustable.
func grid(t testing.TB, each func(name string, a *study.Answer)) {
	k := 0
	for _, rate := range []float64{45e3, 60e3, 80e3} {
		for _, shorter := range []float64{0, -0.02, 0.02} {
			for build := range 3 {
				if k++; k%9 != 2 && os.Getenv("TRUNNION_STUDIES") == "" {
					continue
				}
				a := answered(t, 100, 2, func(d *demo.Job) {
					b := d.Builds[build+1]
					b.Both(1, func(p *car.BuildCorner) {
						s := *p.Spring
						// The same height at about 3 kN, then as much shorter.
						s.Free.Value += 3e3/rate - 3e3/s.Rate.Value - shorter
						s.Rate.Value = rate
						p.Spring = &s
					})
					d.Builds = []*car.Build{d.Builds[0], b}
				})
				each(fmt.Sprintf("%s, %.0f N/mm, %.0f mm shorter", a.Job.Builds[1].ID, rate/1e3, shorter*1e3), a)
			}
		}
	}
}

// No change that is proposed leaves a limit broken unsaid, and none breaks what is
// as hard as what it mends: every finding of every load state is judged anew in a
// study of its own.
func TestNoChangeLeavesALimitBrokenUnsaid(t *testing.T) {
	changes := 0
	grid(t, func(name string, a *study.Answer) {
		list := finding.Judge(a)
		if _, err := Judge(t.Context(), a, list); err != nil {
			t.Fatal(err)
		}
		for i := range list {
			f := &list[i]
			if f.Value.Place.Build == a.Job.Car.Weighed.Build {
				continue // its parts are what the car was weighed with: tried on a copy
			}
			for k := range f.Remedies {
				r := &f.Remedies[k]
				changes++
				said := map[row]bool{}
				for _, b := range r.Breaks {
					axle := -1
					if b.Place.Corner >= 0 {
						axle = b.Place.Corner / 2
					}
					said[row{b.Code, axle}] = true
				}
				for _, b := range brokenAnew(t, a, r.Build) {
					if !said[b.row] {
						t.Errorf("%s: %s of %s by %s %.4g leaves %s of axle %d over, unsaid: %.4g → %.4g", name, f.Code, f.Value.Place.Build, r.Code, r.Change, b.code, b.axle, b.was, b.now)
					}
					if finding.AtLeastAsHard(b.code, f.Code) {
						t.Errorf("%s: %s of %s by %s breaks %s, which is as hard", name, f.Code, f.Value.Place.Build, r.Code, b.code)
					}
				}
			}
		}
	})
	if changes < 10 {
		t.Fatalf("only %d changes were looked at", changes)
	}
}

type brokenRow struct {
	row
	was, now float64
}

// brokenAnew are the rows that a made build turns over, by a study of its own.
func brokenAnew(t testing.TB, a *study.Answer, made *car.Build) []brokenRow {
	b := again(t, a, made, 100)
	was := lookOf(finding.Every(a, a, made.ID, nil))
	var out []brokenRow
	seen := map[row]bool{}
	for k, n := range lookOf(finding.Every(b, a, made.ID, nil)) {
		w := was[k]
		if n.Verdict != finding.Over || w != nil && (w.Verdict == finding.Over || w.Probability > 0.9) || n.Margin() >= 0 {
			continue
		}
		r := brokenRow{row: row{n.Code, n.Axle()}, was: math.NaN(), now: n.Value.Value}
		if w != nil {
			r.was = w.Value.Value
		}
		if !seen[r.row] {
			seen[r.row] = true
			out = append(out, r)
		}
	}
	return out
}

// A plan's figures are those of the study with it made, and it turns nothing over.
func TestPlanIsTheStudyRunAgain(t *testing.T) {
	plans := 0
	grid(t, func(name string, a *study.Answer) {
		list, err := Judge(t.Context(), a, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range list {
			p := &list[i]
			if len(p.Steps) == 0 || p.Build == a.Job.Car.Weighed.Build {
				continue
			}
			plans++
			b := again(t, a, p.Made, 0)
			for k := range p.Rows {
				r := &p.Rows[k]
				if math.IsNaN(r.After) {
					continue
				}
				v := b.At(r.Judges, r.PlaceAfter)
				if v == nil || math.Abs(v.Value-r.After) > 1e-6 {
					t.Errorf("%s: the plan of %s says %s of axle %d is %.6g, the study with it %+v", name, p.Build, r.Judges, r.Axle, r.After, v)
				}
				if r.Now == finding.Over && r.Was != finding.Over {
					t.Errorf("%s: the plan of %s turns %s over", name, p.Build, r.Code)
				}
			}
			for _, b := range brokenAnew(t, a, p.Made) {
				t.Errorf("%s: the plan of %s leaves %s of axle %d over: %.4g → %.4g", name, p.Build, b.code, b.axle, b.was, b.now)
			}
		}
	})
	if plans < 3 {
		t.Fatalf("only %d plans", plans)
	}
}

// A driven plan's figures are those of the study with it made, driven.
func TestDrivenPlanIsTheStudyDrivenAgain(t *testing.T) {
	a := answered(t, 100, 2, func(d *demo.Job) { d.Builds = d.Builds[:2] })
	opt := drives.Defaults()
	opt.Samples, opt.Duration, opt.Draws = 2, 7, 0
	if err := drives.Ride(t.Context(), a, opt, nil); err != nil {
		t.Fatal(err)
	}
	p, err := For(t.Context(), a, "lower-old")
	if err != nil {
		t.Fatal(err)
	}
	b := again(t, a, p.Made, 0)
	if err := drives.Ride(t.Context(), b, opt, nil); err != nil {
		t.Fatal(err)
	}
	n := 0
	for i := range p.Rows {
		r := &p.Rows[i]
		if r.PlaceAfter.Event == "" && r.PlaceAfter.Road == "" {
			continue
		}
		n++
		// The step of a drive is that of the stiffest build of the job.
		if v := b.At(r.Judges, r.PlaceAfter); v == nil || math.Abs(v.Value-r.After) > 5e-3*math.Max(math.Abs(v.Value), math.Abs(r.Before)) {
			t.Errorf("%s at %+v: the plan says %.5g, the drive %+v", r.Judges, r.PlaceAfter, r.After, v)
		}
	}
	if n < 3 {
		t.Fatalf("only %d driven rows: %+v", n, p.Rows)
	}
}

// What a workshop was told before, and laughed at.
func TestRemediesThatCanBeBought(t *testing.T) {
	a := answered(t, 200, 2, nil)
	// A stop was to be shorter for one finding and packed out for another, at one
	// corner: the arch is over already, and a shorter stop takes the tyre farther.
	if f := mended(t, a, "rests-on-bump-stop", "lower-uprated", 1); slices.Contains(codes(f), "shorter-stop") || slices.Contains(codes(f), "shorter-damper") {
		t.Errorf("with the tyre in the arch a stop on it is mended by %v", codes(f))
	}
	// The trade's first answer: less drop.
	if f := mended(t, a, "rests-on-bump-stop", "lower-old", 1); !slices.Contains(codes(f), "longer-spring") {
		t.Errorf("a corner on its stop is mended by %v, not by less drop", codes(f))
	}
	// Parts in steps as they are sold, on every row.
	list := finding.Judge(a)
	if _, err := Judge(t.Context(), a, list); err != nil {
		t.Fatal(err)
	}
	step := map[string]float64{"spring-rate": 5e3, "spring-free": 10e-3, "packer": 5e-3, "helper-travel": 5e-3}
	sizes := 0
	for i := range list {
		for k := range list[i].Remedies {
			r := &list[i].Remedies[k]
			for _, s := range r.Sizes {
				by := step[s.Code]
				bought := s.Code != "spring-free" && s.Code != "spring-rate" || r.Code != "listed-spring"
				if s.Is == s.Was || by == 0 || !bought {
					continue
				}
				sizes++
				if r.Code == "longer-spring" || r.Code == "helper" && s.Code == "spring-free" { // steps from the one that is there
					s.Is -= s.Was
				}
				if off := math.Abs(s.Is/by - math.Round(s.Is/by)); off > 1e-6 {
					t.Errorf("%s: %s of %g %s is not sold", r.Code, s.Code, s.Is, s.Unit)
				}
			}
		}
	}
	if sizes < 8 {
		t.Fatalf("only %d sizes", sizes)
	}
}

// A cheap spring set far too short: a damper that opens 75 mm less was the first
// answer. Nobody sells it; it is no answer at all.
func TestNoDamperOutOfBelief(t *testing.T) {
	a := answered(t, 100, 2, func(d *demo.Job) {
		d.Builds[1].Both(1, func(p *car.BuildCorner) {
			s := *p.Spring
			s.Free.Value -= 0.04
			p.Spring = &s
		})
	})
	f := mended(t, a, "spring-loose-at-droop", "lower-old", 1)
	if f.Value.Value < 0.05 {
		t.Fatalf("the springs are %.0f mm loose: not far enough for this test", f.Value.Value*1e3)
	}
	for i := range f.Remedies {
		r := &f.Remedies[i]
		if r.Kind == finding.MadeToOrder && (i == 0 || math.Abs(r.Change) > change.MostDamper+1e-9) {
			t.Errorf("remedy %d is %s by %.0f mm", i, r.Code, r.Change*1e3)
		}
	}
	p, err := For(t.Context(), a, "lower-old")
	if err != nil {
		t.Fatal(err)
	}
	if !p.NotThese {
		t.Errorf("springs that are %.0f mm loose and 60 mm too low are for this car: %+v", f.Value.Value*1e3, p.Steps)
	}
}

// A brake hose that goes tight before the damper is open is the gravest thing
// about travel: nothing that is sold mends it, so that a damper that opens less is
// made to order.
func TestHoseBeforeDamperOpens(t *testing.T) {
	a := answered(t, 200, 2, func(d *demo.Job) {
		d.Builds = d.Builds[:1] // no other damper lies about
		d.Car.Axle[1].Limits = append(d.Car.Axle[1].Limits, car.Limit{
			Name: "hose", Droop: true,
			Travel: figure.Input{Value: -0.080, Half: 0.003, Shape: figure.Normal95, Origin: figure.Measured, Path: "car.rear.limits.hose"},
		})
	})
	f := mended(t, a, "limit-met-first", "arrived", 1)
	if f.Verdict != finding.Over || len(f.Remedies) == 0 || f.Remedies[0].Code != "less-droop" || !f.Remedies[0].Cures {
		t.Errorf("%s: less droop was not found to cure it: %v", f.Verdict, codes(f))
	}
}

// Many findings of low springs say one thing; the height at which they are gone is
// said, and there they are gone.
func TestTooLow(t *testing.T) {
	a := answered(t, 200, 2, nil)
	p, err := For(t.Context(), a, "lower-old")
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(p.TooLow, func(l TooLow) bool { return l.Axle == 1 })
	if i < 0 || len(p.TooLow[i].Codes) < 5 {
		t.Fatalf("the low springs are not too low: %+v", p.TooLow)
	}
	l := &p.TooLow[i]
	r, err := reviewOf(t.Context(), a, "lower-old", new(route.Laid))
	if err != nil {
		t.Fatal(err)
	}
	b := again(t, a, r.bench.Stood(1, l.Higher), 0)
	if got := height(b, "lower-old", a.UsualLoad(), 1); math.Abs(got-l.Height) > 1e-6 {
		t.Errorf("%.2f mm hub to arch, the study says %.2f", l.Height*1e3, got*1e3)
	}
	rows := lookOf(finding.Every(b, a, "lower-old", r.bands.Of)).rows()
	for _, c := range l.Codes {
		if f := rows[row{c, 1}]; !quiet(f) {
			t.Errorf("%s is not gone there: %s, %.2f", c, f.Verdict, f.Probability)
		}
	}
	// The lowering curve, read the other way: what the axle has more of by standing
	// higher is what lowering it takes.
	was := a.Get("travel-to-stop", "lower-old", "driver", figure.RearLeft).Value
	now := b.Get("travel-to-stop", "lower-old", "driver", figure.RearLeft).Value
	rise := b.Get("arch-height", "lower-old", "driver", figure.RearLeft).Value - a.Get("arch-height", "lower-old", "driver", figure.RearLeft).Value
	if math.Abs(now-was-rise) > 1e-6 {
		t.Errorf("bump travel grows by %.3f mm where the corner stands %.3f mm higher", (now-was)*1e3, rise*1e3)
	}
	if one := slices.IndexFunc(p.TooLow, func(l TooLow) bool { return l.Axle == 0 }); one >= 0 && p.TooLow[one].Higher > l.Higher {
		t.Error("the front of the low springs is lower than their rear")
	}
}

// Both kinds of adjuster: a collar under the spring, and a body that is screwed; by
// whole steps of the thread, within its reach.
func TestRaiseByBothAdjusters(t *testing.T) {
	for kind, code := range map[string]string{"seat": "collar", "body": "body-length"} {
		a := answered(t, 60, 2, func(d *demo.Job) {
			for _, b := range d.Builds {
				if b.ID != "kit" {
					continue
				}
				p := &car.PlatformSpec{ID: "own", Kind: kind, Flats: 6}
				p.Pitch = figure.Input{Value: 1.5e-3, Origin: figure.Measured}
				p.Up, p.Down = figure.Input{Value: 12e-3, Origin: figure.Measured}, figure.Input{Value: 12e-3, Origin: figure.Measured}
				b.Both(0, func(c *car.BuildCorner) { c.Platform = p })
			}
		})
		r, err := reviewOf(t.Context(), a, "kit", new(route.Laid))
		if err != nil {
			t.Fatal(err)
		}
		list := r.bench.Raises(0)
		if len(list) == 0 {
			t.Fatalf("%s: nothing is turned", kind)
		}
		for _, m := range list {
			for _, s := range m.Sizes {
				if s.Code == code && (s.Is > 12e-3+1e-9 || math.Abs(s.Is/0.25e-3-math.Round(s.Is/0.25e-3)) > 1e-6) {
					t.Errorf("%s: turned to %.3f mm, past the thread or between flats", kind, s.Is*1e3)
				}
			}
			got, err := a.Again(t.Context(), change.Made(r.build, []*change.Move{m}), a.Job.Loads, 0)
			if err != nil {
				t.Fatal(err)
			}
			if rise := height(got, "kit", a.UsualLoad(), 0) - height(a, "kit", a.UsualLoad(), 0); math.Abs(rise-m.By) > 0.15*m.By+0.5e-3 {
				t.Errorf("%s: said %.1f mm higher, stands %.1f mm higher", kind, m.By*1e3, rise*1e3)
			}
			// A body leaves the gap to the stop; a seat gives it what it raises.
			gap := got.Get("travel-to-stop", "kit", "driver", 0).Value - a.Get("travel-to-stop", "kit", "driver", 0).Value
			if kind == "body" && math.Abs(gap) > 1e-3 || kind == "seat" && gap < 0.8*m.By {
				t.Errorf("%s raised by %.1f mm: the gap to the stop changes by %.2f mm", kind, m.By*1e3, gap*1e3)
			}
		}
	}
}

// Where a build lost understeer the bar's other hole is offered, by its id, and
// gives some back.
func TestUndersteerByTheBarsHole(t *testing.T) {
	arm := func(v float64) figure.Input { return figure.Input{Value: v, Origin: figure.Measured} }
	a := answered(t, 60, 2, func(d *demo.Job) {
		for x := range 2 {
			ax := &d.Car.Axle[x]
			ax.Hole, ax.Bar.Arm = "middle", arm(0.24)
			ax.Holes = []car.BarHole{{ID: "outer", Arm: arm(0.27)}, {ID: "middle"}, {ID: "inner", Arm: arm([2]float64{0.2, 0.1}[x])}}
		}
		// The rear bar in its stiff hole takes the understeer away.
		for _, b := range d.Builds {
			if b.ID == "kit" {
				b.Setup.BarHole = [2]string{"outer", "inner"}
				firmer := stiff(b.Corner[2].Spring)
				b.Both(1, func(p *car.BuildCorner) { p.Spring = firmer })
			}
		}
	})
	f := mended(t, a, "less-understeer-than-before", "kit", -1)
	if f.Verdict != finding.Over {
		t.Fatalf("%s: %.5f, limit %+v", f.Verdict, f.Value.Value, f.Limit)
	}
	if len(f.Remedies) == 0 {
		t.Fatal("nothing was offered")
	}
	holes := 0
	for i := range f.Remedies {
		r := &f.Remedies[i]
		if !(r.After > f.Value.Value) {
			t.Errorf("%s takes it from %.6f to %.6f", r.Code, f.Value.Value, r.After)
		}
		if r.Kind == finding.Bar {
			holes++
			if r.Choice != "middle" {
				t.Errorf("%s: hole %q, not the next one", r.Code, r.Choice)
			}
		}
	}
	if holes == 0 {
		t.Errorf("no hole was offered: %v", codes(f))
	}
}

// stiff is a spring twice as stiff, its length kept.
func stiff(s *car.SpringSpec) *car.SpringSpec {
	n := *s
	n.ID += "-stiff"
	load := 0.1 * s.Rate.Value
	n.Rate.Value *= 2
	n.Free.Value += load/n.Rate.Value - load/s.Rate.Value
	return &n
}

func saying(list []finding.Finding, plans []Plan) string {
	out := ""
	for i := range list {
		f := &list[i]
		out += fmt.Sprintln(f.Rank, f.Code, f.Verdict, f.Value.Place, f.Value.Value, f.Value.Low, f.Value.High, f.Probability, f.Narrow)
		for _, r := range f.Remedies {
			out += fmt.Sprintln("  ", r.Code, r.Change, r.Sizes, r.After, r.VerdictNow, r.Breaks, r.Worsens, r.Betters)
		}
	}
	for _, p := range plans {
		for _, r := range p.Steps {
			out += fmt.Sprintln(p.Build, r.Code, r.Change, r.Sizes)
		}
		out += fmt.Sprintln(p.Rows, p.TooLow, p.Stands, p.NotThese)
	}
	return out
}

func TestJudgementIsTheSameForAnyNumberOfWorkers(t *testing.T) {
	say := func(workers int) string {
		a := answered(t, 60, workers, func(d *demo.Job) { d.Builds, d.Loads = d.Builds[:2], d.Loads[:4] })
		list := finding.Judge(a)
		plans, err := Judge(t.Context(), a, list)
		if err != nil {
			t.Fatal(err)
		}
		return saying(list, plans)
	}
	if one, many := say(1), say(7); one != many {
		t.Errorf("one worker and seven disagree:\n%s\n%s", one, many)
	}
}

// What the workers of a judgement share: two judge one answer at the same time, and
// neither moves the other's.
func TestJudgedAtOnce(t *testing.T) {
	a := answered(t, 12, 4, func(d *demo.Job) { d.Builds, d.Loads = d.Builds[:2], d.Loads[:2] })
	var all sync.WaitGroup
	var said [2]string
	for k := range said {
		all.Go(func() {
			list := finding.Judge(a)
			plans, err := Judge(context.Background(), a, list)
			if err != nil || len(list) == 0 {
				t.Errorf("%d findings: %v", len(list), err)
			}
			said[k] = saying(list, plans)
		})
	}
	all.Wait()
	if said[0] != said[1] {
		t.Errorf("two judgements of one answer disagree:\n%s\n%s", said[0], said[1])
	}
}
