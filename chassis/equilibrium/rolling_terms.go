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
func (t *Terms) grown(i int) figure.Term { return t.Design.Car.GrownTerm(t.Design.Build, i) }

// left is how far a wheel stands left of the middle.
func (t *Terms) left(symbol string, i int) figure.Term {
	side := figure.Fixed("n", "1 left, -1 right", "1", 1, "axes of ISO 8855")
	if i&1 == 1 {
		side.Value = -1
	}
	c := t.Design.Car
	return figure.As(symbol, "wheel left of the middle", leftOfMiddle.Of(side, figure.From("t", "track as weighed", "m", &c.Track[car.AxleOf(i)]), c.OutwardTerm(t.Design.Build, i)))
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

// RiseAt is how much higher the body stands over a wheel than as weighed, nobody aboard [m].
//
//	b = z + y·φ + x·θ
func (s *System) RiseAt(st *State, i int) float64 {
	return st.Heave + s.Left[i]*st.Roll + s.Behind[i]*st.Pitch
}

// Rise is the law of that.
func (t *CaseTerms) Rise(i int) *figure.Working {
	e := figure.Must("body-height-change")
	return e.Law().Of(t.heave(), t.left("y", i), t.roll(), t.behind(i), t.pitch())
}

// Rake is the law of how far the body pitches from how it stood as weighed.
func (t *CaseTerms) Rake() *figure.Working {
	e := figure.Must("rake-change")
	return e.Law().Of(t.pitch())
}

// behind is how far a wheel stands behind the front axle.
func (t *CaseTerms) behind(i int) figure.Term {
	if car.AxleOf(i) == car.Rear {
		return figure.From("x", "wheel behind the front axle", "m", &t.Design.Car.Wheelbase)
	}
	return figure.Fixed("x", "wheel behind the front axle", "m", 0, "axes of ISO 8855")
}
