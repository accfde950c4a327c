package strut

import (
	"errors"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	"trunnion/chassis/numeric"
)

// Joints are the places that matter at one travel, left side, car axes.
type Joints struct {
	Contact, Hub        geom.Vec // of the wheel [m]
	Ball                geom.Vec // lower ball joint [m]
	ArmFront, ArmRear   geom.Vec // pivots of the lower arm [m]
	TieOuter, TieInner  geom.Vec // tie rod [m]
	Top, Low            geom.Vec // top mount; a point of the damper axis on the carrier [m]
	SpringTop, SpringAt geom.Vec // the spring's line: at the body, at its seat on the carrier; equal points: along the damper [m]
}

// Load is what acts on the wheel and along the damper.
type Load struct {
	Contact geom.Vec // of the road on the tyre [N]
	Hub     geom.Vec // at the wheel centre, when a shaft drives [N]
	// Damper is the force along the damper: valves, gas and a stop on the rod. It
	// pushes body and carrier apart. [N]
	Damper float64
}

// Heavier is the load on a strut whose axle is heavier by a share [-] of what it
// weighs: every force of the road grows with it, the damper's own does not.
func (l Load) Heavier(share float64) Load {
	l.Contact = r3.Scale(1+share, l.Contact)
	return l
}

// Forces are those on the carrier with its strut tube, friction left out.
type Forces struct {
	Ball   geom.Vec // of the arm at the ball joint [N]
	Front  float64  // in the arm's leg to its front pivot, tension positive [N]
	Rear   float64  // in the arm's leg to its rear pivot, tension positive [N]
	Tie    float64  // in the tie rod, compression positive: it pushes the carrier outward [N]
	Top    geom.Vec // of the body at the top: spring, damper and side load together [N]
	Spring float64  // along its line, compression positive [N]
	Side   geom.Vec // of the top mount on the rod, square to the damper's axis [N]
	// Across is the size of Side [N], Along the part of Top along the axis, up
	// positive [N].
	Across, Along float64
}

// ErrUnheld is returned when the links cannot hold the carrier, or the spring
// cannot carry the wheel: joints in one line, a spring square to its travel.
var ErrUnheld = errors.New("strut: the joints do not hold the carrier")

// Statics finds the forces from the equilibrium of the carrier: an arm that
// carries any force in its plane, a tie rod, a spring along its line, and a rod
// that the top mount holds square to its axis and in no other way. Six
// equations, six unknowns.
func Statics(j *Joints, load *Load) (Forces, error) {
	axis, ok := geom.Through(j.Low, j.Top)
	front, ok1 := geom.Through(j.Ball, j.ArmFront)
	rear, ok2 := geom.Through(j.Ball, j.ArmRear)
	tie, ok3 := geom.Through(j.TieInner, j.TieOuter)
	if !ok || !ok1 || !ok2 || !ok3 {
		return Forces{}, ErrUnheld
	}
	push := geom.Line{Point: j.Top, Along: r3.Scale(-1, axis.Along)} // of the spring on the carrier
	if j.SpringTop != j.SpringAt {
		push, _ = geom.Through(j.SpringTop, j.SpringAt)
	}
	e, f := geom.Perpendiculars(axis.Along)
	columns := [6]geom.Line{
		{Point: j.Ball, Along: front.Along},
		{Point: j.Ball, Along: rear.Along},
		{Point: j.TieOuter, Along: tie.Along},
		push,
		{Point: j.Top, Along: e},
		{Point: j.Top, Along: f},
	}
	var m numeric.Factors
	m.N = 6
	// Moments about the ball joint keep the numbers of a size.
	lay := func(at, dir geom.Vec) [6]float64 {
		t := r3.Cross(r3.Sub(at, j.Ball), dir)
		return [6]float64{dir.X, dir.Y, dir.Z, t.X, t.Y, t.Z}
	}
	for k, c := range columns {
		for i, x := range lay(c.Point, c.Along) {
			m.A[i][k] = x
		}
	}
	var b [numeric.MaxUnknowns]float64
	damper := r3.Scale(-load.Damper, axis.Along)
	for _, p := range []struct{ at, force geom.Vec }{{j.Contact, load.Contact}, {j.Hub, load.Hub}, {j.Top, damper}} {
		for i, x := range lay(p.at, p.force) {
			b[i] -= x
		}
	}
	if !m.Factor() {
		return Forces{}, ErrUnheld
	}
	m.Solve(&b)
	for _, x := range b[:6] {
		if x != x || x > 1e12 || x < -1e12 {
			return Forces{}, ErrUnheld
		}
	}
	out := Forces{
		Front: b[0], Rear: b[1], Tie: b[2], Spring: b[3],
		Ball: r3.Add(r3.Scale(b[0], front.Along), r3.Scale(b[1], rear.Along)),
		Side: r3.Add(r3.Scale(b[4], e), r3.Scale(b[5], f)),
	}
	out.Top = r3.Add(r3.Add(r3.Scale(out.Spring, push.Along), out.Side), damper)
	out.Across = r3.Norm(out.Side)
	out.Along = r3.Dot(out.Top, axis.Along)
	return out, nil
}

// SpringWithoutSideLoad returns the direction in which a spring through the top
// mount must push so that the rod carries no side load under a load, and its
// angle to the damper's axis [rad]: along the whole force at the top.
func SpringWithoutSideLoad(j *Joints, load *Load) (along geom.Vec, angle float64, err error) {
	plain := *j
	plain.SpringTop, plain.SpringAt = geom.Vec{}, geom.Vec{}
	f, err := Statics(&plain, load)
	if err != nil {
		return geom.Vec{}, 0, err
	}
	axis := r3.Unit(r3.Sub(j.Top, j.Low))
	up := r3.Scale(-1, r3.Unit(f.Top))
	return up, angleBetween(up, axis), nil
}
