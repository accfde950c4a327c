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
	var s corner.Model // the corner at the place tried, used again for each try
	for _, by := range steps {
		m := sys.Corner[i]
		w := st.Travel[i] + by
		m.BushZero += by // bushes are released and tightened again at the new height
		moved := 0.0
		for range 60 {
			shift(&s, &m, how, moved)
			f, _ := s.Force(w)
			k := lossByMove(&s, &m, how, moved, w)
			step := (f - load) / k
			step = math.Max(-0.01, math.Min(0.01, step))
			moved += step
			if math.Abs(step) < 1e-10 {
				break
			}
		}
		low := *sys
		shift(&low.Corner[i], &m, how, moved)
		at := *st
		at.Travel[i] = w
		out = append(out, Lowered{By: by, Moved: moved, Budget: New(&low, &at, i)})
	}
	return out
}

// shift sets s to the corner m with its adjuster moved down. The place is the
// caller's, because the height is sought in many tries in every draw.
func shift(s, m *corner.Model, how Adjuster, by float64) {
	*s = *m
	s.Compressed0 -= by
	if how == ByBody {
		s.Gas = s.Gas.Pushed(-by) // a shorter body takes up less of the rod
		s.Open -= by
		s.Closed -= by
		s.Touch -= by
	}
}

// lossByMove returns the loss of force at the wheel per metre the adjuster is
// moved down [N/m], by a central difference over a tenth of a millimetre. It
// leaves s at the last place tried.
func lossByMove(s, m *corner.Model, how Adjuster, moved, w float64) float64 {
	const h = 5e-5
	shift(s, m, how, moved-h)
	a, _ := s.Force(w)
	shift(s, m, how, moved+h)
	b, _ := s.Force(w)
	return math.Max(100, (a-b)/(2*h))
}
