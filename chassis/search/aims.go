package search

import (
	"math"
	"sort"

	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// What is wanted, the less of each the better.
const (
	Comfort = iota // weighted acceleration of the floor over the brief's roads, root mean square [m/s2]
	Control        // greatest second bounce behind the brief's humps, from LeastBounce up [-]
	Grip           // tyre load variation over the brief's roads, root mean square [-]
	Price          // of what is bought [-]
	Hours          // of work [s]
	Stance         // how much higher it stands than the baseline, mean of the axles [m]
	aims
)

// Aims are the codes of what is wanted, in their order.
var Aims = [aims]string{"comfort", "control", "grip", "price", "hours", "stance"}

// Figures are what a build is worth, by aim. NaN where it is not known.
type Figures [aims]float64

// sought are the aims that are set against each other; where the price is not known, what
// it counts as is given.
func (f *Figures) sought(which []int, dear float64) []float64 {
	out := make([]float64, len(which))
	for k, a := range which {
		out[k] = f[a]
		if a == Price {
			out[k] = dear
		} else if math.IsNaN(out[k]) {
			out[k] = 0
		}
	}
	return out
}

// driven reads the figures off an answer that was driven. high takes what 95 draws in
// 100 keep to.
func driven(a *study.Answer, build string, high bool) (f Figures) {
	var comfort, grip mean
	control := math.NaN()
	for i := range a.Values {
		v := &a.Values[i]
		if v.Place.Build != build || v.Tier != figure.Time || v.State == figure.Unknown {
			continue
		}
		x := v.Value
		if high && v.HasBand {
			x += needs * (v.High - v.Value)
		}
		switch {
		case v.Code == "floor-acceleration" && v.Place.Road != "" && v.Place.At == drives.FloorDriver:
			comfort.add(x)
		case v.Code == "tyre-load-variation" && v.Place.Road != "":
			grip.add(x)
		case v.Code == "bounce-left" && finding.Swings(v.Place.Event) && !(x <= control):
			control = x
		}
	}
	f[Comfort], f[Grip], f[Control] = comfort.root(), grip.root(), felt(control)
	return f
}

// swung reports a brief with an obstacle behind which the body swings.
func swung(a *study.Answer) bool {
	for i := range a.Values {
		if v := &a.Values[i]; v.Code == "bounce-left" && finding.Swings(v.Place.Event) {
			return true
		}
	}
	return false
}

// LeastBounce is a second bounce that nobody feels, so that none is bought to get below
// it: common practice, no source. [-]
const LeastBounce = 0.05

// felt is a second bounce as far as it matters.
func felt(bounce float64) float64 {
	if bounce < LeastBounce {
		return LeastBounce
	}
	return bounce
}

// less orders by one aim, then by the others.
func less(a, b *Figures, aim int) bool {
	for _, k := range []int{aim, Price, Hours, Comfort, Control, Grip} {
		x, y := a[k], b[k]
		if math.IsNaN(x) != math.IsNaN(y) {
			return math.IsNaN(y)
		}
		if x != y && !math.IsNaN(x) { //nolint:floateq // an order
			return x < y
		}
	}
	return false
}

// mean is a root mean square.
type mean struct {
	sum float64
	n   int
}

func (m *mean) add(x float64) { m.sum, m.n = m.sum+x*x, m.n+1 }

func (m *mean) root() float64 {
	if m.n == 0 {
		return math.NaN()
	}
	return math.Sqrt(m.sum / float64(m.n))
}

// one is a candidate among others: what it is worth and what it lacks.
type one struct {
	at   []float64
	lack float64 // 0 holds everything [-]
	id   int     // breaks ties
}

// beats reports whether a candidate is as good as another in everything and better in
// something; one that holds everything beats one that does not, and one that lacks less
// one that lacks more.
//
// Source: K. Deb, An efficient constraint handling method for genetic algorithms, Computer
// Methods in Applied Mechanics and Engineering 186 (2000), section 3, from memory.
func (a *one) beats(b *one) bool {
	if a.lack > 0 || b.lack > 0 {
		return a.lack < b.lack
	}
	better := false
	for k := range a.at {
		if a.at[k] > b.at[k] {
			return false
		}
		better = better || a.at[k] < b.at[k]
	}
	return better
}

// fronts are the best of a population, layer by layer, until there are n of them; the last
// layer is thinned so that what lies far from its neighbours stays.
func fronts(list []one, n int) []one {
	left := append([]one(nil), list...)
	sort.Slice(left, func(i, j int) bool { return sooner(&left[i], &left[j]) })
	var out []one
	for len(out) < n && len(left) > 0 {
		var layer, rest []one
		for i := range left {
			beaten := false
			for k := range layer {
				if layer[k].beats(&left[i]) {
					beaten = true
					break
				}
			}
			if beaten {
				rest = append(rest, left[i])
			} else {
				layer = append(layer, left[i])
			}
		}
		if room := n - len(out); len(layer) > room {
			layer = thin(layer, room)
		}
		out, left = append(out, layer...), rest
	}
	return out
}

// sooner orders a population so that what is beaten comes behind what beats it.
func sooner(a, b *one) bool {
	if a.lack != b.lack { //nolint:floateq // an order
		return a.lack < b.lack
	}
	for k := range a.at {
		if a.at[k] != b.at[k] { //nolint:floateq // an order
			return a.at[k] < b.at[k]
		}
	}
	return a.id < b.id
}

// thin keeps n of a layer: the ends of every aim, then always the one that lies farthest
// from those kept, in shares of the layer's spread.
func thin(layer []one, n int) []one {
	if n <= 0 {
		return nil
	}
	m := len(layer[0].at)
	low, high := make([]float64, m), make([]float64, m)
	for k := range m {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
		for i := range layer {
			low[k], high[k] = math.Min(low[k], layer[i].at[k]), math.Max(high[k], layer[i].at[k])
		}
	}
	far := make([]float64, len(layer))
	taken := make([]bool, len(layer))
	for i := range far {
		far[i] = math.Inf(1)
	}
	var out []one
	take := func(i int) {
		if taken[i] || len(out) == n {
			return
		}
		taken[i] = true
		out = append(out, layer[i])
		for j := range layer {
			d := 0.0
			for k := range m {
				if w := high[k] - low[k]; w > 0 {
					d += (layer[i].at[k] - layer[j].at[k]) * (layer[i].at[k] - layer[j].at[k]) / (w * w)
				}
			}
			far[j] = math.Min(far[j], d)
		}
	}
	for k := range m {
		best := 0
		for i := range layer {
			if layer[i].at[k] < layer[best].at[k] {
				best = i
			}
		}
		take(best)
	}
	for len(out) < n {
		best := -1
		for i := range layer {
			if !taken[i] && (best < 0 || far[i] > far[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		take(best)
	}
	return out
}
