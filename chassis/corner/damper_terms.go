package corner

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

var (
	gasLine      = figure.Law{Code: "gas-line", Equation: "F = F_0 + k*(d + i)", Unit: "N", Source: figure.Own}
	gasCharge    = figure.Law{Code: "gas-charge", Equation: "F = (p_0*(V_0/max(V_0 - A*(i + d), 0.02*V_0))^n - p_a)*A", Unit: "N", Source: "polytropic law; own derivation"}
	gasRate      = figure.Law{Code: "gas-charge-rate", Equation: "k = n*(F/A + p_a)*A^2/max(V_0 - A*(i + d), 0.02*V_0)", Unit: "N/m", Source: "polytropic law; own derivation"}
	rodArea      = figure.Law{Code: "rod-area", Equation: "A = pi/4*d^2", Unit: "m^2", Source: figure.Own}
	absolute     = figure.Law{Code: "absolute-pressure", Equation: "p_0 = p + p_a", Unit: "Pa", Source: figure.Own}
	mountLength  = figure.Law{Code: "damper-length", Equation: "L = D_0 - c + d_0 - d", Unit: "m", Source: figure.Own}
	lengthTravel = figure.Law{Code: "damper-travel-at-length", Equation: "d = D_0 - c + d_0 - L", Unit: "m", Source: figure.Own}
	touchLength  = figure.Law{Code: "touch-length", Equation: "L = L_open - R_open + b + n + p", Unit: "m", Source: figure.Own}
	crushedTo    = figure.Law{Code: "crushed-length", Equation: "L = L_touch - y", Unit: "m", Source: figure.Own}
	endLength    = figure.Law{Code: "damper-end-length", Equation: "L = L_end + b", Unit: "m", Source: figure.Own}
	stopCrush    = figure.Law{Code: "stop-crush", Equation: "y = L_touch - L", Unit: "m", Source: figure.Own}
	stopForce    = figure.Law{Code: "stop-force", Equation: "F = n*f", Unit: "N", Source: figure.Own}
	stopRate     = figure.Law{Code: "stop-rate", Equation: "k = n*k_f", Unit: "N/m", Source: figure.Own}
	stopShare    = figure.Law{Code: "stop-force-for-share", Equation: "F*r_d = n*F_z", Solves: "F", Unit: "N", Source: figure.Own}
	tableForce   = figure.Law{Code: "stop-table-force", Equation: "f = F/n", Unit: "N", Source: figure.Own}
	closedForce  = figure.Law{Code: "closed-damper-force", Equation: "F = K*(L_closed - L)", Unit: "N", Source: figure.Own}
	openForce    = figure.Law{Code: "open-damper-force", Equation: "F = -K*(L - L_open)", Unit: "N", Source: figure.Own}
	topOutForce  = figure.Law{Code: "top-out-force", Equation: "F = -(f + K*max(o - o_end, 0))", Unit: "N", Source: figure.Own}
	topOutRate   = figure.Law{Code: "top-out-rate", Equation: "k = k_f + K*n", Unit: "N/m", Source: figure.Own}
	topOutCrush  = figure.Law{Code: "top-out-crush", Equation: "o = L - (L_open - o_end)", Unit: "m", Source: figure.Own}
	rodIn        = figure.Law{Code: "gas-rod-in", Equation: "i = L_open + b - L", Unit: "m", Source: figure.Own, Note: "The charge was read with the damper fully open."}
	blockTravel  = figure.Law{Code: "spring-travel-at-block", Equation: "s = R - x_0", Unit: "m", Source: figure.Own}
	atmosphere   = figure.Fixed("p_a", "standard atmosphere", "Pa", part.AtmospherePressure, "CGPM 1954")
)

func (t *Terms) body() figure.Term {
	return figure.From("b", "body made longer", "m", &t.build().Setup.BodyLength[t.Corner])
}

func (t *Terms) closer() figure.Term {
	return figure.From("c", "mounts closer than those measured", "m", &t.parts().MountsCloser)
}

