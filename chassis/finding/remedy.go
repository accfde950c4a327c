package finding

import (
	"context"
	"math"

	"trunnion/chassis/drives"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// change is something that could be done to a build.
type change struct {
	path, code string
	by         float64 // [SI unit of unit]
	unit       string
	apply      func(ax *car.BuildCorner) // a corner's parts, until it is placed
	// whole changes the build, choice names what it chooses, axle is where it does
	// so, and side the one corner it does so at; NoCorner for both sides.
	whole  func(b *car.Build)
	choice string
	axle   int
	side   int
}

// remedyDraws is how many draws judge a remedy: enough to tell clear from
// close, few enough that a dozen remedies cost less than the study itself.
const remedyDraws = 200

// addRemedies tries what a specialist could change about a finding, each put
// through the same study with the car kept at the height it has, and keeps
// those that improve it.
func addRemedies(ctx context.Context, a *study.Answer, f *Finding) error {
	inCorner := cornerRule(f.Code) != nil
	if f.Limit == nil || f.Value.Place.Corner == figure.NoCorner && !inCorner {
		return nil
	}
	build := find(a, f.Value.Place.Build)
	if build == nil {
		return nil
	}
	list := candidates
	if inCorner {
		list = cornerCandidates
	}
	for _, c := range list(a, f, build) {
		r, err := try(ctx, a, f, build, &c)
		if err != nil {
			return err
		}
		if r != nil {
			f.Remedies = append(f.Remedies, *r)
		}
	}
	order(f.Remedies)
	return nil
}

func find(a *study.Answer, id string) *car.Build {
	for _, b := range a.Job.Builds {
		if b.ID == id {
			return b
		}
	}
	return nil
}

// try runs one change through the study; nil when it does not help.
func try(ctx context.Context, a *study.Answer, f *Finding, build *car.Build, c *change) (*Remedy, error) {
	changed := *build
	again := a.Again
	if cornerRule(f.Code) != nil {
		again = a.AgainInCorners
	}
	c.whole(&changed)
	got, err := again(ctx, &changed, onlyLoads(a, f.Value.Place.Load), remedyDraws)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, nil //nolint:nilerr // a change the car cannot rest on is no remedy
	}
	r := &Remedy{Path: c.path, Code: c.code, Change: c.by, Unit: c.unit, Choice: c.choice, Alone: c.side != figure.NoCorner}
	v, probability, err := judgeAgain(ctx, a, got, f, r)
	if v == nil || err != nil {
		return nil, err
	}
	r.After = v.Value
	better := v.Value > f.Value.Value
	if f.Limit.Upper {
		better = v.Value < f.Value.Value
	}
	if !better || probability > f.Probability {
		return nil, nil
	}
	r.Cures = r.VerdictNow == Clear || r.VerdictNow == Close && f.Verdict == Over
	r.Betters, r.Worsens = effects(a, got, f, c.axle, !build.Alike(c.axle))
	return r, nil
}

// asWide is a value of one drive with the band that the same figure had before the change: draws are not driven again for
// every remedy.
func asWide(v, was *figure.Value) *figure.Value {
	if v.HasBand || !was.HasBand {
		return v
	}
	out := *v
	out.Low, out.High, out.HasBand, out.BandOf = v.Value-(was.Value-was.Low), v.Value+(was.High-was.Value), true, was.BandOf
	return &out
}

// judgeAgain judges the changed build by the finding's own rule; a value from a
// drive is driven again, over the same road.
func judgeAgain(ctx context.Context, a, got *study.Answer, f *Finding, r *Remedy) (*figure.Value, float64, error) {
	p := f.Value.Place
	var probability float64
	if f.Value.Tier == figure.Time {
		opt := drives.OptionsOf(a)
		opt.Only = &p
		if err := drives.Ride(ctx, got, opt, nil); err != nil {
			return nil, 0, err
		}
		v := got.At(f.Value.Code, p)
		if v == nil || v.State == figure.Unknown {
			return nil, 0, nil
		}
		r.VerdictNow, probability = bandVerdict(asWide(v, f.Value), f.Limit)
		return v, probability, nil
	}
	if cr := cornerRule(f.Code); cr != nil {
		v := got.At(f.Value.Code, p)
		if v == nil || v.State == figure.Unknown {
			return nil, 0, nil
		}
		r.VerdictNow, probability = cr.verdict(got, v, f.Limit)
		return v, probability, nil
	}
	if p.Mode != "" {
		v := got.At(f.Value.Code, p)
		if v == nil || v.State == figure.Unknown {
			return nil, 0, nil
		}
		r.VerdictNow, probability = bandVerdict(v, f.Limit)
		return v, probability, nil
	}
	v := got.Get(f.Value.Code, p.Build, p.Load, p.Corner)
	rule := ruleOf(f.Code)
	if v == nil || rule == nil || v.State == figure.Unknown {
		return nil, 0, nil
	}
	r.VerdictNow, probability = rule.verdict(got, v, f.Limit)
	return v, probability, nil
}

