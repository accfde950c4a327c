package linkage

import (
	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
)

type vec = geom.Vec

func add(a, b vec) vec           { return vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }
func sub(a, b vec) vec           { return vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }
func scale(f float64, a vec) vec { return vec{X: f * a.X, Y: f * a.Y, Z: f * a.Z} }
func dot(a, b vec) float64       { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func cross(a, b vec) vec {
	return vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}
func norm(a vec) float64 { return r3.Norm(a) }

// pose is where a rigid body is: its reference point and how it is turned from
// the position in which it was measured.
type pose struct {
	p vec
	r geom.Rotation
}

// twist is a velocity of the reference point with a rate of turn, or the
// acceleration of both.
type twist struct{ v, w vec }

// most bodies of a linkage.
const most = 2

type poses [most]pose

type twists [most]twist

// gradient is a derivative by the small movements of all bodies, six each.
type gradient [6 * most]float64

func (g *gradient) along(t *twists, bodies int) float64 {
	s := 0.0
	for b := range bodies {
		k := 6 * b
		s += g[k]*t[b].v.X + g[k+1]*t[b].v.Y + g[k+2]*t[b].v.Z + g[k+3]*t[b].w.X + g[k+4]*t[b].w.Y + g[k+5]*t[b].w.Z
	}
	return s
}

// where a point stands.
type where uint8

const (
	onBody    where = iota // fixed to the car
	onCarrier              // fixed to a moving body
	onArm                  // fixed to an arm that turns about its pivots
	onRod                  // along a rod
)

// point is a point of any part, by what moves it.
type point struct {
	on    where
	body  int // of onCarrier, and of the ball joint of an arm or rod
	local vec // onBody: in car axes; onCarrier: from the body's reference point; onRod: what it stands off the rod's line
	arm   int
	along float64 // onArm: along its axis; onRod: share of its length
	out   float64 // onArm: toward its ball joint
	side  float64 // onArm: square to both
	inner vec     // onRod: its inner end; a steered rod carries no point
	outer vec     // onRod: its outer end from the body's reference point
}

// hinge is an arm as a body that turns.
type hinge struct {
	foot vec // on its axis
	axis vec // of length 1
	body int // that carries its ball joint
	ball vec // from that body's reference point
}

// frame returns the arm's directions toward its ball joint and square to it, and
// how far the joint is from the axis.
func (h *hinge) frame(q *poses) (out, side vec, reach float64) {
	d := sub(add(q[h.body].p, q[h.body].r.Apply(h.ball)), h.foot)
	d = sub(d, scale(dot(d, h.axis), h.axis))
	reach = norm(d)
	out = scale(1/reach, d)
	return out, cross(h.axis, out), reach
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
		end := add(q[pt.body].p, q[pt.body].r.Apply(pt.outer))
		return add(pt.local, add(pt.inner, scale(pt.along, sub(end, pt.inner))))
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
		lay(pt.body, q[pt.body].r.Apply(pt.outer), n, s*pt.along)
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
		return scale(pt.along, v)
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
		return scale(pt.along, of(pt.body, pt.outer))
	case onBody:
	}
	return vec{}
}
