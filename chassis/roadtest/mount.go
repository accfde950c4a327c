package roadtest

import (
	"math"
	"sort"
)

// law is a damper's force with its friction over speed, as a table that is read both ways.
type law struct{ speed, force []float64 }

// The table of a law: denser near nothing, where friction turns. Chosen.
const (
	lawRows = 301
	lawTop  = 4.0 // [m/s]
	lawBend = 7.0
)

// lawOf tabulates valve and friction of a corner with a shift.
func (l *leg) lawOf(s *shift, i int) law {
	var out law
	friction := l.in.Friction + s.friction[i]
	for k := range lawRows {
		u := 2*float64(k)/(lawRows-1) - 1
		v := lawTop * math.Sinh(lawBend*u) / math.Sinh(lawBend)
		f := friction * math.Tanh(v/l.slip)
		if l.in.Damper != nil {
			scale := 1 + s.rebound[i]
			if v > 0 {
				scale = 1 + s.bump[i]
			}
			f += l.in.Damper(v) * scale
		}
		if n := len(out.force); n > 0 && f <= out.force[n-1] {
			f = out.force[n-1] + 1e-6 // an inverse needs a law that rises
		}
		out.speed, out.force = append(out.speed, v), append(out.force, f)
	}
	return out
}

// inverse is the speed at a force, and its slope.
func (t *law) inverse(force float64) (speed, slope float64) {
	k := min(max(sort.SearchFloat64s(t.force, force), 1), len(t.force)-1)
	slope = (t.speed[k] - t.speed[k-1]) / (t.force[k] - t.force[k-1])
	return t.speed[k-1] + slope*(force-t.force[k-1]), slope
}

// throughMount is the force of a damper behind its rubber mount, sample by sample, as
// package ride steps it: the mount's compression x follows
//
//	dx = h·(v_d − G⁻¹(k·x))/(1 + h/2·k·dG⁻¹/dF),  F = k·(x + dx/2)
func (l *leg) throughMount(b *basis, s *shift, i int, dst []float64) {
	t := l.lawOf(s, i)
	k, x := l.in.MountStiffness, 0.0
	for n, v := range b.speed {
		slip, slope := t.inverse(k * x)
		dx := b.step * (v - slip) / (1 + b.step/2*k*slope)
		dst[n] = k * (x + dx/2)
		x += dx
	}
}
