package remedy

import (
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

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

// effects lists what else a change does to the corner of a finding; of a finding
// about the whole car to the changed axle, by its left corner, and by the one
// where it does more where the two sides differ.
func (r *review) effects(t *tried, f *finding.Finding, axle int) (better, worse []finding.Effect) {
	p := f.Value.Place
	other := figure.NoCorner
	if p.Corner == figure.NoCorner {
		p.Corner = 2 * axle
		if !r.build.Alike(axle) {
			other = p.Corner + 1
		}
	}
	usual := r.a.Job.Loads[r.usual].ID
	now := func(code, load string, corner int) *figure.Value {
		if v := t.answer.Get(code, p.Build, load, corner); v != nil || t.corner == nil {
			return v
		}
		return t.corner.Get(code, p.Build, load, corner)
	}
	for _, w := range watched {
		if w.code == f.Value.Code {
			continue
		}
		load := p.Load
		if w.usual || load == "" {
			load = usual
		}
		entry := figure.Must(w.code)
		corner := p.Corner
		if entry.Per == "car" {
			corner = figure.NoCorner
		}
		a, b := r.a.Get(w.code, p.Build, load, corner), now(w.code, load, corner)
		if other != figure.NoCorner && corner != figure.NoCorner {
			c, d := r.a.Get(w.code, p.Build, load, other), now(w.code, load, other)
			if a == nil || b == nil || c != nil && d != nil && math.Abs(d.Value-c.Value) > math.Abs(b.Value-a.Value) {
				a, b = c, d
			}
		}
		if a == nil || b == nil || a.State == figure.Unknown || b.State == figure.Unknown || math.Abs(b.Value-a.Value) < w.least {
			continue
		}
		e := finding.Effect{Code: w.code, Place: a.Place, Before: a.Value, After: b.Value, Unit: entry.Unit}
		if (b.Value-a.Value)*w.lessGood > 0 {
			worse = append(worse, e)
		} else {
			better = append(better, e)
		}
	}
	return better, worse
}
