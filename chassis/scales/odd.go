package scales

import (
	"cmp"
	"math"
	"slices"

	"trunnion/chassis/spread"
)

// Limits of what is odd. Chosen.
const (
	swapAdvantage = 0.35 // what a swap of two corners, or leaving out one reading, leaves of the misfit to be taken for the reason [-]
	oddLeastSteps = 4.0  // misfit in standard deviations below which nothing is looked for [-]
	oddStop       = 5.0  // standard deviations from what the other readings predict [-]
	oddDoubted    = 3.0  // the same where a total or a share is stopped already [-]
	meantWithin   = 2.5  // standard deviations within which a typo would explain a reading [-]
	mostCauses    = 4    // that are named
)

// typoRank sorts what explains a reading alike: the slip that leaves fewer figures to
// choose from is the likelier. Common practice, no source.
var typoRank = map[string]int{"sign-slipped": 0, "point-moved": 0, "digits-transposed": 1, "other-unit": 2, "digit-misread": 3}

// near are the slips of the pencil that bring a reading near to what is expected, before the readings are held against
// each other: of a figure that no car has.
func near(typos []Typo, corner int, height bool, expected, within float64) []Cause {
	var list []Cause
	for _, t := range typos {
		if t.Corner == corner && t.Height == height && math.Abs(t.Meant-expected) <= within {
			list = append(list, Cause{Code: t.Code, Corner: corner, Other: -1, Height: height, Value: t.Meant, Text: t.Text})
		}
	}
	slices.SortStableFunc(list, func(a, b Cause) int {
		return cmp.Or(cmp.Compare(typoRank[a.Code], typoRank[b.Code]), cmp.Compare(math.Abs(a.Value-expected), math.Abs(b.Value-expected)))
	})
	return list[:min(len(list), mostCauses)]
}

// odd looks for the reading that does not go with the others, and for what would
// explain it: two corners the wrong way about, or one figure written down wrong.
//
// Every one of the eight is left out in turn and predicted from the other seven
// and the rounds before.
//
// Doubted is set where a total or a share stops the readings already; n is how many
// readings got is the mean of.
func (m *Model) odd(got *Reading, doubted bool, typos []Typo, n float64) (Check, error) {
	none := checked("corners-swapped", Pass)
	was := math.Inf(1)
	read, err := m.again(append(slices.Clone(m.Rounds), Round{Got: *got}))
	if err == nil {
		was = read.Misfit
	}
	excess := was - m.Misfit - outputs
	far := excess >= oddLeastSteps*math.Sqrt(2*outputs)
	if !far && !doubted {
		return none, nil
	}
	left := m.leaveOneOut(got)
	least := oddStop
	if doubted {
		least = oddDoubted
	}
	left = slices.DeleteFunc(left, func(l leftOut) bool {
		return l.deviations < least || l.misfit-m.Misfit > swapAdvantage*(was-m.Misfit)
	})
	swaps := slices.DeleteFunc(m.swapped(read, got), func(s swapping) bool { return s.misfit-m.Misfit > swapAdvantage*(was-m.Misfit) })
	misfit := math.Sqrt(was - m.Misfit)
	switch {
	case len(left) > 0 && (len(swaps) == 0 || left[0].misfit < swaps[0].misfit):
		return oddReading(got, left, swaps, typos, n), nil
	case len(swaps) > 0:
		swap := &swaps[0]
		c := checked("corners-swapped", Stop, figureOf(swap.what, 0, ""), figureOf("misfit", misfit, "1"), figureOf("misfit-swapped", math.Sqrt(math.Max(0, swap.misfit-m.Misfit)), "1"))
		c.Corner, c.Other = swap.pair[0], swap.pair[1]
		c.Causes = causesOf(swaps)
		return c, nil
	case far && !math.IsInf(misfit, 1):
		return checked("far-from-model", Caution, figureOf("misfit", misfit, "1")), nil
	}
	return none, nil
}

// oddReading is the one that does not go with the others.
func oddReading(got *Reading, left []leftOut, swaps []swapping, typos []Typo, n float64) Check {
	o := &left[0]
	what, unit := "load", "kg"
	if o.height() {
		what, unit = "height", "m"
	}
	c := checked("odd-reading", Stop,
		Detail{what, o.of(got), unit, o.corner()}, Detail{what + "-expected", o.expected, unit, o.corner()}, Detail{"deviations", o.deviations, "1", o.corner()})
	c.Corner = o.corner()
	for k := range left {
		c.Causes = append(c.Causes, left[k].meant(typos, n, got)...)
	}
	c.Causes = append(c.Causes, causesOf(swaps)...)
	c.Causes = c.Causes[:min(len(c.Causes), mostCauses)]
	return c
}

