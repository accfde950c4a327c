package ride

import "math"

// What is looked at in a bounce: choices of the engine, no source.
const (
	leastBounce = 1e-3 // a bounce to a smaller height either way is not judged [m]
	leastSwing  = 2e-5 // a smaller swing is not told from nothing [m]
	blurred     = 2.5  // so many σ after the obstacle the filter no longer sees it [-]
	flat        = 1e-6 // a road that moves less has not moved [m]
	calm        = 1e-3 // a body slower than this at the end stands where friction holds it [m/s]
	calmFor     = 0.25 // for so long [s]
)

// keep stores the height of the body over both axles, and when the road last moved under a wheel.
func (s *scratch) keep(m *Model, road [][4]float64) {
	b := &s.block
	for n := range road {
		for i, z := range road[n] {
			if math.Abs(z-s.ground[i]) > flat {
				s.ground, s.freed = road[n], len(s.axle[0])+1
			}
		}
		for k := range s.axle {
			s.axle[k] = append(s.axle[k], b.bodyZ[n]+m.sunk(b.bodyR[n], b.bodyP[n])-m.corner[2*k].x*b.bodyP[n])
		}
	}
}

func (s *scratch) event(m *Model, h float64, res *Result) Event {
	e := Event{Flight: s.air.result}
	for k := range res.Floor {
		e.Acceleration = math.Max(e.Acceleration, res.Floor[k].Comfort.RawPeak)
	}
	for i := range res.Corners {
		c := &res.Corners[i]
		e.Force[i] = c.ForceMax
		e.StopHit[i] = c.StopPeak > m.rest.StopForce[i]*(1+1e-9)
	}
	for k, z := range s.axle {
		ground := (s.ground[2*k] + s.ground[2*k+1]) / 2
		sigma := blur(m.between(k))
		clear := s.freed + int(blurred*sigma/h)
		e.Decay[k] = decay(s.smoother.smooth(k, z, sigma, h, min(s.freed, len(z))), ground, s.freed, clear, h)
	}
	return e
}

// between returns a frequency between the body's over an axle and that of its wheels' hop, their geometric mean [Hz].
func (m *Model) between(axle int) float64 {
	l, r := 2*axle, 2*axle+1
	rate := math.Max(m.rest.WheelRate[l]+m.rest.WheelRate[r], 1)
	tyre := m.corner[l].rate + m.corner[r].rate
	carried := (m.rest.TyreLoad[l]+m.rest.TyreLoad[r])/m.gravity - m.corner[l].mass - m.corner[r].mass
	body := math.Sqrt(rate * tyre / (rate + tyre) / math.Max(carried, 1))
	hop := math.Sqrt((rate + tyre) / (m.corner[l].mass + m.corner[r].mass))
	return math.Sqrt(body*hop) / (2 * math.Pi)
}

// blur returns the width of a Gaussian that halves what swings at a frequency f [s].
func blur(f float64) float64 { return math.Sqrt(2*math.Ln2) / (2 * math.Pi * f) }

// turn is where the body turns back.
type turn struct {
	step   int
	height float64 // above rest [m]
}

// turns lists where a body that is free since step from turns back, and last of all where it is at the end. What was on
// its way back already when the road let go had turned before, and does not count; nor does a ripple of less than
// leastSwing.
func turns(y []float64, ground float64, from int) []turn {
	var out []turn
	last := len(y) - 1
	if from >= last {
		return nil
	}
	at, way := from, 0.0 // the farthest point so far, and which way the body goes: up positive
	for n := from + 1; n <= last; n++ {
		step := y[n] - y[at]
		switch {
		case way == 0 && math.Abs(step) > leastSwing:
			at, way = n, math.Copysign(1, step)
		case way*step > 0:
			at = n
		case way*step < -leastSwing:
			out = append(out, turn{at, y[at] - ground})
			at, way = n, -way
		}
	}
	if len(out) == 0 {
		return nil
	}
	return append(out, turn{last, y[last] - ground})
}

// decay reads the free bounce y of the body, whose road lies at ground and has not moved since step from; up to step
// clear the filter still sees the obstacle.
//
//	b_k = |z_{k+2} − z_{k+3}|/|z_k − z_{k+1}|   over turning points z_k
//
// For a linear body of one freedom every b_k is exp(−2πζ/√(1 − ζ²)); with friction alone, of force F over a rate k, each
// swing is 4·F/k shorter than the one before.
//
// Source: any text on free vibration with viscous and with Coulomb damping, such as J. P. Den Hartog, Mechanical
// Vibrations, 1956, sections 2.8 and 8.4, from memory.
func decay(y []float64, ground float64, from, clear int, h float64) Decay {
	var d Decay
	list := turns(y, ground, from)
	swing := func(k int) float64 {
		if k+1 >= len(list) {
			return 0
		}
		return math.Abs(list[k].height - list[k+1].height)
	}
	top := 0
	for k := range list {
		if swing(k) > swing(top) {
			top = k
		}
	}
	if len(list) == 0 {
		return d
	}
	d.Bounce, d.Excited = list[top].height, swing(top) >= 2*leastBounce
	first := top
	for list[first].step < clear && swing(first+1) >= leastBounce {
		first++
	}
	// The last swing but one is the last whole one: after it the body only comes to rest.
	for k := first; k == first || k+3 < len(list); k++ {
		b := swing(k+2) / swing(k)
		if k == first {
			d.Second, d.Low, d.High = b, b, b
		}
		d.Low, d.High = math.Min(d.Low, b), math.Max(d.High, b)
	}
	d.Settling = settling(y, ground, list[top], h)
	return d
}

// settling returns how long after a turning point the body last was a tenth of that way from where it comes to stand; −1
// where it does not come to stand [s]. Friction may hold it off its rest: that is no movement.
func settling(y []float64, ground float64, first turn, h float64) float64 {
	last := len(y) - 1
	tail := int(math.Ceil(calmFor / h))
	stands := y[last]
	for k := max(last-tail, first.step); k < last; k++ {
		if math.Abs(y[k+1]-y[k]) > calm*h {
			stands = ground
			break
		}
	}
	tenth := math.Abs(y[first.step]-stands) / 10
	for k := last; k >= first.step; k-- {
		if math.Abs(y[k]-stands) > tenth {
			if last-k < tail {
				return -1
			}
			return float64(k+1-first.step) * h
		}
	}
	return 0
}
