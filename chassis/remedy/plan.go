package remedy

import (
	"context"
	"errors"
	"maps"
	"math"
	"slices"
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// Plan is the smallest set of changes of a build that makes it clear together, or
// as clear as parts that are sold make it.
type Plan struct {
	Build  string
	Steps  []finding.Remedy // parts first, then what is turned; none where nothing has to be done, or nothing helps
	Rows   []Row            // by rule and axle what is not clear before, or after; hardest first
	TooLow []TooLow
	Stands []Stands
	// NotThese says that these parts are not for this car: something hard stays
	// over, or the plan takes the drop back.
	NotThese bool
	Unknown  int        // rules that nothing is known of, anywhere on the build
	Hours    float64    // of work, common practice, no source; 0 without steps [s]
	Made     *car.Build // with the steps made
}

// Row is a rule at an axle before and after a plan.
type Row struct {
	Code          string // of the finding
	Axle          int    // −1: of the whole car
	Judges        string // code of the figure
	Place         figure.Place
	PlaceAfter    figure.Place
	Before, After float64 // the worst of it [SI unit of the figure]
	Was, Now      finding.Verdict
	Probability   float64 // that the limit is broken after it [-]
}

// TooLow is an axle that is too low for these parts: so many of its findings are
// gone where it stands higher, whatever else is changed or not.
type TooLow struct {
	Axle   int
	Of     int      // findings of the axle that are not clear
	Codes  []string // of those that are gone
	Higher float64  // [m]
	Height float64  // hub to arch there, mean of both sides, in the usual load state [m]
}

// Stands is how high an axle stands with a plan.
type Stands struct {
	Axle          int
	Before, After float64 // hub to arch, mean of both sides, in the usual load state [m]
	Baseline      float64 // of the reference build; NaN where it has none [m]
}

// most is how many findings get remedies: each is judged by everything.
const most = 12

// Judge gives the gravest findings their remedies, and every build its plan, in
// the order of the job; none of either where the options leave them out.
func Judge(ctx context.Context, a *study.Answer, list []finding.Finding) ([]Plan, error) {
	if a.Options.NoRemedies {
		return nil, nil
	}
	builds := len(a.Job.Builds)
	laid := new(route.Laid)
	reviews := make([]*review, builds)
	errs := make([]error, builds)
	if err := spread.Each(ctx, builds, a.Options.Workers, func(_, k int) {
		reviews[k], errs[k] = reviewOf(ctx, a, a.Job.Builds[k].ID, laid)
	}); err != nil {
		return nil, err
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var worth []int
	for i := range list {
		if list[i].Loud() && len(worth) < most {
			worth = append(worth, i)
		}
	}
	plans := make([]*Plan, builds)
	errs = make([]error, builds+len(worth))
	err := spread.Each(ctx, len(errs), a.Options.Workers, func(_, k int) {
		if k < builds {
			if a.Options.NoPlans {
				return
			}
			plans[k], errs[k] = reviews[k].plan(ctx)
			return
		}
		f := &list[worth[k-builds]]
		for _, r := range reviews {
			if r != nil && r.build.ID == f.Value.Place.Build {
				errs[k] = r.mend(ctx, f)
			}
		}
	})
	if err := errors.Join(append(errs, err)...); err != nil {
		return nil, err
	}
	var out []Plan
	for _, p := range plans {
		if p != nil {
			out = append(out, *p)
		}
	}
	return out, nil
}

// For makes the plan of one build; nil where it has no rest.
func For(ctx context.Context, a *study.Answer, build string) (*Plan, error) {
	r, err := reviewOf(ctx, a, build, new(route.Laid))
	if r == nil || err != nil {
		return nil, err
	}
	return r.plan(ctx)
}

// aimed is the chance from which a plan is about a finding that is not over.
// Chosen.
const aimed = 0.5

// target reports whether a plan is about a finding.
func target(f *finding.Finding) bool {
	return f.Loud() && (f.Verdict == finding.Over || f.Probability >= aimed) && !finding.NoPartChanges(f.Code)
}

// weight is what a finding weighs in a plan: hardest first. Chosen.
func weight(code string) float64 { return 1 - 0.1*float64(finding.Hardness(code)) }

// over is how much more a finding weighs that is over than one that is close, so
// that no effort is saved at its cost. Chosen.
const over = 10

// score is what a plan leaves: what is over, and by how much of what it was, what
// may be, and the effort of its moves. Less is better.
func (r *review) score(rows map[row]*finding.Finding, moves []*change.Move, rise float64) float64 {
	sum := risen * rise
	was := r.was.rows()
	keys := make([]row, 0, len(rows))
	for k := range rows {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool {
		return keys[i].code < keys[j].code || keys[i].code == keys[j].code && keys[i].axle < keys[j].axle
	})
	for _, k := range keys {
		f := rows[k]
		if !f.Loud() {
			continue
		}
		w := weight(k.code)
		if f.Verdict == finding.Over {
			left := 1.0
			if b := was[k]; b != nil && b.Margin() < 0 {
				left = math.Min(2, math.Max(0, f.Margin()/b.Margin()))
			}
			sum += over * w * (0.7 + 0.3*left)
		} else {
			sum += w * f.Probability * (1 + over*math.Max(0, f.Probability-aimed))
		}
	}
	for _, m := range moves {
		sum += m.Effort
	}
	return sum
}

// risen is what the height weighs that a plan takes back [1/m]. Chosen.
const risen = 10

// rise is how much higher the axles stand with a look, above each other [m].
func (r *review) rise(got *study.Answer) float64 {
	usual := r.a.Job.Loads[r.usual].ID
	sum := 0.0
	for axle := range 2 {
		sum += math.Max(0, height(got, r.build.ID, usual, axle)-height(r.a, r.build.ID, usual, axle))
	}
	return sum
}

// state is some moves of a build as they look without draws.
type state struct {
	moves []*change.Move
	rows  map[row]*finding.Finding
	rise  float64 // of its axles [m]
	score float64
}

// How wide and how deep a plan is looked for, and how many of a round are driven.
// Chosen.
const (
	wide    = 2
	deep    = 4
	driving = 5
)

func (r *review) plan(ctx context.Context) (*Plan, error) {
	if r == nil {
		return nil, nil
	}
	was := r.was.rows()
	p := &Plan{Build: r.build.ID, Made: r.build, Unknown: r.was.unknown()}
	var err error
	if p.TooLow, err = r.tooLow(ctx, was); err != nil {
		return nil, err
	}
	from := r.was.rows()
	for k, f := range r.bare.rows() {
		from[k] = f // as the states that follow are looked at
	}
	best := []state{{rows: from, score: r.score(from, nil, 0)}}
	for _, order := range []bool{false, true} {
		for _, axle := range r.axles(best[0].rows) {
			if best, err = r.search(ctx, best, axle, order); err != nil {
				return nil, err
			}
		}
		if !slices.ContainsFunc(loudRows(best[0].rows), func(f *finding.Finding) bool { return target(f) }) {
			break
		}
	}
	for _, s := range best {
		if len(s.moves) == 0 {
			break
		}
		t, err := r.try(ctx, change.Made(r.build, s.moves), tryDraws, true)
		if err != nil {
			return nil, err
		}
		if t == nil || r.harms(t.look) {
			continue
		}
		r.settle(p, s.moves, t)
		return p, nil
	}
	p.Rows = rowsOf(was, was)
	p.NotThese = slices.ContainsFunc(p.Rows, staysHard)
	return p, nil
}

// harms reports whether a plan turns something over that was not, or breaks what
// is as hard as the hardest that it clears.
func (r *review) harms(now look) bool {
	hardest := math.MaxInt
	after := now.rows()
	for k, w := range r.was.rows() {
		if n := after[k]; target(w) && (n == nil || n.Verdict != finding.Over) {
			hardest = min(hardest, finding.Hardness(k.code))
		}
	}
	list := r.breaks(now)
	for i := range list {
		if list[i].Now == finding.Over || finding.Hardness(list[i].Code) <= hardest && list[i].Probability >= aimed {
			return true
		}
	}
	return false
}

func loudRows(rows map[row]*finding.Finding) []*finding.Finding {
	var out []*finding.Finding
	for _, f := range rows {
		if f.Loud() {
			out = append(out, f)
		}
	}
	return out
}

// axles are those with something to mend, the one with the hardest first.
func (r *review) axles(rows map[row]*finding.Finding) []int {
	hard := [2]int{math.MaxInt, math.MaxInt}
	for k, f := range rows {
		for x := range hard {
			if target(f) && (k.axle == x || k.axle < 0) {
				hard[x] = min(hard[x], finding.Hardness(k.code))
			}
		}
	}
	var out []int
	for _, x := range []int{1, 0} {
		if hard[x] < math.MaxInt {
			out = append(out, x)
		}
	}
	if len(out) == 2 && hard[0] < hard[1] {
		slices.Reverse(out)
	}
	return out
}

// search adds moves at an axle to states as long as it pays. With order, dampers
// that are made to order are among them; where the build's are of that kind they
// always are.
func (r *review) search(ctx context.Context, from []state, axle int, order bool) ([]state, error) {
	var moves []*change.Move
	crooked := slices.ContainsFunc(loudRows(from[0].rows), func(f *finding.Finding) bool { return target(f) && slices.Contains(helps[f.Code], finding.Level) })
	for _, m := range r.known.axle[axle] {
		if m.Kind == finding.Level && !crooked {
			continue
		}
		c := 2 * axle
		if m.Side != figure.NoCorner {
			c = m.Side
		}
		if m.Kind != finding.MadeToOrder || order || change.ToOrder(&r.build.Corner[c]) {
			moves = append(moves, m)
		}
	}
	best := from
	for range deep {
		next, err := r.round(ctx, best, moves)
		if err != nil {
			return nil, err
		}
		if len(next) == 0 || next[0].score >= best[0].score-1e-9 {
			break
		}
		best = next
	}
	return best, nil
}

// round is the best states with one move more, or one of another size.
func (r *review) round(ctx context.Context, from []state, moves []*change.Move) ([]state, error) {
	var out []state
	for _, s := range from {
		for _, sizes := range change.Kinds(moves) {
			found, err := r.sizes(ctx, &s, sizes)
			if err != nil {
				return nil, err
			}
			out = append(out, found...)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].score < out[j].score })
	out = spreadOut(out, driving)
	for i := range out {
		if err := r.lookAtDrives(ctx, &out[i]); err != nil {
			return nil, err
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].score < out[j].score })
	return append(out[:min(len(out), wide)], from...)[:min(len(out)+len(from), wide)], nil
}

