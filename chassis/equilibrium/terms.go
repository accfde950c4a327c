package equilibrium

import (
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
)

var (
	weighedLoad   = figure.Law{Code: "load-as-weighed", Equation: "F_z = q*m*g", Unit: "N", Source: figure.Own}
	weighedForce  = figure.Law{Code: "force-as-weighed", Equation: "S = F_z - m_u*g", Unit: "N", Source: figure.Own}
	weighedTyre   = figure.Law{Code: "tyre-deflection-as-weighed", Equation: "d_0 = F_z/k_t", Unit: "m", Source: figure.Own}
	unsprungMass  = figure.Law{Code: "unsprung-mass", Equation: "m_u = m + n + o", Unit: "kg", Source: figure.Own}
	heavierBy     = figure.Law{Code: "wheel-heavier-by", Equation: "o = m_1 - m_2 + m_3 - m_4", Unit: "kg", Source: figure.Own}
	leftOfMiddle  = figure.Law{Code: "left-of-middle", Equation: "y = n*(t/2 + o)", Unit: "m", Source: figure.Own}
	tyreAt        = figure.Law{Code: "tyre-rate-at-pressure", Equation: "k_t = k_c + (k - k_c)*p/p_0", Unit: "N/m", Source: "T. B. Rhyne, Tire Science and Technology 33 (2005), coefficients from memory"}
	emptied       = figure.Law{Code: "emptied-travel", Equation: "w_0 = w", Unit: "m", Source: figure.Own, Note: "What was aboard on the scales is taken off at its place: solved with the balances of body and wheels."}
	emptiedTyre   = figure.Law{Code: "emptied-tyre-deflection", Equation: "d_0 = d", Unit: "m", Source: figure.Own, Note: emptiedNote}
	springAtScale = figure.Law{Code: "spring-load-as-weighed", Equation: "F = (S - F_gas - F_stop - F_ends - F_bush)/r", Unit: "N", Source: "balance of one wheel; own derivation"}
	springEmptied = figure.Law{Code: "spring-load-as-weighed-aboard", Equation: "F = F_s", Unit: "N", Source: figure.Own, Note: "As weighed with what was aboard; bushes and bars are slack without it, so that it is solved with the balances of body and wheels."}
	carried       = figure.Law{Code: "compression-as-weighed", Equation: "F = F_s", Solves: "x", Unit: "m", Source: figure.Own, Note: "Solved for the compression at which the spring that was fitted carries what it did on the scales."}
	inferredSeat  = figure.Law{Code: "inferred-seat", Equation: "l = L_free + h - x", Unit: "m", Source: figure.Own}
	sharedSeat    = figure.Law{Code: "shared-seat", Equation: "L_0 = l - (l - l_2)/4", Unit: "m", Source: "common practice, no source", Note: "Half of the difference between two inferred lengths is put down to the seats, half to the old springs."}
	sharedError   = figure.Law{Code: "shared-spring-error", Equation: "e = (l_2 - l)/4", Unit: "m", Source: "common practice, no source", Note: "Half of the difference between two inferred lengths is put down to the seats, half to the old springs."}
	longer        = figure.Law{Code: "old-spring-longer", Equation: "e = (1 - a)*(x - x_0)", Unit: "m", Source: "inverse-variance mean; own derivation"}
	wholeError    = figure.Law{Code: "old-spring-error", Equation: "e = x - x_0", Unit: "m", Source: figure.Own}
	stiffer       = figure.Law{Code: "old-spring-stiffer", Equation: "q = x/(x - a*(x - x_0))", Unit: "1", Source: "inverse-variance mean; own derivation"}
	rateShare     = figure.Law{Code: "error-of-rate", Equation: "a = v_k^2/(v_k^2 + v_l^2)*min(1, 3*sqrt(v_k^2 + v_l^2)/max(abs(x - x_0), 0.000000001))", Unit: "1", Source: "inverse-variance mean; own derivation", Note: "What weighing and old spring disagree by is shared in proportion to how far each may be off; more than three standard deviations is length."}
	byRate        = figure.Law{Code: "scatter-of-rate", Equation: "v_k = x*s_k/k", Unit: "m", Source: figure.Own}
	byLength      = figure.Law{Code: "scatter-of-length", Equation: "v_l = sqrt(s_f^2 + s_l^2 + (n*L_free/1.959964)^2)", Unit: "m", Source: figure.Own}
	dropFree      = figure.Law{Code: "free-length-by-drop", Equation: "L_free = x - o", Unit: "m", Source: figure.Own, Note: "On the car as measured, with the damper and stop it is sold for, the spring carries the corner load at the height it lowers the car to."}
	raisedSeat    = figure.Law{Code: "raised-seat", Equation: "H = H_0 - w", Solves: "z", Unit: "m", Source: figure.Own, Note: "The seats are moved until the car meets the wanted heights with nobody aboard: solved with the balances of body and wheels."}
	readSeat      = figure.Law{Code: "seat-by-readings", Equation: "o = x", Unit: "m", Source: "A. Tarantola, Inverse Problem Theory, 2005", Note: "The most probable place of the seat, given the readings taken after fitting with their errors."}
	bushSlack     = figure.Law{Code: "bush-slack", Equation: "w_b = w", Unit: "m", Source: figure.Own, Note: "The bushes are tightened where the build rests with nobody aboard: solved with the balances of body and wheels."}
)

