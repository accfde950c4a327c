package counting

import "math"

// Parts are what a value is the sum of, so that a cycle can be told apart by them. [unit of what was pushed]
type Parts [4]float64

// Sum adds the parts up [unit of what was pushed].
func (p *Parts) Sum() float64 { return p[0] + p[1] + p[2] + p[3] }

// Cycle is a range that was counted.
type Cycle struct {
	Range float64 // greatest less least [unit of what was pushed]
	Mean  float64 // middle of the two [unit of what was pushed]
	Count float64 // 1, or 0.5 for a half cycle [-]
	// Parts are what each part adds to Range, negative where it goes against it; all
	// zero where values were pushed without them.
	Parts Parts
}

// turning is a reversal with what it is made of.
type turning struct {
	value float64
	parts Parts
}

// Rainflow counts cycles of a history that is pushed a value at a time; it keeps
// only the reversals that are still open. The zero value, with Each set, is
// ready. Values that are not finite are left out.
//
// Source: ASTM E1049-85, clause 5.4.4, rainflow counting. Reversals are the
// turning points of the history with its first and last value.
type Rainflow struct {
	Each func(Cycle) // called with every cycle as it closes

	open []turning // reversals that are still open
	last turning   // value pushed last
	way  int       // +1 rising, −1 falling, 0 not known yet
	some bool
}

// Push takes the next value.
func (r *Rainflow) Push(x float64) { r.push(turning{value: x}) }

// PushParts takes the next value by its parts.
func (r *Rainflow) PushParts(p *Parts) { r.push(turning{p.Sum(), *p}) }

func (r *Rainflow) push(x turning) {
	switch {
	case math.IsNaN(x.value) || math.IsInf(x.value, 0):
		return
	case !r.some:
		r.some = true
		r.open = append(r.open[:0], x)
		r.last = x
		return
	case x.value == r.last.value:
		return
	}
	way := 1
	if x.value < r.last.value {
		way = -1
	}
	if r.way != 0 && way != r.way {
		r.turn(r.last)
	}
	r.way, r.last = way, x
}

// turn takes a reversal and closes what it closes.
//
// X is the range of the last two reversals, Y the one before. X < Y: read on.
// Else Y is a cycle, half a one when it holds the start, which then moves on.
func (r *Rainflow) turn(x turning) {
	r.open = append(r.open, x)
	for len(r.open) >= 3 {
		n := len(r.open)
		a, b, c := r.open[n-3], r.open[n-2], r.open[n-1]
		if math.Abs(c.value-b.value) < math.Abs(b.value-a.value) {
			return
		}
		if n == 3 {
			r.count(a, b, 0.5)
			r.open = append(r.open[:0], b, c)
			continue
		}
		r.count(a, b, 1)
		r.open = append(r.open[:n-3], c)
	}
}

func (r *Rainflow) count(a, b turning, share float64) {
	if r.Each == nil {
		return
	}
	low, high := a, b
	if low.value > high.value {
		low, high = b, a
	}
	c := Cycle{Range: high.value - low.value, Mean: 0.5 * (low.value + high.value), Count: share}
	for i := range c.Parts {
		c.Parts[i] = high.parts[i] - low.parts[i]
	}
	r.Each(c)
}

// Close ends the history: what is open is counted as half cycles. The counter is
// then empty and takes another history.
func (r *Rainflow) Close() {
	if r.way != 0 {
		r.turn(r.last)
	}
	for i := 1; i < len(r.open); i++ {
		r.count(r.open[i-1], r.open[i], 0.5)
	}
	r.open, r.some, r.way = r.open[:0], false, 0
}

// Count returns the cycles of a whole history.
func Count(history []float64) []Cycle {
	var out []Cycle
	r := Rainflow{Each: func(c Cycle) { out = append(out, c) }}
	for _, x := range history {
		r.Push(x)
	}
	r.Close()
	return out
}
