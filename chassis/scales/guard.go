package scales

import (
	"math"

	"trunnion/chassis/equilibrium"
)

// Refusal is why a move must not be made.
type Refusal struct {
	Code   string // thread, engagement, no-collar, spring-loose, stop-gap, no-rest
	Corner int
	Load   string  // of the load state; empty where it does not matter
	Value  float64 // what the move leads to [m]
	Limit  float64 // what it may lead to [m]
}

// bounds are how far each collar may go from where it stands, and what holds it
// there.
type bounds struct {
	low, high       [4]float64 // [m]
	heldLow, heldHi [4]string  // code of what holds it
}

// bounds returns the range of the threads from where the collars stand now.
func (m *Model) bounds(t *Target) bounds {
	var b bounds
	for i := range 4 {
		a := &m.Rig.Adjuster[i]
		if a.Kind == Fixed || a.Pitch <= 0 {
			b.heldLow[i], b.heldHi[i] = "no-collar", "no-collar"
			continue
		}
		if t.Locked[i] {
			b.heldLow[i], b.heldHi[i] = "locked", "locked"
			continue
		}
		low, high := a.Reach()
		at := m.Rig.At[i] + m.Moved[i]
		// A collar already past its range may stay or come back.
		b.low[i], b.high[i] = math.Min(0, low-at), math.Max(0, high-at)
		b.heldLow[i], b.heldHi[i] = "thread", "thread"
		if high < a.Up {
			b.heldHi[i] = "engagement"
		}
	}
	return b
}

// margin is what a guard watches at one corner.
type margin struct {
	toStop float64 // NaN: not known [m]
	loose  float64 // NaN: not known [m]
}

// margins are those of all corners under a guard after a move from now [m]. They
// are taken as the car stands on the scales, with its drop links off: bars carry
// nothing on a level load, and connected they are to carry none.
func (m *Model) margins(g *Guard, move [4]float64) (out [4]margin, err error) {
	for i := range 4 {
		move[i] += m.Moved[i]
	}
	r := m.with(&m.z)
	sys := r.moved(&r.System, m.turned(move, &m.z))
	aboard := g.Aboard
	aboard.Down += r.Aboard.Down - m.Rig.Aboard.Down
	aboard.Behind += r.Aboard.Behind - m.Rig.Aboard.Behind
	aboard.Left += r.Aboard.Left - m.Rig.Aboard.Left
	st, err := sys.Solve(aboard, nil)
	if err != nil {
		return out, err
	}
	for i := range 4 {
		out[i] = marginOf(&sys, &st, i)
	}
	return out, nil
}

func marginOf(sys *equilibrium.System, st *equilibrium.State, i int) margin {
	c := &sys.Corner[i]
	l := c.Limits(st.Load[i])
	out := margin{toStop: l.Touch - st.Travel[i], loose: math.NaN()}
	if !math.IsNaN(l.Open) {
		s, _, _ := c.SpringTravel.At(l.Open)
		out.loose = -(c.Compressed0 + s)
	}
	return out
}

// Check returns why a move from where the collars stand [m] must not be made;
// nothing when it may. What is beyond a limit before the move may not get worse.
func (m *Model) Check(move [4]float64) []Refusal {
	var list []Refusal
	b := m.bounds(&Target{})
	const slack = 1e-9
	for i := range 4 {
		if move[i] < b.low[i]-slack {
			list = append(list, Refusal{Code: b.heldLow[i], Corner: i, Value: move[i], Limit: b.low[i]})
		}
		if move[i] > b.high[i]+slack {
			list = append(list, Refusal{Code: b.heldHi[i], Corner: i, Value: move[i], Limit: b.high[i]})
		}
	}
	return append(list, m.guarded(move)...)
}

// guarded returns the guards that a move breaks.
func (m *Model) guarded(move [4]float64) []Refusal {
	var list []Refusal
	const slack = 2e-5 // two hundredths of a millimetre are no reason
	for k := range m.Rig.Guards {
		g := &m.Rig.Guards[k]
		was, err := m.margins(g, [4]float64{})
		if err != nil {
			continue // no rest before either: nothing to hold it against
		}
		is, err := m.margins(g, move)
		if err != nil {
			list = append(list, Refusal{Code: "no-rest", Corner: -1, Load: g.Load})
			continue
		}
		for i := range 4 {
			if least := math.Min(g.StopLeast, was[i].toStop); is[i].toStop < least-slack {
				list = append(list, Refusal{Code: "stop-gap", Corner: i, Load: g.Load, Value: is[i].toStop, Limit: least})
			}
			if most := math.Max(g.LooseMost, was[i].loose); is[i].loose > most+slack {
				list = append(list, Refusal{Code: "spring-loose", Corner: i, Value: is[i].loose, Limit: most})
			}
		}
	}
	return list
}

// tighten moves the end of a collar's range so that a broken guard holds, by
// what that collar alone does to the margin. A margin that its own collar does
// not move leaves the collar where it stands.
func (m *Model) tighten(b *bounds, r *Refusal, move [4]float64) {
	i := r.Corner
	if i < 0 {
		for k := range 4 {
			b.low[k], b.high[k] = 0.5*math.Min(0, move[k]), 0.5*math.Max(0, move[k])
			b.heldLow[k], b.heldHi[k] = r.Code, r.Code
		}
		return
	}
	var g *Guard
	for k := range m.Rig.Guards {
		if m.Rig.Guards[k].Load == r.Load || r.Load == "" {
			g = &m.Rig.Guards[k]
			break
		}
	}
	const h = 5e-4
	other := move
	other[i] += h
	one, err1 := m.margins(g, move)
	two, err2 := m.margins(g, other)
	slope, short := 0.0, 0.0
	if err1 == nil && err2 == nil {
		if r.Code == "stop-gap" {
			slope, short = (two[i].toStop-one[i].toStop)/h, r.Limit-r.Value
		} else {
			slope, short = (one[i].loose-two[i].loose)/h, r.Value-r.Limit
		}
	}
	if math.Abs(slope) < 0.05 {
		b.low[i], b.high[i] = 0, 0
		b.heldLow[i], b.heldHi[i] = r.Code, r.Code
		return
	}
	to := move[i] + short/slope
	if slope > 0 {
		b.low[i] = math.Min(b.high[i], math.Max(b.low[i], to))
		b.heldLow[i] = r.Code
		return
	}
	b.high[i] = math.Max(b.low[i], math.Min(b.high[i], to))
	b.heldHi[i] = r.Code
}
