package ride

import "math"

// blockSteps is how many steps are taken before the metrics look at them: small enough that everything stays in the
// first cache, large enough that the loops pay. A choice of the engine.
const blockSteps = 64

// block is what the steps leave for the metrics.
type block struct {
	n      int
	travel [4][blockSteps]float64 // wheel travel [m]
	speed  [4][blockSteps]float64 // damper speed [m/s]
	damper [4][blockSteps]float64 // damper force with friction, at the damper [N]
	load   [4][blockSteps]float64 // tyre [N]
	force  [4][blockSteps]float64 // whole suspension force at the wheel [N]
	stop   [4][blockSteps]float64 // stop and metal at the wheel [N]; only valid where touched is set
	top    [4][blockSteps]float64 // top-out pull at the wheel [N]; only valid where opened is set
	heave  [blockSteps]float64    // body acceleration at the centre of gravity [m/s²]
	pitch  [blockSteps]float64    // [rad/s²]
	roll   [blockSteps]float64    // [rad/s²]
	bodyZ  [blockSteps]float64    // heave of the centre of gravity from rest [m]
	bodyP  [blockSteps]float64    // pitch from rest [rad]
	bodyR  [blockSteps]float64    // roll from rest [rad]

	touched [4]bool
	opened  [4]bool
}

// coordinate is one degree of freedom of the multistep method.
type coordinate struct {
	q      float64 // displacement from rest
	v      float64 // (q_n − q_{n−1})/h, not the speed at t_n
	a1, a2 float64 // the last two accelerations
}

// speed returns the speed at the last step taken, of order 3: v = (q_{n+1} − q_n)/h − h·(2/3·a_n − 1/6·a_{n−1}).
func (c *coordinate) speed(h float64) float64 { return c.v - h*(c.a1*2/3-c.a2/6) }

// foretold returns the speed expected at the step to come: v̂ = v + h·(5/6·a1 − 1/3·a2).
func (c *coordinate) foretold(h float64) float64 { return c.v + h*(c.a1*5/6-c.a2/3) }

// place returns the displacement at the last step taken; q is one step ahead of it.
func (c *coordinate) place(h float64) float64 { return c.q - h*c.v }

// state is where the car is between steps.
type state struct {
	body  [3]coordinate // heave, pitch, roll
	wheel [4]coordinate
	stop  [4]stopState
	mount [4]float64    // compression half a step ago [m]
	road  [2][4]float64 // the last two heights, for tyre damping [m]
}