// sizes is a state with each of every second size of a move, and the sizes beside the
// best of those.
func (r *review) sizes(ctx context.Context, s *state, sizes []*change.Move) ([]state, error) {
	var out []state
	best, at := math.Inf(1), 0
	look := func(i int) error {
		m := sizes[i]
		if slices.Contains(s.moves, m) {
			return nil
		}
		list := slices.DeleteFunc(slices.Clone(s.moves), func(o *change.Move) bool { return o.Slot == m.Slot || fights(o, m) })
		list = append(list, m)
		rows, rise, err := r.lookAtRest(ctx, list)
		if rows == nil || err != nil {
			return err
		}
		out = append(out, state{list, rows, rise, r.score(rows, list, rise)})
		if now := out[len(out)-1].score; now < best {
			best, at = now, i
		}
		return nil
	}
	for i := 0; i < len(sizes); i += 2 {
		if err := look(i); err != nil {
			return nil, err
		}
	}
	for _, i := range []int{at - 1, at + 1} {
		if i > 0 && i < len(sizes) {
			if err := look(i); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// spreadOut keeps the best state of each kind of last move, so that what only a
// drive shows has its chance, and the best of the rest.
func spreadOut(list []state, n int) []state {
	var out, rest []state
	count := map[finding.Kind]bool{}
	for _, s := range list {
		k := s.moves[len(s.moves)-1].Kind
		if !count[k] && len(out) < n {
			count[k] = true
			out = append(out, s)
		} else {
			rest = append(rest, s)
		}
	}
	return append(out, rest[:min(len(rest), max(0, n-len(out)))]...)
}

// fights reports moves that work against each other: a stop that is cut and a
// packer at one axle, or two lengths of one damper.
func fights(a, b *change.Move) bool {
	stops := func(m *change.Move) bool { return m.Kind == finding.Stop || m.Kind == finding.Damper } // a cut stop is of the damper it was cut for
	return a.Axle == b.Axle && (stops(a) && stops(b) || a.Kind == finding.Damper && b.Kind == finding.MadeToOrder || a.Kind == finding.MadeToOrder && b.Kind == finding.Damper || a.Kind == finding.Helper && b.Kind == finding.Spring || a.Kind == finding.Spring && b.Kind == finding.Helper ||
		a.Kind == finding.Helper && b.Code == "longer-spring" || a.Code == "longer-spring" && b.Kind == finding.Helper ||
		a.Kind == finding.MadeToOrder && b.Kind == finding.MadeToOrder && a.Unit == b.Unit)
}

// lookAtRest is every row with some moves made, what is driven as it was before.
func (r *review) lookAtRest(ctx context.Context, moves []*change.Move) (map[row]*finding.Finding, float64, error) {
	one := r.atRest(ctx, moves...)
	if one.rows == nil || one.err != nil {
		return nil, 0, one.err
	}
	rows := maps.Clone(one.rows)
	for k, f := range r.was.rows() {
		if f.Value.Tier == figure.Time || rows[k] == nil && f.Value.Tier != figure.Static || needsCorners(k.code) {
			rows[k] = f
		}
	}
	return rows, one.rise, nil
}

// lookAtDrives drives a state where something that a plan is about is driven, and
// takes it round corners where something is met there.
func (r *review) lookAtDrives(ctx context.Context, s *state) error {
	one := entry(r.known, r.known.roads, s.moves)
	one.Do(func() {
		var l look
		l, one.err = r.away(ctx, change.Made(r.build, s.moves))
		one.rows = cut(l.rows())
	})
	if one.err != nil {
		return one.err
	}
	for k, f := range one.rows {
		if old := s.rows[k]; old != nil && (f.Value.Tier == figure.Time || needsCorners(k.code)) {
			s.rows[k] = f
		}
	}
	s.score = r.score(s.rows, s.moves, s.rise)
	return nil
}

// away looks at a changed build over the drives, and in the corners, of what a plan is
// about.
func (r *review) away(ctx context.Context, changed *car.Build) (look, error) {
	places := map[figure.Place]bool{}
	corners := false
	for k, f := range r.was.rows() {
		if !f.Loud() || f.Verdict != finding.Over && f.Probability < 0.2 {
			continue
		}
		corners = corners || needsCorners(k.code)
		if d := r.driveOf(&f.Value.Place); f.Value.Tier == figure.Time && d != nil {
			places[d[0].place] = true
		}
	}
	var over []from
	for _, d := range r.drives {
		if places[d.place] {
			over = append(over, d)
		}
	}
	out := look{}
	if len(over) > 0 {
		got, err := r.a.Again(ctx, changed, r.a.Job.Loads, 0)
		if err != nil {
			return nil, ctx.Err()
		}
		l, err := r.driven(ctx, got, over, 1)
		if err != nil {
			return nil, err
		}
		maps.Copy(out, l)
	}
	if corners {
		l, err := r.corners(ctx, changed)
		if err != nil {
			return nil, err
		}
		for k, f := range l {
			if needsCorners(k.code) {
				out[k] = f
			}
		}
	}
	return out, nil
}

// settle writes a plan down as it was judged.
func (r *review) settle(p *Plan, moves []*change.Move, t *tried) {
	sort.SliceStable(moves, func(i, j int) bool {
		a, b := moves[i], moves[j]
		if x, y := a.Turned(), b.Turned(); x != y {
			return y
		}
		if a.Axle != b.Axle {
			return a.Axle < b.Axle
		}
		return slices.Index(finding.Kinds(), a.Kind) < slices.Index(finding.Kinds(), b.Kind)
	})
	p.Made = change.Made(r.build, moves)
	for _, m := range moves {
		p.Steps = append(p.Steps, remedyOf(m, p.Made))
	}
	p.Rows = rowsOf(r.was.rows(), t.look.rows())
	p.Hours = change.Hours(moves)
	usual := r.a.Job.Loads[r.usual].ID
	for axle := range 2 {
		s := Stands{Axle: axle, Before: height(r.a, r.build.ID, usual, axle), After: height(t.answer, r.build.ID, usual, axle), Baseline: math.NaN()}
		if r.a.Reference != r.build.ID {
			s.Baseline = height(r.a, r.a.Reference, usual, axle)
		}
		if math.Abs(s.After-s.Before) > 1e-3 {
			p.Stands = append(p.Stands, s)
			// Three quarters of the drop taken back is another car than was asked for. Chosen.
			if drop := s.Baseline - s.Before; drop > 10e-3 && s.After-s.Before > 0.75*drop {
				p.NotThese = true
			}
		}
	}
	p.NotThese = p.NotThese || slices.ContainsFunc(p.Rows, staysHard)
}

// staysHard reports what makes parts wrong for a car: a corner that stays on its
// stop at rest, or anything harder.
func staysHard(r Row) bool {
	return r.Now == finding.Over && finding.AtLeastAsHard(r.Code, "stop-carries-load") && !finding.NoPartChanges(r.Code)
}

// height is hub to arch of an axle, the mean of both sides.
func height(a *study.Answer, build, load string, axle int) float64 {
	l, r := a.Get("arch-height", build, load, 2*axle), a.Get("arch-height", build, load, 2*axle+1)
	if l == nil || r == nil {
		return math.NaN()
	}
	return 0.5 * (l.Value + r.Value)
}

// rowsOf are the rows that are loud before or after, hardest first.
func rowsOf(was, now map[row]*finding.Finding) []Row {
	var out []Row
	add := func(k row, w, n *finding.Finding) {
		one := Row{Code: k.code, Axle: k.axle, Before: math.NaN(), After: math.NaN(), Was: finding.Clear, Now: finding.Clear}
		if w != nil {
			one.Judges, one.Place, one.Before, one.Was = w.Value.Code, w.Value.Place, w.Value.Value, w.Verdict
		}
		if n != nil {
			one.Judges, one.PlaceAfter, one.After, one.Now, one.Probability = n.Value.Code, n.Value.Place, n.Value.Value, n.Verdict, n.Probability
		}
		out = append(out, one)
	}
	for k, w := range was {
		if n := now[k]; w.Loud() || n != nil && n.Loud() {
			add(k, w, n)
		}
	}
	for k, n := range now {
		if was[k] == nil && n.Loud() {
			add(k, nil, n)
		}
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		if x, y := finding.Hardness(a.Code), finding.Hardness(b.Code); x != y {
			return x < y
		}
		if a.Code != b.Code {
			return a.Code < b.Code
		}
		return a.Axle > b.Axle
	})
	return out
}
