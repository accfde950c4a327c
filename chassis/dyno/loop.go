package dyno

import "math"

// Limits of the signs. Common practice, no source.
const (
	mostHysteresis = 0.15 // of the peak force [-]
	mostPosition   = 0.10 // of the peak force [-]
	mostLate       = 0.08 // of the stroke [-]
	mostFlat       = 0.03 // of the stroke [-]
	mostOpen       = 0.05 // of the stroke [-]
)

// bins is how finely a loop is read by its place on the stroke. Chosen.
const bins = 60

// halves is the damping force of each half stroke by the share of the peak speed it
// is read at: quickening before the middle of the stroke, slowing after it.
type halves struct {
	force [2][2][bins]float64 // stroke, quickening or slowing, share of the peak speed; NaN: no reading there
}

// parts sorts a loop's readings into its four quarters. Gas rate has the phase of
// hysteresis and is taken off; where the slowest loops alone give it, theirs goes with
// it and shows none.
func (s *Set) parts(r *Run) (h halves, middle, stroke float64) {
	high, deep := extremes(r.Position)
	up, down := extremes(r.Velocity)
	middle, stroke = 0.5*(high+deep), high-deep
	var n [2][2][bins]int
	rate := s.Static.Rate.Value
	for i, v := range r.Velocity {
		k, peak := 0, up
		if v < 0 {
			k, peak = 1, -down
		}
		x := r.Position[i] - middle
		sign := math.Copysign(1, v)
		slowing := 0
		if x*sign > 0 {
			slowing = 1
		}
		at := min(int(math.Abs(v)/peak*bins), bins-1)
		f := sign*(r.Force[i]-s.Static.Gas.Value-rate*x) - s.Static.Friction.Value
		h.force[k][slowing][at] += f
		n[k][slowing][at]++
	}
	for k := range 2 {
		for j := range 2 {
			for i := range bins {
				h.force[k][j][i] /= float64(n[k][j][i]) // NaN where nothing was read
			}
		}
	}
	return h, middle, stroke
}

