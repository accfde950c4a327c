package roadtest

import (
	"math"
	"sort"

	"trunnion/chassis/ride"
)

// leg is one corner's force law as the log is put through it, in the letters of package ride.
type leg struct {
	in     *ride.Corner
	travel func(w float64) (x, r, drdw float64)
	rest   float64 // wheel travel at rest [m]
	start  float64 // damper travel at rest [m]
	stop   float64 // of the static curve, in motion [-]
	slip   float64 // friction's rounding [m/s]
	table  []float64
	low    float64
}

// Rows of the table from damper to wheel travel. Chosen: its straight lines are right to 0.1 µm.
const (
	legStep = 0.5e-3 // [m]
	legRows = 1200
)

func newLeg(in *ride.Corner, rest float64) leg {
	l := leg{in: in, travel: in.DamperTravel, rest: rest, stop: in.Stop.Dynamic, slip: in.FrictionSpeed}
	if l.travel == nil {
		l.travel = func(w float64) (float64, float64, float64) { return w, 1, 0 }
	}
	if l.stop == 0 {
		l.stop = 1.3 // as package ride takes it
	}
	if l.slip == 0 {
		l.slip = 0.005 // as package ride takes it [m/s]
	}
	l.start, _, _ = l.travel(rest)
	l.low = l.start - legRows/2*legStep
	w := rest - legRows/2*legStep
	for k := range legRows {
		x := l.low + float64(k)*legStep
		for range 60 {
			got, r, _ := l.travel(w)
			if r <= 0.05 || math.Abs(got-x) < 1e-9 {
				break
			}
			w -= (got - x) / r
		}
		l.table = append(l.table, w)
	}
	return l
}

// wheel returns the wheel travel [m] at a damper travel [m].
func (l *leg) wheel(x float64) float64 {
	u := math.Min(math.Max((x-l.low)/legStep, 0), legRows-1.001)
	k := int(u)
	return l.table[k] + (u-float64(k))*(l.table[k+1]-l.table[k])
}

// basis is what a corner's force is made of, sample by sample, for one gain and zero of its channel.
type basis struct {
	w      []float64 // wheel travel from rest [m]
	x      []float64 // damper travel [m]
	spring []float64 // at the wheel, from rest [N]
	valve  []float64 // of the damper, at the wheel [N]
	rub    []float64 // of 1 N friction at the damper, at the wheel [-]
	open   []float64 // of the top-out, at the wheel [N]
	speed  []float64 // of the damper [m/s]
	ratio  []float64 // [-]
	step   float64   // between samples [s]
}

// basisOf puts damper travel from rest and its speed through the corner.
func (l *leg) basisOf(travel, speed []float64, gain, zero, rate float64) *basis {
	n := len(travel)
	b := &basis{
		w: make([]float64, n), x: make([]float64, n), spring: make([]float64, n), valve: make([]float64, n),
		rub: make([]float64, n), open: make([]float64, n), speed: make([]float64, n), ratio: make([]float64, n), step: 1 / rate,
	}
	rest, _ := l.in.Spring(l.rest)
	for k := range travel {
		x := l.start + travel[k]*(1+gain) + zero
		v := speed[k] * (1 + gain)
		w := l.wheel(x)
		_, r, _ := l.travel(w)
		f, _ := l.in.Spring(w)
		b.w[k], b.x[k], b.spring[k], b.speed[k], b.ratio[k] = w-l.rest, x, f-rest, v, r
		if l.in.Damper != nil {
			b.valve[k] = r * l.in.Damper(v)
		}
		b.rub[k] = r * math.Tanh(v/l.slip)
		b.open[k] = -r * l.topOut(x)
		if l.in.MetalStiffness > 0 && x > l.in.MetalTravel {
			b.open[k] += r * l.in.MetalStiffness * (x - l.in.MetalTravel)
		}
	}
	return b
}

// topOut is the pull at the damper [N].
func (l *leg) topOut(x float64) float64 {
	squash := l.in.TopOut.OpenTravel - x
	if squash <= 0 {
		return 0
	}
	if l.in.TopOut.Force != nil {
		f, _ := l.in.TopOut.Force(squash)
		return f
	}
	return l.in.TopOut.Stiffness * squash
}

// stopForce is that of the stop at the damper [N], loading, in motion.
func (l *leg) stopForce(x, nearer float64) float64 {
	crush := x - l.in.Stop.TouchTravel - nearer
	if l.in.Stop.Force == nil || crush <= 0 {
		return 0
	}
	f, _ := l.in.Stop.Force(crush)
	return f * l.stop
}

// force is the suspension force at the wheel over what it is at rest [N], the bar left out.
// What a stop keeps of a hit is taken off while it opens.
func (l *leg) force(b *basis, s *shift, i int, dst []float64) []float64 {
	friction := l.in.Friction + s.friction[i]
	loss := l.in.Stop.Loss
	mounted := l.in.MountStiffness > 0
	if mounted {
		l.throughMount(b, s, i, dst)
	}
	for k := range b.w {
		f := b.spring[k]*(1+s.spring[i]) + b.open[k]
		switch {
		case mounted:
			f += b.ratio[k] * dst[k]
		case b.speed[k] > 0:
			f += b.rub[k]*friction + b.valve[k]*(1+s.bump[i])
		default:
			f += b.rub[k]*friction + b.valve[k]*(1+s.rebound[i])
		}
		if stop := l.stopForce(b.x[k], s.gap[i]); stop > 0 {
			if b.speed[k] < 0 {
				stop *= 1 - loss
			}
			f += b.ratio[k] * stop
		}
		dst[k] = f
	}
	return dst
}

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
