package corner

import (
	"trunnion/chassis/figure"
)

var (
	springLoad    = figure.Law{Code: "spring-load", Equation: "F = k*x", Unit: "N", Source: figure.Own}
	risingLoad    = figure.Law{Code: "rising-spring-load", Equation: "F = (k + g/2*x)*x", Unit: "N", Source: figure.Own}
	risingRate    = figure.Law{Code: "rising-spring-rate", Equation: "k = k_1 + g*x", Unit: "N/m", Source: figure.Own}
	rateGrowth    = figure.Law{Code: "spring-rate-growth", Equation: "g = (k_2 - k_1)/y", Unit: "N/m^2", Source: figure.Own}
	roomOfMain    = figure.Law{Code: "main-spring-room", Equation: "y = L_free - L_block", Unit: "m", Source: figure.Own}
	weighedRate   = figure.Law{Code: "spring-rate-as-weighed", Equation: "k = q*k_0", Unit: "N/m", Source: figure.Own}
	tableLoad     = figure.Law{Code: "table-spring-load", Equation: "F = q*n*f", Unit: "N", Source: figure.Own}
	tableRate     = figure.Law{Code: "table-spring-rate", Equation: "k = q*n*k_f", Unit: "N/m", Source: figure.Own}
	coilsTouching = figure.Law{Code: "coils-touching", Equation: "F = F_R + K*(x - R)", Unit: "N", Source: figure.Own}
	helperShare   = figure.Law{Code: "helper-share", Equation: "k_h*(x - y) = F", Solves: "y", Unit: "m", Source: "springs in series; own derivation"}
	helperFlat    = figure.Law{Code: "helper-flat", Equation: "y = x - (h - h_block)", Unit: "m", Source: figure.Own, Note: "The helper is flat: its coils touch."}
	seriesRate    = figure.Law{Code: "series-rate", Equation: "k = k_1*k_2/(k_1 + k_2)", Unit: "N/m", Source: "springs in series; own derivation"}
	onMount       = figure.Law{Code: "compression-on-mount", Equation: "K*(x - y) = F - F_0", Solves: "y", Unit: "m", Source: "springs in series; own derivation"}
	freeSide      = figure.Law{Code: "spring-off-its-seat", Equation: "F = 0*x", Unit: "N", Source: figure.Own, Note: "The spring is off its seat and carries nothing."}
)

// SpringLoad is what the spring carries along itself at a wheel travel [N].
func (t *Terms) SpringLoad(w figure.Term) figure.Term {
	if t.parts().Spring == nil {
		return nothing("F", "load of the spring", "There is no spring.")
	}
	x := t.onMount(w)
	f := t.StackLoad(x)
	f.Name = "load of the spring"
	return f
}

// onMount is the compression of the stack: that of the seats, less what a mount
// under it gives.
func (t *Terms) onMount(w figure.Term) figure.Term {
	x := figure.As("x", "compression of the spring", t.Compression(w))
	m := t.Model
	if m.MountRate <= 0 {
		return x
	}
	force, _ := m.springForce(x.Value)
	y := x.Value - (force-m.MountLoad0)/m.MountRate
	return figure.As("x", "compression of the spring, its mount given way", onMount.Found(y, t.springInputs(),
		figure.From("K", "axial rate of the mount", "N/m", &t.parts().Mount.Stiffness), x,
		figure.Among("y", "compression of the spring", "m", y),
		figure.Among("F", "load of the spring", "N", force), t.SagLoad))
}

// springInputs are the inputs of the spring's law, for what is solved with its load.
func (t *Terms) springInputs() []*figure.Input {
	return figure.ReadBy(func(d figure.Draw) { springOf(t.parts(), &t.Design.table[t.Corner], d) })
}

// StackLoad is the load of the stack at a compression [N].
func (t *Terms) StackLoad(x figure.Term) figure.Term {
	s := &t.Model.Spring
	if x.Value <= 0 {
		return figure.As("F", "load", freeSide.Of(x))
	}
	if room := s.Room(); x.Value > room {
		r := figure.As("R", "room of the spring until its coils touch", t.Room())
		at := r
		at.Symbol = "x"
		f := t.softLoad(at)
		f.Symbol, f.Name = "F_R", "load where its coils touch"
		return figure.As("F", "load", coilsTouching.Of(f, solid("K"), x, r))
	}
	return t.softLoad(x)
}

// softLoad is the law between loose and coils touching.
func (t *Terms) softLoad(x figure.Term) figure.Term { return t.mainLoad(t.onMain(x)) }

// onMain is how much of a compression the main spring has.
func (t *Terms) onMain(x figure.Term) figure.Term {
	s := &t.Model.Spring
	if s.HelperRate <= 0 {
		return x
	}
	travel := s.HelperFree - s.HelperBlock
	force, _ := s.Force(x.Value)
	if flat := s.HelperRate * travel; force >= flat {
		return figure.As("x", "compression of the main spring", helperFlat.Of(x,
			t.helper("h", "free length of the helper", helperFree), t.helper("h_block", "its length with its coils touching", helperBlock)))
	}
	y := x.Value - force/s.HelperRate
	return figure.As("x", "compression of the main spring", helperShare.Found(y, t.springInputs(),
		figure.From("k_h", "rate of the helper", "N/m", &t.parts().Helper.Rate), x,
		figure.Among("y", "compression of the main spring", "m", y), figure.Among("F", "load of both", "N", force)))
}

