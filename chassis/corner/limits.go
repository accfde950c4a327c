package corner

import (
	"math"

	"trunnion/chassis/numeric"
)

// Limits are the wheel travels at which something begins [m]. NaN stands for
// a limit that is not known or not met within reach.
type Limits struct {
	Open   float64 // damper fully open [m]
	Loose  float64 // spring leaves its seat [m]
	Touch  float64 // stop is touched [m]
	Firm   float64 // stop carries half the static corner load at the wheel [m]
	Hard   float64 // stop carries twice the static corner load at the wheel [m]
	Solid  float64 // end of the stop's table [m]
	Closed float64 // damper closed on metal [m]
	Block  float64 // coils touch [m]
}

// reach is how far from zero a wheel travel is looked for [m].
const reach = 0.5

// Limits returns where each limit lies for a static corner load at the tyre
// [N].
func (m *Model) Limits(cornerLoad float64) Limits {
	nan := math.NaN()
	l := Limits{Open: nan, Touch: nan, Firm: nan, Hard: nan, Solid: nan, Closed: nan, Block: nan}
	l.Loose = m.wheelAtSpring(-m.Compressed0)
	if room := m.Spring.Room(); !math.IsInf(room, 1) {
		l.Block = m.wheelAtSpring(room - m.Compressed0)
	}
	if !m.HasDamper {
		return l
	}
	l.Open = m.WheelAtDamper(m.Mounts0 - m.Open)
	l.Closed = m.WheelAtDamper(m.Mounts0 - m.Closed)
	if !m.HasStop {
		return l
	}
	touch := m.Mounts0 - m.Touch
	l.Touch = m.WheelAtDamper(touch)
	l.Solid = m.WheelAtDamper(touch + m.Stop.End)
	l.Firm = m.wheelAtStopForce(0.5*cornerLoad, l.Touch)
	l.Hard = m.wheelAtStopForce(2*cornerLoad, l.Touch)
	return l
}

// wheelAtStopForce finds where the stop pushes the wheel with a force: the
// crush follows from the stop's table, the motion ratio from the travel.
func (m *Model) wheelAtStopForce(force, touch float64) float64 {
	w := touch
	if math.IsNaN(w) {
		return w
	}
	for range 20 {
		_, r, _ := m.DamperTravel.At(w)
		crush, ok := m.Stop.Crush(force / r)
		if !ok {
			return math.NaN()
		}
		next := m.WheelAtDamper(m.Mounts0 - m.Touch + crush)
		done := math.Abs(next-w) < 1e-9
		w = next
		if done || math.IsNaN(w) {
			break
		}
	}
	return w
}

// WheelAtDamper returns the wheel travel [m] at a damper travel [m].
func (m *Model) WheelAtDamper(x float64) float64 { return invert(&m.DamperTravel, x) }

func (m *Model) wheelAtSpring(s float64) float64 { return invert(&m.SpringTravel, s) }

// invert solves p(w) = y near the origin by Newton; NaN when it does not come
// to rest within reach, where the fitted table means nothing any more.
func invert(p *numeric.Smooth, y float64) float64 {
	_, r, _ := p.At(0)
	if r == 0 {
		return math.NaN()
	}
	w := y / r
	for range 30 {
		f, df, _ := p.At(w)
		if df <= 0 {
			return math.NaN()
		}
		step := (f - y) / df
		w -= step
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	if math.Abs(w) > reach || math.IsNaN(w) {
		return math.NaN()
	}
	return w
}