// advance takes len(road) ≤ blockSteps steps of length h and leaves them in out.
//
// One evaluation of the forces a step (Störmer's explicit method of order 3 with the damper made implicit corner by
// corner):
//
//	v̂  = v + h·(5/6·a1 − 1/3·a2)                       speed at t_n, foretold; v = (q_n − q_{n−1})/h
//	a0 = a(q_n, v̂)                                      forces from the tables, with the damper's slope g
//	e  = h·(1/3·a0 − 2/3·a1 + 1/3·a2)                  what v̂ misses of the speed that a0 implies
//	corner: δ = e_rel/(1 + h/3·g·r²·W),  W = 1/mu + 1/M + x²/Iyy + y²/Ixx
//	        dF = g·r²·δ                                 damper force moved to the corrected speed
//	v += h/12·(13·a0 − 2·a1 + a2);  q += h·v            a0 after dF
//
// All that v, q and v̂ owe to the past is added up before the newest acceleration is there, so that little waits for it;
// what the two wheels of an axle share is computed once.
//
// The lever of a force lengthens as the body leans, and its centre of gravity sinks by S against the axes it leans about, so
// that a whole sway costs nothing; the law is that of equilibrium.Lean:
//
//	S = ½·(d_φ·φ² + d_θ·θ²),  w_i = w_0 + q_i − (z + S − x_i·θ + y_i·φ),  M_φ = Σ F_i·(y_i + d_φ·φ),  M_θ = −Σ F_i·(x_i − d_θ·θ)
//
// The mount keeps its own compression x half a step behind:
//
//	dx = h·(v_d − G⁻¹(k·x))/(1 + h/2·k·dG⁻¹/dF),  F = k·(x + dx/2)
//
// Sources: the multistep formula is Störmer's (Hairer, Nørsett, Wanner, Solving Ordinary Differential Equations I,
// section III.10, from memory); the damper correction and the mount element are derived here.
func (m *Model) advance(s *state, road [][4]float64, out *block, h float64) {
	h3, h12 := h/3, h/12
	// What the newest acceleration does to v, q and the foretold speed; everything else in them is known before it.
	kv, kq, ku := 13*h12, 13*h12*h, 13*h12+h*5/6
	out.n = len(road)
	out.touched, out.opened = [4]bool{}, [4]bool{}
	z, p, r := s.body[0], s.body[1], s.body[2]
	vz, vp, vr := z.foretold(h), p.foretold(h), r.foretold(h)
	bar0, bar1, free0, free1 := m.bars[0], m.bars[1], m.barFree[0], m.barFree[1]
	invM, grav := m.invMass, m.gravity
	armR, armP := m.arm[0], m.arm[1]
	topple := [2]float64{armR * m.invRoll, armP * m.invPitch}
	var force, travel, load, speeds, ratio, damp, slopes, yield, push, moved, ahead, supple [4]float64
	for i := range ahead {
		ahead[i] = s.wheel[i].foretold(h)
		supple[i] = h3 * m.corner[i].mobility
	}
	limited := false
	for n := range road {
		if n >= blockSteps {
			break
		}
		rd := &road[n]
		leanR, leanP := armR*r.q, armP*p.q
		zs, vs := z.q+(leanR*r.q+leanP*p.q)/2, vz+(leanR*vr+leanP*vp)
		for axle := range 2 {
			x := m.corner[2*axle].x
			zx, vx := zs-x*p.q, vs-x*vp
			for i := 2 * axle; i < 2*axle+2; i++ {
				c := &m.corner[i]
				q := &s.wheel[i]
				w := (c.restTravel + q.q) - (zx + c.y*r.q)
				speed := ahead[i] - (vx + c.y*vr)
				travel[i], speeds[i] = w, speed

				var f, rt float64
				u := (w - positionLow) * (1 / positionStep)
				if k := int(u); uint(k) < positionRows {
					row := &c.position.rows[k]
					t := u - float64(k)
					rt = row.r0 + t*row.dr
					f = row.c0 + t*(row.c1+t*(row.c2+t*row.c3))
				} else {
					f, _, rt = c.position.beyond(u)
				}
				vd := rt * speed
				var d, g float64
				if c.inverse == nil {
					lr := c.damper.row(vd)
					t := vd - lr.v0
					t3 := t * lr.c3
					t23 := lr.c2 + t3
					d = (lr.c0 + t*lr.c1) + t*t*t23
					g = lr.c1 + t*(t23+(t23+t3))
				} else {
					x := s.mount[i]
					v := c.mount * x * (1 / forceUnit)
					lr := c.inverse.row(v)
					t := v - lr.v0
					t3 := t * lr.c3
					t23 := lr.c2 + t3
					slip := (lr.c0 + t*lr.c1) + t*t*t23
					den := (h / 2) / (1 + c.mount*(h/2*(1/forceUnit))*(lr.c1+t*(t23+(t23+t3))))
					half := (vd - slip) * den // dx/2
					d, g = c.mount*(x+half), c.mount*den
					s.mount[i] = x + 2*half
				}
				grr := g * (rt * rt)
				y := 1 / (1 + grr*supple[i])
				damp[i], ratio[i], slopes[i], yield[i], push[i] = d, rt, g*rt, y, grr*y
				if w > c.stopAt || w < c.topAt || s.stop[i].energy != 0 {
					limited = true
				}
				force[i] = f + rt*d

				defl := (c.restDeflection + rd[i]) - q.q
				l := c.rate * defl
				if defl <= 0 {
					l = 0
				} else if defl > c.rim {
					l += c.rimRate * (defl - c.rim)
				}
				load[i] = l
			}
		}
		if limited {
			limited = false
			m.limit(s, out, n, &travel, &force)
		}
		if m.damped {
			m.dampTyres(s, road, n, &load, h)
		}
		b0 := bar0 * (travel[0] - travel[1] - free0)
		b1 := bar1 * (travel[2] - travel[3] - free1)
		f0, f1, f2, f3 := force[0]+b0, force[1]-b0, force[2]+b1, force[3]-b1
		force = [4]float64{f0, f1, f2, f3}
		c0, c1, c2, c3 := &m.corner[0], &m.corner[1], &m.corner[2], &m.corner[3]
		front, rear := f0+f1, f2+f3
		all := front + rear
		az := all * invM
		ap := topple[1]*p.q*all - (c0.pitch*front + c2.pitch*rear)
		ar := topple[0]*r.q*all + ((c0.roll*f0 + c1.roll*f1) + (c2.roll*f2 + c3.roll*f3))
		bz, bp, br := z.a2-2*z.a1, p.a2-2*p.a1, r.a2-2*r.a1
		// Gravity moves wheels and body alike and is in no residual.
		ez, ep, er := h3*(az+bz), h3*(ap+bp), h3*(ar+br)
		for axle := range 2 {
			ex := ez - m.corner[2*axle].x*ep
			for i := 2 * axle; i < 2*axle+2; i++ {
				c := &m.corner[i]
				q := &s.wheel[i]
				past := q.a2 - 2*q.a1
				a := (load[i] - force[i]) * c.invMass
				e := h3*(a+past) - (ex + c.y*er)
				df := e * push[i]
				moved[i] = df
				a = (a - grav) - df*c.invMass
				delta := e * yield[i]
				d := damp[i] + slopes[i]*delta
				out.damper[i][n] = d
				if c.inverse == nil {
					out.speed[i][n] = ratio[i] * (speeds[i] + delta)
				} else {
					v := d * (1 / forceUnit)
					lr := c.inverse.row(v)
					t := v - lr.v0
					out.speed[i][n] = (lr.c0 + t*lr.c1) + t*t*(lr.c2+t*lr.c3)
				}
				out.travel[i][n] = travel[i]
				out.load[i][n] = load[i]
				out.force[i][n] = force[i] + df
				v := q.v + h12*past
				ahead[i] = (v - h3*q.a1) + ku*a
				v += kv * a
				q.v = v
				q.q += h * v
				q.a2, q.a1 = q.a1, a
			}
		}
		d0, d1, d2, d3 := moved[0], moved[1], moved[2], moved[3]
		front, rear = d0+d1, d2+d3
		az = (az - grav) + (front+rear)*invM
		ap -= c0.pitch*front + c2.pitch*rear
		ar += (c0.roll*d0 + c1.roll*d1) + (c2.roll*d2 + c3.roll*d3)
		out.heave[n], out.pitch[n], out.roll[n] = az, ap, ar
		out.bodyZ[n], out.bodyP[n], out.bodyR[n] = z.q, p.q, r.q
		v := z.v + h12*bz
		vz = (v - h3*z.a1) + ku*az
		z.q = (z.q + h*v) + kq*az
		z.v = v + kv*az
		z.a2, z.a1 = z.a1, az
		v = p.v + h12*bp
		vp = (v - h3*p.a1) + ku*ap
		p.q = (p.q + h*v) + kq*ap
		p.v = v + kv*ap
		p.a2, p.a1 = p.a1, ap
		v = r.v + h12*br
		vr = (v - h3*r.a1) + ku*ar
		r.q = (r.q + h*v) + kq*ar
		r.v = v + kv*ar
		r.a2, r.a1 = r.a1, ar
	}
	s.body[0], s.body[1], s.body[2] = z, p, r
	s.road = [2][4]float64{*back(s, road, len(road)-1), *back(s, road, len(road)-2)}
}

