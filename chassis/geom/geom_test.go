package geom

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func vec(t *rapid.T, name string) Vec {
	f := rapid.Float64Range(-2, 2)
	return Vec{X: f.Draw(t, name+"x"), Y: f.Draw(t, name+"y"), Z: f.Draw(t, name+"z")}
}

// A rotation keeps lengths and angles, and Back undoes it; gonum's quaternions
// turn the same way.
func TestRotationTurnsAsQuaternionsDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, v, u := vec(t, "w"), vec(t, "v"), vec(t, "u")
		first := Identity.Then(u)
		r := first.Then(w)
		got := r.Apply(v)
		want := r3.NewRotation(r3.Norm(w), w).Rotate(r3.NewRotation(r3.Norm(u), u).Rotate(v))
		if r3.Norm(w) == 0 || r3.Norm(u) == 0 {
			return
		}
		if d := r3.Norm(r3.Sub(got, want)); d > 1e-9 {
			t.Fatalf("turned vector is %v, quaternions give %v", got, want)
		}
		if d := r3.Norm(r3.Sub(r.Back(got), v)); d > 1e-12 {
			t.Fatalf("turning back misses by %g", d)
		}
	})
}

func TestLinesAndPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, p := vec(t, "a"), vec(t, "b"), vec(t, "p")
		l, ok := Through(a, b)
		if !ok {
			if a != b {
				t.Fatalf("no line through %v and %v", a, b)
			}
			return
		}
		foot := l.Foot(p)
		if s := math.Abs(r3.Dot(r3.Sub(p, foot), l.Along)); s > 1e-12 {
			t.Fatalf("the foot is not square under the point: %g", s)
		}
		if d := math.Abs(r3.Norm(r3.Sub(p, foot)) - l.Distance(p)); d > 1e-12 {
			t.Fatalf("distance to foot and to line differ by %g m", d)
		}
		e, f := Perpendiculars(l.Along)
		for _, s := range []float64{r3.Dot(e, f), r3.Dot(e, l.Along), r3.Dot(f, l.Along), r3.Norm(e) - 1, r3.Norm(f) - 1} {
			if math.Abs(s) > 1e-12 {
				t.Fatalf("%v and %v do not stand square on %v", e, f, l.Along)
			}
		}
		if math.Abs(l.Along.Z) < 1e-3 {
			return
		}
		at, ok := l.AtHeight(0.3)
		if off := r3.Norm(r3.Cross(r3.Sub(at, l.Point), l.Along)); !ok || math.Abs(at.Z-0.3) > 1e-12 || off > 1e-9*(1+r3.Norm(at)) {
			t.Fatalf("the line meets z = 0.3 m at %v, %g m beside itself", at, off)
		}
	})
}

func TestDegenerate(t *testing.T) {
	if _, ok := Through(Vec{X: 1}, Vec{X: 1}); ok {
		t.Error("one point makes a line")
	}
	if _, ok := (Line{Along: Vec{X: 1}}).AtHeight(1); ok {
		t.Error("a level line has a point at every height")
	}
	if Finite(Vec{Y: math.NaN()}) || !Finite(Vec{X: 1}) {
		t.Error("Finite is wrong")
	}
	if Mirror(Vec{X: 1, Y: 2, Z: 3}) != (Vec{X: 1, Y: -2, Z: 3}) {
		t.Error("Mirror is wrong")
	}
}
