package scales

import "math"

// Lift is a car with one axle raised, its suspension locked, both axles' wheels
// free to roll, and the other axle on the scales.
type Lift struct {
	Total     Band // of the whole car [kg]
	Gain      Band // of the axle that stays on the scales, raised over level [kg]
	Wheelbase Band // [m]
	Raised    Band // of the raised axle's wheel centres over the others' [m]
	Radius    Band // of the wheel centres over the ground, level [m]
}

// CGHeight is the height of the centre of gravity of the whole car over the
// ground [m], with what its readings leave open.
//
//	h = r + ΔW·L/(W·tan θ),   sin θ = H/L
//
// Source: the moments about the raised axle, derived here; the usual formula of
// textbooks. The half-width is the root of the squares of what each reading
// alone moves it by.
func (l *Lift) CGHeight() Band {
	at := func(total, gain, wheelbase, raised, radius float64) float64 {
		sine := raised / wheelbase
		return radius + gain*wheelbase*math.Sqrt(1-sine*sine)/(total*sine)
	}
	v := [5]float64{l.Total.Value, l.Gain.Value, l.Wheelbase.Value, l.Raised.Value, l.Radius.Value}
	half := [5]float64{l.Total.Half, l.Gain.Half, l.Wheelbase.Half, l.Raised.Half, l.Radius.Half}
	out := Band{Value: at(v[0], v[1], v[2], v[3], v[4])}
	for k := range v {
		low, high := v, v
		low[k] -= half[k]
		high[k] += half[k]
		d := 0.5 * (at(high[0], high[1], high[2], high[3], high[4]) - at(low[0], low[1], low[2], low[3], low[4]))
		out.Half = math.Hypot(out.Half, d)
	}
	return out
}

// Sprung is the height of the sprung mass alone [m]: that of the whole car with
// the unsprung masses [kg], at the height of the wheel centres [m], taken out.
//
//	h_s = (W·h − m_u·r)/(W − m_u)
func (l *Lift) Sprung(unsprung float64) Band {
	h, w := l.CGHeight(), l.Total.Value
	return Band{Value: (w*h.Value - unsprung*l.Radius.Value) / (w - unsprung), Half: h.Half * w / (w - unsprung)}
}