func (t *Terms) weighedLength() figure.Term {
	return figure.From("D_0", "damper length between the mounts as weighed", "m", &t.car().Weighed.DamperLength[t.Corner])
}

func (t *Terms) weighedTravel() figure.Term {
	return t.DamperTravel("d_0", "damper travel as weighed", t.Measured())
}

// gas is what the gas pushes with along the damper [N].
func (t *Terms) gas(w figure.Term) figure.Term {
	g := &t.Model.Gas
	d := t.parts().Damper
	if !t.Model.HasDamper || d == nil || (g.Area == 0 && g.Force == 0 && g.Rate == 0) {
		return nothing("F", "push of the gas", "No push of gas is known here.")
	}
	if g.Area == 0 {
		return figure.As("F", "push of the gas", gasLine.Of(
			figure.From("F_0", "push-out at damper travel zero", "N", &d.GasForce), figure.From("k", "its increase with damper travel", "N/m", &d.GasRate),
			t.DamperTravel("d", "damper travel", w), t.rodIn()))
	}
	return figure.As("F", "push of the gas", gasCharge.Of(t.charge(w)...))
}

func (t *Terms) charge(w figure.Term) []figure.Term {
	d := t.parts().Damper
	p := figure.From("p_0", "charge where it was read, over nothing", "Pa", &d.GasPressure)
	if !d.GasAbsolute {
		p = figure.As("p_0", "charge where it was read, over nothing", absolute.Of(figure.From("p", "charge over the atmosphere", "Pa", &d.GasPressure), atmosphere))
	}
	n := figure.Fixed("n", "polytropic exponent of the gas", "1", t.Model.Gas.Exponent, "the ideal gas, between isothermal and adiabatic: common practice, no source")
	if d.GasExponent.Known() {
		n = figure.From("n", "polytropic exponent of the gas", "1", &d.GasExponent)
	}
	return []figure.Term{
		p, figure.From("V_0", "volume of the gas where it was read", "m^3", &d.GasVolume),
		figure.As("A", "section of the rod", rodArea.Of(figure.From("d", "diameter of the rod that displaces gas", "m", &d.Rod))),
		t.rodIn(), t.DamperTravel("d", "damper travel", w), n, atmosphere,
	}
}

// rodIn is how much further the rod is in at damper travel zero than where the gas was
// read.
func (t *Terms) rodIn() figure.Term {
	d := t.parts().Damper
	if !d.ReadOpen() || !d.Open.Known() {
		b := t.body()
		b.Symbol = "i"
		return b
	}
	zero := figure.Fixed("w", "wheel travel zero", "m", 0, "chosen")
	return figure.As("i", "rod further in at damper travel zero than fully open", rodIn.Of(
		figure.From("L_open", "damper fully open", "m", &d.Open), t.body(), t.length(zero)))
}

func (t *Terms) gasRate(w figure.Term) figure.Term {
	f := t.gas(w)
	d := t.parts().Damper
	switch f.Working.Law {
	case idle.Code:
		return nothing("k", "gas", f.Working.Note)
	case gasLine.Code:
		return figure.From("k", "increase of the push-out with damper travel", "N/m", &d.GasRate)
	}
	return figure.As("k", "increase of the push-out with damper travel", gasRate.Of(append(t.charge(w)[1:], f)...))
}

var damperForce = figure.Law{Code: "damper-force", Equation: "F = n*f", Unit: "N", Source: figure.Own}

// DamperForce is what the damper's curve, one way, gives at a damper speed [N].
func (t *Terms) DamperForce(symbol, name string, curve *numeric.Curve, v figure.Term) figure.Term {
	d := t.parts().Damper
	rows := &table{curve, &speedTable, "m/s", "N s/m", &d.Scale, "parts.dampers." + d.ID + ".curves"}
	return figure.As(symbol, name, damperForce.Of(
		figure.From("n", "factor on the damper's curves", "1", &d.Scale), figure.As("f", "force of its curve", rows.value(v))))
}

