package remedy

import (
	"context"
	"math"
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// tryDraws is how many draws judge a change: enough to tell clear from close, few
// enough that a dozen changes cost less than the study itself.
const tryDraws = 100

// at is one value judged by one rule.
type at struct {
	code  string // of the finding
	place figure.Place
}

// look is every value of a build judged by every rule.
type look map[at]*finding.Finding

// review is a build as it stands in an answer, and what its changes are judged
// against. It only reads the answer.
type review struct {
	a      *study.Answer
	build  *car.Build
	bench  *change.Bench
	known  *known
	laid   *route.Laid // roads, for all builds
	number int         // of the build in the job
	usual  int         // load state of ordinary driving
	was    look        // with all draws
	bare   look        // without draws, each figure with the band it had; of what is at rest
	few    look        // with the draws of a change that is tried; of what is at rest
	drives []from      // of the brief, in its order
	bands  *finding.Bands
}

// from is one road at one speed, or one obstacle.
type from struct {
	place figure.Place // what a drive alone is told by
	event bool
}

// reviewOf makes ready what changes of a build of an answer are judged against; nil
// where the build has no rest in the usual load state.
func reviewOf(ctx context.Context, a *study.Answer, build string, laid *route.Laid) (*review, error) {
	r := &review{a: a, number: -1, usual: -1, laid: laid, bands: finding.BandsOf(a, build)}
	for i, b := range a.Job.Builds {
		if b.ID == build {
			r.build, r.number = b, i
		}
	}
	usual := a.UsualLoad()
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == usual {
			r.usual = i
		}
	}
	if r.build == nil || r.usual < 0 || a.Cases[r.number][r.usual].Err != nil {
		return nil, nil
	}
	r.bench = change.At(a, r.number, r.usual)
	r.known = newKnown(r.bench)
	seen := map[figure.Place]bool{}
	for i := range a.Values {
		v := &a.Values[i]
		if v.Place.Build != build {
			continue
		}
		if v.Tier != figure.Time || v.Place.Road == "" && v.Place.Event == "" {
			continue
		}
		p := figure.Place{Build: build, Load: v.Place.Load, Road: v.Place.Road, Event: v.Place.Event, Speed: v.Place.Speed, Corner: figure.NoCorner}
		if !seen[p] {
			seen[p] = true
			r.drives = append(r.drives, from{p, p.Event != ""})
		}
	}
	r.was = lookOf(finding.Every(a, a, build, nil))
	same := *r.build
	got, err := a.Again(ctx, &same, a.Job.Loads, tryDraws)
	if err != nil {
		return nil, err
	}
	r.few = lookOf(finding.Every(got, a, build, nil))
	if got, err = a.Again(ctx, &same, a.Job.Loads, 0); err != nil {
		return nil, err
	}
	r.bare = lookOf(finding.Every(got, a, build, r.bands.Of))
	return r, nil
}

func lookOf(list []finding.Finding) look {
	out := make(look, len(list))
	for i := range list {
		f := &list[i]
		k := at{f.Code, f.Value.Place}
		if out[k] == nil || finding.Worse(f, out[k]) {
			out[k] = f
		}
	}
	return out
}

// rest looks at a changed build at rest in every load state, without draws: each
// figure keeps the band it had; and how much higher its axles stand [m]. nil
// where the car has no rest, or stands higher than anybody would put it.
func (r *review) rest(ctx context.Context, changed *car.Build) (look, float64, error) {
	got, err := r.a.Again(ctx, changed, r.a.Job.Loads, 0)
	if err != nil || len(got.Failures) > r.failures() || r.tooHigh(got) {
		return nil, 0, ctx.Err()
	}
	return lookOf(finding.Every(got, r.a, r.build.ID, r.bands.Of)), r.rise(got), nil
}

// How much higher than the car came in a change may put an axle, and how much
// higher than it stands where the build is what came in: past that it is another
// car than was asked for. Chosen. [m]
const (
	overBaseline = 5e-3
	overItself   = 20e-3
)

// tooHigh reports whether a change puts an axle higher than anybody would.
func (r *review) tooHigh(got *study.Answer) bool {
	usual := r.a.Job.Loads[r.usual].ID
	for axle := range 2 {
		was, now := height(r.a, r.build.ID, usual, axle), height(got, r.build.ID, usual, axle)
		if now > math.Max(was, r.most(axle))+1e-4 {
			return true
		}
	}
	return false
}

