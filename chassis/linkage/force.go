package linkage

import (
	"errors"

	"trunnion/chassis/geom"
	"trunnion/chassis/numeric"
)

// WheelForce is what acts on one wheel.
type WheelForce struct {
	Contact geom.Vec // of the road on the tyre, brake locked to the carrier [N]
	Hub     geom.Vec // at the wheel centre: of the road when the shaft drives, or of weight and inertia [N]
}

// Member is the force in a link that carries along its own line alone, or of a
// guide.
type Member struct {
	Name  string
	Force geom.Vec // on the carrier [N]
	At    geom.Vec // where it acts [m]
	Pull  float64  // in a link with two joints, tension positive [N]
}

// Forces are those of a linkage at rest under wheel forces, friction left out.
type Forces struct {
	Spring  [2]float64 // each wheel's spring line: of the spring on the carrier side, compression positive [N]
	Members []Member
	Joints  []Joint
}

// ErrNoSpring is returned when a linkage without a spring is asked what it
// carries.
var ErrNoSpring = errors.New("linkage: no spring to hold the wheel up")

// Forces returns spring and link forces at a travel of each wheel and a rack
// travel [m]. On a linkage of one wheel the second travel and force are not
// used. Damper and bar carry nothing: their force is part of the spring's where
// they share its line, or is put on the wheel by its motion ratio.
//
//	Jᵀ·λ + Q = 0
//
// with the gradients of the lengths as rows of J and the wheel forces as Q.
// Source: principle of virtual work.
func (l *Linkage) Forces(travel [2]float64, rack float64, wheels [2]WheelForce) (Forces, error) {
	at, err := l.at(travel, rack)
	if err != nil {
		return Forces{}, err
	}
	var m numeric.Factors
	m.N = 6 * l.bodies
	used := make([]*row, m.N)
	for i := range l.rows {
		r := &l.rows[i]
		if r.drive > 0 {
			if r = l.sides[r.drive-1].spring; r == nil {
				return Forces{}, ErrNoSpring
			}
		}
		used[i] = r
		l.eval(r, &at.q, at.rack, (*gradient)(&m.A[i]))
	}
	if !m.Factor() {
		return Forces{}, &LockError{Asked: travel, Steer: rack, Reached: at.travel[0], Points: []string{"spring top", "spring low"}}
	}
	var q gradient
	for i := range l.wheels {
		w := &l.wheels[i]
		body := &at.q[w.body]
		hub := body.r.Apply(w.centre)
		patch := add(hub, scale(w.radius, down(body.r.Apply(w.spin))))
		for _, f := range []struct{ force, at vec }{{wheels[i].Contact, patch}, {wheels[i].Hub, hub}} {
			t := cross(f.at, f.force)
			k := 6 * w.body
			for j, x := range [6]float64{f.force.X, f.force.Y, f.force.Z, t.X, t.Y, t.Z} {
				q[k+j] -= x
			}
		}
	}
	b := [numeric.MaxUnknowns]float64(q)
	m.SolveTransposed(&b)
	var out Forces
	for i := range l.rows {
		r := used[i]
		if k := l.rows[i].drive; k > 0 {
			// The gradient lengthens the spring: pushing it is a positive multiplier.
			out.Spring[k-1] = b[i]
			continue
		}
		if r.arm == 0 && !l.stoodOn(r) {
			out.Members = append(out.Members, l.member(r, &at, b[i]))
		}
	}
	held := carrying{l: l, at: &at, rows: used, push: b[:]}
	for k := range l.arms {
		out.Joints = append(out.Joints, held.arm(k)...)
	}
	for _, r := range used {
		if l.stoodOn(r) {
			out.Joints = append(out.Joints, held.rod(r)...)
		}
	}
	return out, nil
}

func (l *Linkage) member(r *row, at *position, lambda float64) Member {
	m := Member{Name: r.name, At: l.place(&r.a, &at.q)}
	switch r.rule {
	case apart:
		d := sub(m.At, l.far(r, &at.q, at.rack))
		m.Force = scale(lambda/norm(d), d)
		m.Pull = -lambda
	case level, beside:
		m.Force = scale(lambda, r.n)
	case slide:
		// The body holds the carrier at the top mount, square to the axis.
		m.Force = scale(-lambda, at.q[r.a.body].r.Apply(r.n))
		m.At = l.place(&r.b, &at.q)
	case squared:
		m.Force = vec{} // a moment only
	}
	return m
}