// length is the damper's length between its mounts at a wheel travel [m].
func (t *Terms) length(w figure.Term) figure.Term {
	return figure.As("L", "damper length between its mounts", mountLength.Of(
		t.weighedLength(), t.closer(), t.weighedTravel(), t.DamperTravel("d", "damper travel there", w)))
}

// touch is the length at which the stop is touched.
func (t *Terms) touch() figure.Term {
	p := t.parts()
	return figure.As("L_touch", "damper length where the stop is touched", touchLength.Of(
		figure.From("L_open", "damper fully open", "m", &p.Damper.Open), figure.From("R_open", "rod showing when open", "m", &p.Damper.RodOpen),
		t.body(), figure.From("n", "free length of the stop", "m", &p.Stop.Length), figure.From("p", "packer", "m", &p.Packer)))
}

func (t *Terms) stopRows() *table {
	s := t.parts().Stop
	return &table{t.Model.Stop.Table, &forceTable, "m", "N/m", &s.Scale, "parts.stops." + s.ID + ".force"}
}

func (t *Terms) stopScale() figure.Term {
	return figure.From("n", "factor on the stop's table", "1", &t.parts().Stop.Scale)
}

func (t *Terms) crush(w figure.Term) figure.Term {
	return figure.As("y", "crush of the stop", stopCrush.Of(t.touch(), t.length(w)))
}

// stop is what the stop pushes with along the damper [N].
func (t *Terms) stop(w figure.Term, sh *Shares) figure.Term {
	if sh.StopCrush <= 0 {
		return nothing("F", "force of the stop", "The stop is not touched.")
	}
	f := figure.As("f", "force of its table", t.stopRows().value(t.crush(w)))
	return figure.As("F", "force of the stop along the damper", stopForce.Of(t.stopScale(), f))
}

func (t *Terms) stopRate(w figure.Term, sh *Shares) figure.Term {
	if sh.StopCrush <= 0 {
		return nothing("k", "rate of the stop", "The stop is not touched.")
	}
	k := t.stopRows().slope(t.crush(w))
	k.Symbol = "k_f"
	return figure.As("k", "rate of the stop along the damper", stopRate.Of(t.stopScale(), k))
}

func (t *Terms) end(symbol, name string, in *figure.Input) figure.Term {
	return figure.As(symbol, name, endLength.Of(figure.From("L_end", name, "m", in), t.body()))
}

// ends is what metal or a top-out spring pushes with along the damper [N].
func (t *Terms) ends(w figure.Term, sh *Shares) figure.Term {
	d := t.parts().Damper
	switch {
	case sh.Metal != 0:
		return figure.As("F", "force of metal in the closed damper", closedForce.Of(solid("K"), t.end("L_closed", "damper closed", &d.Closed), t.length(w)))
	case sh.Open != 0 && t.Model.TopOut == nil:
		return figure.As("F", "force of metal in the open damper", openForce.Of(solid("K"), t.length(w), t.end("L_open", "damper fully open", &d.Open)))
	case sh.Open != 0:
		o, last, _ := t.topOut(w)
		f := figure.As("f", "force of the top-out spring's table", t.topRows().value(o))
		return figure.As("F", "force of the top-out spring", topOutForce.Of(f, solid("K"), o, last))
	}
	return nothing("F", "metal ends of the damper", "The damper is at neither end.")
}

func (t *Terms) topRows() *table {
	d := t.parts().Damper
	return &table{t.Model.TopOut, &forceTable, "m", "N/m", &d.Open, "parts.dampers." + d.ID + ".top_out.force"}
}

func (t *Terms) topOut(w figure.Term) (crush, last figure.Term, past bool) {
	rows := t.topRows()
	last = rows.term("o_end", "end of the top-out spring's table", "m", t.Model.TopOut.Last())
	crush = figure.As("o", "crush of the top-out spring", topOutCrush.Of(t.length(w), t.end("L_open", "damper fully open", &t.parts().Damper.Open), last))
	return crush, last, crush.Value > last.Value
}

