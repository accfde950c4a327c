package reference

import (
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
	"trunnion/reference/validation"
)

// strut is the front view of a strut, y outward and z up, lengths in
// millimetres: contact P, lower joint B, arm pivot A, top mount T.
//
// Mechanism as in J. Reimpell, H. Stoll, J. W. Betzler, The Automotive Chassis,
// ch. 5 (from memory); numbers own.
type strut struct{ p, b, a, t [2]float64 }

// shortening returns how much shorter the strut is with its arm turned so that
// the contact has risen by a wheel travel: the knuckle is a rigid body on B
// whose damper axis passes through T.
func (s *strut) shortening(travel float64) float64 {
	arm := math.Hypot(s.b[0]-s.a[0], s.b[1]-s.a[1])
	start := math.Atan2(s.b[1]-s.a[1], s.b[0]-s.a[0])
	// Axis of the damper in the knuckle: through Q, fixed to it. Its distance
	// from B stays, so T lies on a line of the knuckle at that distance.
	q := [2]float64{655, 420}
	ux, uy := s.t[0]-q[0], s.t[1]-q[1]
	l := math.Hypot(ux, uy)
	ux, uy = ux/l, uy/l
	off := (s.b[0]-q[0])*uy - (s.b[1]-q[1])*ux // B's distance from the axis
	along := func(b [2]float64) (length, tilt float64) {
		dx, dy := s.t[0]-b[0], s.t[1]-b[1]
		d := math.Hypot(dx, dy)
		length = math.Sqrt(d*d - off*off) // from B's foot on the axis to T
		// Direction of the axis: from B to T turned by what the offset asks for.
		tilt = math.Atan2(dy, dx) - math.Atan2(off, length)
		return length, tilt
	}
	l0, tilt0 := along(s.b)
	contact := func(turn float64) (z, length float64) {
		b := [2]float64{s.a[0] + arm*math.Cos(start+turn), s.a[1] + arm*math.Sin(start+turn)}
		length, tilt := along(b)
		r := tilt - tilt0
		px, py := s.p[0]-s.b[0], s.p[1]-s.b[1]
		return b[1] + px*math.Sin(r) + py*math.Cos(r), length
	}
	turn, err := numeric.Root(func(x float64) float64 { z, _ := contact(x); return z - s.p[1] - travel }, -0.5, 0.5, 1e-15)
	if err != nil {
		return math.NaN()
	}
	_, length := contact(turn)
	return l0 - length
}

var frontStrut = strut{p: [2]float64{750, 0}, b: [2]float64{700, 220}, a: [2]float64{360, 240}, t: [2]float64{580, 820}}

// strutRows are wheel travel, motion ratio and shortening of that strut in
// millimetres, derived here by another constraint solver.
var strutRows = []struct{ wheel, ratio, part float64 }{
	{-60, 0.92295609, -56.121600},
	{-30, 0.93472443, -28.266024},
	{0, 0.95031280, 0},
	{30, 0.96977058, 28.791390},
	{60, 0.99328719, 58.226800},
}

// motion is a table of readings without error.
func motion(t *testing.T, wheel, part []float64) car.Motion {
	t.Helper()
	m := car.Motion{Wheel: wheel, Part: part, Origin: figure.Measured}
	if err := m.FitTable(); err != nil {
		t.Fatal(err)
	}
	return m
}

// strutMotion is the exact table over a reach, as measured every few
// millimetres.
func strutMotion(t *testing.T, reach, step float64) car.Motion {
	t.Helper()
	var wheel, part []float64
	for w := -reach; w <= reach; w += step {
		wheel, part = append(wheel, w*1e-3), append(part, frontStrut.shortening(w)*1e-3)
	}
	return motion(t, wheel, part)
}

// The test's own constraint solver agrees with the rows before they are used.
func TestStrutGeometry(t *testing.T) {
	validation.Against(t, "Geometry of a strut", validation.Derived, "a separate constraint solver", "wheel-rate")
	for _, r := range strutRows {
		near(t, "strut shortening", frontStrut.shortening(r.wheel), r.part, 1e-6, "mm")
		const h = 1e-3
		slope := (frontStrut.shortening(r.wheel+h) - frontStrut.shortening(r.wheel-h)) / (2 * h)
		near(t, "motion ratio", slope, r.ratio, 1e-6, "-")
	}
}

// A table without reading error is reproduced, and its slope is the motion
// ratio: 1e-4. A test that only read the table back could not tell motion
// ratio from its inverse; the slope can.
func TestStrutMotionRatio(t *testing.T) {
	validation.Against(t, "Motion ratio of a strut", validation.Derived, "a separate constraint solver", "wheel-rate")
	var wheel, part []float64
	for _, r := range strutRows {
		wheel, part = append(wheel, r.wheel*1e-3), append(part, r.part*1e-3)
	}
	for _, table := range []struct {
		name string
		m    car.Motion
	}{{"five rows", motion(t, wheel, part)}, {"every 10 mm", strutMotion(t, 60, 10)}, {"every 5 mm", strutMotion(t, 60, 5)}} {
		p := table.m.At(nil)
		for _, r := range strutRows {
			s, slope, _ := p.At(r.wheel * 1e-3)
			near(t, table.name+": shortening", s*1e3, r.part, 1e-3, "mm")
			near(t, table.name+": motion ratio", slope, r.ratio, 1e-4, "-")
		}
	}
}

// Wheel rate of a spring of 40 N/mm under 4209.14039 N on that strut:
// k·r² + F·dr/dw = 36.1237770 + 2.4555 = 38.5793 N/mm, and the same by the slope
// of the force at the wheel; derived here. 1e-4 of the figure from the five
// printed rows, 1e-4 N/mm from a table of 20 mm either way, where a polynomial
// follows the strut to that. Leaving the second term out is 6.4 % wrong.
func TestStrutWheelRate(t *testing.T) {
	validation.Against(t, "Wheel rate of a strut, both terms", validation.Derived, "slope of the force at the wheel", "wheel-rate")
	var wheel, rows []float64
	for _, r := range strutRows {
		wheel, rows = append(wheel, r.wheel*1e-3), append(rows, r.part*1e-3)
	}
	for _, table := range []struct {
		name string
		m    car.Motion
		tol  float64
	}{{"five rows", motion(t, wheel, rows), 38.6e-4}, {"every 10 mm", strutMotion(t, 60, 10), 38.6e-4}, {"every 5 mm to 20 mm", strutMotion(t, 20, 5), 1e-4}} {
		model := corner.Model{SpringTravel: table.m.At(nil), Spring: part.Spring{Rate: 40e3, Free: 0.4, Block: 0.1}}
		model.Compressed0 = 4209.14039 / 40e3
		sh := model.At(0)
		near(t, table.name+": spring load", sh.SpringLoad, 4209.14039, 1e-9, "N")
		near(t, table.name+": spring's own part", 40*sh.SpringMotion*sh.SpringMotion, 36.1237770, table.tol, "N/mm")
		force, rate := model.Force(0)
		near(t, table.name+": wheel rate", rate*1e-3, 38.5793, table.tol, "N/mm")
		const h = 1e-4
		up, _ := model.Force(h)
		down, _ := model.Force(-h)
		near(t, table.name+": slope of the force at the wheel", (up-down)/(2*h)*1e-3, 38.5793, table.tol, "N/mm")
		// The static force at the wheel is that of the force polygon.
		nearly(t, table.name+": force at the wheel", force, 4000, 1e-4, "N")
	}
}
