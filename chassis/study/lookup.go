package study

import (
	"math"
	"strings"

	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// column returns the draws behind a value of the static tier; nil when none
// were kept. They are those of the main speed and the build's own click.
func (a *Answer) column(v *figure.Value) []float64 {
	if a.columns == nil || v.Tier != figure.Static {
		return nil
	}
	b, l := -1, -1
	for i, build := range a.Job.Builds {
		if build.ID == v.Place.Build {
			b = i
		}
	}
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == v.Place.Load {
			l = i
		}
	}
	if b < 0 || l < 0 {
		return nil
	}
	if v.Place.Corner == figure.NoCorner {
		for q, code := range carCodes {
			if code == v.Code {
				return a.columns.of(b, l, 4*perCorner+q)
			}
		}
		return nil
	}
	for q, code := range cornerCodes {
		if code == v.Code {
			return a.columns.of(b, l, v.Place.Corner*perCorner+q)
		}
	}
	return nil
}

// Broken returns the share of the draws in which a value lies on the wrong
// side of a limit: above it when upper, else below. Without draws it is 0 or 1
// by the value itself.
func (a *Answer) Broken(v *figure.Value, limit float64, upper bool) float64 {
	col := a.column(v)
	if col == nil && v.HasBand && v.High > v.Low {
		return Beyond(v, limit, upper) // few draws stand behind it, and only their band was kept
	}
	if col == nil {
		if upper == (v.Value > limit) && v.Value != limit {
			return 1
		}
		return 0
	}
	below := spread.ShareBelow(col, limit)
	if math.IsNaN(below) {
		return 0
	}
	if upper {
		return 1 - below
	}
	return below
}

// byFactor are results whose band is a factor either way: ratios that run over
// decades.
var byFactor = map[string]bool{"mount-damage-relative": true, "mount-life-share": true}

// Beyond is the chance that a value of which only its band is known lies on the wrong side
// of a limit, above it when upper: taken as normal, or its logarithm where the band is a
// factor either way, with the half of the band that reaches towards the limit. Where that
// half ends because the figure does, for no force and no share is below nothing, it is as
// wide as the other. [-]
func Beyond(v *figure.Value, limit float64, upper bool) float64 {
	at := func(x float64) float64 { return x }
	if byFactor[v.Code] {
		at = math.Log
	}
	half := at(v.High) - at(v.Value)
	if down := at(v.Value) - at(v.Low); limit < v.Value && v.Low != 0 || half <= 0 {
		half = down
	}
	sd := half / spread.Normal95
	above := 0.5 * math.Erfc((at(limit)-at(v.Value))/(sd*math.Sqrt2))
	if upper {
		return above
	}
	return 1 - above
}

// Narrow returns the input that would narrow a value's band most if it were
// measured exactly; nil when the value has no draws or no input stands out.
// Inputs that come from one table or reading count together.
func (a *Answer) Narrow(v *figure.Value) *figure.Narrow {
	col := a.column(v)
	if col == nil || !v.HasBand {
		return nil
	}
	shares := make(map[string]float64)
	for _, in := range a.columns.table.Influences(col) {
		shares[measuredTogether(a.ready.banded[in.Dim])] += in.Share
	}
	best, path := 0.0, ""
	for p, s := range shares {
		if s > best || s == best && p < path {
			best, path = s, p
		}
	}
	if best < 0.05 {
		return nil
	}
	best = math.Min(best, 1)
	half := 0.5 * (v.High - v.Low)
	return &figure.Narrow{Path: path, Share: best, HalfAfter: half * math.Sqrt(1-best), Effort: Effort(path)}
}

// measuredTogether is the path under which an input is measured.
func measuredTogether(in *figure.Input) string {
	switch {
	case isHangup(in):
		return "friction"
	case in.Path == "":
		return "unnamed"
	}
	return in.Path
}

// Effort is how long it takes to measure an input in the bay, from the car as it
// stands and back: common practice, no source. A curve takes its damper out, onto
// the dyno and in again; what shows of its rod takes a ruler. [s]
func Effort(path string) float64 {
	for _, row := range []struct {
		part    string
		minutes float64
	}{
		{"rod_showing", 5},
		{"curves", 150},
		{"friction", 15},
		{"hardpoints", 90},
		{"pivot_to", 10},
		{"motion", 45},
		{"springs.", 15},
		{"spring", 15},
		{"stops.", 20},
		{"stop", 20},
		{"dampers.", 20},
		{"damper", 10},
		{"weighed.load", 20},
		{"weighed.arch", 5},
		{"weighed.", 10},
		{"bar", 20},
		{"bush", 30},
		{"tyre", 15},
		{"unsprung", 60},
		{"limits", 20},
		{"track", 5},
		{"wheelbase", 5},
		{"platforms.", 10},
		{"wheels.", 10},
		{"clearance", 10},
	} {
		if strings.Contains(path, row.part) {
			return row.minutes * 60
		}
	}
	return 30 * 60
}

// Cornering returns a build in a load state ready for corners. The answer is only
// read.
func (a *Answer) Cornering(build, load string) (*cornering.Car, error) {
	b, l, err := a.Find(build, load)
	if err != nil {
		return nil, err
	}
	c := &a.Cases[b][l]
	return a.ready.bendCar(&c.System, &c.State, l, nil, nil)
}
