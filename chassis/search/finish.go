package search

import (
	"context"
	"math"
	"slices"
	"sort"

	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// How many rounds of the last ones are put through the whole study, until so many hold
// everything. Chosen.
const (
	mostRounds = 3
	enough     = 3
)

// finish puts the last candidates through the whole study, beside the job's own builds and
// with the same draws, a few at a time until enough hold everything, and makes the plans.
func (s *seeker) finish(ctx context.Context, judged []candidate, out *Found) error {
	judged = s.ends(judged)
	step := Step{Name: Drawn}
	holds, done := 0, 0
	for round := 0; round < mostRounds && done < len(judged) && holds < enough; round++ {
		n := min(len(judged)-done, s.opt.Finalists)
		list, err := s.draw(ctx, judged[done:done+n], done, out)
		if err != nil {
			return err
		}
		if list == nil { // set aside
			judged = slices.Delete(judged, done, done+n)
			continue
		}
		for k := range list {
			if len(list[k].Short) == 0 {
				holds++
			}
		}
		out.Builds = append(out.Builds, list...)
		done += n
	}
	if out.Study == nil {
		out.Study = s.a // all of them were set aside, which is said
	}
	step.Tried, step.Looked, step.Hold, step.On = float64(done), done, float64(holds), holds
	out.Steps = append(out.Steps, step)
	for k := done; k < len(judged); k++ {
		c := &judged[k]
		m := s.bench.make(s.id(k), c.choice)
		out.Builds = append(out.Builds, Build{Build: m.build, Figures: c.figures, High: c.figures, Thread: m.thread, Short: c.short, candidate: *c})
	}
	out.Gives = gives(out.Builds)
	out.Plans = plans(out, s.sought)
	return nil
}

// draw puts candidates through the whole study beside the job's own builds; from is the
// number of the first. It returns none where they were set aside.
func (s *seeker) draw(ctx context.Context, last []candidate, from int, out *Found) ([]Build, error) {
	made := make([]made, len(last))
	for k := range last {
		made[k] = s.last(from+k, last[k].choice)
	}
	got, err := s.whole(ctx, chosen(last), from)
	if err != nil || got == nil {
		return nil, err
	}
	list := finding.Judge(got)
	if out.Study == nil {
		out.Study = got
		for _, b := range s.a.Job.Builds {
			one := Build{Build: b, Thread: s.bench.threadLeft(b)}
			s.read(got, list, b.ID, &one)
			out.Present = append(out.Present, one)
		}
	}
	builds := make([]Build, len(last))
	for k := range last {
		one := &builds[k]
		*one = Build{Build: made[k].build, Thread: made[k].thread, candidate: last[k]}
		one.Figures[Price], one.Figures[Hours] = made[k].price, made[k].hours()
		s.read(got, list, made[k].build.ID, one)
		one.Short = append(one.Short, s.must.beside(s.stances(got, made[k].build.ID), one.Thread, made[k].price)...)
	}
	return builds, nil
}

// whole is the whole study of choices beside the job's own builds, driven by whoever
// computes; nil where that was set aside.
func (s *seeker) whole(ctx context.Context, choices [][2]int, from int) (*study.Answer, error) {
	if s.crew == nil {
		return s.drawn(ctx, choices, from)
	}
	s.tell(Progress{Drawn, 0, 1})
	results, err := s.crew.Compute(ctx, []Piece{{Step: Drawn, Axle: -1, Choices: choices, From: from}}, func(int) {})
	if err != nil {
		return nil, err
	}
	if r := &results[0]; r.Aside != "" || r.Driven == nil {
		s.aside = append(s.aside, Aside{Drawn, len(choices), r.Aside})
		return nil, nil
	}
	got, err := s.studied(ctx, choices, from)
	if err == nil {
		drives.Adopt(got, *results[0].Driven)
	}
	return got, err
}

// ends puts those first that go through the whole study: the best of comfort, control and
// money, then the others as they were chosen.
func (s *seeker) ends(judged []candidate) []candidate {
	var first []int
	for _, aim := range []int{Comfort, Control, Price} {
		best := -1
		for k := range judged {
			if best < 0 || rank(&judged[k], &judged[best], aim) {
				best = k
			}
		}
		if best >= 0 && !slices.Contains(first, best) {
			first = append(first, best)
		}
	}
	for k := range judged {
		if !slices.Contains(first, k) {
			first = append(first, k)
		}
	}
	out := make([]candidate, len(judged))
	for k, n := range first {
		out[k] = judged[n]
	}
	copy(judged, out)
	return judged
}

// rank reports whether a candidate comes before another by one aim, what lacks less first.
func rank(a, b *candidate, aim int) bool {
	if x, y := lack(a.short), lack(b.short); x != y { //nolint:floateq // an order
		return x < y
	}
	return less(&a.figures, &b.figures, aim)
}

// read takes a build's figures out of the whole study.
func (s *seeker) read(got *study.Answer, list []finding.Finding, id string, one *Build) {
	price, hours := one.Figures[Price], one.Figures[Hours]
	one.Figures, one.High = driven(got, id, false), driven(got, id, true)
	if math.IsNaN(one.Figures[Control]) && one.candidate.figures[Control] > 0 {
		// No obstacle of the brief lets the body swing: the spectrum's estimate stays.
		one.Figures[Control], one.High[Control] = one.candidate.figures[Control], one.candidate.figures[Control]
	}
	one.Drawn = true
	one.Stance = s.stances(got, id)
	for _, f := range []*Figures{&one.Figures, &one.High} {
		f[Price], f[Hours], f[Stance] = price, hours, 0.5*(one.Stance[0]+one.Stance[1])
	}
	one.Short = s.must.shorts(finding.Every(got, got, id, nil))
	for i := range list {
		f := &list[i]
		if f.Value.Place.Build != id {
			continue
		}
		one.Findings = append(one.Findings, *f)
		if f.Value.State == figure.FromGuesses && !slices.Contains(one.Guessed, f.Value.Code) {
			one.Guessed = append(one.Guessed, f.Value.Code)
		}
	}
	sort.Strings(one.Guessed)
}