// most is how high an axle may be put [m].
func (r *review) most(axle int) float64 {
	usual := r.a.Job.Loads[r.usual].ID
	if r.a.Reference != r.build.ID {
		if h := height(r.a, r.a.Reference, usual, axle); !math.IsNaN(h) {
			return h + overBaseline
		}
	}
	return height(r.a, r.build.ID, usual, axle) + overItself
}

// failures are the load states in which the build had no rest before.
func (r *review) failures() int {
	n := 0
	for i := range r.a.Failures {
		if r.a.Failures[i].Build == r.build.ID {
			n++
		}
	}
	return n
}

// corners looks at a changed build in corners and at speed, without draws.
func (r *review) corners(ctx context.Context, changed *car.Build) (look, error) {
	if r.a.Options.NoCorners {
		return nil, nil
	}
	got, err := r.a.AgainInCorners(ctx, changed, r.a.Job.Loads, 0)
	if err != nil {
		return nil, ctx.Err()
	}
	return lookOf(finding.Every(got, r.a, r.build.ID, r.bands.Of)), nil
}

// driven looks at a changed build over some of the drives.
func (r *review) driven(ctx context.Context, got *study.Answer, over []from, samples int) (look, error) {
	if drives.OptionsOf(r.a).Samples == 0 || len(over) == 0 {
		return nil, nil
	}
	opt := drives.OptionsOf(r.a)
	opt.Mounts, opt.EventsOnly = false, true
	opt.Only = make([]figure.Place, len(over))
	for i := range over {
		opt.Only[i] = over[i].place
		opt.EventsOnly = opt.EventsOnly && over[i].event
	}
	if samples < opt.Samples {
		opt.Samples, opt.Unchecked = samples, true
	}
	if err := drives.RideLaid(ctx, got, opt, r.laid, nil); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, nil //nolint:nilerr // a change that cannot be driven is judged by the rest
	}
	out := look{}
	for k, f := range lookOf(finding.Every(got, r.a, r.build.ID, r.bands.Of)) {
		if f.Value.Tier == figure.Time {
			out[k] = f
		}
	}
	return out, nil
}

// tried is a changed build as it was judged.
type tried struct {
	answer *study.Answer // at rest, with draws, and over what was driven
	corner *study.Answer // in corners, without
	look   look
	whole  bool // every road was driven, with all its samples
}

// try puts a changed build through the study: at rest with draws in every load
// state, in corners, over every obstacle, and over the roads that are the worst
// of a rule, or over all with as many samples as the answer.
func (r *review) try(ctx context.Context, changed *car.Build, draws int, whole bool) (*tried, error) {
	got, err := r.a.Again(ctx, changed, r.a.Job.Loads, draws)
	if err != nil || len(got.Failures) > r.failures() || r.tooHigh(got) {
		return nil, ctx.Err()
	}
	t := &tried{answer: got, look: lookOf(finding.Every(got, r.a, r.build.ID, nil)), whole: whole}
	if !r.a.Options.NoCorners {
		if t.corner, err = r.a.AgainInCorners(ctx, changed, r.a.Job.Loads, 0); err != nil {
			return nil, ctx.Err()
		}
		for k, f := range lookOf(finding.Every(t.corner, r.a, r.build.ID, r.bands.Of)) {
			if t.look[k] == nil {
				t.look[k] = f
			}
		}
	}
	over, samples := r.drives, drives.OptionsOf(r.a).Samples
	if !whole {
		over, samples = r.worst(), min(samples, 2)
	}
	drove, err := r.driven(ctx, got, over, samples)
	if err != nil {
		return nil, err
	}
	for k, f := range drove {
		t.look[k] = f
	}
	return t, nil
}

// worst are the obstacles, and of the roads the one where each rule is worst.
func (r *review) worst() []from {
	hard := map[string]*finding.Finding{}
	for k, f := range r.was {
		if k.place.Road == "" || f.Value.Tier != figure.Time {
			continue
		}
		if w := hard[k.code]; w == nil || finding.Worse(f, w) || !finding.Worse(w, f) && earlier(&f.Value.Place, &w.Value.Place) {
			hard[k.code] = f
		}
	}
	var out []from
	for _, d := range r.drives {
		keep := d.event
		for _, f := range hard {
			p := &f.Value.Place
			keep = keep || p.Road == d.place.Road && p.Speed == d.place.Speed && p.Load == d.place.Load //nolint:floateq // the same drive
		}
		if keep {
			out = append(out, d)
		}
	}
	return out
}

// earlier breaks ties, so that the order of a map changes nothing.
func earlier(a, b *figure.Place) bool {
	switch {
	case a.Road != b.Road:
		return a.Road < b.Road
	case a.Speed != b.Speed: //nolint:floateq // typed speeds
		return a.Speed < b.Speed
	case a.Load != b.Load:
		return a.Load < b.Load
	}
	return a.Corner < b.Corner
}

