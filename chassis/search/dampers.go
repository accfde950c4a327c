package search

import (
	"cmp"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/study"
)

// How far dampers are looked for: chosen.
const (
	mostDampers = 8     // of an axle
	mostClicks  = 8     // of a damper are tried, evenly over what was measured
	mostLonger  = 60e-3 // a damper that is longer or shorter by more is for another car [m]
	sameRod     = 0.15  // and so is one whose rod is thicker or thinner by more [-]
)

// dampers are the build's own, those of the job's other builds at the axle, and those that
// can be bought; of more than are looked at, those nearest in length. They are offered
// where spring and damper stand apart: a damper that carries the spring's seat comes with
// its seat and its collar, which no list of dampers knows.
func dampers(a *study.Answer, build, usual, axle int, shop *Shop) []Damper {
	b := a.Job.Builds[build]
	left := 2 * axle
	c := &b.Corner[left]
	own := c.Damper
	out := []Damper{{Spec: own, Clicks: []int{b.Setup.Click[left]}}}
	if own == nil || !measured(own) || !apart(a, build, usual, left) {
		return out
	}
	good := func(d *car.DamperSpec) bool {
		return d != nil && measured(d) && !d.Worn && d.Construction == own.Construction && (d.ClickMost > 0 || !b.Setup.HasClick[left]) &&
			math.Abs(d.Open.Value-own.Open.Value) <= mostLonger && math.Abs(d.Closed.Value-own.Closed.Value) <= mostLonger &&
			sameRods(d, own) && !slices.ContainsFunc(out, func(o Damper) bool { return o.Spec == d })
	}
	for n, o := range a.Job.Builds {
		p := &o.Corner[left]
		if good(p.Damper) && p.MountsCloser.Value == c.MountsCloser.Value && apart(a, n, usual, left) { //nolint:floateq // typed alike
			out = append(out, Damper{Spec: p.Damper, Friction: &p.Friction, Price: shop.pair(&p.Damper.Sold)})
		}
	}
	var buy []Damper
	for _, d := range shop.Dampers {
		if good(d) {
			buy = append(buy, Damper{Spec: d, Price: shop.pair(&d.Sold)})
		}
	}
	off := func(d *Damper) float64 {
		return math.Abs(d.Spec.Open.Value-own.Open.Value) + math.Abs(d.Spec.Closed.Value-own.Closed.Value)
	}
	slices.SortStableFunc(buy, func(x, y Damper) int { return cmp.Compare(off(&x), off(&y)) })
	out = append(out, buy[:min(len(buy), mostDampers)]...)
	for k := 1; k < len(out); k++ {
		out[k].Clicks = middle(out[k].Spec)
	}
	return out
}

// measured reports a damper whose lengths and forces are known.
func measured(d *car.DamperSpec) bool {
	return d.Open.Known() && d.Closed.Known() && d.RodOpen.Known() && len(d.Curves) > 0
}

// sameRods reports dampers whose rods are about as thick, as far as is known: a strut's rod
// holds the wheel, another's does not.
func sameRods(a, b *car.DamperSpec) bool {
	return !a.Rod.Known() || !b.Rod.Known() || math.Abs(a.Rod.Value-b.Rod.Value) <= sameRod*b.Rod.Value
}

// apart reports a corner whose spring does not stand on its damper: seats without a collar,
// or a spring that goes another way than the damper.
func apart(a *study.Answer, build, usual, corner int) bool {
	switch p := a.Job.Builds[build].Corner[corner].Platform; {
	case p == nil:
		return true
	case p.Kind == "body":
		return false
	}
	c := &a.Cases[build][usual]
	if c.Err != nil {
		return false
	}
	sh := c.System.Corner[corner].At(c.State.Travel[corner])
	return math.Abs(sh.SpringMotion-sh.DamperMotion) > sameWay*math.Abs(sh.DamperMotion)
}

// sameWay is how near the ratios of spring and damper are where one stands on the other:
// chosen. [-]
const sameWay = 0.005

// middle is the click in the middle of those that were measured, of a damper that nobody
// has set; no place where it has none.
func middle(d *car.DamperSpec) []int {
	if d.ClickMost == 0 {
		return []int{0}
	}
	low, high := measuredClicks(d)
	at := (low + high) / 2
	near := d.Curves[0].Click
	for _, c := range d.Curves {
		if abs(c.Click-at) < abs(near-at) {
			near = c.Click
		}
	}
	return []int{near}
}

func measuredClicks(d *car.DamperSpec) (low, high int) {
	low, high = d.Curves[0].Click, d.Curves[0].Click
	for _, c := range d.Curves {
		low, high = min(low, c.Click), max(high, c.Click)
	}
	return low, high
}

// clicks are those of a damper, evenly over what was measured: of the build's own its own
// first, of another its middle.
func clicks(d *car.DamperSpec, set int, known, own bool) []int {
	out := []int{set}
	if d == nil || d.ClickMost == 0 || len(d.Curves) == 0 || own && !known {
		return out
	}
	if !own {
		out = middle(d)
	}
	low, high := measuredClicks(d)
	step := max(1, (high-low+mostClicks-1)/mostClicks)
	for c := low; c <= high; c += step {
		if c != out[0] {
			out = append(out, c)
		}
	}
	return out
}

func abs(n int) int { return max(n, -n) }