// onlyLoads are the load states a remedy is looked at in: the finding's and
// the usual one.
func onlyLoads(a *study.Answer, load string) []car.Load {
	var out []car.Load
	usual := load
	if a.Job.Brief != nil {
		usual = usualLoad(a, a.Job.Brief)
	}
	for _, l := range a.Job.Loads {
		if l.ID == load || l.ID == usual {
			out = append(out, l)
		}
	}
	return out
}

func ruleOf(code string) *Rule {
	for i := range rules {
		if rules[i].Code == code {
			return &rules[i]
		}
	}
	for i := range roadRules {
		if roadRules[i].Code == code {
			return &roadRules[i].Rule
		}
	}
	return nil
}

// watched are the values a remedy may change, with the direction that is
// worse and the least change worth a word.
var watched = []struct {
	code     string
	lessGood float64 // +1: more is worse; −1: less is worse
	least    float64 // [SI]
	usual    bool    // looked at in the usual load state
}{
	{"travel-to-stop", -1, 1e-3, false},
	{"travel-to-solid", -1, 1e-3, false},
	{"travel-to-open", -1, 1e-3, true},
	{"spring-gap-open", 1, 1e-3, true},
	{"solid-before-arch", -1, 1e-3, true},
	{"solid-before-block", -1, 1e-3, true},
	{"catch-speed", -1, 0.02, false},
	{"corner-frequency", 1, 0.02, true},
	{"damping-ratio", -1, 0.01, false},
	// Known where corners were taken again.
	{"stop-contact-acceleration", -1, 0.02 * equilibrium.Gravity, true},
	{"roll-gradient", 1, 0.1 * math.Pi / 180 / equilibrium.Gravity, true},
	{"understeer-gradient", -1, 0.1 * math.Pi / 180 / equilibrium.Gravity, true},
}

// effects lists what else a change does to the corner; of a finding about the
// whole car to the changed axle, by its left corner, and by the one where it does
// more where the two sides differ.
func effects(was, now *study.Answer, f *Finding, axle int, sided bool) (better, worse []Effect) {
	p := f.Value.Place
	other := figure.NoCorner
	if p.Corner == figure.NoCorner {
		p.Corner = 2 * axle
		if sided {
			other = p.Corner + 1
		}
	}
	usual := p.Load
	if b := was.Job.Brief; b != nil {
		usual = usualLoad(was, b)
	}
	for _, w := range watched {
		if w.code == f.Value.Code {
			continue
		}
		load := p.Load
		if w.usual {
			load = usual
		}
		entry := figure.Must(w.code)
		corner := p.Corner
		if entry.Per == "car" {
			corner = figure.NoCorner
		}
		a, b := was.Get(w.code, p.Build, load, corner), now.Get(w.code, p.Build, load, corner)
		if other != figure.NoCorner && corner != figure.NoCorner {
			c, d := was.Get(w.code, p.Build, load, other), now.Get(w.code, p.Build, load, other)
			if a == nil || b == nil || c != nil && d != nil && math.Abs(d.Value-c.Value) > math.Abs(b.Value-a.Value) {
				a, b = c, d
			}
		}
		if a == nil || b == nil || a.State == figure.Unknown || b.State == figure.Unknown || math.Abs(b.Value-a.Value) < w.least {
			continue
		}
		e := Effect{Code: w.code, Place: a.Place, Before: a.Value, After: b.Value, Unit: entry.Unit}
		if (b.Value-a.Value)*w.lessGood > 0 {
			worse = append(worse, e)
		} else {
			better = append(better, e)
		}
	}
	return better, worse
}

// order puts what cures first, and among those what worsens least.
func order(r []Remedy) {
	for i := 1; i < len(r); i++ {
		for j := i; j > 0 && before(&r[j], &r[j-1]); j-- {
			r[j], r[j-1] = r[j-1], r[j]
		}
	}
}

func before(a, b *Remedy) bool {
	if a.VerdictNow.grade() != b.VerdictNow.grade() {
		return a.VerdictNow.grade() > b.VerdictNow.grade()
	}
	return len(a.Worsens) < len(b.Worsens)
}