// row is a rule at an axle: the worst of its places.
type row struct {
	code string
	axle int
}

// unknown counts the rules that nothing is known of.
func (l look) unknown() int {
	known := map[string]bool{}
	for _, f := range l {
		known[f.Code] = known[f.Code] || f.Verdict != finding.Unknown
	}
	n := 0
	for _, is := range known {
		if !is {
			n++
		}
	}
	return n
}

// rows are the worst places by rule and axle.
func (l look) rows() map[row]*finding.Finding {
	out := map[row]*finding.Finding{}
	for _, f := range l {
		k := row{f.Code, f.Axle()}
		if w := out[k]; w == nil || finding.Worse(f, w) || !finding.Worse(w, f) && before(f, w) {
			out[k] = f
		}
	}
	return out
}

func before(f, g *finding.Finding) bool {
	p, q := &f.Value.Place, &g.Value.Place
	if p.Event != q.Event {
		return p.Event < q.Event
	}
	return earlier(p, q)
}

// deeper is by how much a finding that is over already has to go farther, as a
// part of how far it is over, and a close one has to become likelier, to be worth
// a word. Chosen.
const (
	deeper = 0.1
	likely = 0.05
	sooner = 0.25 // of the margin that is used up where a clear one becomes close
)

// breaks are the findings that are worse in a look than before, hardest first,
// by rule and axle the worst. Places that were not looked at again are left out.
func (r *review) breaks(now look) []finding.Break {
	worst := map[row]*finding.Break{}
	for k, n := range now {
		w := r.was[k]
		if few := r.few[k]; few != nil && n.Value.Tier == figure.Static {
			w = few
		}
		b := broken(w, n)
		if b == nil {
			continue
		}
		id := row{n.Code, n.Axle()}
		if old := worst[id]; old == nil || graver(b, old) {
			worst[id] = b
		}
	}
	out := make([]finding.Break, 0, len(worst))
	for _, b := range worst {
		out = append(out, *b)
	}
	sort.Slice(out, func(i, j int) bool {
		x, y := &out[i], &out[j]
		if a, b := finding.Hardness(x.Code), finding.Hardness(y.Code); a != b {
			return a < b
		}
		if x.Code != y.Code {
			return x.Code < y.Code
		}
		return x.Place.Corner < y.Place.Corner
	})
	return out
}

func broken(w, n *finding.Finding) *finding.Break {
	if !n.Loud() {
		return nil
	}
	b := &finding.Break{Code: n.Code, Place: n.Value.Place, Judges: n.Value.Code, After: n.Value.Value, Now: n.Verdict, Probability: n.Probability, Before: math.NaN(), Was: finding.Clear}
	if w == nil {
		return b // how it rests: a finding of its own that was not there
	}
	b.Before, b.Was = w.Value.Value, w.Verdict
	switch {
	case n.Verdict == finding.Over && w.Verdict == finding.Close && n.Probability <= w.Probability+likely:
		return nil // as good as over before
	case n.Verdict == finding.Over && w.Verdict != finding.Over:
		return b
	case !w.Loud() && (n.Probability > w.Probability+likely || n.Margin() < (1-sooner)*w.Margin()):
		return b
	case n.Verdict == w.Verdict && n.Verdict == finding.Close && n.Probability > w.Probability+likely:
		return b
	case n.Verdict == finding.Over && w.Verdict == finding.Over && n.Margin() < w.Margin()-deeper*math.Abs(w.Margin())-1e-9:
		return b
	}
	return nil
}

func graver(a, b *finding.Break) bool {
	if a.Now != b.Now {
		return a.Now == finding.Over
	}
	if a.Probability != b.Probability { //nolint:floateq // an order, not a comparison
		return a.Probability > b.Probability
	}
	return earlier(&a.Place, &b.Place)
}

// newlyOver counts what a change turns over that was not.
func newlyOver(list []finding.Break) int {
	n := 0
	for i := range list {
		if list[i].Now == finding.Over && list[i].Was != finding.Over {
			n++
		}
	}
	return n
}

// tooHard reports whether a change breaks what is harder than a finding, or turns
// over what is as hard.
func tooHard(list []finding.Break, mends string) bool {
	for i := range list {
		b := &list[i]
		if finding.AtLeastAsHard(b.Code, mends) && (b.Now == finding.Over || !finding.AtLeastAsHard(mends, b.Code)) {
			return true
		}
	}
	return false
}
