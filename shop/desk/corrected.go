package desk

import (
	"cmp"
	"context"
	"math"
	"slices"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
)

// FindingChange is a finding before and after corrections; nil where there is none.
type FindingChange struct {
	Before, After *finding.Finding
}

// Corrected is a job with corrections taken, and what they change.
type Corrected struct {
	*RoadTested
	Taken   []*Correction
	Text    []byte // of the job with them
	Before  *Result
	After   *Result
	Changes []FindingChange
}

// RoadTestCorrect takes corrections that a log speaks for, one edit of the job each, and
// says what they change in its findings. The job that was asked about stays as it was.
func (d *Desk) RoadTestCorrect(ctx context.Context, job *jobfile.Job, ask RoadTestAsk) (*Corrected, error) {
	if len(ask.Take) == 0 {
		return nil, bad("take", "names the corrections to take, such as stop-gap-front-left")
	}
	tested, err := d.RoadTest(ctx, job, ask)
	if err != nil {
		return nil, err
	}
	out := &Corrected{RoadTested: tested}
	if out.Taken, err = tested.taken(ask.Take); err != nil {
		return nil, err
	}
	out.Text, err = taken(ctx, job, out.Taken)
	if err != nil {
		return nil, err
	}
	after, faults := jobfile.ReadBytes(out.Text, "job.yaml")
	if after == nil {
		return nil, absent("the job with the corrections has a fault: %s %s", faults[0].Path, faults[0].Got)
	}
	if out.Before, err = d.effects(ctx, job); err != nil {
		return nil, err
	}
	if out.After, err = d.effects(ctx, after); err != nil {
		return nil, err
	}
	out.Changes = changes(out.Before.Findings, out.After.Findings, tested.Build)
	return out, nil
}

// Effects are what one correction alone changes in the findings.
func (d *Desk) Effects(ctx context.Context, job *jobfile.Job, build string, c *Correction) ([]FindingChange, *Result, *Result, error) {
	text, err := taken(ctx, job, []*Correction{c})
	if err != nil {
		return nil, nil, nil, err
	}
	with, faults := jobfile.ReadBytes(text, "job.yaml")
	if with == nil {
		return nil, nil, nil, absent("the job with the correction has a fault: %s %s", faults[0].Path, faults[0].Got)
	}
	before, err := d.effects(ctx, job)
	if err != nil {
		return nil, nil, nil, err
	}
	after, err := d.effects(ctx, with)
	if err != nil {
		return nil, nil, nil, err
	}
	return changes(before.Findings, after.Findings, build), before, after, nil
}

// effects are findings quickly: obstacles driven once, no remedies.
func (d *Desk) effects(ctx context.Context, job *jobfile.Job) (*Result, error) {
	s := Settings{}
	q := &asked{job: job, opt: s.options(TryDraws), as: "effects " + job.SHA256}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoPlans, q.opt.NoModes, q.opt.Lowering = true, true, true, true, nil
	ride := s.drive()
	ride.EventsOnly, ride.Unchecked = true, true
	q.drive = &ride
	return d.answer(ctx, q)
}

// changes are the findings of a build that differ, the gravest first.
func changes(before, after []finding.Finding, build string) []FindingChange {
	type key struct {
		code  string
		place figure.Place
	}
	at := func(f *finding.Finding) key {
		if f.Value == nil {
			return key{code: f.Code}
		}
		k := key{f.Code, f.Value.Place}
		if k.place.Corner >= 0 {
			k.place.Corner /= 2 // a finding is that of an axle's worse side
		}
		return k
	}
	was := map[key]*finding.Finding{}
	for i := range before {
		was[at(&before[i])] = &before[i]
	}
	var out []FindingChange
	var fresh []*finding.Finding
	seen := map[key]bool{}
	for i := range after {
		f := &after[i]
		k := at(f)
		seen[k] = true
		if k.place.Build != build {
			continue
		}
		switch b := was[k]; {
		case b == nil:
			fresh = append(fresh, f)
		case b.Verdict != f.Verdict || moved(b.Value, f.Value):
			out = append(out, FindingChange{b, f})
		}
	}
	// One finding stands for a code at its worst place: gone here and new there, it has moved.
	for i := range before {
		b := &before[i]
		k := at(b)
		if seen[k] || k.place.Build != build {
			continue
		}
		j := slices.IndexFunc(fresh, func(f *finding.Finding) bool { return f.Code == b.Code })
		if j < 0 {
			out = append(out, FindingChange{b, nil})
			continue
		}
		out = append(out, FindingChange{b, fresh[j]})
		fresh = slices.Delete(fresh, j, j+1)
	}
	for _, f := range fresh {
		out = append(out, FindingChange{nil, f})
	}
	slices.SortStableFunc(out, func(a, b FindingChange) int {
		return cmp.Or(cmp.Compare(b.flips(), a.flips()), cmp.Compare(b.share(), a.share()))
	})
	return out
}

// moved reports a value that changed by more than rounding.
func moved(a, b *figure.Value) bool {
	return a != nil && b != nil && math.Abs(a.Value-b.Value) > 0.02*math.Max(math.Abs(a.Value), math.Abs(b.Value))
}

// flips is 1 where the verdict changed.
func (c FindingChange) flips() int {
	if c.Before == nil || c.After == nil || c.Before.Verdict != c.After.Verdict {
		return 1
	}
	return 0
}

// share is by how much the figure changed, as a share of itself.
func (c FindingChange) share() float64 {
	if c.Before == nil || c.After == nil || c.Before.Value == nil || c.After.Value == nil {
		return 1
	}
	a, b := c.Before.Value.Value, c.After.Value.Value
	return math.Abs(a-b) / math.Max(math.Max(math.Abs(a), math.Abs(b)), 1e-12)
}

// Document is the corrected job, for programs.
func (c *Corrected) Document(program string) *answer.Corrected {
	out := &answer.Corrected{Format: answer.CorrectedFormat, Program: program, Taken: []answer.Correction{}, Changes: []answer.FindingChange{}, Job: string(c.Text)}
	for _, t := range c.Taken {
		out.Taken = append(out.Taken, answer.NewCorrection(t.Name, t.Offer, t.Edits, t.Unable))
	}
	for _, x := range c.Changes {
		out.Changes = append(out.Changes, answer.NewFindingChange(x.Before, x.After))
	}
	return out
}