const emptiedNote = "What was aboard on the scales is taken off at its place: solved with the balances of body and wheels."

// Terms are a build on the calibrated car with where its numbers come from.
type Terms struct {
	Fitted, Design *corner.Design
	Base           *Baseline
	System         *System
	Given          []*figure.Input // what the solution of this build was given, payload aside

	hangup *Hangup
	corner [4]*corner.Terms
	bears  [4]*figure.Working // compression of the old spring on the scales
	scales []*figure.Input    // what the calibration was given
}

// NewTerms returns the terms of a system that was made of these.
func NewTerms(fitted, ds *corner.Design, base *Baseline, h *Hangup, sys *System) *Terms {
	t := &Terms{Fitted: fitted, Design: ds, Base: base, System: sys, hangup: h}
	t.scales = OfJob(figure.ReadBy(func(d figure.Draw) { Calibrate(fitted, h, d) }))
	t.Given = OfJob(figure.ReadBy(func(d figure.Draw) {
		b := Calibrate(fitted, h, d)
		// It came to an end once; the same happens again.
		_, _ = NewSystem(ds, &b, h, d)
	}))
	return t
}

// OfJob leaves out the friction that may have held a corner, which no job has and
// which is nothing in the nominal case.
func OfJob(list []*figure.Input) []*figure.Input {
	out := list[:0]
	for _, in := range list {
		if !strings.HasPrefix(in.Path, "friction.") {
			out = append(out, in)
		}
	}
	return out
}

func gravity() figure.Term {
	return figure.Fixed("g", "standard free fall", "m/s^2", Gravity, "CGPM 1901")
}

// Corner are the terms of one corner of the build.
func (t *Terms) Corner(i int) *corner.Terms {
	if t.corner[i] == nil {
		t.corner[i] = t.makeCorner(i)
	}
	return t.corner[i]
}

