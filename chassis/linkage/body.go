package linkage

// frame returns the arm's directions toward its ball joint and square to it, and
// how far the joint is from the axis.
func (h *hinge) frame(q *poses) (out, side vec, reach float64) {
	d := sub(add(q[h.body].p, q[h.body].r.Apply(h.ball)), h.foot)
	d = sub(d, scale(dot(d, h.axis), h.axis))
	reach = norm(d)
	out = scale(1/reach, d)
	return out, cross(h.axis, out), reach
}

// stance returns a rod's directions along, level across and up, its length and
// its length in plan. Its inner joint is taken for a cardan joint that swings
// about the vertical and lifts about a level axis: a bush does not let it twist.
func (pt *point) stance(q *poses) (d, h, n vec, length, plan float64) {
	d = sub(add(q[pt.body].p, q[pt.body].r.Apply(pt.outer)), pt.inner)
	length = norm(d)
	d = scale(1/length, d)
	h = vec{X: -d.Y, Y: d.X}
	flat := norm(h)
	h = scale(1/flat, h)
	return d, h, cross(d, h), length, length * flat
}

// place returns where a point is.
func (l *Linkage) place(pt *point, q *poses) vec {
	switch pt.on {
	case onCarrier:
		return add(q[pt.body].p, q[pt.body].r.Apply(pt.local))
	case onArm:
		h := &l.arms[pt.arm]
		out, side, _ := h.frame(q)
		return add(h.foot, add(scale(pt.along, h.axis), add(scale(pt.out, out), scale(pt.side, side))))
	case onRod:
		d, h, n, _, _ := pt.stance(q)
		return add(pt.inner, add(scale(pt.along, d), add(scale(pt.out, h), scale(pt.side, n))))
	case onBody:
	}
	return pt.local
}

// pull adds s times the derivative of n·X to a gradient.
func (l *Linkage) pull(pt *point, q *poses, n vec, s float64, g *gradient) {
	lay := func(body int, r, n vec, s float64) {
		m := cross(r, n)
		k := 6 * body
		g[k] += s * n.X
		g[k+1] += s * n.Y
		g[k+2] += s * n.Z
		g[k+3] += s * m.X
		g[k+4] += s * m.Y
		g[k+5] += s * m.Z
	}
	switch pt.on {
	case onCarrier:
		lay(pt.body, q[pt.body].r.Apply(pt.local), n, s)
	case onArm:
		h := &l.arms[pt.arm]
		out, side, reach := h.frame(q)
		// dX = axis × (X − foot)·dφ with dφ = side·dB/reach.
		lever := sub(scale(pt.out, side), scale(pt.side, out))
		lay(h.body, q[h.body].r.Apply(h.ball), side, s*dot(n, lever)/reach)
	case onRod:
		d, h, up, length, plan := pt.stance(q)
		r := add(scale(pt.along, d), add(scale(pt.out, h), scale(pt.side, up)))
		outer := q[pt.body].r.Apply(pt.outer)
		lay(pt.body, outer, h, s*dot(n, cross(vec{Z: 1}, r))/plan)
		lay(pt.body, outer, up, -s*dot(n, cross(h, r))/length)
	case onBody:
	}
}

func carried(q *pose, t *twist, local vec) (v, r vec) {
	r = q.r.Apply(local)
	return add(t.v, cross(t.w, r)), r
}

// speed returns the velocity of a point.
func (l *Linkage) speed(pt *point, q *poses, t *twists) vec {
	switch pt.on {
	case onCarrier:
		v, _ := carried(&q[pt.body], &t[pt.body], pt.local)
		return v
	case onArm:
		h := &l.arms[pt.arm]
		out, side, reach := h.frame(q)
		v, _ := carried(&q[h.body], &t[h.body], h.ball)
		return scale(dot(side, v)/reach, sub(scale(pt.out, side), scale(pt.side, out)))
	case onRod:
		v, _ := carried(&q[pt.body], &t[pt.body], pt.outer)
		d, h, n, length, plan := pt.stance(q)
		w := add(vec{Z: dot(h, v) / plan}, scale(-dot(n, v)/length, h))
		return cross(w, add(scale(pt.along, d), add(scale(pt.out, h), scale(pt.side, n))))
	case onBody:
	}
	return vec{}
}

// rush returns the acceleration of a point: the part that the velocities ask
// for and, with a, that of the bodies' own accelerations.
func (l *Linkage) rush(pt *point, q *poses, t, a *twists) vec {
	of := func(body int, local vec) vec {
		r := q[body].r.Apply(local)
		w := t[body].w
		return add(add(a[body].v, cross(a[body].w, r)), cross(w, cross(w, r)))
	}
	switch pt.on {
	case onCarrier:
		return of(pt.body, pt.local)
	case onArm:
		h := &l.arms[pt.arm]
		out, side, reach := h.frame(q)
		v, _ := carried(&q[h.body], &t[h.body], h.ball)
		turn := dot(side, v) / reach
		// The ball joint stays at its distance from the axis.
		spin := dot(side, of(h.body, h.ball)) / reach
		lever := sub(scale(pt.out, side), scale(pt.side, out))
		return sub(scale(spin, lever), scale(turn*turn, add(scale(pt.out, out), scale(pt.side, side))))
	case onRod:
		// ω = ψ′·z − θ′·h with ψ′ = h·v/L_plan and θ′ = n·v/L; the rod keeps its length.
		v, _ := carried(&q[pt.body], &t[pt.body], pt.outer)
		lead := of(pt.body, pt.outer)
		d, h, n, length, plan := pt.stance(q)
		swing, lift := dot(h, v)/plan, dot(n, v)/length
		up := vec{Z: 1}
		w := add(scale(swing, up), scale(-lift, h))
		rod := scale(length, d)
		bias := sub(cross(w, cross(w, rod)), scale(lift*swing, cross(cross(up, h), rod)))
		rest := sub(lead, bias)
		spin := add(scale(dot(rest, h)/plan, up), scale(-dot(rest, n)/length, h))
		spin = sub(spin, scale(lift*swing, cross(up, h)))
		r := add(scale(pt.along, d), add(scale(pt.out, h), scale(pt.side, n)))
		return add(cross(spin, r), cross(w, cross(w, r)))
	case onBody:
	}
	return vec{}
}
