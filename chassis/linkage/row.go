package linkage

import "math"

// far returns B, moved with the rack.
func (l *Linkage) far(r *row, q *poses, rack float64) vec {
	b := l.place(&r.b, q)
	if r.steered {
		b.Y += rack
	}
	return b
}

// eval returns what the row misses and lays its gradient.
func (l *Linkage) eval(r *row, q *poses, rack float64, g *gradient) float64 {
	switch r.rule {
	case apart:
		d := sub(l.place(&r.a, q), l.far(r, q, rack))
		n := norm(d)
		if n > 0 {
			d = scale(1/n, d)
		}
		l.pull(&r.a, q, d, 1, g)
		if r.b.on != onBody {
			l.pull(&r.b, q, d, -1, g)
		}
		return n - r.c
	case level:
		l.pull(&r.a, q, r.n, 1, g)
		return dot(r.n, l.place(&r.a, q)) - r.c
	case beside:
		l.pull(&r.a, q, r.n, 1, g)
		l.pull(&r.b, q, r.n, r.s, g)
		return dot(r.n, l.place(&r.a, q)) + r.s*dot(r.n, l.place(&r.b, q)) - r.c
	case slide:
		body := r.a.body
		e := q[body].r.Apply(r.n)
		// (R n)·(B − p) does not depend on where on the axis A is taken, up to c.
		d := sub(l.place(&r.b, q), q[body].p)
		m := cross(e, d)
		k := 6 * body
		g[k] -= e.X
		g[k+1] -= e.Y
		g[k+2] -= e.Z
		g[k+3] += m.X
		g[k+4] += m.Y
		g[k+5] += m.Z
		return dot(e, d) - r.c
	case squared:
		e, f := q[r.a.body].r.Apply(r.n), q[r.b.body].r.Apply(r.m)
		m := cross(e, f)
		k, j := 6*r.a.body+3, 6*r.b.body+3
		g[k] += m.X
		g[k+1] += m.Y
		g[k+2] += m.Z
		g[j] -= m.X
		g[j+1] -= m.Y
		g[j+2] -= m.Z
		return dot(e, f) - r.c
	}
	return math.NaN()
}

// bend returns the second derivative of the row's left side along a movement
// with given velocities and with accelerations a.
func (l *Linkage) bend(r *row, q *poses, rack float64, t, a *twists) float64 {
	switch r.rule {
	case apart:
		return l.stretch(&r.a, &r.b, sub(l.place(&r.a, q), l.far(r, q, rack)), q, t, a)
	case level:
		return dot(r.n, l.rush(&r.a, q, t, a))
	case beside:
		return dot(r.n, l.rush(&r.a, q, t, a)) + r.s*dot(r.n, l.rush(&r.b, q, t, a))
	case slide:
		body := r.a.body
		e := q[body].r.Apply(r.n)
		d := sub(l.place(&r.b, q), q[body].p)
		w := t[body].w
		we := cross(w, e)
		return dot(add(cross(a[body].w, e), cross(w, we)), d) - 2*dot(we, t[body].v) - dot(e, a[body].v)
	case squared:
		e, f := q[r.a.body].r.Apply(r.n), q[r.b.body].r.Apply(r.m)
		w, x := t[r.a.body].w, t[r.b.body].w
		de, df := cross(w, e), cross(x, f)
		dde := add(cross(a[r.a.body].w, e), cross(w, de))
		ddf := add(cross(a[r.b.body].w, f), cross(x, df))
		return dot(dde, f) + 2*dot(de, df) + dot(e, ddf)
	}
	return math.NaN()
}

// stretch returns the second derivative of the distance |d| between two points.
//
//	L″ = u·(a_A − a_B) + (|v|² − (u·v)²)/L,   u = d/L, v = v_A − v_B
func (l *Linkage) stretch(a, b *point, d vec, q *poses, t, acc *twists) float64 {
	n := norm(d)
	u := scale(1/n, d)
	v := sub(l.speed(a, q, t), l.speed(b, q, t))
	lead := sub(l.rush(a, q, t, acc), l.rush(b, q, t, acc))
	uv := dot(u, v)
	return dot(u, lead) + (dot(v, v)-uv*uv)/n
}