func (t *Terms) makeCorner(i int) *corner.Terms {
	p, s := &t.Design.Build.Corner[i], t.System
	c := &corner.Terms{Design: t.Design, Corner: i, Model: &s.Corner[i]}
	c.Free = figure.Term{Symbol: "L_free", Name: "free length of the spring", Unit: "m"}
	if sp := p.Spring; sp != nil {
		c.Free = figure.From("L_free", "free length of the spring", "m", &sp.Free)
		if !sp.Free.Known() && sp.Drop.Known() {
			c.Free = t.dropLength(i)
		}
	}
	c.Seat = t.seat(i)
	carries := t.Base.Carries(p, i)
	c.Longer = figure.Term{Symbol: "e", Name: "error of the old spring, carried with it alone", Unit: "m"}
	if carries {
		c.Longer = t.longer(i)
		if t.Base.Stiffer[i] != 1 {
			c.Stiffer = t.stiffer(i)
		}
	}
	c.Raised = figure.Term{Symbol: "z", Name: "seat moved for wanted heights", Unit: "m"}
	if t.Design.Build.Setup.WantedHeight[i].Known() {
		c.Raised = t.raised(i)
	}
	c.Read = figure.Term{Symbol: "o", Name: "seat moved by readings taken after fitting", Unit: "m"}
	if t.Design.Build.Readings != nil {
		w := readSeat.Of(figure.Among("x", "most probable way of the seat", "m", s.SeatRead[i]))
		w.Given = t.Given
		c.Read = figure.As("o", "seat moved by readings taken after fitting", w)
	}
	c.Slack = t.slack(i)
	c.SagLoad = t.scaleLoad(i)
	c.SagLoad.Symbol = "F_0"
	return c
}

// Travel is the wheel travel as weighed, nobody aboard.
func (t *Terms) Travel(i int) figure.Term {
	if !t.Base.Emptied {
		return (&corner.Terms{Design: t.Design, Corner: i}).Measured()
	}
	w := emptied.Of(figure.Among("w", "wheel travel without what was aboard", "m", t.Base.Travel[i]))
	w.Given = t.scales
	return figure.As("w_0", "wheel travel with what was aboard on the scales taken off", w)
}

// Tyre is the tyre's deflection there.
func (t *Terms) Tyre(i int) figure.Term {
	if !t.Base.Emptied {
		return figure.As("d_0", "tyre deflection there", weighedTyre.Of(t.scale(i), t.tyreRate(t.Fitted.Build, i)))
	}
	w := emptiedTyre.Of(figure.Among("d", "tyre deflection without what was aboard", "m", t.Base.Tyre[i]))
	w.Given = t.scales
	return figure.As("d_0", "tyre deflection there", w)
}

func (t *Terms) scale(i int) figure.Term {
	w := &t.Fitted.Car.Weighed
	return figure.As("F_z", "load of the tyre as weighed", weighedLoad.Of(
		figure.From("q", "gain of the scales", "1", &w.ScaleGain), figure.From("m", "what the scales showed", "kg", &w.Load[i]), gravity()))
}

// TyreRate is the rate of the build's tyre.
func (t *Terms) TyreRate(i int) figure.Term { return t.tyreRate(t.Design.Build, i) }

// Unsprung is the mass that moves with the build's wheel.
func (t *Terms) Unsprung(i int) figure.Term { return t.unsprung(t.Design.Build, i) }

// scaleLoad is what the spring that was fitted carried on the scales.
func (t *Terms) scaleLoad(i int) figure.Term {
	const name = "load of the spring as weighed"
	if t.Base.Emptied {
		w := springEmptied.Of(figure.Among("F_s", name, "N", t.Base.Weighed[i]))
		w.Given = t.scales
		return figure.As("F", name, w)
	}
	force := figure.As("S", "suspension force as weighed", weighedForce.Of(t.scale(i), t.unsprung(t.Fitted.Build, i), gravity()))
	m := t.Fitted.Corner(i, nil)
	m.BushZero = m.MeasuredAt
	f := &corner.Terms{Design: t.Fitted, Corner: i, Model: &m}
	at := f.Measured()
	f.Slack = at
	f.Slack.Symbol = "w_b"
	return figure.As("F", name, springAtScale.Of(append([]figure.Term{force}, append(f.Others(at), f.SpringRatio(at))...)...))
}

// carried is the compression at which the spring that was fitted carries that.
func (t *Terms) carried(i int) figure.Term {
	if t.bears[i] == nil {
		t.bears[i] = t.makeCarried(i)
	}
	return figure.As("x", "compression of the spring as weighed", t.bears[i])
}