// around is the mean force of a quarter round half of the peak speed.
func around(f *[bins]float64) float64 {
	sum, n := 0.0, 0
	for _, v := range f[bins*2/5 : bins*3/5] {
		if !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	return sum / float64(n)
}

// look reads the signs of a loop.
//
//	h = (s_b + s_r)/2    p = (s_b − s_r)/2    s = (F_slowing − F_quickening)/F_mean at half the peak speed
//
// Hysteresis has the sign of the motion in both strokes and is h; what depends on the
// place is met slowing in one stroke and quickening in the other and is p.
//
// Source: derived here.
func (s *Set) look(r *Run) Loop {
	h, _, stroke := s.parts(r)
	up, down := extremes(r.Velocity)
	l := Loop{From: r.From, Setting: r.Setting, Speed: 0.5 * (up - down), Stroke: stroke, Temperature: r.Temperature}
	l.Work, l.MeanPower, l.Turn = work(r)
	add := func(is bool, sign Sign) {
		if is {
			l.Signs = append(l.Signs, sign)
		}
	}
	var share [2]float64
	for k := range 2 {
		quick, slow := around(&h.force[k][0]), around(&h.force[k][1])
		share[k] = (slow - quick) / (0.5 * (slow + quick))
		l.Late[k], l.Flat[k] = s.onset(&h, k)
	}
	l.Hysteresis = Band{Value: 0.5 * (share[0] + share[1])}
	l.Position = Band{Value: 0.5 * (share[0] - share[1])}
	add(l.Work < 0, GivesEnergy)
	add(math.Abs(l.Hysteresis.Value) > mostHysteresis, Hysteresis)
	add(math.Abs(l.Position.Value) > mostPosition, PositionSign)
	flat := math.Max(l.Flat[0], l.Flat[1]) > mostFlat
	add(flat, FlatStart)
	add(!flat && math.Max(l.Late[0], l.Late[1]) > mostLate, LateOnset)
	add(math.Abs(up+down) > 0.05*(up-down), OffCentre)
	add(open(r, stroke, up-down), NotClosed)
	add(spiked(r, up, down), EndSpikes)
	return l
}

// onset is how much of the stroke passes after a reversal before half of the force
// that slowing gives at the same speed is there, and before any is. A sine moves
// (1 − √(1−u²))/2 of its stroke until it has the share u of its peak speed.
func (s *Set) onset(h *halves, k int) (late, flat float64) {
	travelled := func(i int) float64 {
		u := (float64(i) + 0.5) / bins
		return 0.5 * (1 - math.Sqrt(1-u*u))
	}
	top := math.Max(h.force[k][1][bins-1], h.force[k][0][bins-1])
	started := false
	for i := range bins {
		quick, slow := h.force[k][0][i], h.force[k][1][i]
		if math.IsNaN(quick) || math.IsNaN(slow) || slow < 0.1*top {
			continue
		}
		if !started && quick < 0.1*slow {
			flat = travelled(i)
		} else {
			started = true
		}
		if quick >= 0.5*slow {
			break
		}
		late = travelled(i)
	}
	return late, flat
}

// work is the integral of force over travel in one turn, the mean of force times
// velocity, and the time of a turn.
func work(r *Run) (joule, watt, turn float64) {
	n := len(r.Force)
	turns := turnsOf(r)
	weight, travelled := 0.0, 0.0
	for i := range n {
		j := (i + 1) % n
		joule += 0.5 * (r.Force[i] + r.Force[j]) * (r.Position[j] - r.Position[i])
		if r.Time == nil {
			watt, weight = watt+r.Force[i]*r.Velocity[i], weight+1
		} else if i+1 < n {
			dt := r.Time[i+1] - r.Time[i]
			watt += 0.5 * (r.Force[i]*r.Velocity[i] + r.Force[i+1]*r.Velocity[i+1]) * dt
			travelled += dt
		}
	}
	joule /= turns
	if r.Time != nil && travelled > 0 {
		// The step back to the first reading is not in the times of a single turn.
		return joule, watt / travelled, travelled * float64(n) / float64(n-1) / turns
	}
	if r.Frequency > 0 {
		turn = 1 / r.Frequency
	}
	return joule, watt / weight, turn
}

// turnsOf counts the turns of a run by the reversals from rebound to bump.
func turnsOf(r *Run) float64 {
	up, down := extremes(r.Velocity)
	n, below := 0, false
	first := r.Velocity[0] < 0
	for _, v := range r.Velocity {
		switch {
		case v < 0.3*down:
			below = true
		case v > 0.3*up && below:
			n, below = n+1, false
		}
	}
	if below && !first {
		n++ // it ends in rebound, having begun in bump
	}
	return math.Max(float64(n), 1)
}

// open reports a run whose last reading is further from its first than a few of its
// own steps.
func open(r *Run, stroke, speeds float64) bool {
	n := len(r.Position)
	gap := math.Abs(r.Position[n-1] - r.Position[0])
	way := 0.0
	for i := 1; i < n; i++ {
		way += math.Abs(r.Position[i] - r.Position[i-1])
	}
	turned := math.Abs(r.Velocity[n-1]-r.Velocity[0]) > 0.2*speeds
	return gap > mostOpen*stroke+3*way/float64(n-1) || turned
}

// spiked reports readings at the ends of the stroke that stand further from the
// middle of all than twice the forces of full speed.
func spiked(r *Run, up, down float64) bool {
	var most float64
	for i, v := range r.Velocity {
		if v > nearPeak*up || v < nearPeak*down {
			most = math.Max(most, math.Abs(r.Force[i]))
		}
	}
	for i, v := range r.Velocity {
		if v < 0.1*up && v > 0.1*down && math.Abs(r.Force[i]) > 1.5*most {
			return true
		}
	}
	return false
}
