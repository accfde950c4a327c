package linkage

import (
	"trunnion/chassis/geom"
	"trunnion/chassis/numeric"
)

// Linkage is a suspension made ready to be moved. It does not change and may be
// used by many goroutines.
type Linkage struct {
	kind   Kind
	bodies int
	rows   []row // the links and, last, what sets the wheels' travel
	arms   []hinge
	wheels []wheel
	sides  []side // of each wheel: what is measured on it
	ball   []vec  // of each arm, from the first body's reference point
	steers bool
	home   poses // closed at travel 0
	atHome numeric.Factors

	armNames []string
	strut    *strutAxis
}

type wheel struct {
	body   int
	centre vec // from the body's reference point
	spin   vec // direction of its axis as measured, outward
	radius float64
	out    float64 // +1 left, −1 right
	height float64 // of the centre as measured
}

// Kind returns the kind of suspension.
func (l *Linkage) Kind() Kind { return l.kind }

// Wheels returns how many wheels move in it: 2 on a twist beam or live axle [-].
func (l *Linkage) Wheels() int { return len(l.wheels) }

// Steers reports whether a rod moves with the rack.
func (l *Linkage) Steers() bool { return l.steers }

// row is one equation.
type row struct {
	rule    rule
	a, b    point
	n, m    vec
	c, s    float64
	name    string
	steered bool // B moves with the rack
	drive   int  // wheel whose travel c follows, plus one; 0: none
	arm     int  // arm between whose ball joint and pivot it is, plus one; 0: none
	points  []string
}

// hinge is an arm as a body that turns.
type hinge struct {
	foot vec // on its axis
	axis vec // of length 1
	body int // that carries its ball joint
	ball vec // from that body's reference point
}

// side is what is measured at one wheel.
type side struct {
	spring, damper *row
	strut          *row // length along a strut's axis, whatever stands on it; nil without one
	bar            *drop
}

// rule is what a row holds to zero.
type rule uint8

const (
	apart   rule = iota // |A − B| − c
	level               // n·A − c, n fixed in the car
	slide               // (R n)·(B − A) − c, n fixed in A's body
	beside              // n·A + s·n·B − c, n fixed in the car
	squared             // (R_a n)·(R_b m) − c, directions of two bodies
)

// point is a point of any part, by what moves it.
type point struct {
	on    where
	body  int // of onCarrier, and of the ball joint of an arm or rod
	local vec // onBody: in car axes; onCarrier: from the body's reference point
	arm   int
	along float64 // onArm: along its axis; onRod: along the rod from its inner end
	out   float64 // onArm: toward its ball joint; onRod: level, square to the rod
	side  float64 // onArm: square to both; onRod: up, square to both
	inner vec     // onRod: its inner end; a steered rod carries no point
	outer vec     // onRod: its outer end from the body's reference point
}

// drop is a drop link on a bar that turns.
type drop struct {
	low    point
	axis   vec // of length 1
	foot   vec // on the axis, next to the bar's end
	arm    vec // from the foot to the end, as measured
	reach  float64
	length float64 // of the link
}

type strutAxis struct {
	body       int
	low, along vec // in the carrier, from its reference point
	top        vec // on the car
}

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
	onRod                  // fixed to a rod whose inner joint lets it swing and lift, not twist
)