// statedRate is a rate of the main spring, by the factor that the weighing found
// where it was on the scales.
func (t *Terms) statedRate(symbol, name string, in *figure.Input) figure.Term {
	k := figure.From(symbol, name, "N/m", in)
	if t.Stiffer.Symbol == "" {
		return k
	}
	k.Symbol = "k_0"
	return figure.As(symbol, name+", as it weighed in", weighedRate.Of(t.Stiffer, k))
}

func (t *Terms) growth() figure.Term {
	sp := t.parts().Spring
	over := figure.Fixed("y", "deflection over which a spring of unknown length goes from one rate to the other", "m", usualDeflection, "common practice, no source")
	if sp.Free.Known() && sp.Block.Known() && sp.Free.Value > sp.Block.Value {
		over = figure.As("y", "deflection from free to coils touching", roomOfMain.Of(
			figure.From("L_free", "free length of the spring", "m", &sp.Free), figure.From("L_block", "its length with its coils touching", "m", &sp.Block)))
	}
	return figure.As("g", "growth of the rate with deflection", rateGrowth.Of(
		t.statedRate("k_1", "softer rate of the spring", &sp.Rate), t.statedRate("k_2", "firmer rate of the spring", &sp.RateTo), over))
}

// rows is the spring's measured table.
func (t *Terms) rows() *table {
	sp := t.parts().Spring
	return &table{t.Model.Spring.Table, &forceTable, "m", "N/m", &sp.Scale, "parts.springs." + sp.ID + ".force"}
}

// stiffer is the factor of the weighing; 1 for a spring that was not weighed.
func (t *Terms) stiffer() figure.Term {
	if t.Stiffer.Symbol != "" {
		return t.Stiffer
	}
	return figure.Fixed("q", "of a spring that was not weighed", "1", 1, "as stated")
}

// mainLoad is the main spring's law.
func (t *Terms) mainLoad(x figure.Term) figure.Term {
	sp := t.parts().Spring
	switch {
	case t.Model.Spring.Table != nil:
		f := figure.As("f", "force of its table", t.rows().value(x))
		return figure.As("F", "load", tableLoad.Of(t.stiffer(), figure.From("n", "factor on the table", "1", &sp.Scale), f))
	case sp.RateTo.Known():
		k := t.statedRate("k", "softer rate of the spring", &sp.Rate)
		return figure.As("F", "load", risingLoad.Of(k, t.growth(), x))
	}
	return figure.As("F", "load", springLoad.Of(t.statedRate("k", "rate of the spring", &sp.Rate), x))
}

// mainRate is its slope.
func (t *Terms) mainRate(x figure.Term) figure.Term {
	sp := t.parts().Spring
	switch {
	case t.Model.Spring.Table != nil:
		k := t.rows().slope(x)
		k.Symbol = "k_f"
		return figure.As("k", "rate of the spring here", tableRate.Of(t.stiffer(), figure.From("n", "factor on the table", "1", &sp.Scale), k))
	case sp.RateTo.Known():
		return figure.As("k", "rate of the spring here", risingRate.Of(t.statedRate("k_1", "softer rate of the spring", &sp.Rate), t.growth(), x))
	}
	return t.statedRate("k", "rate of the spring", &sp.Rate)
}

// springRate is the slope of the spring's load at a wheel travel [N/m].
func (t *Terms) springRate(w figure.Term) figure.Term {
	if t.parts().Spring == nil {
		return nothing("k", "rate of the spring", "There is no spring.")
	}
	x := t.onMount(w)
	k := t.stackRate(x)
	if t.Model.MountRate > 0 && k.Value > 0 {
		return series("k", "rate of the spring on its mount", k, figure.From("k_2", "axial rate of the mount", "N/m", &t.parts().Mount.Stiffness))
	}
	return k
}

func series(symbol, name string, a, b figure.Term) figure.Term {
	a.Symbol, b.Symbol = "k_1", "k_2"
	return figure.As(symbol, name, seriesRate.Of(a, b))
}

func (t *Terms) stackRate(x figure.Term) figure.Term {
	s := &t.Model.Spring
	switch {
	case x.Value <= 0:
		return nothing("k", "rate of the spring", "The spring is off its seat.")
	case x.Value > s.Room():
		return solid("k")
	}
	k := t.mainRate(t.onMain(x))
	if s.HelperRate <= 0 {
		return k
	}
	if force, _ := s.Force(x.Value); force >= s.HelperRate*(s.HelperFree-s.HelperBlock) {
		return k
	}
	return series("k", "rate of main spring and helper", k, figure.From("k_2", "rate of the helper", "N/m", &t.parts().Helper.Rate))
}
