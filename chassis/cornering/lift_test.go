package cornering

import (
	"math"
	"testing"

	"trunnion/chassis/equilibrium"
)

// TestInsideWheelLifts: a stiff rear bar lifts the inner rear wheel. It does where the sweep says, its load is never below
// nothing, and from there on the rear moves nothing more across: by the balance of the overturning moment about the ground
//
//	½·t_f·(ΔN_fr − ΔN_fl) + ½·t_r·ΔN_rr = Σ m·h·Δa + W·d_φ·Δφ
//
// ΔN_rr is the little that the body's pitch takes off the rear: all else of what more acceleration and the body's further
// lean overturn with is held by the front, whatever its springs. Worked by hand; the moment is that of the whole car as in
// any text (W. F. Milliken, D. L. Milliken, ch. 18, from memory).
func TestInsideWheelLifts(t *testing.T) {
	const g = equilibrium.Gravity
	c := demoCar(t, 3, "driver", func(_ *Geometry, sys *equilibrium.System) { sys.Bar[1].Rate *= 12 })
	s := c.Sweep(Asked{Lateral: 1.2 * g, Points: 24})
	if len(s.Lifts) == 0 || s.Lifts[0].Corner != 2 {
		t.Fatalf("a left turn lifts %+v first, not the rear left wheel", s.Lifts)
	}
	at := s.Lifts[0].Lateral
	for _, row := range []struct {
		off  float64
		lies bool
	}{{-2 * fine, true}, {2 * fine, false}} {
		p, err := c.At(at+row.off, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		if p.Load[2] > 0 != row.lies || p.Load[2] < 0 {
			t.Errorf("at %.4f g, said to lift at %.4f g, the wheel bears %.1f N", (at+row.off)/g, at/g, p.Load[2])
		}
	}
	a, err := c.At(at+0.02*g, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, err := c.At(at+0.06*g, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a.Load[2] != 0 || b.Load[2] != 0 || math.Abs(b.Load[3]-a.Load[3]) > 1e-3*a.Load[3] {
		t.Errorf("with its inner wheel up the rear bears %.2f and %.2f, then %.2f and %.2f N", a.Load[2], a.Load[3], b.Load[2], b.Load[3])
	}
	over := func(p *Point) float64 {
		return p.Lateral*(c.mass*c.cgHeight(&p.State)+c.unsprungMoment()) + c.weight*c.lean.RollArm*p.Roll
	}
	front := 0.5 * (c.sys.Left[0] - c.sys.Left[1]) * ((b.Load[1] - b.Load[0]) - (a.Load[1] - a.Load[0]))
	rear := 0.5 * (c.sys.Left[2] - c.sys.Left[3]) * (b.Load[3] - a.Load[3])
	if want := over(&b) - over(&a); math.Abs(front+rear-want) > 1e-4*want || math.Abs(rear) > 0.02*want {
		t.Errorf("front and rear hold %.3f and %.3f N m more, the overturning moment grows by %.3f", front, rear, want)
	}
	if gap := c.Gap(&b, 2); !(gap > 0) {
		t.Errorf("the lifted wheel's gap to the ground is %.2f mm", gap*1e3)
	}
}
