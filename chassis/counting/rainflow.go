package counting

import "math"

// Cycle is a range that was counted.
type Cycle struct {
	Range float64 // greatest less least [unit of what was pushed]
	Mean  float64 // middle of the two [unit of what was pushed]
	Count float64 // 1, or 0.5 for a half cycle [-]
}

// Rainflow counts cycles of a history that is pushed a value at a time; it keeps
// only the reversals that are still open. The zero value, with Each set, is
// ready. Values that are not finite are left out.
//
// Source: ASTM E1049-85, clause 5.4.4, rainflow counting. Reversals are the
// turning points of the history with its first and last value.
type Rainflow struct {
	Each func(Cycle) // called with every cycle as it closes

	open []float64 // reversals that are still open
	last float64   // value pushed last
	way  int       // +1 rising, −1 falling, 0 not known yet
	some bool
}

// Push takes the next value.
func (r *Rainflow) Push(x float64) {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return
	case !r.some:
		r.some = true
		r.open = append(r.open[:0], x)
		r.last = x
		return
	case x == r.last:
		return
	}
	way := 1
	if x < r.last {
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
func (r *Rainflow) turn(x float64) {
	r.open = append(r.open, x)
	for len(r.open) >= 3 {
		n := len(r.open)
		a, b, c := r.open[n-3], r.open[n-2], r.open[n-1]
		if math.Abs(c-b) < math.Abs(b-a) {
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

func (r *Rainflow) count(a, b, share float64) {
	if r.Each != nil {
		r.Each(Cycle{Range: math.Abs(b - a), Mean: 0.5 * (a + b), Count: share})
	}
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
