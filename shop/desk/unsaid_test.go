package desk

import (
	"fmt"
	"slices"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/examples"
	"trunnion/shop/jobfile"
)

// overRow is a rule at an axle.
type overRow struct {
	code string
	axle int
}

// overRows are the rules that a build breaks by its nominal figures, by axle, and the
// chance of each that it was broken.
func overRows(a, as *study.Answer, build string) map[overRow]*finding.Finding {
	out := map[overRow]*finding.Finding{}
	list := finding.Every(a, as, build, nil)
	for i := range list {
		f := &list[i]
		k := overRow{f.Code, f.Axle()}
		if w := out[k]; w == nil || finding.Worse(f, w) {
			out[k] = f
		}
	}
	return out
}

// Every change that could be proposed is looked at on a small grid: three cars, every kind
// of change they allow, the first, the middle and the last of its steps. A study of its
// own, which knows nothing of remedies, finds no limit broken that the judge left unsaid.
func TestNoStepOfAnyKindLeavesALimitBrokenUnsaid(t *testing.T) {
	kinds, steps, cars, broken := map[finding.Kind]int{}, 0, 0, 0
	for _, path := range []string{"marl-estate/job.yaml", "wend-roadster/measured.yaml", "sedley-hatch/job.yaml"} {
		text, err := examples.Jobs.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		job, faults := jobfile.ReadBytes(text, path)
		if job == nil {
			t.Fatal(faults)
		}
		cars++
		s := Settings{}
		opt := s.options(100)
		opt.NoWorkings, opt.NoModes, opt.NoRemedies, opt.Lowering = true, true, true, nil
		b := slices.IndexFunc(job.Builds, func(b *car.Build) bool { return b.ID != job.Car.Weighed.Build })
		one := studied(job)
		one.Builds = slices.DeleteFunc(slices.Clone(job.Builds), func(c *car.Build) bool {
			return c.ID != job.Car.Weighed.Build && c.ID != job.Builds[b].ID
		})
		b = slices.Index(one.Builds, job.Builds[b])
		a, err := study.Run(t.Context(), one, opt)
		if err != nil {
			t.Fatal(err)
		}
		build := one.Builds[b].ID
		judge, err := remedy.JudgeOf(t.Context(), a, build)
		if err != nil || judge == nil {
			t.Fatal(err)
		}
		usual := slices.IndexFunc(one.Loads, func(l car.Load) bool { return l.ID == a.UsualLoad() })
		was := overRows(a, a, build)
		bench := change.At(a, b, usual)
		for axle := range 2 {
			for _, group := range change.Kinds(bench.Moves(axle)) {
				sizes := []int{0, len(group) / 2, len(group) - 1}
				if group[0].Kind == finding.MadeToOrder {
					sizes = sizes[1:2] // half of all
				}
				for _, k := range slices.Compact(sizes) {
					kinds[group[k].Kind]++
					steps++
					broken += unsaid(t, path, a, judge, group[k], was)
				}
			}
		}
	}
	if cars != 3 || steps < 60 || len(kinds) < 5 || broken < 10 {
		t.Fatalf("only %d steps of %v on %d cars, %d limits broken and said", steps, kinds, cars, broken)
	}
	t.Logf("%d steps: %v; %d limits broken and said", steps, kinds, broken)
}

// unsaid makes one change, asks the judge what it breaks, and a study of its own; and
// says how many broken limits were said.
func unsaid(t *testing.T, path string, a *study.Answer, judge *remedy.Judged, m *change.Move, was map[overRow]*finding.Finding) (broken int) {
	i := slices.IndexFunc(a.Job.Builds, func(b *car.Build) bool { return b.ID != a.Job.Car.Weighed.Build })
	made := change.Made(a.Job.Builds[i], []*change.Move{m})
	breaks, ok, err := judge.Breaks(t.Context(), made)
	if err != nil {
		t.Fatal(err)
	}
	if !ok {
		return 0 // it is never proposed: no rest, or higher than anybody would put it
	}
	said := map[overRow]bool{}
	for k := range breaks {
		axle := -1
		if c := breaks[k].Place.Corner; c >= 0 {
			axle = car.AxleOf(c)
		}
		said[overRow{breaks[k].Code, axle}] = true
	}
	job := a.Job
	job.Builds = slices.Clone(job.Builds)
	job.Builds[i] = made
	now, err := study.Run(t.Context(), job, a.Options)
	// A study numbers the inputs of its job: those of the first answer get theirs back.
	none := a.Options
	none.Samples = 0
	if _, err := study.Run(t.Context(), a.Job, none); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		t.Errorf("%s: %s: the judge has a rest, the study none: %v", path, name(m), err)
		return 0
	}
	for k, f := range overRows(now, a, made.ID) {
		w := was[k]
		// What was over before, or as good as, is no news.
		if f.Verdict != finding.Over || f.Margin() >= 0 || w != nil && (w.Verdict == finding.Over || w.Probability > 0.9) {
			continue
		}
		if broken++; said[k] {
			continue
		}
		t.Errorf("%s: %s breaks %s of axle %d, unsaid: %.4g", path, name(m), k.code, k.axle, f.Value.Value)
	}
	return broken
}

func name(m *change.Move) string {
	return fmt.Sprintf("%s by %.4g %s at axle %d", m.Code, m.By, m.Unit, m.Axle)
}
