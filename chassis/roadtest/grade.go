package roadtest

import (
	"math"
	"slices"
)

// Mark is how far a channel can be trusted.
type Mark string

// Marks of a channel.
const (
	Good     Mark = "good"
	WithCare Mark = "with-care"
	NotUsed  Mark = "not-used"
)

// Defect is something found in a channel.
type Defect string

// Defects. Each names what Found.Value holds.
const (
	TooSlow   Defect = "too-slow"  // sample rate [Hz]
	Slow      Defect = "slow"      // sample rate [Hz]
	Coarse    Defect = "coarse"    // velocity of one step [m/s]
	Drifting  Defect = "drift"     // between the two ends [SI]
	Spiking   Defect = "spikes"    // samples [-]
	Saturated Defect = "saturated" // share of samples [-]
	Dropping  Defect = "dropped"   // share of samples [-]
	Jittering Defect = "jitter"    // over the step [-]
	Constant  Defect = "constant"  // the value [SI]
	Folded    Defect = "folded"    // share of the variance in the highest fifth of the spectrum [-]
	Empty     Defect = "empty"     // samples [-]
)

// Found is a defect with how much of it.
type Found struct {
	Defect Defect
	Value  float64 // see the defect [SI]
	Mark   Mark    // what it leaves of the channel
}

// Grade is what can be said of a channel before its figures are believed.
type Grade struct {
	Mark  Mark
	Step  float64 // quantisation, 0 where none shows [SI]
	Floor float64 // of velocity: one step of the value over one of time; 0 where the channel is no travel [m/s]
	Found []Found
}

// What a grade is drawn at. Rates: a histogram of damper velocity wants 200 Hz, 500 is
// comfortable; common practice, no source. The rest is chosen.
const (
	leastRate    = 50.0  // travel below it is no damper velocity [Hz]
	usualRate    = 200.0 // [Hz]
	coarseFloor  = 0.025 // as wide as the lowest velocity band that is usual [m/s]
	driftWorth   = 2e-3  // [m]
	droppedCare  = 0.002
	droppedMost  = 0.05
	jitterMost   = 0.2
	foldedShare  = 0.01
	saturatedRun = 4 // equal samples at an end that count as cut off
)

// GradeOf judges a channel.
func GradeOf(c *Channel) Grade {
	g := Grade{Mark: Good}
	add := func(d Defect, v float64, m Mark) {
		g.Found = append(g.Found, Found{d, v, m})
		if rank(m) > rank(g.Mark) {
			g.Mark = m
		}
	}
	have := make([]float64, 0, len(c.Values))
	for _, v := range c.Values {
		if !math.IsNaN(v) {
			have = append(have, v)
		}
	}
	if len(have) < 16 {
		add(Empty, float64(len(have)), NotUsed)
		return g
	}
	low, high := slices.Min(have), slices.Max(have)
	if low == high {
		add(Constant, low, NotUsed)
		return g
	}
	g.Step = quantum(have)
	if c.Role == Travel {
		g.Floor = g.Step * c.Rate
		switch {
		case c.Rate < leastRate:
			add(TooSlow, c.Rate, NotUsed)
		case c.Rate < usualRate:
			add(Slow, c.Rate, WithCare)
		}
		if g.Floor > coarseFloor {
			add(Coarse, g.Floor, WithCare)
		}
		if d := drift(have); math.Abs(d) > driftWorth {
			add(Drifting, d, WithCare)
		}
	} else if vertical(c.Role) && c.Rate < leastRate {
		add(TooSlow, c.Rate, NotUsed)
	}
	if n := len(spikes(c.Values)); n > 0 {
		mark := WithCare
		switch share := float64(n) / float64(len(have)); {
		case share > 0.01:
			mark = NotUsed
		case n < 4 && share < 1e-3:
			mark = Good // they are taken out
		}
		add(Spiking, float64(n), mark)
	}
	if s := saturated(have, low, high); s > 0 && vertical(c.Role) {
		add(Saturated, s, WithCare)
	}
	if share := float64(c.Clock.Dropped) / float64(len(c.Values)); share > droppedMost {
		add(Dropping, share, NotUsed)
	} else if share > droppedCare {
		add(Dropping, share, WithCare)
	}
	if j := c.Clock.Jitter * c.Rate; j > jitterMost {
		add(Jittering, j, WithCare)
	}
	if vertical(c.Role) || c.Role == Travel {
		if s := highest(have); s > foldedShare {
			add(Folded, s, WithCare)
		}
	}
	return g
}

