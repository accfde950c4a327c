package strut

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
)

func mm(x, y, z float64) geom.Vec { return geom.Vec{X: x / 1000, Y: y / 1000, Z: z / 1000} }

func invented() Strut {
	return Strut{
		Corner: linkage.Corner{
			Kind:  linkage.Strut,
			Wheel: linkage.Wheel{Centre: mm(2, 752, 308), Radius: 0.308, Camber: -0.011, Toe: 0.001},
			Arms:  []linkage.Arm{{Name: "lower arm", Front: mm(-15, 360, 235), Rear: mm(-310, 380, 245), Ball: mm(5, 700, 220)}},
			Rods:  []linkage.Rod{{Name: "tie rod", Inner: mm(-130, 340, 300), Outer: mm(-135, 690, 290), Steered: true}},
			Strut: &linkage.Axis{Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)},
		},
		Layout: Layout{
			ToGuide: 0.170, Apart: 0.190, Sliding: Section{Diameter: 0.022}, LowerDiameter: 0.032, GuideLength: 0.022, LowerLength: 0.015,
			GuideFriction: FrictionLined, LowerFriction: FrictionLined,
		},
	}
}

var travels = []float64{-0.0713, -0.0289, 0.0071, 0.0307, 0.0619}

// Free body, moments about another point than the solver takes: forces and
// moments of carrier and strut tube add up to zero, at uneven travel and steer.
func TestCarrierInEquilibrium(t *testing.T) {
	for _, sprung := range []*linkage.Element{nil, {Top: mm(-48, 572, 800), Low: mm(-20, 668, 500)}} {
		s := invented()
		s.Corner.Spring = sprung
		load := Load{Contact: geom.Vec{X: -2100, Y: -2900, Z: 5100}, Hub: geom.Vec{X: 300, Z: -350}, Damper: 620}
		for _, rack := range []float64{0, 0.023} {
			ms, errs, err := s.Over(travels, rack, func(float64) Load { return load })
			if err != nil {
				t.Fatal(err)
			}
			for i, m := range ms {
				if errs[i] != nil {
					t.Fatal(errs[i])
				}
				j, f := &m.Joints, &m.Forces
				axis := r3.Unit(r3.Sub(j.Top, j.Low))
				tie := r3.Scale(f.Tie, r3.Unit(r3.Sub(j.TieOuter, j.TieInner)))
				push, at := r3.Scale(-f.Spring, axis), j.Top
				if sprung != nil {
					push, at = r3.Scale(f.Spring, r3.Unit(r3.Sub(j.SpringAt, j.SpringTop))), j.SpringAt
				}
				sum, moment := geom.Vec{}, geom.Vec{}
				for _, p := range []struct{ at, f geom.Vec }{
					{j.Contact, load.Contact}, {j.Hub, load.Hub}, {j.Ball, f.Ball}, {j.TieOuter, tie}, {at, push}, {j.Top, f.Side}, {j.Low, r3.Scale(-load.Damper, axis)},
				} {
					sum, moment = r3.Add(sum, p.f), r3.Add(moment, r3.Cross(p.at, p.f))
				}
				if r3.Norm(sum) > 1e-7 || r3.Norm(moment) > 1e-7 {
					t.Errorf("at %g m %v N and %v N m are left over", m.Travel, sum, moment)
				}
				if d := r3.Dot(f.Side, axis); math.Abs(d) > 1e-9*(1+f.Across) {
					t.Errorf("the side load is not square to the axis: %g N", d)
				}
				if sprung != nil || rack != 0 {
					continue
				}
				// Virtual work: wheel forces over the linkage's own slopes.
				l, err := linkage.NewCorner(s.Corner)
				if err != nil {
					t.Fatal(err)
				}
				const h = 1e-4
				up, err := l.Forces([2]float64{m.Travel}, rack, [2]linkage.WheelForce{{Contact: load.Contact, Hub: load.Hub}})
				if err != nil {
					t.Fatal(err)
				}
				if d := f.Spring + load.Damper - up.Spring[0]; math.Abs(d) > 1e-6*math.Abs(up.Spring[0]) {
					t.Errorf("at %g m the strut carries %g N, virtual work gives %g N", m.Travel, f.Spring+load.Damper, up.Spring[0])
				}
				a, err := l.Figures(linkage.Parallel, m.Travel+h, 0)
				if err != nil {
					t.Fatal(err)
				}
				b, err := l.Figures(linkage.Parallel, m.Travel-h, 0)
				if err != nil {
					t.Fatal(err)
				}
				if r := (a.Spring.Travel - b.Spring.Travel) / (2 * h); math.Abs(r-m.Ratio) > 1e-6 {
					t.Errorf("at %g m the ratio is %g, the difference %g", m.Travel, m.Ratio, r)
				}
			}
		}
	}
}

