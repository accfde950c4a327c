package linkage

import (
	"math"

	"trunnion/chassis/geom"
)

// RatioOff returns by how much the motion ratios of spring and damper at travel 0
// may be off when every coordinate of the points was read to within a half-width
// [m], each by itself, as a share of the ratio [-]; 0 for a part that is not known.
//
//	(Δr/r)² = Σ (reading/r·∂r/∂x)²   over the coordinates x of all points
//
// Source: propagation of uncertainty to first order, JCGM 100:2008, eq. 10.
func (h *Hardpoints) RatioOff(reading float64) (spring, damper float64) {
	ratios := func(of *Hardpoints) (s, d float64, ok bool) {
		l, err := of.New()
		if err != nil {
			return 0, 0, false
		}
		f, err := l.Figures(Parallel, 0, 0)
		return f.Spring.Ratio, f.Damper.Ratio, err == nil
	}
	s0, d0, ok := ratios(h)
	if !ok {
		return 0, 0
	}
	moved := h.copied()
	for _, p := range moved.points() {
		for _, x := range []*float64{&p.X, &p.Y, &p.Z} {
			was := *x
			*x += reading
			// A point that may not be moved so, as one in the middle plane, is known.
			if s, d, ok := ratios(&moved); ok {
				spring, damper = math.Hypot(spring, s-s0), math.Hypot(damper, d-d0)
			}
			*x = was
		}
	}
	share := func(off, ratio float64) float64 {
		if ratio == 0 {
			return 0
		}
		return off / math.Abs(ratio)
	}
	return share(spring, s0), share(damper, d0)
}

// copied returns the points in places of their own.
func (h *Hardpoints) copied() Hardpoints {
	var out Hardpoints
	switch {
	case h.Corner != nil:
		c := *h.Corner
		c.Arms, c.Rods = append([]Arm(nil), c.Arms...), append([]Rod(nil), c.Rods...)
		c.Strut, c.Pivots, c.Spring, c.Damper = another(c.Strut), another(c.Pivots), another(c.Spring), another(c.Damper)
		out.Corner = &c
	case h.Beam != nil:
		b := *h.Beam
		b.Spring, b.Damper = another(b.Spring), another(b.Damper)
		out.Beam = &b
	case h.Axle != nil:
		a := *h.Axle
		a.Rods = append([]Rod(nil), a.Rods...)
		a.Spring, a.Damper = another(a.Spring), another(a.Damper)
		out.Axle = &a
	}
	return out
}

func another[T any](p *T) *T {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}

// points are those that spring and damper travel depend on.
func (h *Hardpoints) points() (out []*geom.Vec) {
	var arms []Arm
	var rods []Rod
	var spring, damper *Element
	switch {
	case h.Corner != nil:
		c := h.Corner
		out = append(out, &c.Wheel.Centre)
		arms, rods, spring, damper = c.Arms, c.Rods, c.Spring, c.Damper
		if c.Strut != nil {
			out = append(out, &c.Strut.Top, &c.Strut.Low)
		}
		if c.Pivots != nil {
			out = append(out, &c.Pivots.Inner, &c.Pivots.Outer)
		}
	case h.Beam != nil:
		b := h.Beam
		out = append(out, &b.Wheel.Centre, &b.Bush, &b.Shear)
		spring, damper = b.Spring, b.Damper
	case h.Axle != nil:
		out = append(out, &h.Axle.Wheel.Centre)
		rods, spring, damper = h.Axle.Rods, h.Axle.Spring, h.Axle.Damper
	}
	for i := range arms {
		out = append(out, &arms[i].Front, &arms[i].Rear, &arms[i].Ball)
	}
	for i := range rods {
		out = append(out, &rods[i].Inner, &rods[i].Outer)
	}
	for _, e := range []*Element{spring, damper} {
		if e != nil {
			out = append(out, &e.Top, &e.Low)
		}
	}
	return out
}