func (t *Terms) endsRate(w figure.Term, sh *Shares) figure.Term {
	switch {
	case sh.Metal != 0 || sh.Open != 0 && t.Model.TopOut == nil:
		return solid("k")
	case sh.Open != 0:
		o, _, past := t.topOut(w)
		n := figure.Fixed("n", "1 past the end of its table", "1", 0, "chosen")
		if past {
			n.Value = 1
		}
		k := t.topRows().slope(o)
		k.Symbol = "k_f"
		return figure.As("k", "rate of the top-out spring", topOutRate.Of(k, solid("K"), n))
	}
	return nothing("k", "metal ends of the damper", "The damper is at neither end.")
}

// at is the wheel travel, which was found, at which the damper has a length.
func (t *Terms) at(symbol, name string, found float64, length figure.Term) figure.Term {
	length.Symbol = "L"
	d := figure.As("s", "damper travel there", lengthTravel.Of(t.weighedLength(), t.closer(), t.weighedTravel(), length))
	return figure.As(symbol, name, t.axle().DamperOf(t.Corner&1).Place(found, d))
}

// Touch is the wheel travel at which the stop is touched.
func (t *Terms) Touch(l *Limits) figure.Term {
	return t.at("w_touch", "wheel travel where the stop is touched", l.Touch, t.touch())
}

func (t *Terms) crushed(symbol, name string, found float64, y figure.Term) figure.Term {
	y.Symbol = "y"
	return t.at(symbol, name, found, figure.As("L", "damper length there", crushedTo.Of(t.touch(), y)))
}

// Solid is the wheel travel at the end of the stop's table.
func (t *Terms) Solid(l *Limits) figure.Term {
	y := t.stopRows().term("y", "crush at the end of the stop's table", "m", t.Model.Stop.End)
	return t.crushed("w_solid", "wheel travel at the end of the stop's table", l.Solid, y)
}

// Shared is the wheel travel, which was found, at which the stop carries a multiple
// of the corner load.
func (t *Terms) Shared(symbol, name string, found float64, multiple, load figure.Term) figure.Term {
	_, r, _ := t.Model.DamperTravel.At(found)
	multiple.Symbol, load.Symbol = "n", "F_z"
	given := figure.ReadBy(func(d figure.Draw) { t.Design.Corner(t.Corner, d) })
	force := multiple.Value * load.Value / r
	f := figure.As("F", "stop force looked for, along the damper", stopShare.Found(force, given,
		figure.Among("F", "stop force looked for, along the damper", "N", force), figure.Among("r_d", "damper travel per wheel travel there", "1", r), multiple, load))
	want := tableForce.Of(f, t.stopScale())
	crush, _ := t.Model.Stop.Crush(force)
	y := t.stopRows().place(crush, figure.As("F", "force looked up in the stop's table", want))
	if y == nil {
		return figure.Term{}
	}
	return t.crushed(symbol, name, found, figure.As("y", "crush at which the stop gives that force", y))
}

// Closed is the wheel travel at which the damper is closed.
func (t *Terms) Closed(l *Limits) figure.Term {
	return t.at("w_closed", "wheel travel where the damper is closed", l.Closed, t.end("L", "damper closed", &t.parts().Damper.Closed))
}

// Open is the wheel travel with the damper fully open.
func (t *Terms) Open(l *Limits) figure.Term {
	return t.at("w_open", "wheel travel with the damper fully open", l.Open, t.end("L", "damper fully open", &t.parts().Damper.Open))
}

// Block is the wheel travel at which the coils touch.
func (t *Terms) Block(l *Limits) figure.Term {
	zero := figure.Fixed("w", "wheel travel zero", "m", 0, "chosen")
	s := figure.As("s", "spring travel there", blockTravel.Of(
		figure.As("R", "room of the spring until its coils touch", t.Room()),
		figure.As("x_0", "compression of the spring at wheel travel zero", t.Compression(zero))))
	return figure.As("w_block", "wheel travel where the coils touch", t.axle().SpringOf(t.Corner&1).Place(l.Block, s))
}
