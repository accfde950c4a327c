package reference

import (
	"testing"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
	"trunnion/reference/validation"
)

// swinging is a wheel on an arm that turns about an axis across the car, a
// distance ahead of the wheel (negative: behind it) and a height over the ground:
// the equivalent trailing arm that anti-dive and anti-squat are explained with. [m]
func swinging(t *testing.T, ahead, height, radius float64) linkage.Figures {
	t.Helper()
	l, err := linkage.NewCorner(linkage.Corner{
		Kind:   linkage.TrailingArm,
		Wheel:  linkage.Wheel{Centre: geom.Vec{Y: 0.75, Z: radius}, Radius: radius},
		Pivots: &linkage.Pivots{Inner: geom.Vec{X: ahead, Y: 0.35, Z: height}, Outer: geom.Vec{X: ahead, Y: 0.65, Z: height}},
		Spring: &linkage.Element{Top: geom.Vec{X: 0.3 * ahead, Y: 0.6, Z: 0.6}, Low: geom.Vec{X: 0.3 * ahead, Y: 0.6, Z: 0.25}},
		Damper: &linkage.Element{Top: geom.Vec{X: 0.2 * ahead, Y: 0.6, Z: 0.7}, Low: geom.Vec{X: 0.2 * ahead, Y: 0.6, Z: 0.25}},
	})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Conditions for all of the dive, lift and squat to be carried by the arms, of T.
// D. Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 7 (from memory), for
// an equivalent arm with its pivot at e over the ground and d from the wheel:
//
//	front, braking: e/d = h/(ξ·L)        rear, braking: e/d = h/((1 − ξ)·L)
//	rear, power: e/d = h/L where an axle keeps its torque, (e − r)/d = h/L where
//	shafts drive
//
// The numbers are own; half the height gives half.
func TestSupportOfAnEquivalentArm(t *testing.T) {
	validation.Against(t, "Anti-dive and anti-squat", validation.Derived, "T. D. Gillespie, Fundamentals of Vehicle Dynamics, ch. 7 (from memory)")
	const (
		h, l, front, radius = 0.54, 2.68, 0.72, 0.305
		d                   = 0.9
	)
	brake := func(axle int, share float64, f linkage.Figures) float64 {
		s := study.Support{Axle: axle, Height: h, Wheelbase: l, BrakeShare: share}
		return s.Brake(&f)
	}
	drive := func(axle int, reacted bool, f linkage.Figures) float64 {
		s := study.Support{Axle: axle, Height: h, Wheelbase: l, DriveShare: 1, Reacted: reacted}
		return s.Drive(&f)
	}
	full, rear, solid, shafts := d*h/(front*l), d*h/((1-front)*l), d*h/l, radius+d*h/l
	for _, row := range []struct {
		what      string
		got, want float64
	}{
		{"front under braking, pivot behind the wheel", brake(0, front, swinging(t, -d, full, radius)), 1},
		{"the same at half the height", brake(0, front, swinging(t, -d, full/2, radius)), 0.5},
		{"front under braking, pivot ahead of the wheel", brake(0, front, swinging(t, d, full, radius)), -1},
		{"rear under braking", brake(1, 1-front, swinging(t, d, rear, radius)), 1},
		{"rear under power, torque kept", drive(1, true, swinging(t, d, solid, radius)), 1},
		{"rear under power, shafts", drive(1, false, swinging(t, d, shafts, radius)), 1},
		{"rear under power, shafts, pivot at the hub's height", drive(1, false, swinging(t, d, radius, radius)), 0},
		{"front under power, shafts, pivot behind the wheel", drive(0, false, swinging(t, -d, shafts, radius)), 1},
	} {
		near(t, row.what, row.got, row.want, 1e-9, "of it all")
	}
}
