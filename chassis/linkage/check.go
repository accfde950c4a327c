package linkage

import (
	"math"

	"trunnion/chassis/geom"
)

// Ranges beyond which a point is a slip: common practice, no source.
const (
	farPoint   = 2.5  // from the wheel centre [m]
	pastMiddle = 0.15 // on the other side of the car [m]
	underfoot  = 0.08 // from the ground in the middle of the car [m]
)

func (b *builder) checkWheel(w *Wheel) {
	if !geom.Finite(w.Centre) || math.IsNaN(w.Camber+w.Toe) {
		b.fault(NotFinite, 0, "wheel centre")
		return
	}
	if !(w.Radius > 0.1 && w.Radius < 1) {
		b.fault(BadRadius, w.Radius, "wheel")
	}
	if math.Abs(w.Camber) > 0.5 || math.Abs(w.Toe) > 0.5 {
		b.fault(MixedUnits, math.Max(math.Abs(w.Camber), math.Abs(w.Toe)), "camber", "toe")
	}
	if w.Centre.Y <= 0 {
		b.fault(OtherSide, w.Centre.Y, "wheel centre")
	}
}

// near wants a point to be a number within reach of the wheel.
func (b *builder) near(wheel vec, p named) {
	if math.IsInf(p.at.X, 1) {
		return // not given
	}
	d := norm(sub(p.at, wheel))
	switch {
	case !geom.Finite(p.at):
		b.fault(NotFinite, 0, p.name)
	case d > farPoint || math.Abs(p.at.Y) < underfoot && math.Abs(p.at.Z) < underfoot:
		// 25.4 or 1000 times too far, or all of it 25.4 or 1000 times too near the
		// ground in the middle of the car.
		b.fault(MixedUnits, d, p.name)
	}
}

// checkPoints wants points near the wheel and on its side of the car.
func (b *builder) checkPoints(wheel vec, points ...named) {
	for _, p := range points {
		before := len(b.faults)
		b.near(wheel, p)
		if len(b.faults) == before && !math.IsInf(p.at.X, 1) && p.at.Y < -pastMiddle {
			b.fault(OtherSide, p.at.Y, p.name)
		}
	}
}

// checkCorner finds what is wrong with the points by themselves.
func (b *builder) checkCorner(c *Corner) {
	b.checkWheel(&c.Wheel)
	if b.faults != nil {
		return
	}
	at := c.Wheel.Centre
	rows := 0
	for i := range c.Arms {
		a := &c.Arms[i]
		rows += 2
		b.checkPoints(at, named{a.Name + " front pivot", a.Front}, named{a.Name + " rear pivot", a.Rear}, named{a.Name + " ball joint", a.Ball})
	}
	for i := range c.Rods {
		r := &c.Rods[i]
		rows++
		b.checkPoints(at, named{r.Name + " inner", r.Inner}, named{r.Name + " outer", r.Outer})
		if r.Length != 0 && !(r.Length > 0.01 && r.Length < farPoint) {
			b.fault(MixedUnits, r.Length, r.Name)
		}
	}
	if s := c.Strut; s != nil {
		rows += 2
		before := len(b.faults)
		b.checkPoints(at, named{"top mount", s.Top}, named{"strut low", s.Low})
		if len(b.faults) == before && s.Top.Z <= at.Z {
			b.fault(TopUnder, s.Top.Z-at.Z, "top mount", "wheel centre")
		}
	}
	if p := c.Pivots; p != nil {
		rows += 5
		b.checkPoints(at, named{"inner pivot", p.Inner}, named{"outer pivot", p.Outer})
	}
	for _, e := range []struct {
		name string
		*Element
	}{{"spring", c.Spring}, {"damper", c.Damper}} {
		if e.Element != nil {
			b.checkPoints(at, named{e.name + " top", e.Top}, named{e.name + " low", e.Low})
		}
	}
	if d := c.Bar; d != nil {
		b.checkPoints(at, named{"drop link low", d.Low}, named{"bar end", d.End})
		for _, p := range []named{{"bar axis", d.Axis}, {"bar axis second point", d.Turn}} {
			if !geom.Finite(p.at) {
				b.fault(NotFinite, 0, p.name)
			}
		}
	}
	b.checkKind(c)
	if b.faults == nil && rows != 5 {
		b.fault(WrongCount, float64(rows), "links")
	}
}

// checkKind wants the parts that the kind is made of.
func (b *builder) checkKind(c *Corner) {
	type has struct{ arms, rods, strut, pivots int }
	count := has{len(c.Arms), len(c.Rods), 0, 0}
	if c.Strut != nil {
		count.strut = 1
	}
	if c.Pivots != nil {
		count.pivots = 1
	}
	ok := false
	switch c.Kind {
	case Strut:
		ok = count.strut == 1 && count.pivots == 0
	case DoubleWishbone:
		ok = count == has{2, 1, 0, 0}
	case FiveLink:
		ok = count.strut == 0 && count.pivots == 0
	case TrailingArm:
		ok = count == has{0, 0, 0, 1}
	case TwistBeam, LiveAxle:
	}
	if !ok {
		b.fault(NotAPart, 0, string(c.Kind))
	}
}
