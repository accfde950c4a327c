package car

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

var (
	freeRadius   = figure.Law{Code: "tyre-free-radius", Equation: "R = D/2", Unit: "m", Source: figure.Own}
	radiusByLoad = figure.Law{Code: "tyre-free-radius-by-loaded", Equation: "R = R_l + m*g/k", Unit: "m", Source: figure.Own}
	grownBy      = figure.Law{Code: "tyre-grown-by", Equation: "r = R_1 - R_0", Unit: "m", Source: figure.Own}
	widerBy      = figure.Law{Code: "tyre-wider-by", Equation: "w = b_1 - b_0", Unit: "m", Source: figure.Own}
	capacity     = figure.Law{Code: "tyre-capacity", Equation: "m = m_I*min(1, (p/p_I)^0.8)", Unit: "kg", Source: "ETRTO Standards Manual (from memory); UN Regulation 30, annex 4"}
)

// RadiusTerm is the radius of a tyre without load with where it comes from.
func (t *TyreSpec) RadiusTerm(symbol, name string) figure.Term {
	if t.LoadedRadius.Known() {
		return figure.As(symbol, name, radiusByLoad.Of(figure.From("R_l", "hub to ground under a load", "m", &t.LoadedRadius),
			figure.From("m", "that load", "kg", &t.LoadedAt), figure.Fixed("g", "standard free fall", "m/s^2", standardGravity, "CGPM 1901"), figure.From("k", "rate of the tyre there", "N/m", &t.Rate)))
	}
	return figure.As(symbol, name, freeRadius.Of(figure.From("D", "outer diameter of the tyre", "m", &t.Diameter)))
}

// GrownTerm is [Car.Grown] with where it comes from.
func (c *Car) GrownTerm(b *Build, i int) figure.Term {
	const name = "how much greater the tyre's radius without load is than as weighed"
	if !c.Retyred(b, i) {
		return figure.Term{Symbol: "r", Name: name, Unit: "m"}
	}
	return figure.As("r", name, grownBy.Of(
		b.Corner[i].Tyre.RadiusTerm("R_1", "radius of this build's tyre without load"), c.Weighed.Rolls[i].Tyre.RadiusTerm("R_0", "the same of the tyre as weighed")))
}

// OutwardLaw is [Car.Outward] with where it comes from; that of the register.
func (c *Car) OutwardLaw(b *Build, i int) *figure.Working {
	e := figure.Must("wheel-outward")
	return e.Law().Of(figure.From("e_0", "offset of the wheel as weighed", "m", &c.Weighed.Rolls[i].Wheel.Offset), figure.From("e", "offset of this build's wheel", "m", &b.Corner[i].Wheel.Offset))
}

// OutwardTerm is that as a term; nothing where both wheels stand alike.
func (c *Car) OutwardTerm(b *Build, i int) figure.Term {
	const name = "how much farther out the wheel stands than as weighed"
	if !c.Rewheeled(b, i) {
		return figure.Term{Symbol: "o", Name: name, Unit: "m"}
	}
	return figure.As("o", name, c.OutwardLaw(b, i))
}

// WiderTerm is [Car.Wider] with where it comes from.
func (c *Car) WiderTerm(b *Build, i int) figure.Term {
	const name = "how much wider the tyre is than as weighed"
	if !c.widened(b, i) {
		return figure.Term{Symbol: "w", Name: name, Unit: "m"}
	}
	return figure.As("w", name, widerBy.Of(figure.From("b_1", "section width of this build's tyre", "m", &b.Corner[i].Tyre.Section), figure.From("b_0", "the same as weighed", "m", &c.Weighed.Rolls[i].Tyre.Section)))
}

// CapacityTerm is [Car.Capacity] with where it comes from, where it is known.
func (c *Car) CapacityTerm(b *Build, i int) figure.Term {
	t := b.Corner[i].Tyre
	indexed, _ := part.IndexLoad(t.LoadIndex)
	return figure.As("m", "what the tyre carries at its pressure", capacity.Of(
		figure.Fixed("m_I", "load of its load index", "kg", indexed, "UN Regulation 30, annex 4"), figure.From("p", "pressure of the tyre", "Pa", c.SetPressure(b, i)),
		figure.Fixed("p_I", "pressure at which it carries that", "Pa", t.FullPressure(), "ETRTO Standards Manual (from memory)")))
}
