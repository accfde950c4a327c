package cornering

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000} }

// An invented strut and an invented twist beam.
func strutPoints(radius float64) linkage.Corner {
	return linkage.Corner{
		Kind:  linkage.Strut,
		Wheel: linkage.Wheel{Centre: mm(3, 752, 308), Radius: radius, Camber: -0.014, Toe: 0.002},
		Arms:  []linkage.Arm{{Name: "lower arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
		Rods:  []linkage.Rod{{Name: "tie rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
		Strut: &linkage.Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
	}
}

func beamPoints() linkage.Beam {
	return linkage.Beam{
		Wheel: linkage.Wheel{Centre: mm(-2650, 740, 305), Radius: 0.305, Camber: -0.017, Toe: 0.002},
		Bush:  mm(-2210, 560, 330), Shear: mm(-2330, 0, 368),
		Spring: &linkage.Element{Top: mm(-2540, 510, 502), Low: mm(-2550, 515, 280)},
		Damper: &linkage.Element{Top: mm(-2590, 590, 733), Low: mm(-2648, 600, 257)},
	}
}

func paths(t testing.TB) [2]*Path {
	t.Helper()
	front, err := linkage.NewCorner(strutPoints(0.308))
	if err != nil {
		t.Fatal(err)
	}
	rear, err := linkage.NewBeam(beamPoints())
	if err != nil {
		t.Fatal(err)
	}
	a, err := NewPath(front, false)
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewPath(rear, true)
	if err != nil {
		t.Fatal(err)
	}
	return [2]*Path{a, b}
}

func led(t testing.TB) func(*Geometry, *equilibrium.System) {
	p := paths(t)
	return func(g *Geometry, _ *equilibrium.System) {
		g.Path, g.BrakeShare, g.DriveShare = p, 0.7, 1
	}
}

// What a tyre's lateral force lifts is the work it does as the wheel moves: the
// path's lever is the contact's own slope, at any travel and on any tyre.
func TestLeverIsVirtualWork(t *testing.T) {
	c := demoCar(t, 1, "driver", led(t))
	rapid.Check(t, func(t *rapid.T) {
		travel, tyre := c.Rest().Travel, c.sys.Base.Tyre
		travel[0] = rapid.Float64Range(-0.09, 0.09).Draw(t, "travel")
		give := rapid.Float64Range(-0.01, 0.01).Draw(t, "give")
		tyre[0] += give
		l, err := linkage.NewCorner(strutPoints(0.308 - give))
		if err != nil {
			t.Fatal(err)
		}
		const h = 1e-5
		at := func(w float64) linkage.Figures {
			f, err := l.Figures(linkage.Parallel, w, 0)
			if err != nil {
				t.Fatal(err)
			}
			return f
		}
		// The wheel's point over the contact does not go with the lean of the wheel's
		// lowest point: as it turns by the camber, the lowest point stays behind.
		f := at(travel[0])
		want := math.Tan(f.Jacking) + c.offset[0]
		got := c.lever(0, &travel, &tyre)
		if math.Abs(got.own-want) > 2e-4 {
			t.Errorf("at %.4f m, tyre %.4f m: lever %.6f, contact's slope %.6f", travel[0], give, got.own, want)
		}
		slope := (math.Tan(at(travel[0]+h).Jacking) - math.Tan(at(travel[0]-h).Jacking)) / (2 * h)
		if math.Abs(got.ownBy[0]-slope) > 0.05 {
			t.Errorf("at %.4f m: slope %.4f, by difference %.4f 1/m", travel[0], got.ownBy[0], slope)
		}
		if got.other != 0 || got.otherBy != [2]float64{} {
			t.Errorf("an independent wheel moves the other: %+v", got)
		}
	})
}

// One wheel of a beam moved alone takes its own contact along by own and the
// other by other: together they are the beam moved as one.
func TestBeamMovesBothContacts(t *testing.T) {
	c := demoCar(t, 1, "driver", led(t))
	l, err := linkage.NewBeam(beamPoints())
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []float64{-0.05, -0.013, 0, 0.031, 0.06} {
		travel, tyre := c.Rest().Travel, c.sys.Base.Tyre
		travel[2], travel[3] = w, w
		both, err := l.Figures(linkage.Parallel, w, 0)
		if err != nil {
			t.Fatal(err)
		}
		got := c.lever(2, &travel, &tyre)
		together := math.Tan(both.Jacking)
		roll := both.RollCentre/both.HalfTrack + c.offset[1]
		// own − other: the left contact with both up; own + other: with one up, one
		// down.
		if math.Abs(got.own-got.other-together) > 1e-6 || math.Abs(got.own+got.other-roll) > 1e-6 { // of the cubic between rows
			t.Errorf("at %.3f m: own %.6f, other %.6f; together %.6f, apart %.6f", w, got.own, got.other, together, roll)
		}
	}
	single, err := l.Figures(linkage.Single, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	travel, tyre := c.Rest().Travel, c.sys.Base.Tyre
	travel[2], travel[3] = 0, 0
	// The contact rises as much as the wheel to two parts in a thousand only.
	if got := c.lever(2, &travel, &tyre); math.Abs(got.own-0.5*c.offset[1]-math.Tan(single.Jacking)) > 2e-3*math.Tan(single.Jacking) {
		t.Errorf("one wheel alone: own %.6f, by its movement %.6f", got.own-0.5*c.offset[1], math.Tan(single.Jacking))
	}
}

// A path that says what a falling roll centre says gives the same car.
func TestPathOfAFallingRollCentre(t *testing.T) {
	plain := demoCar(t, 1, "four-aboard", nil)
	same := demoCar(t, 1, "four-aboard", func(g *Geometry, s *equilibrium.System) {
		for a := range 2 {
			y := math.Abs(s.Left[2*a])
			p := &Path{low: -pathReach, step: 2 * pathReach / (pathRows - 1)}
			for k := range pathRows {
				w := p.low + float64(k)*p.step
				p.rows = append(p.rows, pathRow{roll: -g.Fall[a] * w / y, rollTyre: -1 / y})
			}
			g.Path[a] = p
		}
		g.BrakeShare, g.DriveShare = math.NaN(), math.NaN()
	})
	for _, ask := range [][2]float64{{4, 0}, {-7, 0}, {3, -5}} {
		p, err := plain.At(ask[0], ask[1], nil)
		q, err2 := same.At(ask[0], ask[1], nil)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		for i := range 4 {
			// The path has one height at the axle's middle as weighed; the falling roll
			// centre counts from each wheel's own height.
			if math.Abs(p.Load[i]-q.Load[i]) > 12 || math.Abs(p.Travel[i]-q.Travel[i]) > 3e-4 {
				t.Errorf("at %v, wheel %d: %.2f N and %.5f m, by the path %.2f N and %.5f m", ask, i, p.Load[i], p.Travel[i], q.Load[i], q.Travel[i])
			}
		}
	}
}

// The balance's slopes hold on paths too.
func TestSlopesOnPaths(t *testing.T) { slopes(t, demoCar(t, 1, "four-aboard", led(t))) }

// A free body with paths is one as well.
func TestFreeBodyOnPaths(t *testing.T) { freeBody(t, demoCar(t, 1, "holiday", led(t))) }

// Links that hold the nose up let it dive less, and move no load.
func TestSupportUnderBraking(t *testing.T) {
	with := demoCar(t, 1, "driver", led(t))
	without := demoCar(t, 1, "driver", func(g *Geometry, s *equilibrium.System) {
		led(t)(g, s)
		g.BrakeShare = math.NaN()
	})
	p, err := with.At(0, -7, nil)
	q, err2 := without.At(0, -7, nil)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if dive, plain := with.PitchAt(&p), without.PitchAt(&q); !(dive > 0 && dive < 0.9*plain) {
		t.Errorf("nose down by %.5f rad with the links' support, %.5f rad without", dive, plain)
	}
	// A body that stands elsewhere has its mass a little higher or lower.
	higher := with.cgHeight(&p.State) - without.cgHeight(&q.State)
	moved := 7 * with.mass * higher / with.sys.Behind[2]
	// One that dives less leans its weight forward less.
	moved += with.weight * with.sys.Lean.PitchArm * (p.Pitch - q.Pitch) / with.sys.Behind[2]
	for a, sign := range []float64{1, -1} {
		is, was := p.Load[2*a]+p.Load[2*a+1], q.Load[2*a]+q.Load[2*a+1]
		if math.Abs(is-was-sign*moved) > 0.01 {
			t.Errorf("axle %d carries %.2f N, without support %.2f N; the mass is %.4f m higher", a, is, was, higher)
		}
	}
}

// Straight ahead a wheel leans as its links have it; in a bend the body's roll
// comes on top, and the outer strut leans outward.
func TestCamberToTheRoad(t *testing.T) {
	c := demoCar(t, 1, "driver", led(t))
	l, err := linkage.NewCorner(strutPoints(0.308))
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.At(6, 0, nil) // to the left: the right wheels are outside
	if err != nil {
		t.Fatal(err)
	}
	for i, sign := range map[int]float64{0: -1, 1: 1} {
		f, err := l.Figures(linkage.Parallel, p.Travel[i], 0)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := c.Camber(&p, i), f.Camber+sign*p.Roll; math.Abs(got-want) > 2e-6 {
			t.Errorf("wheel %d leans by %.6f rad, by its links and the roll %.6f", i, got, want)
		}
	}
	if !(c.Camber(&p, 1) > c.Camber(c.Rest(), 1)+0.01) {
		t.Errorf("the outer strut leans by %.4f rad in the bend, %.4f straight ahead", c.Camber(&p, 1), c.Camber(c.Rest(), 1))
	}
	// Bump steer of the strut toes the outer wheel in and the inner one out: both
	// then steer into the bend or out of it, by half of each.
	toe := func(travel float64) float64 {
		f, err := l.Figures(linkage.Parallel, travel, 0)
		if err != nil {
			t.Fatal(err)
		}
		return f.Toe
	}
	rest := c.Rest()
	want := 0.5 * (toe(p.Travel[1]) - toe(p.Travel[0]) - toe(rest.Travel[1]) + toe(rest.Travel[0]))
	if got := c.Steer(&p, 0); math.Abs(got-want) > 2e-6 || math.Abs(got) < 1e-4 {
		t.Errorf("the front axle steers by %.6f rad, by its toes %.6f", got, want)
	}
	plain := demoCar(t, 1, "driver", nil)
	if v := plain.Camber(plain.Rest(), 0); !math.IsNaN(v) {
		t.Errorf("a car without points leans by %v", v)
	}
}

// Whatever points are typed, a corner ends with numbers or with a word.
func TestWildPaths(t *testing.T) {
	plain := demoCar(t, 1, "", nil)
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		corner := strutPoints(0.308)
		move := func(p *geom.Vec) {
			off := func() float64 { return rapid.Float64Range(-0.12, 0.12).Draw(t, "off") }
			*p = geom.Vec{X: p.X + off(), Y: p.Y + off(), Z: p.Z + off()}
		}
		for _, p := range []*geom.Vec{&corner.Arms[0].Front, &corner.Arms[0].Rear, &corner.Arms[0].Ball, &corner.Rods[0].Inner, &corner.Rods[0].Outer, &corner.Strut.Top, &corner.Strut.Low} {
			move(p)
		}
		l, err := linkage.NewCorner(corner)
		if err != nil {
			return
		}
		p, err := NewPath(l, false)
		if err != nil {
			return
		}
		geo := plain.geo
		geo.Path[0], geo.BrakeShare, geo.DriveShare = p, 0.7, 1
		c, err := New(plain.sys, equilibrium.Weights{}, &plain.rest.State, geo)
		if err != nil {
			return
		}
		s := c.Sweep(Asked{Lateral: rapid.Float64Range(-9, 9).Draw(t, "lateral"), Longitudinal: rapid.Float64Range(-8, 4).Draw(t, "longitudinal"), Points: 6})
		for i := range s.Points {
			q := &s.Points[i]
			for k := range 4 {
				for _, v := range []float64{q.Load[k], q.Travel[k], q.Side[k], q.Lift[k], c.RollCentreAt(q, k/2)} {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("point %d, wheel %d: %+v", i, k, q)
					}
				}
				if v := c.Camber(q, k); k < 2 && !(math.Abs(v) < 4) {
					t.Fatalf("point %d, wheel %d leans by %v", i, k, v)
				}
			}
		}
		held++
	})
	if held < 20 {
		t.Errorf("only %d of the wild cars were held", held)
	}
}
