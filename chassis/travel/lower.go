package travel

import (
	"math"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
)

// Adjuster is the way a height is changed.
type Adjuster string

// The two kinds of adjuster. A seat moves the spring alone: bump travel is
// lost millimetre for millimetre. A body moves spring seat and damper
// together: droop, preload and the gap to the stop stay, and the wheel goes
// further into the arch.
const (
	BySeat Adjuster = "seat"
	ByBody Adjuster = "body"
)

// Lowered is a corner's budget after the car was lowered on its adjusters.
type Lowered struct {
	By     float64 // how far the body came down, at the wheel [m]
	Moved  float64 // how far the adjuster went, at the spring or damper, down positive [m]
	Budget Budget
}

// Lower returns the budgets of a corner as the whole car is lowered in steps:
// each step is solved anew for the adjuster's place at which the corner
// carries the same load at the lower height. Tyres do not move, because
// lowering all four corners alike changes no load.
func Lower(sys *equilibrium.System, st *equilibrium.State, i int, how Adjuster, steps []float64) []Lowered {
	out := make([]Lowered, 0, len(steps))
	load, _ := sys.Corner[i].Force(st.Travel[i])
	for _, by := range steps {
		m := sys.Corner[i]
		w := st.Travel[i] + by
		m.BushZero += by // bushes are released and tightened again at the new height
		moved := 0.0
		for range 60 {
			f, _ := shifted(&m, how, moved).Force(w)
			_, k := forceByMove(&m, how, moved, w)
			step := (f - load) / k
			step = math.Max(-0.01, math.Min(0.01, step))
			moved += step
			if math.Abs(step) < 1e-10 {
				break
			}
		}
		low := *sys
		low.Corner[i] = *shifted(&m, how, moved)
		at := *st
		at.Travel[i] = w
		out = append(out, Lowered{By: by, Moved: moved, Budget: New(&low, &at, i)})
	}
	return out
}

// shifted returns the corner with its adjuster moved down.
func shifted(m *corner.Model, how Adjuster, by float64) *corner.Model {
	s := *m
	s.Compressed0 -= by
	if how == ByBody {
		s.Gas = s.Gas.Pushed(-by) // a shorter body takes up less of the rod
		s.Open -= by
		s.Closed -= by
		s.Touch -= by
	}
	return &s
}

// forceByMove returns the loss of force at the wheel per metre the adjuster is
// moved down, by a central difference over a tenth of a millimetre.
func forceByMove(m *corner.Model, how Adjuster, moved, w float64) (force, loss float64) {
	const h = 5e-5
	a, _ := shifted(m, how, moved-h).Force(w)
	b, _ := shifted(m, how, moved+h).Force(w)
	return 0.5 * (a + b), math.Max(100, (a-b)/(2*h))
}
