// Package geom holds points, directions, lines and rotations in space, on top
// of gonum's vectors. It knows no car and no unit but the metre and radian.
//
// In: coordinates. Out: distances, feet, crossings, rotations. It does not
// solve mechanisms.
package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Vec is a point or a direction. [m or -]
type Vec = r3.Vec

// Short names for gonum's operations.
func add(a, b Vec) Vec           { return r3.Add(a, b) }
func sub(a, b Vec) Vec           { return r3.Sub(a, b) }
func scale(f float64, a Vec) Vec { return r3.Scale(f, a) }
func finite(x float64) bool      { return !math.IsNaN(x) && !math.IsInf(x, 0) }
func component(v, along Vec) Vec { return scale(r3.Dot(v, along), along) }
func perpendicular(v, u Vec) Vec { return sub(v, component(v, u)) }

// Finite reports whether all three coordinates are numbers.
func Finite(v Vec) bool { return finite(v.X) && finite(v.Y) && finite(v.Z) }

// Mirror returns the point or direction on the other side of the middle plane
// y = 0.
func Mirror(v Vec) Vec { return Vec{X: v.X, Y: -v.Y, Z: v.Z} }

// Line is a straight line without ends.
type Line struct {
	Point Vec // somewhere on it [m]
	Along Vec // of length 1 [-]
}

// Through returns the line through two points; ok is false when they coincide.
func Through(a, b Vec) (l Line, ok bool) {
	d := sub(b, a)
	n := r3.Norm(d)
	if !(n > 0) || !finite(n) {
		return Line{}, false
	}
	return Line{a, scale(1/n, d)}, true
}

// Foot returns the point of the line nearest to p.
func (l Line) Foot(p Vec) Vec { return add(l.Point, component(sub(p, l.Point), l.Along)) }

// Distance returns how far p is from the line [m].
func (l Line) Distance(p Vec) float64 { return r3.Norm(perpendicular(sub(p, l.Point), l.Along)) }

// AtHeight returns the point of the line at a height z [m]; ok is false for a
// level line.
func (l Line) AtHeight(z float64) (p Vec, ok bool) {
	if math.Abs(l.Along.Z) < 1e-12 {
		return Vec{}, false
	}
	return add(l.Point, scale((z-l.Point.Z)/l.Along.Z, l.Along)), true
}

// Perpendiculars returns two directions that stand square on u and on each
// other; u has length 1.
func Perpendiculars(u Vec) (e, f Vec) {
	// The axis least along u gives the best conditioned pair.
	pick := Vec{X: 1}
	if math.Abs(u.X) > math.Abs(u.Y) {
		pick = Vec{Y: 1}
	}
	e = r3.Unit(perpendicular(pick, u))
	return e, r3.Cross(u, e)
}

// Rotation is a rotation matrix by rows. [-]
type Rotation [3]Vec

// Identity turns nothing.
var Identity = Rotation{{X: 1}, {Y: 1}, {Z: 1}}

// Apply turns a vector.
func (r *Rotation) Apply(v Vec) Vec {
	return Vec{X: r3.Dot(r[0], v), Y: r3.Dot(r[1], v), Z: r3.Dot(r[2], v)}
}

// Back turns a vector the other way.
func (r *Rotation) Back(v Vec) Vec {
	return add(add(scale(v.X, r[0]), scale(v.Y, r[1])), scale(v.Z, r[2]))
}

// Then returns the rotation by r and after it by the rotation vector w [rad].
//
//	exp(w) = 1 + sin(θ)/θ·[w]× + (1 − cos θ)/θ²·[w]×²,   θ = |w|
//
// Source: O. Rodrigues' formula, e.g. in R. M. Murray et al., A Mathematical
// Introduction to Robotic Manipulation, 1994 (from memory).
func (r *Rotation) Then(w Vec) Rotation {
	t2 := r3.Dot(w, w)
	s, c := 1-t2/6+t2*t2/120, 0.5-t2/24+t2*t2/720
	if t2 > 1e-4 {
		t := math.Sqrt(t2)
		s, c = math.Sin(t)/t, (1-math.Cos(t))/t2
	}
	turned := func(v Vec) Vec {
		k := r3.Cross(w, v)
		return add(v, add(scale(s, k), scale(c, r3.Cross(w, k))))
	}
	// Columns are turned; rows are stored.
	x := turned(Vec{X: r[0].X, Y: r[1].X, Z: r[2].X})
	y := turned(Vec{X: r[0].Y, Y: r[1].Y, Z: r[2].Y})
	z := turned(Vec{X: r[0].Z, Y: r[1].Z, Z: r[2].Z})
	return Rotation{{X: x.X, Y: y.X, Z: z.X}, {X: x.Y, Y: y.Y, Z: z.Y}, {X: x.Z, Y: y.Z, Z: z.Z}}
}
