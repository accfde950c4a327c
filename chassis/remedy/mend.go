package remedy

import (
	"context"
	"slices"
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// How many ways out of a finding are put through the study whole, and how many of
// them are kept; the second that cures and breaks nothing ends it. Chosen.
const (
	mostTries    = 5
	mostRemedies = 3
)

// mostOver is how much a remedy may turn over that was not: what mends one thing
// and spoils two is none. Chosen.
const mostOver = 1

// Mend gives one finding its remedies and what to measure next, where they were
// left out. It reads the answer and writes to the finding alone.
func Mend(ctx context.Context, a *study.Answer, f *finding.Finding) error {
	r, err := reviewOf(ctx, a, f.Value.Place.Build, new(route.Laid))
	if err != nil {
		return err
	}
	return r.mend(ctx, f)
}

// helps are the kinds that are tried for findings that cost a drive or a corner
// each time; of the others all are.
var helps = map[string][]finding.Kind{
	"meets-stop-in-corner":        {finding.Raise, finding.Spring, finding.Stop, finding.Bar, finding.MadeToOrder},
	"lifts-wheel-in-corner":       {finding.Spring, finding.Bar, finding.MadeToOrder},
	"less-understeer-than-before": {finding.Spring, finding.Bar},
	"stop-blow":                   {finding.Raise, finding.Spring, finding.Stop, finding.Clicks, finding.Damper, finding.MadeToOrder},
	"hits-stops-hard":             {finding.Raise, finding.Spring, finding.Stop, finding.Clicks, finding.Damper, finding.MadeToOrder},
	"tyre-goes-light":             {finding.Clicks, finding.Spring, finding.MadeToOrder},
	"wheel-leaves-ground":         {finding.Clicks, finding.MadeToOrder},
	"leaves-the-ground":           {finding.Clicks},
	"cross-weight-off":            {finding.Level},
	"stands-crooked":              {finding.Level},
	"stands-nose-up":              {finding.Raise},
	"stands-nose-down":            {finding.Raise},
	"keeps-bouncing":              {finding.Clicks, finding.MadeToOrder},
}

// needsCorners are the findings that are looked at in corners.
func needsCorners(code string) bool {
	return code == "meets-stop-in-corner" || code == "lifts-wheel-in-corner" || code == "less-understeer-than-before"
}

// candidate is a move as it was looked at for a finding.
type candidate struct {
	*change.Move
	after *finding.Finding // the finding's row with it
}

func (r *review) mend(ctx context.Context, f *finding.Finding) error {
	if r == nil {
		return nil
	}
	f.Narrow, f.Remedies = r.a.Narrow(f.Value), nil
	if f.Limit == nil && f.Verdict != finding.Over || finding.NoPartChanges(f.Code) {
		return nil
	}
	found, err := r.candidates(ctx, f)
	if err != nil {
		return err
	}
	cures := 0
	for i, c := range found {
		if i >= mostTries || len(f.Remedies) >= mostRemedies || cures >= 2 {
			break
		}
		one, err := r.prove(ctx, f, c.Move)
		if err != nil {
			return err
		}
		if one == nil {
			continue
		}
		if one.VerdictNow == finding.Clear && len(one.Breaks) == 0 {
			cures++
		}
		f.Remedies = append(f.Remedies, *one)
	}
	sort.SliceStable(f.Remedies, func(i, j int) bool { return first(&f.Remedies[i], &f.Remedies[j]) })
	return nil
}

// first puts what cures before what only helps, what is made to order behind what
// is sold, what breaks less before what breaks more, and then keeps the order of
// the kinds.
func first(a, b *finding.Remedy) bool {
	if x, y := a.VerdictNow == finding.Over, b.VerdictNow == finding.Over; x != y {
		return y
	}
	if x, y := a.Kind == finding.MadeToOrder, b.Kind == finding.MadeToOrder; x != y {
		return y
	}
	if x, y := a.VerdictNow == finding.Clear, b.VerdictNow == finding.Clear; x != y {
		return x
	}
	if x, y := newlyOver(a.Breaks), newlyOver(b.Breaks); x != y {
		return x < y
	}
	if x, y := len(a.Breaks) > 0, len(b.Breaks) > 0; x != y {
		return y
	}
	return slices.Index(finding.Kinds(), a.Kind) < slices.Index(finding.Kinds(), b.Kind)
}

// candidates are the best size of each kind of move for a finding, as they look
// without draws: those that clear it first, in the order of the kinds.
func (r *review) candidates(ctx context.Context, f *finding.Finding) ([]candidate, error) {
	var moves []*change.Move
	for axle := range 2 {
		if x := f.Axle(); x < 0 || x == axle {
			moves = append(moves, r.known.axle[axle]...)
		}
	}
	var out []candidate
	for _, group := range change.Kinds(moves) {
		m := group[0]
		list := helps[f.Code]
		if list != nil && !slices.Contains(list, m.Kind) || list == nil && m.Kind == finding.Level || m.Side != figure.NoCorner && f.Value.Place.Corner >= 0 && m.Side != f.Value.Place.Corner {
			continue
		}
		best, err := r.size(ctx, f, group)
		if err != nil {
			return nil, err
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	out = fromStock(out)
	sold := slices.ContainsFunc(out, func(c candidate) bool { return c.Kind != finding.MadeToOrder && c.after.Verdict == finding.Clear })
	if c := max(0, f.Value.Place.Corner); !change.ToOrder(&r.build.Corner[c]) && sold {
		out = slices.DeleteFunc(out, func(c candidate) bool { return c.Kind == finding.MadeToOrder })
	}
	sort.SliceStable(out, func(i, j int) bool {
		x, y := &out[i], &out[j]
		if a, b := x.Kind == finding.MadeToOrder, y.Kind == finding.MadeToOrder; a != b {
			return b
		}
		return x.after.Verdict == finding.Clear && y.after.Verdict != finding.Clear
	})
	return out, nil
}

// fromStock leaves out springs that are only sold somewhere, where one of the catalogue
// at the same place clears the finding.
func fromStock(list []candidate) []candidate {
	return slices.DeleteFunc(slices.Clone(list), func(c candidate) bool {
		return c.Kind == finding.Spring && c.Part == nil && slices.ContainsFunc(list, func(d candidate) bool {
			return d.Code == "stocked-spring" && d.Slot == c.Slot && d.after.Verdict == finding.Clear
		})
	})
}

// size is the first move of a group that clears a finding without breaking what
// is as hard, else the one that helps most; nil where none helps.
func (r *review) size(ctx context.Context, f *finding.Finding, group []*change.Move) (*candidate, error) {
	k := row{f.Code, f.Axle()}
	was := r.was.rows()[k]
	if was == nil {
		was = f
	}
	var fit []*change.Move // that break nothing as hard, at rest
	var looks []map[row]*finding.Finding
	for _, m := range group {
		one := r.atRest(ctx, m)
		if one.err != nil {
			return nil, one.err
		}
		if one.rows != nil && !tooHard(one.breaks, f.Code) {
			fit, looks = append(fit, m), append(looks, one.rows)
		}
	}
	dear := f.Value.Tier == figure.Time || needsCorners(f.Code)
	var best *candidate
	consider := func(m *change.Move, rows map[row]*finding.Finding) (clears bool) {
		now := rows[k]
		if now == nil { // how it rests is no finding any more
			now = &finding.Finding{Code: f.Code, Value: f.Value, Verdict: finding.Clear}
		}
		if !helped(was, now) {
			return false
		}
		c := candidate{m, now}
		if best == nil || better(&c, best) {
			best = &c
		}
		return now.Verdict == finding.Clear
	}
	if !dear {
		for i, m := range fit {
			consider(m, looks[i])
		}
		return best, nil
	}
	// The largest first; where that clears it, the smallest that does.
	low, high := 0, len(fit)-1
	for at := high; low <= high; at = (low + high) / 2 {
		l, err := r.dear(ctx, f, fit[at])
		if err != nil {
			return nil, err
		}
		if l != nil && consider(fit[at], l.rows()) {
			high = at - 1
			continue
		}
		if at == len(fit)-1 && best == nil {
			return nil, nil
		}
		low = at + 1
	}
	return best, nil
}

// dear looks at a move where the finding is: over its drive, or in corners.
func (r *review) dear(ctx context.Context, f *finding.Finding, m *change.Move) (look, error) {
	changed := change.Made(r.build, []*change.Move{m})
	if needsCorners(f.Code) {
		return r.corners(ctx, changed)
	}
	got, err := r.a.Again(ctx, changed, r.a.Job.Loads, 0)
	if err != nil {
		return nil, ctx.Err()
	}
	return r.driven(ctx, got, r.driveOf(&f.Value.Place), 1)
}

// driveOf is the drive of a place.
func (r *review) driveOf(p *figure.Place) []from {
	for _, d := range r.drives {
		if d.place.Road == p.Road && d.place.Event == p.Event && d.place.Load == p.Load && d.place.Speed == p.Speed { //nolint:floateq // the same drive
			return []from{d}
		}
	}
	return nil
}

// breaksAtRest are what a look without draws breaks, held against the look with
// all of them.
func (r *review) breaksAtRest(l look) []finding.Break {
	same := *r
	same.few, same.was = nil, r.bare
	return same.breaks(l)
}

// some is the part of how far a finding is over that has to be gone to be worth a
// word. Chosen.
const some = 0.05

// helped reports whether a row is better than it was, by more than a trifle.
func helped(was, now *finding.Finding) bool {
	if was.Verdict != now.Verdict {
		return finding.Worse(was, now)
	}
	if now.Probability < was.Probability-likely {
		return true
	}
	return was.Verdict == finding.Over && now.Margin() > was.Margin()*(1-some)
}

// better orders two sizes of one kind: what clears before what does not, then the
// smaller of those that clear, and the one that helps more of those that do not.
func better(a, b *candidate) bool {
	if x, y := a.after.Verdict == finding.Clear, b.after.Verdict == finding.Clear; x || y {
		return x && (!y || a.Effort < b.Effort-1e-9)
	}
	return finding.Worse(b.after, a.after)
}

// prove puts a move through the study and judges it by everything; nil where it
// does not help, or breaks what is as hard.
func (r *review) prove(ctx context.Context, f *finding.Finding, m *change.Move) (*finding.Remedy, error) {
	changed, t, err := r.proof(ctx, m)
	if t == nil || err != nil {
		return nil, err
	}
	k := row{f.Code, f.Axle()}
	now, was := t.look.rows()[k], r.was.rows()[k]
	if was == nil {
		was = f
	}
	one := remedyOf(m, changed)
	one.Breaks = r.breaks(t.look)
	usual := r.a.Job.Loads[r.usual].ID
	for axle := range 2 {
		one.Higher[axle] = height(t.answer, r.build.ID, usual, axle) - height(r.a, r.build.ID, usual, axle)
	}
	if tooHard(one.Breaks, f.Code) || newlyOver(one.Breaks) > mostOver || now != nil && !helped(was, now) {
		return nil, nil
	}
	one.VerdictNow, one.AfterAt, one.After = finding.Clear, f.Value.Place, f.Value.Value
	if now != nil {
		one.VerdictNow, one.AfterAt, one.After = now.Verdict, now.Value.Place, now.Value.Value
	}
	one.Cures = one.VerdictNow == finding.Clear || one.VerdictNow == finding.Close && f.Verdict == finding.Over
	one.Betters, one.Worsens = r.effects(t, f, m.Axle)
	return &one, nil
}

// remedyOf is a move as it is told.
func remedyOf(m *change.Move, changed *car.Build) finding.Remedy {
	return finding.Remedy{
		Path: m.Path, Code: m.Code, Kind: m.Kind, Change: m.By, Unit: m.Unit, Sizes: m.Sizes, Choice: m.Choice, Part: m.Part, Unsure: m.Unsure, Axle: m.Axle, Side: m.Side, Build: changed,
	}
}