func (t *Terms) makeCarried(i int) *figure.Working {
	m := t.Fitted.Corner(i, nil)
	f := &corner.Terms{Design: t.Fitted, Corner: i, Model: &m}
	if sp := t.Fitted.Build.Corner[i].Spring; sp != nil {
		f.Free = figure.From("L_free", "free length of the spring", "m", &sp.Free)
	}
	x := figure.Among("x", "compression of the spring as weighed", "m", t.Base.Carried[i])
	load := t.scaleLoad(i)
	load.Symbol = "F_s"
	return carried.Found(x.Value, nil, f.StackLoad(x), load)
}

// inferred is the seat's length by load and old spring.
func (t *Terms) inferred(symbol string, i int) figure.Term {
	p := &t.Fitted.Build.Corner[i]
	free := figure.Term{Symbol: "L_free", Name: "free length of the spring", Unit: "m"}
	if p.Spring != nil {
		free = figure.From("L_free", "free length of the spring that was fitted", "m", &p.Spring.Free)
	}
	h := figure.Term{Symbol: "h", Name: "free length of the helper", Unit: "m"}
	if p.Helper != nil {
		h = figure.From("h", "free length of the helper", "m", &p.Helper.Free)
	}
	return figure.As(symbol, "spring length as weighed, by load and old spring, "+figure.CornerNames[i], inferredSeat.Of(free, h, t.carried(i)))
}

func (t *Terms) bothInferred(i int) bool { return t.Base.Inferred[i] && t.Base.Inferred[i^1] }

func (t *Terms) seat(i int) figure.Term {
	const name = "spring length seat to seat as weighed"
	switch {
	case !t.Base.Inferred[i]:
		return figure.From("L_0", name, "m", &t.Design.Car.Weighed.SpringLength[i])
	case t.bothInferred(i):
		return figure.As("L_0", name+", inferred", sharedSeat.Of(t.inferred("l", i), t.inferred("l_2", i^1)))
	}
	x := t.inferred("L_0", i)
	x.Name = name + ", inferred"
	return x
}

// stated is the compression that the spring that was fitted would have by its length
// and that of the seats.
func (t *Terms) stated(i int) figure.Term {
	m := t.Fitted.Corner(i, nil)
	f := &corner.Terms{Design: t.Fitted, Corner: i, Model: &m}
	none := func(symbol, name string) figure.Term { return figure.Term{Symbol: symbol, Name: name, Unit: "m"} }
	f.Free, f.Seat = none("L_free", "free length of the spring"), t.seat(i)
	if sp := t.Fitted.Build.Corner[i].Spring; sp != nil {
		f.Free = figure.From("L_free", "free length of the spring", "m", &sp.Free)
	}
	f.Raised, f.Read, f.Longer = none("z", "seat moved for wanted heights"), none("o", "seat moved by readings"), none("e", "error of the old spring")
	return figure.As("x_0", "compression by its stated length", f.Compression(f.Measured()))
}

// Preload is the law of what the weighing and the parts that were fitted disagree by.
func (t *Terms) Preload(i int) *figure.Working {
	needed, stated := t.carried(i), t.stated(i)
	needed.Symbol, stated.Symbol = "x_needed", "x_stated"
	e := figure.Must("preload-error")
	return e.Law().Of(needed, stated)
}

func (t *Terms) longer(i int) figure.Term {
	const name = "error of the old spring, carried with it alone"
	sp := t.Fitted.Build.Corner[i].Spring
	switch {
	case t.bothInferred(i):
		return figure.As("e", name, sharedError.Of(t.inferred("l", i), t.inferred("l_2", i^1)))
	case t.Base.Inferred[i]:
		return figure.Term{Symbol: "e", Name: name, Unit: "m"}
	case sp == nil || !sp.Free.Known() || t.Base.Carried[i] <= 0:
		return figure.As("e", name, wholeError.Of(t.carried(i), t.stated(i)))
	}
	return figure.As("e", name, longer.Of(t.errorOfRate(i), t.carried(i), t.stated(i)))
}

