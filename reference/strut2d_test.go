package reference

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	statics "trunnion/chassis/strut"
	"trunnion/reference/validation"
)

// flatJoints is the strut of the plane y-z. The arm's legs lie before and behind
// it, the tie rod beside it: by symmetry neither does anything of its own.
func flatJoints() statics.Joints {
	return statics.Joints{
		Contact: mm(0, 750, 0), Hub: mm(0, 750, 310), Ball: mm(0, 700, 220),
		ArmFront: mm(150, 360, 240), ArmRear: mm(-150, 360, 240),
		TieOuter: mm(-135, 700, 220), TieInner: mm(-135, 360, 240),
		Top: mm(0, 580, 820), Low: mm(0, 655, 420),
	}
}

// Statics of a strut in front view. Values derived by hand in the plane: forces
// and moments about the top mount. Mechanism as in J. Reimpell, H. Stoll, J. W.
// Betzler, The Automotive Chassis, ch. 5 (from memory). Tolerance 1e-6.
func TestStrutInThePlane(t *testing.T) {
	validation.Against(t, "Statics of a strut in front view", validation.Derived, "forces and moments by hand; mechanism of Reimpell, Stoll, Betzler, ch. 5")
	j := flatJoints()
	toBall := r3.Unit(r3.Sub(mm(0, 700, 220), mm(0, 360, 240)))
	axis := r3.Unit(r3.Sub(j.Top, j.Low))
	outward := geom.Vec{Y: axis.Z, Z: -axis.Y} // square to the axis, away from the car
	for _, c := range []struct{ fz, fy, arm, ty, tz, along, across float64 }{
		{4000, 0, -1148.80781, 1146.82540, -4067.46032, 4209.14039, 377.596483},
		{6000, -3000, 2432.76948, 571.428571, -5857.14286, 5862.13054, -517.763027},
		{6000, 3000, -5879.19291, 2869.04762, -6345.23810, 6765.29063, 1650.55247},
	} {
		f, err := statics.Statics(&j, &statics.Load{Contact: geom.Vec{Y: c.fy, Z: c.fz}})
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "arm on the knuckle", r3.Dot(f.Ball, toBall), c.arm, 1e-6, "N")
		nearly(t, "top y", f.Top.Y, c.ty, 1e-6, "N")
		nearly(t, "top z", f.Top.Z, c.tz, 1e-6, "N")
		nearly(t, "along the axis", -f.Along, c.along, 1e-6, "N")
		nearly(t, "across the axis", r3.Dot(f.Side, outward), c.across, 1e-6, "N")
		near(t, "tie rod", f.Tie, 0, 1e-6, "N")
	}
	near(t, "axis from upright", math.Atan2(75, 400)/degree, 10.6196553, 5e-8, "deg")
}

// What the side load does in a rod of 22 mm, and lowered by 40 mm.
func TestStrutGuide(t *testing.T) {
	validation.Against(t, "Guide and piston of a strut under side load", validation.Derived, "a lever on two bearings")
	const side = 377.596483
	l := statics.Layout{ToGuide: 0.180, Apart: 0.200, Sliding: statics.Section{Diameter: 0.022}}
	at, err := l.At(0, side)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "guide", at.Guide, 717.433317, 1e-6, "N")
	nearly(t, "piston", at.Lower, 339.836834, 1e-6, "N")
	nearly(t, "rod moment", at.Moment, 67.9673669, 1e-6, "N m")
	nearly(t, "rod stress", at.Stress/1e6, 65.0178356, 1e-6, "N/mm2")
	low, err := l.At(0.040, side)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "guide, lowered", low.Guide, 597.861097, 1e-6, "N")
	nearly(t, "piston, lowered", low.Lower, 220.264615, 1e-6, "N")
	nearly(t, "rod moment, lowered", low.Moment, 52.8635076, 1e-6, "N m")
}

// A spring's line that leaves the rod without side load, and lines that do not.
func TestStrutSpringLine(t *testing.T) {
	validation.Against(t, "A spring line without side load", validation.Derived, "forces and moments by hand")
	j := flatJoints()
	load := statics.Load{Contact: geom.Vec{Z: 4000}}
	along, angle, err := statics.SpringWithoutSideLoad(&j, &load)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spring axis from upright", math.Atan2(-along.Y, along.Z)/degree, 15.7458628, 5e-8, "deg")
	near(t, "spring axis from the damper axis", angle/degree, 5.1262, 5e-5, "deg")
	j.SpringTop, j.SpringAt = j.Top, r3.Sub(j.Top, along)
	f, err := statics.Statics(&j, &load)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "side load with that spring", f.Across, 0, 1e-6, "N")
	axis := r3.Unit(r3.Sub(j.Top, j.Low))
	outward := geom.Vec{Y: axis.Z, Z: -axis.Y}
	for _, c := range []struct {
		top, at      geom.Vec
		spring, side float64
	}{
		{mm(0, 580, 820), mm(0, 700, 430), 4236.23000, -100.714925},
		{mm(0, 588, 820), mm(0, 588+0.2*400, 820-400), 4196.00486, 273.085109},
	} {
		j.SpringTop, j.SpringAt = c.top, c.at
		f, err := statics.Statics(&j, &load)
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "spring", f.Spring, c.spring, 1e-6, "N")
		nearly(t, "rod side load", r3.Dot(f.Side, outward), c.side, 1e-6, "N")
	}
}