// limit adds what stops and top-outs push, for the wheels that have reached them.
func (m *Model) limit(s *state, out *block, n int, travel, force *[4]float64) {
	for i := range m.corner {
		c := &m.corner[i]
		w := travel[i]
		if w > c.stopAt {
			if !out.touched[i] {
				out.touched[i] = true
				out.stop[i] = [blockSteps]float64{}
			}
			f, _ := c.stop.advance(w, &s.stop[i])
			out.stop[i][n] = f
			force[i] += f
		} else {
			s.stop[i] = stopState{}
		}
		if w < c.topAt {
			if !out.opened[i] {
				out.opened[i] = true
				out.top[i] = [blockSteps]float64{}
			}
			pull, _ := c.top.at(w)
			out.top[i][n] = pull
			force[i] -= pull
		}
	}
}

// dampTyres adds the tyres' own damping; a tyre still cannot pull. The road's speed is a backward difference of order 2.
func (m *Model) dampTyres(s *state, road [][4]float64, n int, load *[4]float64, h float64) {
	for i := range m.corner {
		c, q := &m.corner[i], &s.wheel[i]
		if c.damping == 0 || load[i] == 0 {
			continue
		}
		slope := (3*road[n][i] - 4*back(s, road, n-1)[i] + back(s, road, n-2)[i]) / (2 * h)
		load[i] = math.Max(load[i]+c.damping*(slope-(q.v+h*5/6*q.a1-h/3*q.a2)), 0)
	}
}

// back returns the heights n steps into the block, which may be just before it.
func back(s *state, road [][4]float64, n int) *[4]float64 {
	if n < 0 {
		return &s.road[(-n-1)&1]
	}
	return &road[n]
}