func (t *Terms) stiffer(i int) figure.Term {
	return figure.As("q", "how much stiffer than stated the old spring weighed in", stiffer.Of(t.errorOfRate(i), t.carried(i), t.stated(i)))
}

// errorOfRate is the share of the disagreement that is put down to the rate.
func (t *Terms) errorOfRate(i int) figure.Term {
	sp := t.Fitted.Build.Corner[i].Spring
	off := func(symbol, name, unit string, in *figure.Input) figure.Term {
		x := figure.From(symbol, name, unit, in)
		x.Value = deviation(in)
		return x
	}
	rate, unit := rateOf(sp), "N/m"
	if len(sp.Table) > 0 {
		unit = "1"
	}
	s := off("s_k", "standard deviation of the rate", unit, rate)
	if rate.Half <= 0 {
		s.Value = 0
	}
	x := t.carried(i)
	k := figure.As("v_k", "how far the rate may be off, as length", byRate.Of(x, s, figure.From("k", "rate of the spring, or factor on its table", unit, rate)))
	l := figure.As("v_l", "how far the lengths may be off", byLength.Of(
		off("s_f", "standard deviation of the free length", "m", &sp.Free), off("s_l", "standard deviation of the length seat to seat", "m", &t.Design.Car.Weighed.SpringLength[i]),
		figure.Fixed("n", "how much shorter a spring in service may be, of its length", "1", sag, "common practice, no source"), figure.From("L_free", "free length of the spring", "m", &sp.Free)))
	return figure.As("a", "share that is put down to the rate", rateShare.Of(k, l, x, t.stated(i)))
}

func (t *Terms) dropLength(i int) figure.Term {
	d := t.System.Drop[i]
	w := dropFree.Of(
		figure.Among("x", "compression under what it must carry, mean of the corners it is measured at", "m", d.Carried),
		figure.Among("o", "compression it would have there with no length of its own", "m", d.Without),
		figure.From("D", "how far it lowers the car", "m", &t.Design.Build.Corner[i].Spring.Drop))
	w.Given = t.Given
	return figure.As("L_free", "free length of the spring, by how far it lowers the car", w)
}

// raised is how far the seat was moved for a wanted height.
func (t *Terms) raised(i int) figure.Term {
	s := *t.System
	for k := range 4 {
		if t.Design.Build.Readings != nil && t.Design.Build.Readings.Seats == nil {
			s.Corner[k].Compressed0 -= s.SeatRead[k] // what was read came after
		}
		s.Stuck[k] = 0
	}
	s = s.WithoutBars()
	wheel := math.NaN()
	if st, err := s.Solve(Weights{}, nil); err == nil {
		wheel = st.Travel[i]
	}
	a := car.AxleOf(i)
	return figure.As("z", "seat moved for wanted heights", raisedSeat.Found(t.System.SeatRaised[i], t.Given,
		figure.From("H", "wanted height", "m", &t.Design.Build.Setup.WantedHeight[i]), figure.From("H_0", "height where wheel travel is zero", "m", &t.Design.Car.ZeroHeight[a]),
		figure.Among("w", "wheel travel with nobody aboard", "m", wheel)))
}

func (t *Terms) slack(i int) figure.Term {
	if t.Design.Build.Corner[i].BushTightened == BushAsWeighed || t.System.Corner[i].BushZero == t.Base.Travel[i] {
		x := t.Travel(i)
		x.Symbol, x.Name = "w_b", "wheel travel at which the bushes are slack: as weighed"
		return x
	}
	w := bushSlack.Of(figure.Among("w", "wheel travel at which the build rests", "m", t.System.Corner[i].BushZero))
	w.Given = t.Given
	return figure.As("w_b", "wheel travel at which the bushes are slack", w)
}
