package axles

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// A plus-sizing worked by hand: 225/45 R18 in place of 205/55 R16, on wheels of 20 mm less
// offset all round.
//
//	diameters      457.2 + 2·101.25 = 659.7 mm, 406.4 + 2·112.75 = 631.9 mm: 13.9 mm of radius
//	height         as much higher where the tyres are as stiff
//	track          1556 + 2·20 = 1596 mm
//	scrub radius   20·cos γ − 13.9·(tan i + sin γ)/… more: the contact goes out along the
//	               wheel's axis and down its plane, the steering axis goes down by its inclination
//	side load      the load of the contact by how much farther out it is, over the distance from
//	               the line of the arm to the top mount
//	speedometer    659.7/631.9 = 1.04399 turns less; one that showed 4 % more than driven now shows
//	               1 − 1.04/1.04399 = 0.38 % less
func TestPlusSizingWithLessOffset(t *testing.T) {
	job := pointedJob(t, true)
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Makers} }
	tyre := func(id string, diameter float64) *car.TyreSpec {
		return &car.TyreSpec{ID: id, Diameter: in(diameter), Rate: in(225e3), Pressure: in(2.3e5), Section: in(0.214), Circumference: in(3.05 * diameter), LoadIndex: 91}
	}
	was, is := tyre("narrow", 0.6319), tyre("wide", 0.6597)
	deep, shallow := &car.WheelSpec{ID: "deep", Offset: in(0.050)}, &car.WheelSpec{ID: "shallow", Offset: in(0.030)}
	plus := *job.Builds[0]
	plus.ID = "plus"
	for i := range 4 {
		job.Builds[0].Corner[i].Tyre, job.Builds[0].Corner[i].Wheel = was, deep
		plus.Corner[i].Tyre, plus.Corner[i].Wheel = is, shallow
		job.Car.Weighed.Rolls[i] = car.Rolling{Tyre: was, Wheel: deep}
	}
	job.Car.Speedometer = in(0.04)
	job.Car.Axle[0].Tyre.Pressure, job.Car.Axle[1].Tyre.Pressure = in(2.3e5), in(2.3e5)
	job.Builds = append(job.Builds[:1:1], &plus)
	a := answered(t, job)
	if err := Report(context.Background(), a); err != nil {
		t.Fatal(err)
	}
	load := a.UsualLoad()
	of := func(code, build string, corner int) float64 {
		v := a.Get(code, build, load, corner)
		if v == nil {
			t.Fatalf("no %s of %s", code, build)
		}
		return v.Value
	}
	more := func(code string, corner int) float64 { return of(code, "plus", corner) - of(code, "arrived", corner) }
	near := func(what string, got, want, tolerance float64) {
		t.Helper()
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s is %.6g, worked by hand %.6g", what, got, want)
		}
	}
	k, err := a.CaseOf("plus", load)
	if err != nil {
		t.Fatal(err)
	}
	// The wider track rolls a body that leans a little less, and nothing else moves it.
	near("height over the ground, mean", 0.25*(more("body-height-change", 0)+more("body-height-change", 1)+more("body-height-change", 2)+more("body-height-change", 3)), 0.0139, 2e-6)
	near("hub to arch", more("arch-height", 0), 0, 5e-5)
	near("track", k.System.Left[0]-k.System.Left[1], 1.596, 1e-12)
	near("gears", of("gearing-change", "plus", figure.NoCorner), 631.9/659.7-1, 1e-12)
	near("speedometer", of("speed-over-shown", "plus", figure.NoCorner), 659.7/631.9/1.04-1, 1e-12)

	c := a.Job.Car.Axle[0].Hardpoints.Corner
	l, err := a.Job.Car.Axle[0].Hardpoints.New()
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Figures(0, k.State.Travel[0], 0)
	if err != nil {
		t.Fatal(err)
	}
	// Down its plane the contact goes inward where the top leans in, by the camber.
	out := 0.020*math.Cos(f.Camber) - 0.0139*math.Sin(f.Camber)
	down := 0.0139*math.Cos(f.Camber) + 0.020*math.Sin(f.Camber)
	scrub := more("scrub-radius", 0)
	near("scrub radius", scrub, out-down*math.Tan(f.Inclination), 1e-4)

	// Moments about the ball joint seen from ahead: what the tyre carries less the wheel's
	// own weight stays in line with the arm and the top mount.
	s := k.State.Load[0] - k.System.Unsprung[0]*equilibrium.Gravity
	arm := c.Strut.Top.Z - c.Arms[0].Ball.Z
	push := more("strut-side-load", 0)
	near("side load", push, s*out/arm, 0.2*s*out/arm)
	if push < 50 {
		t.Errorf("wheels 20 mm farther out put %.1f N more on the rod", push)
	}
}

// On the wheels as weighed nothing differs, and a mirrored change gives the mirrored
// answer.
func TestOneWheelFartherOut(t *testing.T) {
	in := func(v float64) car.Input { return car.Input{Value: v, Origin: figure.Makers} }
	deep, shallow := &car.WheelSpec{ID: "deep", Offset: in(0.050)}, &car.WheelSpec{ID: "shallow", Offset: in(0.030)}
	scrub := func(side int) (own, other float64) {
		job := pointedJob(t, true)
		one := *job.Builds[0]
		one.ID = "one"
		for i := range 4 {
			job.Builds[0].Corner[i].Wheel, one.Corner[i].Wheel = deep, deep
			job.Car.Weighed.Rolls[i].Wheel = deep
		}
		one.Corner[side].Wheel = shallow
		job.Builds = append(job.Builds[:1:1], &one)
		a := answered(t, job)
		if err := Report(context.Background(), a); err != nil {
			t.Fatal(err)
		}
		more := func(i int) float64 {
			return a.Get("scrub-radius", "one", a.UsualLoad(), i).Value - a.Get("scrub-radius", "arrived", a.UsualLoad(), i).Value
		}
		return more(side), more(1 - side)
	}
	for side := range 2 {
		if own, other := scrub(side); math.Abs(own-0.020) > 5e-4 || math.Abs(other) > 2e-5 {
			t.Errorf("side %d: %.5f m more scrub radius, %.5f on the other side", side, own, other)
		}
	}
}
