package drawing

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Strip is the travel of one corner in one load state, counted from the
// reference height, bump positive. NaN is not known or not met. All in metres.
type Strip struct {
	Corner int

	Open   float64 // damper fully open [m]
	Loose  float64 // spring leaves its seat; NaN where it stays seated to the open end [m]
	Touch  float64 // stop is touched [m]
	Firm   float64 // stop carries half the corner load [m]
	Solid  float64 // end of the stop's table [m]
	Closed float64 // damper closed on metal [m]
	Block  float64 // coils touch [m]
	Arch   float64 // tyre meets the arch [m]

	Rest, RestLow, RestHigh float64 // where it stands, and its band [m]

	// Range is where the static line can be moved by what is fitted; both NaN
	// where nothing can.
	RangeLow, RangeHigh float64 // [m]

	Known bool // there is a rest position
}

// Strips returns the four strips of a build in a load state; zero strips that
// are not Known where there is no rest position.
func Strips(a *study.Answer, build, load string) [4]Strip {
	var out [4]Strip
	for i := range out {
		out[i] = nothing(i)
	}
	b, l := place(a, build, load)
	if b < 0 || l < 0 || a.Cases[b][l].Err != nil {
		return out
	}
	c := &a.Cases[b][l]
	for i := range out {
		s := &out[i]
		m := &c.System.Corner[i]
		limits := m.Limits(c.State.Load[i])
		w := c.State.Travel[i]
		s.Known = true
		s.Open, s.Touch, s.Firm, s.Solid, s.Closed, s.Block = limits.Open, limits.Touch, limits.Firm, limits.Solid, limits.Closed, limits.Block
		if limits.Loose > limits.Open {
			s.Loose = limits.Loose
		}
		for _, limit := range a.Job.Car.Axle[car.AxleOf(i)].Limits {
			if limit.Name == "arch" {
				s.Arch = limit.Travel.Value
			}
		}
		s.Rest, s.RestLow, s.RestHigh = w, w, w
		// Height and travel run against each other.
		if h := a.Get("arch-height", build, load, i); h != nil && h.HasBand {
			s.RestLow, s.RestHigh = w-(h.High-h.Value), w+(h.Value-h.Low)
		}
		s.RangeLow, s.RangeHigh = reach(a.Job.Builds[b], i, w, ratio(m.SpringTravel.At(w)), ratio(m.DamperTravel.At(w)))
	}
	return out
}

func nothing(i int) Strip {
	n := math.NaN()
	return Strip{Corner: i, Open: n, Loose: n, Touch: n, Firm: n, Solid: n, Closed: n, Block: n, Arch: n, Rest: n, RestLow: n, RestHigh: n, RangeLow: n, RangeHigh: n}
}

func ratio(_, slope, _ float64) float64 { return slope }

// reach is how far the platform that is fitted moves the static line.
func reach(b *car.Build, corner int, rest, springRatio, damperRatio float64) (low, high float64) {
	p := b.Corner[corner].Platform
	if p == nil || !p.Up.Known() || !p.Down.Known() {
		return math.NaN(), math.NaN()
	}
	r, now := springRatio, b.Setup.Platform[corner].Value
	if p.Kind == "body" {
		r, now = damperRatio, b.Setup.BodyLength[corner].Value
	}
	if !(r > 0) {
		return math.NaN(), math.NaN()
	}
	return rest - (p.Up.Value-now)/r, rest + (now+p.Down.Value)/r
}

func place(a *study.Answer, build, load string) (b, l int) {
	b, l = -1, -1
	for i, one := range a.Job.Builds {
		if one.ID == build {
			b = i
		}
	}
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == load {
			l = i
		}
	}
	return b, l
}

// Scale is the span that holds all strips of several builds, so that they can be
// compared: from the farthest open end to the farthest closed end. [m]
func Scale(sets ...[4]Strip) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(v float64) {
		if !math.IsNaN(v) {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	for _, set := range sets {
		for i := range set {
			s := &set[i]
			for _, v := range []float64{s.Open, s.Closed, s.Solid, s.RestLow, s.RestHigh, s.Touch} {
				take(v)
			}
		}
	}
	if low > high {
		return -0.1, 0.1
	}
	return low, high
}

// Density is a distribution of travel as a curve: how the time is spread over
// the travel, 1 at its peak.
//
// shares and travels are points of the time spent below each travel. Between
// two of them the time is taken as spread evenly.
func Density(shares, travels []float64) (x, y []float64) {
	if len(shares) != len(travels) || len(shares) < 2 {
		return nil, nil
	}
	peak := 0.0
	for k := 1; k < len(shares); k++ {
		width := travels[k] - travels[k-1]
		if !(width > 1e-9) {
			continue
		}
		d := (shares[k] - shares[k-1]) / width
		x, y = append(x, 0.5*(travels[k]+travels[k-1])), append(y, d)
		peak = math.Max(peak, d)
	}
	if peak == 0 {
		return nil, nil
	}
	for k := range y {
		y[k] /= peak
	}
	return x, y
}

// Plan is the car from above: x behind the front axle, y left of the middle.
type Plan struct {
	Wheelbase float64       // [m]
	Track     [2]float64    // [m]
	Wheel     [4][2]float64 // middle of each tyre [m]
	Weights   [][2]float64  // where the items of the load state sit [m]
}

// PlanOf returns the plan of a car in a load state; the load state may be empty.
func PlanOf(a *study.Answer, load string) Plan {
	c := a.Job.Car
	p := Plan{Wheelbase: c.Wheelbase.Value, Track: [2]float64{c.Track[0].Value, c.Track[1].Value}}
	for i := range p.Wheel {
		x, y := 0.0, 0.5*p.Track[car.AxleOf(i)]
		if i >= figure.RearLeft {
			x = p.Wheelbase
		}
		if i&1 == 1 {
			y = -y
		}
		p.Wheel[i] = [2]float64{x, y}
	}
	for i := range a.Job.Loads {
		if l := &a.Job.Loads[i]; l.ID == load {
			for k := range l.Items {
				p.Weights = append(p.Weights, [2]float64{l.Items[k].Behind.Value, l.Items[k].Left.Value})
			}
		}
	}
	return p
}
