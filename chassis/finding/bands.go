package finding

import (
	"slices"

	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Bands are those of a build's figures in an answer, for changes of it that are computed
// without draws.
type Bands struct{ of map[bandAt]*figure.Value }

type bandAt struct {
	code  string
	place figure.Place // of no build
}

// BandsOf takes the bands of a build's figures.
func BandsOf(a *study.Answer, build string) *Bands {
	b := &Bands{map[bandAt]*figure.Value{}}
	for i := range a.Values {
		v := &a.Values[i]
		if v.Place.Build != build {
			continue
		}
		if k := bandAtOf(v); b.of[k] == nil {
			b.of[k] = v
		}
	}
	return b
}

func bandAtOf(v *figure.Value) bandAt {
	p := v.Place
	p.Build = ""
	return bandAt{v.Code, p}
}

// Of is a value that was computed without draws, or on a road without those of the car,
// with the band that the same figure of the build has.
func (b *Bands) Of(v *figure.Value) *figure.Value {
	was := b.of[bandAtOf(v)]
	if was == nil || v.HasBand && v.BandOf == was.BandOf || !was.HasBand || v.State == figure.Unknown || was.State == figure.Unknown {
		return v
	}
	out := *v
	out.Low, out.High, out.HasBand, out.BandOf, out.CarShare = v.Value-(was.Value-was.Low), v.Value+(was.High-was.Value), true, was.BandOf, was.CarShare
	if was.Low == 0 && v.Value >= 0 { //nolint:floateq // a band that ends where the figure does ends there with the change too
		out.Low = 0
	}
	return &out
}

// noPart are the findings that no part of a suspension changes: they hang on tyres,
// weight and coupling; and those of struts and steering, which hang on wheels and points:
// a change that is tried is not looked at for them, and would be said to clear them.
var noPart = []string{
	"unstable-at-speed", "unstable-with-trailer", "trailer-swings", "slow-to-settle-at-speed", "nervous-at-speed", "rear-slower-than-front",
	"strut-side-load-up", "strut-binds-in-bend", "rod-bends-more", "scrub-radius-up",
}

// NoPartChanges reports a finding that no part of a suspension changes, or that no change
// which is tried is looked at for.
func NoPartChanges(code string) bool { return slices.Contains(noPart, code) }