func vertical(r Role) bool { return r == Hub || r == Body || r == Floor || r == Travel }

func rank(m Mark) int { return slices.Index([]Mark{Good, WithCare, NotUsed}, m) }

// quantum is the step in which values come: the least difference between neighbouring
// values that occur, where nearly all others are whole multiples of it; else 0.
func quantum(values []float64) float64 {
	some := append([]float64(nil), values[:min(len(values), 20000)]...)
	slices.Sort(some)
	size := some[len(some)-1] - some[0]
	var gaps []float64
	for i := 1; i < len(some); i++ {
		if d := some[i] - some[i-1]; d > 1e-9*size {
			gaps = append(gaps, d)
		}
	}
	if len(gaps) == 0 {
		return 0
	}
	slices.Sort(gaps)
	step := gaps[len(gaps)/20]
	whole, n, sum := 0, 0, 0.0
	for _, d := range gaps {
		k := math.Round(d / step)
		if k >= 1 && k <= 20 {
			n++
			if math.Abs(d/step-k) < 0.1*max(1, k/5) {
				whole++
			}
			if k == 1 {
				sum += d
			}
		}
	}
	if n == 0 || float64(whole) < 0.9*float64(n) || size/step > 1e5 {
		return 0
	}
	return step
}

// drift is how far the median of the last tenth lies over that of the first.
func drift(values []float64) float64 {
	n := len(values) / 10
	if n < 100 {
		return 0
	}
	return median(values[len(values)-n:]) - median(values[:n])
}

func median(values []float64) float64 {
	s := append([]float64(nil), values...)
	slices.Sort(s)
	if len(s) == 0 {
		return math.NaN()
	}
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// spikes are samples that leave both neighbours by more than twelve times the usual
// second difference and come straight back: nothing with mass does that. The factor is
// chosen: none in 10⁸ samples of Gaussian noise.
func spikes(values []float64) []int {
	second := make([]float64, 0, len(values))
	at := func(i int) float64 { return values[i] - (values[i-1]+values[i+1])/2 }
	for i := 1; i < len(values)-1; i++ {
		if d := at(i); !math.IsNaN(d) {
			second = append(second, math.Abs(d))
		}
	}
	if len(second) == 0 {
		return nil
	}
	usual := quantile(second, 0.95)
	if usual == 0 {
		usual = quantile(second, 1) / 13
	}
	var out []int
	for i := 1; i < len(values)-1; i++ {
		if math.Abs(at(i)) > 6*usual && (values[i]-values[i-1])*(values[i+1]-values[i]) < 0 {
			out = append(out, i)
		}
	}
	return out
}

func quantile(values []float64, share float64) float64 {
	s := append([]float64(nil), values...)
	slices.Sort(s)
	return s[min(int(share*float64(len(s))), len(s)-1)]
}

// saturated is the share of samples in runs at either end of the range.
func saturated(values []float64, low, high float64) float64 {
	n, run := 0, 0
	last := math.NaN()
	for _, v := range values {
		if v == last && (v == low || v == high) {
			run++
			if run == saturatedRun-1 {
				n += saturatedRun
			} else if run >= saturatedRun {
				n++
			}
		} else {
			run = 0
		}
		last = v
	}
	return float64(n) / float64(len(values))
}

// highest is the share of a channel's variance in the highest fifth of its spectrum:
// what lies beyond half the sample rate folds back there.
func highest(values []float64) float64 {
	const segment = 256
	if len(values) < 2*segment {
		return 0
	}
	s := Welch(values[:min(len(values), 64*segment)], 1, segment)
	top, all := 0.0, 0.0
	for i := 1; i < len(s.Density); i++ {
		all += s.Density[i]
		if i > len(s.Density)*4/5 {
			top += s.Density[i]
		}
	}
	if all == 0 {
		return 0
	}
	return top / all
}
