package travel

import (
	"math"

	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
)

// Budget is the travel of one corner in one load state. A margin is the limit
// less the rest position for bump, the rest position less the limit for droop:
// positive while there is travel left. NaN is not known.
type Budget struct {
	Rest   float64 // wheel travel at rest [m]
	Limits corner.Limits

	ToStop   float64 // to the stop's first touch; negative: in it [m]
	ToFirm   float64 // to the stop carrying half the static corner load [m]
	ToHard   float64 // to twice the static corner load [m]
	ToSolid  float64 // to the end of the stop's table [m]
	ToClosed float64 // to metal in the damper [m]
	ToBlock  float64 // to coils touching [m]
	ToOpen   float64 // droop to the damper's open end [m]

	GapOpen    float64 // at the spring, with the damper open: > 0 is loose [m]
	StopShare  float64 // of the corner load that the stop carries; NaN where nobody knows where it is [-]
	CatchWork  float64 // work of spring and stop from rest to firm, less the weight carried [J]
	CatchSpeed float64 // wheel speed the spring and stop can catch before firm [m/s]
}

// New returns the budget of a corner at rest.
func New(sys *equilibrium.System, st *equilibrium.State, i int) Budget {
	m := &sys.Corner[i]
	w := st.Travel[i]
	l := m.Limits(st.Load[i])
	b := Budget{
		Rest: w, Limits: l,
		ToStop: l.Touch - w, ToFirm: l.Firm - w, ToHard: l.Hard - w,
		ToSolid: l.Solid - w, ToClosed: l.Closed - w, ToBlock: l.Block - w, ToOpen: w - l.Open,
		GapOpen: math.NaN(),
	}
	if !math.IsNaN(l.Open) {
		s, _, _ := m.SpringTravel.At(l.Open)
		b.GapOpen = -(m.Compressed0 + s)
	}
	switch {
	case !m.EndKnown():
		b.StopShare = math.NaN()
	case b.ToStop < 0 && st.Load[i] > 0:
		sh := m.At(w)
		b.StopShare = sh.Stop / st.Load[i]
	}
	b.CatchWork, b.CatchSpeed = Catch(m, w, l)
	return b
}

// Catch returns the work [J] that spring and stop take up between rest and
// firm, and the speed [m/s] at which the sprung mass of a corner may
// run into bump from rest at w and be caught where the stop is firm, damper
// left out.
//
//	v = √(2·E/m),   E = ∫_w^firm (S(x) − S(w)) dx,   m = S(w)/g
//
// Source: work and energy; own derivation.
func Catch(m *corner.Model, w float64, l corner.Limits) (taken, speed float64) {
	if l.Firm <= w {
		return 0, 0
	}
	static, _ := m.Force(w)
	if math.IsNaN(l.Firm) || static <= 0 {
		return math.NaN(), math.NaN()
	}
	before, after := Work(m, w, l)
	taken = before + after - static*(l.Firm-w)
	return taken, math.Sqrt(math.Max(0, 2*taken*equilibrium.Gravity/static))
}

// Work returns the work that spring, gas and stop take up between rest and the touch
// of the stop, and between there and firm [J]. The force bends where the stop is met:
// each side of it is integrated apart.
func Work(m *corner.Model, w float64, l corner.Limits) (before, after float64) {
	middle := math.Max(w, math.Min(l.Touch, l.Firm))
	return work(m, w, middle), work(m, middle, l.Firm)
}

// work integrates the force at the wheel by 5-point Gauss-Legendre [J].
// Nodes: Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4.
func work(m *corner.Model, from, to float64) float64 {
	if to <= from {
		return 0
	}
	nodes := [3]float64{0, 0.538469310105683, 0.906179845938664}
	weights := [3]float64{0.568888888888889, 0.478628670499366, 0.236926885056189}
	mid, half := 0.5*(from+to), 0.5*(to-from)
	f, _ := m.Force(mid)
	sum := weights[0] * f
	for k := 1; k < 3; k++ {
		a, _ := m.Force(mid - half*nodes[k])
		b, _ := m.Force(mid + half*nodes[k])
		sum += weights[k] * (a + b)
	}
	return half * sum
}