// Guide and lower bearing hold the side load and its moment.
func TestBearingsBalance(t *testing.T) {
	for _, inverted := range []bool{false, true} {
		l := invented().Layout
		l.Inverted = inverted
		for _, short := range []float64{-0.063, 0.0071, 0.0513, 0.119} {
			b, err := l.At(short, 1370)
			if err != nil {
				t.Fatal(err)
			}
			if d := b.Guide - b.Lower - 1370; math.Abs(d) > 1e-9 {
				t.Errorf("%g N are left over", d)
			}
			if d := b.Guide*b.Over - b.Lower*(b.Over+b.Apart); math.Abs(d) > 1e-9 {
				t.Errorf("%g N m are left over", d)
			}
			if want := l.ToGuide - short; math.Abs(b.Over-want) > 1e-15 {
				t.Errorf("%g m over the guide, wanted %g", b.Over, want)
			}
		}
		if _, err := l.At(0.171, 1); err == nil {
			t.Error("a strut is shortened past its guide")
		}
	}
	// Only the rod's bearings part with bump.
	conventional, inverted := invented().Layout, invented().Layout
	inverted.Inverted = true
	a, err := conventional.At(0.05, 1000)
	if err != nil {
		t.Fatal(err)
	}
	b, err := inverted.At(0.05, 1000)
	if err != nil {
		t.Fatal(err)
	}
	if !(a.Apart > b.Apart && a.Guide < b.Guide) {
		t.Errorf("in bump %g m and %g N conventional, %g m and %g N inverted", a.Apart, a.Guide, b.Apart, b.Guide)
	}
	var o *OverrunError
	if _, err := conventional.At(0.3, 1); !errors.As(err, &o) {
		t.Errorf("too short a strut: %v", err)
	}
	if _, err := (&Layout{}).At(0, 1); !errors.Is(err, ErrSection) {
		t.Errorf("a strut of no size: %v", err)
	}
}

// What workshops do, each in the direction the lever says.
func TestEffects(t *testing.T) {
	side := func(s Strut, travel float64, contact geom.Vec) Moment {
		t.Helper()
		ms, errs, err := s.Over([]float64{travel}, 0, func(float64) Load { return Load{Contact: contact} })
		if err != nil || errs[0] != nil {
			t.Fatal(err, errs)
		}
		return ms[0]
	}
	straight := geom.Vec{Z: 4000}
	base := side(invented(), 0, straight)
	wide := invented()
	wide.Corner = wide.Corner.With(linkage.Change{Offset: 0.020})
	if m := side(wide, 0, straight); !(m.Forces.Across > base.Forces.Across*1.1 && m.Stress > base.Stress*1.1) {
		t.Errorf("20 mm of offset: side load %g N, before %g N", m.Forces.Across, base.Forces.Across)
	}
	if m := side(invented(), 0, geom.Vec{Z: 4400}); math.Abs(m.Forces.Across/base.Forces.Across-1.1) > 1e-9 {
		t.Errorf("a tenth more load: side load %g N, before %g N", m.Forces.Across, base.Forces.Across)
	}
	if m := side(invented(), 0.04, straight); !(m.Over < base.Over && m.Bearing.Guide/m.Forces.Across < base.Bearing.Guide/base.Forces.Across) {
		t.Errorf("lowered: %g N on the guide per N, before %g", m.Bearing.Guide/m.Forces.Across, base.Bearing.Guide/base.Forces.Across)
	}
	if !(base.BreakAway > 0 && math.Abs(base.BreakAway-base.Friction*base.Ratio) < 1e-12) {
		t.Errorf("break-away %g N", base.BreakAway)
	}
	l := invented().Layout
	low, err := l.BucklingShare(-0.05, 9000, 600e6)
	if err != nil {
		t.Fatal(err)
	}
	// Conventional: what the rod loses over the guide it gains between its
	// bearings, so that the hinged length stays.
	high, err := l.BucklingShare(0.07, 9000, 600e6)
	if err != nil || math.Abs(low-high) > 1e-12 || !(low > 0.01 && low < 1) {
		t.Errorf("buckling share %g in droop, %g in bump, %v", low, high, err)
	}
	l.Inverted = true
	if up, err := l.BucklingShare(0.07, 9000, 600e6); err != nil || !(up < high) {
		t.Errorf("inverted in bump %g, %v", up, err)
	}
}

func TestUnheld(t *testing.T) {
	j := Joints{Contact: mm(0, 750, 0), Ball: mm(0, 700, 220), ArmFront: mm(0, 360, 240), ArmRear: mm(0, 400, 237.647), TieOuter: mm(-135, 690, 290), TieInner: mm(-130, 340, 300), Top: mm(-45, 580, 820), Low: mm(-14, 655, 420)}
	j.ArmRear = r3.Add(j.Ball, r3.Scale(0.5, r3.Sub(j.ArmFront, j.Ball)))
	if _, err := Statics(&j, &Load{Contact: geom.Vec{X: 100, Z: 4000}}); !errors.Is(err, ErrUnheld) {
		t.Errorf("an arm without width: %v", err)
	}
	j.Low = j.Top
	if _, err := Statics(&j, &Load{}); !errors.Is(err, ErrUnheld) {
		t.Errorf("a strut without length: %v", err)
	}
	if _, _, err := (&Strut{}).Over([]float64{0}, 0, nil); !errors.Is(err, ErrNotAStrut) {
		t.Errorf("no strut: %v", err)
	}
}

func TestEnvelopeSlope(t *testing.T) {
	// A step of half the radius is met at 60 degrees.
	if got := EnvelopeSlope(0.3, 0.15); math.Abs(got-math.Tan(math.Pi/3)) > 1e-12 {
		t.Errorf("slope %g", got)
	}
	if EnvelopeSlope(0.3, 0) != 0 || EnvelopeSlope(0.3, 0.4) != 0 {
		t.Error("a step that cannot be rolled over has a slope")
	}
}
