package reference

import (
	"math"
	"testing"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/reference/validation"
)

// mm makes a point of millimetres.
func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000} }

// flatStrut is a strut that moves in the plane y-z only, given to the solver in
// space: the arm's pivots lie before and behind, and the tie rod runs beside the
// arm. Lengths: contact (750, 0), lower joint (700, 220), arm pivot (360, 240),
// top mount (580, 820), damper axis through (655, 420).
//
// Mechanism as in J. Reimpell, H. Stoll, J. W. Betzler, The Automotive Chassis,
// ch. 5 (from memory); numbers derived by hand in the plane.
func flatStrut() linkage.Corner {
	return linkage.Corner{
		Kind:      linkage.Strut,
		Wheel:     linkage.Wheel{Centre: mm(0, 750, 310), Radius: 0.310},
		Arms:      []linkage.Arm{{Name: "lower arm", Front: mm(150, 360, 240), Rear: mm(-150, 360, 240), Ball: mm(0, 700, 220)}},
		Rods:      []linkage.Rod{{Name: "tie rod", Inner: mm(-135, 360, 240), Outer: mm(-135, 700, 220), Steered: true}},
		Strut:     &linkage.Axis{Top: mm(0, 580, 820), Low: mm(0, 655, 420)},
		AtContact: true,
	}
}

// spaceStrut is the same strut with caster and a tie rod of its own.
func spaceStrut() linkage.Corner {
	return linkage.Corner{
		Kind:      linkage.Strut,
		Wheel:     linkage.Wheel{Centre: mm(0, 750, 310), Radius: 0.310},
		Arms:      []linkage.Arm{{Name: "lower arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
		Rods:      []linkage.Rod{{Name: "tie rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
		Strut:     &linkage.Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
		AtContact: true,
	}
}

const degree = math.Pi / 180

// The strut over its travel. Values derived by hand in the plane; travel is
// counted at the carrier's point over the contact patch.
func TestStrutOverTravel(t *testing.T) {
	validation.Against(t, "A strut over its travel", validation.Derived, "circles and lines in the plane by hand", "camber-to-road")
	l, err := linkage.NewCorner(flatStrut())
	if err != nil {
		t.Fatal(err)
	}
	home, err := l.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	patch := geom.Vec{Y: 0.750}
	plane := strut{p: [2]float64{750, 0}, b: [2]float64{700, 220}, a: [2]float64{360, 240}, t: [2]float64{580, 820}}
	for _, c := range []struct{ w, ratio, short, camber, track float64 }{
		{-60, 0.92295609, -56.121600, -1.653597, -14.986787},
		{-30, 0.93472443, -28.266024, -0.749066, -5.889178},
		{0, 0.95031280, 0, 0, 0},
		{30, 0.96977058, 28.791390, 0.578017, 2.672490},
		{60, 0.99328719, 58.226800, 0.958325, 2.004640},
	} {
		f, err := l.Figures(linkage.Parallel, c.w/1000, 0)
		if err != nil {
			t.Fatal(err)
		}
		// The table's ratios are differences, given to 1e-4; they hold to a unit of
		// their last digit. The closed form in the plane decides.
		near(t, "motion ratio", f.Spring.Ratio, c.ratio, 1e-8, "")
		const h = 0.01
		near(t, "motion ratio of the closed form", f.Spring.Ratio, (plane.shortening(c.w+h)-plane.shortening(c.w-h))/(2*h), 1e-9, "")
		near(t, "strut shortening", 1000*f.Spring.Travel, c.short, 5e-7, "mm")
		// The table counts the top going inward as positive.
		near(t, "camber", -(f.Camber-home.Camber)/degree, c.camber, 5e-7, "deg")
		// The carrier's point that stood over the contact: the wheel turns about
		// its own centre by the camber.
		turn := f.Camber - home.Camber
		y := f.Centre.Y - 0.310*math.Sin(turn)
		near(t, "half-track", 1000*(y-patch.Y), c.track, 5e-7, "mm")
	}
	// The wheel rate's second term is the slope of the motion ratio.
	near(t, "slope of the motion ratio", home.Spring.Slope/1000, 5.8337e-4, 5e-9, "1/mm")
	rate := 40*home.Spring.Ratio*home.Spring.Ratio + 4209.14039*home.Spring.Slope/1000
	near(t, "wheel rate", rate, 38.5793, 5e-5, "N/mm")
	nearly(t, "wheel rate as a difference of wheel forces", rate, 38.57939, 1e-4, "N/mm")
	// Instant centre, roll centre and steering axis as drawn.
	near(t, "roll centre", 1000*home.RollCentre, 107.285574, 5e-7, "mm")
	near(t, "scrubbing", home.Scrubbing, 0.143047432, 5e-10, "")
	near(t, "camber gain", -home.CamberGain/degree/1000, 0.0222321, 5e-8, "deg/mm")
	// Where it crosses the wheel's plane, x = 0.
	way := home.Instant.Point.X / home.Instant.Along.X
	near(t, "instant centre y", 1000*(home.Instant.Point.Y-way*home.Instant.Along.Y), -1827.16418, 5e-6, "mm")
	near(t, "instant centre z", 1000*(home.Instant.Point.Z-way*home.Instant.Along.Z), 368.656716, 5e-7, "mm")
	near(t, "steering axis inclination", home.Inclination/degree, 11.3099325, 5e-8, "deg")
	near(t, "scrub radius", 1000*home.Scrub, 6.0, 1e-6, "mm")
}

// The strut in space: slopes at travel 0, from a separate constraint solver.
func TestStrutInSpace(t *testing.T) {
	validation.Against(t, "A strut in space: slopes", validation.Derived, "a separate constraint solver", "camber-to-road", "links-steer")
	l, err := linkage.NewCorner(spaceStrut())
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Figures(linkage.Parallel, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "motion ratio", f.Spring.Ratio, 0.94928949, 1e-5, "")
	nearly(t, "dy/dz", f.Scrubbing, 0.1223126, 1e-5, "")
	// Turning about z by −0.00495 deg/mm is toe-in on the left. The printed figure
	// is a difference over a millimetre either way.
	up, err := l.Figures(linkage.Parallel, 0.001, 0)
	if err != nil {
		t.Fatal(err)
	}
	down, err := l.Figures(linkage.Parallel, -0.001, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bump steer over a millimetre", (up.Toe-down.Toe)/0.002/degree/1000, 0.0049508, 5e-8, "deg/mm")
	nearly(t, "bump steer", f.BumpSteer, (up.Toe-down.Toe)/0.002, 2e-5, "rad/m")
	near(t, "inclination", f.Inclination/degree, 11.3099325, 5e-8, "deg")
	near(t, "caster", f.Caster/degree, 4.76364169, 5e-9, "deg")
	near(t, "scrub radius", 1000*f.Scrub, 6.0, 1e-6, "mm")
	near(t, "trail", 1000*f.Trail, 23.3333333, 5e-8, "mm")
	near(t, "axis inboard of the wheel centre", 1000*f.HubOffset, 68.0, 1e-6, "mm")
	hub, _ := f.Steering.AtHeight(0.310)
	near(t, "axis behind the wheel centre", -1000*hub.X, 2.5, 1e-6, "mm")
}
