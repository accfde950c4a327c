package roadtest

import (
	"math"
	"slices"
)

// Marks are where figures are cut.
type Marks struct {
	Low, High float64 // damper speeds [m/s]
	Strike    float64 // force at the damper from which a contact with the stop counts [N]
}

// UsualMarks are those of common practice, no source; a contact counts from 100 N, chosen:
// less is not heard.
func UsualMarks() Marks { return Marks{Low: 0.025, High: 0.2, Strike: 100} }

// Code names a figure of a log.
type Code string

// The figures, each of a corner.
const (
	BumpUsed    Code = "bump-used"    // of the damper, from rest, most [m]
	ReboundUsed Code = "rebound-used" // of the damper, from rest, most [m]
	MeanTravel  Code = "mean-travel"  // lower than at rest is positive [m]
	Below       Code = "below"        // share of time slower than the low mark [-]
	AboveBump   Code = "above-bump"   // share of time faster than the high mark in bump [-]
	AboveReb    Code = "above-rebound"
	Strikes     Code = "strikes"   // contacts with the stop per distance [1/m]
	StopPeak    Code = "stop-peak" // at the damper [N]
	TopOuts     Code = "top-outs"  // per distance [1/m]
	BodyRate    Code = "body-rate" // frequency of most travel [Hz]
	Speeds      Code = "speeds"    // root mean square of damper speed [m/s]
)

// Codes are all of them, in the order in which they are shown.
var Codes = []Code{BumpUsed, ReboundUsed, Strikes, StopPeak, TopOuts, Below, AboveBump, AboveReb, Speeds, BodyRate, MeanTravel}

// Strike is one contact with a stop.
type Strike struct {
	Corner int
	Time   float64 // in the log [s]
	Force  float64 // greatest, at the damper [N]
	Travel float64 // of the damper from rest at which the stop was met [m]
}

// watched is travel of one corner, as logged or as driven by the model.
type watched struct {
	travel, speed []float64
	rate          float64 // [Hz]
	start         float64 // [s]
}

// counted sums up what pieces show of one corner.
type counted struct {
	bump, rebound, sum, squares float64
	n                           int
	below, above, under         int
	strikes                     []Strike
	topOuts                     int
	spectrum                    []float64
	frequency                   []float64
}

// add counts a piece; gap is how far the stop is from where it was entered.
func (c *counted) add(l *leg, i int, w *watched, gap float64, m Marks) {
	in, out := false, false
	var now Strike
	for k, x := range w.travel {
		v := w.speed[k]
		c.bump, c.rebound = math.Max(c.bump, x), math.Max(c.rebound, -x)
		c.sum, c.squares = c.sum+x, c.squares+v*v
		c.n++
		switch {
		case math.Abs(v) < m.Low:
			c.below++
		case v > m.High:
			c.above++
		case v < -m.High:
			c.under++
		}
		force := l.stopForce(l.start+x, gap)
		if force > 0 {
			if !in {
				now = Strike{Corner: i, Time: w.start + float64(k)/w.rate, Travel: x}
			}
			now.Force = math.Max(now.Force, force)
		} else if in && now.Force >= m.Strike {
			c.strikes = append(c.strikes, now)
		}
		in = force > 0
		open := l.topOut(l.start+x) > 0
		if open && !out {
			c.topOuts++
		}
		out = open
	}
	if in && now.Force >= m.Strike {
		c.strikes = append(c.strikes, now)
	}
	s := Welch(w.travel, w.rate, int(8*w.rate)&^1)
	if c.spectrum == nil {
		c.spectrum, c.frequency = s.Density, s.Frequency
	} else if len(s.Density) == len(c.spectrum) {
		for k := range s.Density {
			c.spectrum[k] += s.Density[k]
		}
	}
}

// figures are those of one corner over a distance [m].
func (c *counted) figures(distance float64) map[Code]float64 {
	n := float64(max(c.n, 1))
	out := map[Code]float64{
		BumpUsed: c.bump, ReboundUsed: c.rebound, MeanTravel: c.sum / n, Speeds: math.Sqrt(c.squares / n),
		Below: float64(c.below) / n, AboveBump: float64(c.above) / n, AboveReb: float64(c.under) / n,
		Strikes: float64(len(c.strikes)) / math.Max(distance, 1), TopOuts: float64(c.topOuts) / math.Max(distance, 1), StopPeak: 0,
	}
	for _, s := range c.strikes {
		out[StopPeak] = math.Max(out[StopPeak], s.Force)
	}
	out[BodyRate] = centre(c.frequency, c.spectrum)
	return out
}

// centre is the middle of the body's peak in a spectrum of travel: the mean frequency
// between 0.7 and 3.5 Hz, weighted by density. Chosen: it scatters less than the highest line.
func centre(frequency, density []float64) float64 {
	sum, weight := 0.0, 0.0
	for k, f := range frequency {
		if f >= 0.7 && f <= 3.5 {
			sum += f * density[k]
			weight += density[k]
		}
	}
	if weight == 0 {
		return math.NaN()
	}
	return sum / weight
}

// Histogram is shares of time over a quantity, with the limits of its bins.
type Histogram struct {
	Low, Step float64   // [SI]
	Share     []float64 // of time [-]
}

func histogram(values []float64, low, high, step float64) Histogram {
	h := Histogram{Low: low, Step: step, Share: make([]float64, int(math.Round((high-low)/step)))}
	for _, v := range values {
		k := int((v - low) / step)
		h.Share[min(max(k, 0), len(h.Share)-1)] += 1 / float64(len(values))
	}
	return h
}

// Repeats compares two sets of runs of one figure: the difference of their means with
// its 95 % band, and whether it is more than the scatter of the repeats.
//
//	d = x̄ − ȳ,  h = t·s·√(1/n + 1/m),  s² = (Σ(x−x̄)² + Σ(y−ȳ)²)/(n+m−2)
//
// Source: Student's t for two means with one variance; any textbook. ok is false with
// fewer than three runs on a side: then nothing is said.
func Repeats(before, after []float64) (difference, half float64, distinct, ok bool) {
	n, m := float64(len(before)), float64(len(after))
	if n < 3 || m < 3 {
		return 0, 0, false, false
	}
	mean := func(list []float64) (mean, squares float64) {
		for _, v := range list {
			mean += v / float64(len(list))
		}
		for _, v := range list {
			squares += (v - mean) * (v - mean)
		}
		return mean, squares
	}
	a, sa := mean(before)
	b, sb := mean(after)
	s := math.Sqrt((sa + sb) / (n + m - 2))
	half = student95(int(n+m)-2) * s * math.Sqrt(1/n+1/m)
	return b - a, half, math.Abs(b-a) > half, true
}

// student95 is the two-sided 95 % point of Student's t.
func student95(df int) float64 {
	table := []float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086}
	if df <= len(table) {
		return table[max(df, 1)-1]
	}
	return 1.96 + 2.4/float64(df)
}

// byTime sorts strikes.
func byTime(list []Strike) []Strike {
	slices.SortFunc(list, func(a, b Strike) int {
		switch {
		case a.Time < b.Time:
			return -1
		case a.Time > b.Time:
			return 1
		}
		return a.Corner - b.Corner
	})
	return list
}