// leftOut is a reading predicted from the others.
type leftOut struct {
	index      int     // 0 to 3 a load, 4 to 7 a height
	expected   float64 // [kg] or [m]
	sd         float64 // of one reading about it [kg] or [m]
	deviations float64 // of what was read [-]
	misfit     float64 // of the other readings [-]
}

func (l *leftOut) corner() int  { return l.index % 4 }
func (l *leftOut) height() bool { return l.index >= 4 }

func (l *leftOut) of(r *Reading) float64 {
	if l.height() {
		return r.Height[l.corner()]
	}
	return r.Load[l.corner()]
}

func (l *leftOut) set(r *Reading, v float64) {
	if l.height() {
		r.Height[l.corner()] = v
		return
	}
	r.Load[l.corner()] = v
}

// leaveOneOut predicts every reading from the others; the one without which the
// others fit best comes first.
func (m *Model) leaveOneOut(got *Reading) []leftOut {
	var list []leftOut
	for o := range outputs {
		l := leftOut{index: o}
		rest := *got
		l.set(&rest, math.NaN())
		model, err := m.again(append(slices.Clone(m.Rounds), Round{Got: rest}))
		if err != nil {
			continue // with what is odd still in it no rest position may be near
		}
		f, err := model.Forecast(FrontRightRearLeft, [4]float64{})
		if err != nil {
			continue
		}
		band := f.Load[l.corner()]
		if l.height() {
			band = f.Height[l.corner()]
		}
		l.expected, l.sd, l.misfit = band.Value, band.Half/spread.Normal95, model.Misfit
		l.deviations = math.Abs(l.of(got)-l.expected) / l.sd
		list = append(list, l)
	}
	slices.SortStableFunc(list, func(a, b leftOut) int { return cmp.Compare(a.misfit, b.misfit) })
	return list
}

// meant are the slips of the pencil that bring a reading to what the others predict.
func (l *leftOut) meant(typos []Typo, n float64, got *Reading) []Cause {
	var list []Cause
	for _, t := range typos {
		if t.Corner != l.corner() || t.Height != l.height() {
			continue
		}
		off := math.Abs(l.of(got)+(t.Meant-t.Typed)/n-l.expected) / l.sd
		if off <= meantWithin {
			list = append(list, Cause{Code: t.Code, Corner: t.Corner, Other: -1, Height: t.Height, Value: t.Meant, Text: t.Text, Off: off})
		}
	}
	slices.SortStableFunc(list, func(a, b Cause) int {
		return cmp.Or(cmp.Compare(typoRank[a.Code], typoRank[b.Code]), cmp.Compare(a.Off, b.Off))
	})
	return list
}

// swapping is two corners taken for each other.
type swapping struct {
	pair   [2]int
	what   string // load, height, both
	misfit float64
	z      vector
	got    Reading
}

func (s *swapping) cause() Cause {
	code := map[string]string{"load": "loads-swapped", "height": "heights-swapped", "both": "corners-swapped"}[s.what]
	return Cause{Code: code, Corner: s.pair[0], Other: s.pair[1], Height: s.what == "height", Off: math.Sqrt(s.misfit)}
}

// causesOf are the swaps that would explain a reading, the best first.
func causesOf(swaps []swapping) []Cause {
	var list []Cause
	for k := range swaps[:min(len(swaps), mostCauses)] {
		list = append(list, swaps[k].cause())
	}
	return list
}

// swapped are the swaps of two corners' loads, heights or both, the one that reads best first.
func (m *Model) swapped(read *Model, got *Reading) []swapping {
	if read == nil {
		return nil
	}
	rounds := read.Rounds
	last := len(rounds) - 1
	var list []swapping
	for _, p := range pairs {
		for _, kind := range []string{"load", "height", "both"} {
			r := *got
			if kind != "height" {
				r.Load[p[0]], r.Load[p[1]] = r.Load[p[1]], r.Load[p[0]]
			}
			if kind != "load" {
				r.Height[p[0]], r.Height[p[1]] = r.Height[p[1]], r.Height[p[0]]
			}
			tried := slices.Clone(rounds)
			tried[last].Got = r
			if look, ok := read.quickFit(m, tried); ok {
				list = append(list, swapping{p, kind, look.misfit, look.z, r})
			}
		}
	}
	// The best by the quick fit are worked out.
	const most = 18
	slices.SortStableFunc(list, func(a, b swapping) int { return cmp.Compare(a.misfit, b.misfit) })
	var out []swapping
	for _, x := range list[:min(most, len(list))] {
		tried := slices.Clone(rounds)
		tried[last].Got = x.got
		if next, err := m.learn(tried, x.z); err == nil {
			x.misfit = next.Misfit
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b swapping) int { return cmp.Compare(a.misfit, b.misfit) })
	return out
}
