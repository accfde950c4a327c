package equilibrium

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

// tyreRate is the rate of a build's tyre at its pressure.
func (t *Terms) tyreRate(b *car.Build, i int) figure.Term {
	const name = "rate of the tyre"
	c := t.Design.Car
	rate, known, set := c.TyreRateIn(b, i), c.KnownPressure(b, i), c.SetPressure(b, i)
	if set == known || !known.Known() {
		return figure.From("k_t", name, "N/m", rate)
	}
	return figure.As("k_t", name+" at its pressure", tyreAt.Of(
		figure.Fixed("k_c", "what a tyre's rate keeps without air", "N/m", part.CarcassRate, "T. B. Rhyne, Tire Science and Technology 33 (2005), from memory"),
		figure.From("k", name+" where it is known", "N/m", rate), figure.From("p", "pressure of the tyre", "Pa", set), figure.From("p_0", "pressure at which its rate is known", "Pa", known)))
}

// grown is how much greater the radius of the build's tyre is than of the one weighed.
func (t *Terms) grown(i int) figure.Term {
	const name = "how much greater the tyre's radius without load is than as weighed"
	c, b := t.Design.Car, t.Design.Build
	if !c.Retyred(b, i) {
		return figure.Term{Symbol: "r", Name: name, Unit: "m"}
	}
	return figure.As("r", name, grownBy.Of(
		radius("R_1", "radius of this build's tyre without load", b.Corner[i].Tyre), radius("R_0", "the same of the tyre as weighed", c.Weighed.Rolls[i].Tyre)))
}

func radius(symbol, name string, t *car.TyreSpec) figure.Term {
	if t.LoadedRadius.Known() {
		return figure.As(symbol, name, radiusByLoad.Of(figure.From("R_l", "hub to ground under a load", "m", &t.LoadedRadius),
			figure.From("m", "that load", "kg", &t.LoadedAt), gravity(), figure.From("k", "rate of the tyre there", "N/m", &t.Rate)))
	}
	return figure.As(symbol, name, freeRadius.Of(figure.From("D", "outer diameter of the tyre", "m", &t.Diameter)))
}

// outward is how much farther out the build's wheel stands than as weighed.
func (t *Terms) outward(i int) figure.Term {
	const name = "how much farther out the wheel stands than as weighed"
	c, b := t.Design.Car, t.Design.Build
	if !c.Rewheeled(b, i) {
		return figure.Term{Symbol: "o", Name: name, Unit: "m"}
	}
	return figure.As("o", name, outwardBy.Of(figure.From("e_0", "offset of the wheel as weighed", "m", &c.Weighed.Rolls[i].Wheel.Offset),
		figure.From("e", "offset of this build's wheel", "m", &b.Corner[i].Wheel.Offset)))
}

// left is how far a wheel stands left of the middle.
func (t *Terms) left(symbol string, i int) figure.Term {
	side := figure.Fixed("n", "1 left, -1 right", "1", 1, "axes of ISO 8855")
	if i&1 == 1 {
		side.Value = -1
	}
	return figure.As(symbol, "wheel left of the middle", leftOfMiddle.Of(side, figure.From("t", "track as weighed", "m", &t.Design.Car.Track[car.AxleOf(i)]), t.outward(i)))
}

// unsprung is the mass that moves with a build's wheel.
func (t *Terms) unsprung(b *car.Build, i int) figure.Term {
	c := t.Design.Car
	m := figure.From("m", "mass moving with one wheel of the car", "kg", &c.Unsprung[car.AxleOf(i)])
	n := figure.From("n", "added by this build's brakes and wheels", "kg", &b.Corner[i].UnsprungMore)
	const name = "how much heavier tyre and wheel are than as weighed"
	o := figure.Term{Symbol: "o", Name: name, Unit: "kg"}
	if more, less := c.HeavierBy(b, i); len(more) > 0 {
		terms := []figure.Term{
			{Symbol: "m_1", Name: "this build's part", Unit: "kg"},
			{Symbol: "m_2", Name: "as weighed", Unit: "kg"},
			{Symbol: "m_3", Name: "this build's other part", Unit: "kg"},
			{Symbol: "m_4", Name: "as weighed", Unit: "kg"},
		}
		for k := range more {
			terms[2*k] = figure.From(terms[2*k].Symbol, "mass of this build's tyre or wheel", "kg", more[k])
			terms[2*k+1] = figure.From(terms[2*k+1].Symbol, "mass of the one as weighed", "kg", less[k])
		}
		o = figure.As("o", name, heavierBy.Of(terms...))
	}
	return figure.As("m_u", "mass moving with the wheel", unsprungMass.Of(m, n, o))
}
