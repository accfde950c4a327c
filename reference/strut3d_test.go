package reference

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	statics "trunnion/chassis/strut"
	"trunnion/reference/validation"
)

// Statics of a strut in space, left front wheel. Values derived by a separate
// linear system of six equations and, for the force along the strut, by virtual
// work. Tolerance 1e-6.
func TestStrutForcesInSpace(t *testing.T) {
	validation.Against(t, "Statics of a strut in space", validation.Derived, "a separate linear system of six equations")
	j := statics.Joints{
		Contact: mm(0, 750, 0), Hub: mm(0, 750, 310), Ball: mm(5, 700, 220),
		ArmFront: mm(-15, 360, 235), ArmRear: mm(-310, 380, 245),
		TieOuter: mm(-135, 690, 290), TieInner: mm(-130, 340, 300),
		Top: mm(-45, 580, 820), Low: mm(-14, 655, 420),
	}
	for _, c := range []struct {
		contact, ball, top geom.Vec
		tie, along, across float64
	}{
		{
			geom.Vec{Z: 4000},
			geom.Vec{X: -305.751945, Y: -1007.933239, Z: 53.523338},
			geom.Vec{X: 303.537659, Y: 1162.933239, Z: -4057.951909},
			-155.079061, -4213.677827, 395.527116,
		},
		{
			geom.Vec{Y: -3000, Z: 6000},
			geom.Vec{X: -441.368707, Y: 2158.022247, Z: -74.325519},
			geom.Vec{X: 445.547278, Y: 549.477753, Z: -5917.317338},
			292.649197, -5933.977223, 550.451608,
		},
	} {
		f, err := statics.Statics(&j, &statics.Load{Contact: c.contact})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []struct {
			what      string
			got, want geom.Vec
		}{{"ball joint", f.Ball, c.ball}, {"top", f.Top, c.top}} {
			// 1e-6 of the vector's size: a small component has no more digits.
			size := 1e-6 * r3.Norm(v.want)
			near(t, v.what+" x", v.got.X, v.want.X, size, "N")
			near(t, v.what+" y", v.got.Y, v.want.Y, size, "N")
			near(t, v.what+" z", v.got.Z, v.want.Z, size, "N")
		}
		near(t, "tie rod", f.Tie, c.tie, 1e-6*r3.Norm(c.top), "N")
		nearly(t, "along the axis", f.Along, c.along, 1e-6, "N")
		near(t, "across the axis", f.Across, c.across, 1e-6*r3.Norm(c.top), "N")
	}
}

// The wheel's force over the motion ratio is the force along the strut.
func TestStrutVirtualWork(t *testing.T) {
	validation.Against(t, "Force along a strut", validation.Derived, "virtual work")
	l, err := linkage.NewCorner(spaceStrut())
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "force along the strut", 4000/f.Spring.Ratio, 4213.6777, 1e-5, "N")
}
