package linkage

import "trunnion/chassis/geom"

// Joint is the force in a joint of an arm, or of a rod that something stands on
// between its ends: at the ball joint or outer end on the carrier, at a pivot or
// inner end on the arm or rod.
type Joint struct {
	Name  string
	Force geom.Vec // [N]
	At    geom.Vec // where it acts [m]
}

// carrying is a linkage whose rows push with known forces: each lengthens by them,
// λ·∇(length).
type carrying struct {
	l    *Linkage
	at   *position
	rows []*row
	push []float64 // λ of each row [N]
}

// load is a force at a place.
type load struct{ force, at vec }

// stoodOn reports whether a row is a rod that a spring or another link stands on
// between its ends.
func (l *Linkage) stoodOn(r *row) bool {
	if r.rule != apart || r.drive > 0 || r.arm > 0 {
		return false
	}
	for i := range l.sides {
		if s := l.sides[i].spring; s != nil && sameRod(&s.a, r) {
			return true
		}
	}
	return false
}

// sameRod reports whether a point stands on the rod of a row.
func sameRod(pt *point, r *row) bool {
	return pt.on == onRod && pt.body == r.a.body && pt.outer == r.a.local && r.b.on == onBody && pt.inner == r.b.local
}

// through adds up what the rows that stand on a part put on it, and what of that
// reaches the carrier at the part's outer joint, as virtual work has it.
func (c *carrying) through(stands func(*point) bool) (onPart []load, carrier vec) {
	for i, r := range c.rows {
		if r.rule != apart {
			continue
		}
		a, b := c.l.place(&r.a, &c.at.q), c.l.far(r, &c.at.q, c.at.rack)
		along := sub(a, b)
		along = scale(1/norm(along), along)
		for _, end := range []struct {
			pt   *point
			at   vec
			sign float64
		}{{&r.a, a, 1}, {&r.b, b, -1}} {
			if !stands(end.pt) {
				continue
			}
			onPart = append(onPart, load{scale(end.sign*c.push[i], along), end.at})
			var g gradient
			c.l.pull(end.pt, &c.at.q, along, end.sign*c.push[i], &g)
			k := 6 * end.pt.body
			if end.pt.on == onArm {
				k = 6 * c.l.arms[end.pt.arm].body
			}
			carrier = add(carrier, vec{X: g[k], Y: g[k+1], Z: g[k+2]})
		}
	}
	return onPart, carrier
}

// arm returns the forces in the joints of an arm: of the arm on the carrier at its
// ball joint, of the body on the arm at its pivots. What stands on the arm, a spring
// or a short link, counts with its own lever. The rear pivot slides along the axis,
// so that the front one alone holds the arm along it.
//
//	B = Σ λ·∇_ball(length),   P_f + P_r − B + Σ L = 0,   (p_r − p_f)×P_r = (b − p_f)×B − Σ (l − p_f)×L
//
// Source: equilibrium of the arm cut free; derived here.
func (c *carrying) arm(k int) []Joint {
	onArm, ball := c.through(func(p *point) bool { return p.on == onArm && p.arm == k })
	var pivots [2]vec
	var joint vec
	n := 0
	for i, r := range c.rows {
		if r.arm != k+1 {
			continue
		}
		joint = c.l.place(&r.a, &c.at.q)
		pivots[n] = r.b.local
		leg := sub(joint, pivots[n])
		ball = add(ball, scale(c.push[i]/norm(leg), leg))
		n++
	}
	front, rear := pivots[0], pivots[1]
	sum, moment := scale(-1, ball), scale(-1, cross(sub(joint, front), ball))
	for _, f := range onArm {
		sum = add(sum, f.force)
		moment = add(moment, cross(sub(f.at, front), f.force))
	}
	axis := sub(rear, front)
	atRear := scale(1/dot(axis, axis), cross(axis, moment))
	name := c.l.armNames[k]
	return []Joint{
		{Name: name + " ball joint", Force: ball, At: joint},
		{Name: name + " front pivot", Force: scale(-1, add(sum, atRear)), At: front},
		{Name: name + " rear pivot", Force: atRear, At: rear},
	}
}

// rod returns the forces at the ends of a rod that something stands on: of the rod
// on the carrier at its outer end, of the body on the rod at its inner one, which
// also holds it against twist.
func (c *carrying) rod(r *row) []Joint {
	onPart, outer := c.through(func(p *point) bool { return sameRod(p, r) })
	at, inner := c.l.place(&r.a, &c.at.q), r.b.local
	along := sub(at, inner)
	for i := range c.rows {
		if c.rows[i] == r {
			outer = add(outer, scale(c.push[i]/norm(along), along))
		}
	}
	held := outer
	for _, f := range onPart {
		held = sub(held, f.force)
	}
	return []Joint{{Name: r.name + " outer", Force: outer, At: at}, {Name: r.name + " inner", Force: held, At: inner}}
}
