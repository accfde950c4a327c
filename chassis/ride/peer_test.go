package ride

import "math"

// peer is a classic fourth-order Runge-Kutta with a fixed step on the same tables: what the engine's method is measured
// against. It knows no mount and no loss in the stops.
type peer struct {
	m    *Model
	q, v [7]float64
}

func (p *peer) accelerate(q, v *[7]float64, road *[4]float64) (a [7]float64) {
	m := p.m
	var w, f, load [4]float64
	for i := range m.corner {
		c := &m.corner[i]
		w[i] = c.restTravel + q[3+i] - (q[0] + m.sunk(q[2], q[1]) - c.x*q[1] + c.y*q[2])
		wd := v[3+i] - (v[0] - (c.x-m.arm[1]*q[1])*v[1] + (c.y+m.arm[0]*q[2])*v[2])
		force, _, r := c.position.at(w[i])
		d, _ := c.damper.at(r * wd)
		force += r * d
		if w[i] > c.stopAt {
			fs, _ := c.stop.frozen(w[i], 0)
			force += fs
		}
		if w[i] < c.topAt {
			pull, _ := c.top.at(w[i])
			force -= pull
		}
		f[i] = force
		load[i], _ = c.tyre(c.restDeflection + road[i] - q[3+i])
	}
	for k := range 2 {
		b := m.bars[k] * (w[2*k] - w[2*k+1] - m.barFree[k])
		f[2*k] += b
		f[2*k+1] -= b
	}
	a[0] = -m.gravity
	for i := range m.corner {
		c := &m.corner[i]
		a[0] += f[i] * m.invMass
		a[1] -= (c.x - m.arm[1]*q[1]) * f[i] * m.invPitch
		a[2] += (c.y + m.arm[0]*q[2]) * f[i] * m.invRoll
		a[3+i] = (load[i]-f[i])*c.invMass - m.gravity
	}
	return a
}

// step advances by h; the road is given at the start, the middle and the end.
func (p *peer) step(r0, r1, r2 *[4]float64, h float64) (a0 [7]float64) {
	q, v := p.q, p.v
	k1 := p.accelerate(&q, &v, r0)
	var q2, v2, q3, v3, q4, v4 [7]float64
	for j := range q {
		q2[j], v2[j] = q[j]+h/2*v[j], v[j]+h/2*k1[j]
	}
	k2 := p.accelerate(&q2, &v2, r1)
	for j := range q {
		q3[j], v3[j] = q[j]+h/2*v2[j], v[j]+h/2*k2[j]
	}
	k3 := p.accelerate(&q3, &v3, r1)
	for j := range q {
		q4[j], v4[j] = q[j]+h*v3[j], v[j]+h*k3[j]
	}
	k4 := p.accelerate(&q4, &v4, r2)
	for j := range q {
		p.q[j] = q[j] + h/6*(v[j]+2*v2[j]+2*v3[j]+v4[j])
		p.v[j] = v[j] + h/6*(k1[j]+2*k2[j]+2*k3[j]+k4[j])
	}
	return k1
}

// lossless takes the loss out of the stops so that the peer can follow.
func lossless(c Car) Car {
	for i := range c.Corners {
		c.Corners[i].Stop.Loss = 0
	}
	return c
}

// drive runs the peer over a course sampled at half its step and calls each with time, state and acceleration.
func (p *peer) drive(course *Course, steps int, fade float64, each func(n int, q, v, a *[7]float64)) {
	h := 2 * course.step
	at := func(k int) *[4]float64 {
		r := course.heights[min(k, len(course.heights)-1)]
		if t := float64(k) * course.step; t < fade {
			s := t / fade
			s = s * s * (3 - 2*s)
			for i := range r {
				r[i] *= s
			}
		}
		return &r
	}
	for n := range steps {
		q, v := p.q, p.v
		a := p.step(at(2*n), at(2*n+1), at(2*n+2), h)
		each(n, &q, &v, &a)
		if math.IsNaN(p.q[0]) {
			panic("peer diverged")
		}
	}
}
