package view

import (
	"cmp"
	"math"
	"slices"

	"trunnion/shop/drawing"
	"trunnion/shop/quantity"
)

const (
	// FrameStep is how far apart a travel slider's steps are. Chosen. [m]
	FrameStep = 0.002
	// usualReach is how far a wheel is moved where the ends of its travel are not
	// known: common practice, no source. [m]
	usualReach = 0.080
	// mostReach is as far as a slider goes. Chosen. [m]
	mostReach = 0.150
)

// Reach is the range of wheel travel that builds have between them, and some
// more [m].
func Reach(sets [][4]drawing.Strip, corner int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range sets {
		g := &sets[i][corner]
		if !g.Known {
			continue
		}
		open, end := g.Open, g.Solid
		if math.IsNaN(end) {
			end = g.Closed
		}
		if math.IsNaN(open) {
			open = g.Rest - usualReach
		}
		if math.IsNaN(end) {
			end = g.Rest + usualReach
		}
		low, high = math.Min(low, open), math.Max(high, end)
		if !math.IsNaN(g.Arch) {
			high = math.Max(high, g.Arch)
		}
	}
	if !(low < high) {
		low, high = -usualReach, usualReach
	}
	return math.Max(low, -mostReach), math.Min(high, mostReach)
}

// TravelMark is a travel that means something.
type TravelMark struct {
	At    float64 `json:"at"`
	Kind  string  `json:"kind" enum:"rest,open,touch,solid,arch,case"`
	Label string  `json:"label"`
}

// TravelMarks are the marks of travel of a build at a corner.
func (s *Trial) TravelMarks(g *drawing.Strip) []TravelMark {
	out := []TravelMark{}
	if !g.Known {
		return out
	}
	for _, m := range []struct {
		kind, label string
		at          float64
	}{{"open", "damper open", g.Open}, {"rest", "rest", g.Rest}, {"touch", "stop touched", g.Touch}, {"solid", "stop solid", g.Solid}, {"arch", "tyre at the arch", g.Arch}} {
		if !math.IsNaN(m.at) && math.Abs(m.at) <= 2*mostReach {
			out = append(out, TravelMark{At: s.Length(m.at), Kind: m.kind, Label: m.label + " " + quantity.Format(m.at, quantity.Length, s.System, quantity.Auto)})
		}
	}
	slices.SortStableFunc(out, func(x, y TravelMark) int { return cmp.Compare(x.At, y.At) })
	return out
}

// UsualTyre is the width of a tyre that nobody measured: common practice, no source. [m]
const UsualTyre = 0.205
