package corner

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

// Terms are the numbers of one corner with where each comes from: the design says
// what was typed, the fields what the car it stands on adds.
type Terms struct {
	Design *Design
	Corner int
	Model  *Model // as it was solved

	Free    figure.Term // free length of the main spring
	Seat    figure.Term // spring length seat to seat as weighed
	Raised  figure.Term // seat moved until the car stood at wanted heights
	Read    figure.Term // seat moved by readings taken after fitting
	Longer  figure.Term // error of the old spring's length
	Stiffer figure.Term // factor of the old spring's force; no Symbol: a spring as stated
	Slack   figure.Term // wheel travel at which the bushes are slack
	SagLoad figure.Term // spring load at which a mount's give is in the lengths
}

var (
	measuredTravel = figure.Law{Code: "measured-travel", Equation: "w_0 = H_0 - H", Unit: "m", Source: figure.Own}
	compression    = figure.Law{Code: "spring-compression", Equation: "x = L_free + h - L_0 + c + p + b + z + o + e + s - s_0", Unit: "m", Source: figure.Own}
	springRoom     = figure.Law{Code: "spring-room", Equation: "R = L_free + h - L_block - h_block", Unit: "m", Source: figure.Own}
	atWheel        = figure.Law{Code: "force-at-wheel", Equation: "F_w = F*r", Unit: "N", Source: "virtual work; own derivation"}
	rateAtWheel    = figure.Law{Code: "rate-at-wheel", Equation: "k_w = k*r^2 + F*c", Unit: "N/m", Source: "virtual work; own derivation"}
	idle           = figure.Law{Code: "no-force", Equation: "F = 0", Unit: "N", Source: figure.Own}
	idleRate       = figure.Law{Code: "no-rate", Equation: "k = 0", Unit: "N/m", Source: figure.Own}
)

func (t *Terms) car() *car.Car           { return t.Design.Car }
func (t *Terms) build() *car.Build       { return t.Design.Build }
func (t *Terms) parts() *car.BuildCorner { return &t.build().Corner[t.Corner] }
func (t *Terms) axle() *car.Axle         { return &t.car().Axle[car.AxleOf(t.Corner)] }

// nothing is a force or rate that is not at work here, and why.
func nothing(symbol, name string, why string) figure.Term {
	law := &idle
	if symbol[0] == 'k' {
		law = &idleRate
	}
	w := law.Of()
	w.Note = why
	return figure.As(symbol, name, w)
}

// Measured is the wheel travel as the corner was measured [m].
func (t *Terms) Measured() figure.Term {
	a := car.AxleOf(t.Corner)
	return figure.As("w_0", "wheel travel as weighed", measuredTravel.Of(
		figure.From("H_0", "height where wheel travel is zero", "m", &t.car().ZeroHeight[a]),
		figure.From("H", "hub-to-arch height as weighed", "m", &t.car().Weighed.Height[t.Corner])))
}

// SpringTravel is how far the spring has moved at a wheel travel [m].
func (t *Terms) SpringTravel(symbol, name string, w figure.Term) figure.Term {
	return figure.As(symbol, name, t.axle().SpringOf(t.Corner&1).Travel(w))
}

// DamperTravel is how far the damper has.
func (t *Terms) DamperTravel(symbol, name string, w figure.Term) figure.Term {
	return figure.As(symbol, name, t.axle().DamperOf(t.Corner&1).Travel(w))
}

// SpringRatio is spring travel per wheel travel there.
func (t *Terms) SpringRatio(w figure.Term) figure.Term {
	return figure.As("r", "spring travel per wheel travel", t.axle().SpringOf(t.Corner&1).RatioAt(w))
}

// DamperRatio is damper travel per wheel travel there.
func (t *Terms) DamperRatio(symbol string, w figure.Term) figure.Term {
	return figure.As(symbol, "damper travel per wheel travel", t.axle().DamperOf(t.Corner&1).RatioAt(w))
}

// helper is a length of the helper; nothing where there is none.
func (t *Terms) helper(symbol, name string, of func(*car.SpringSpec) *figure.Input) figure.Term {
	if h := t.parts().Helper; h != nil && h.Rate.At(nil) > 0 {
		return figure.From(symbol, name, "m", of(h))
	}
	return figure.Term{Symbol: symbol, Name: name, Unit: "m"}
}

func helperFree(h *car.SpringSpec) *figure.Input  { return &h.Free }
func helperBlock(h *car.SpringSpec) *figure.Input { return &h.Block }

// Compression is how far the spring stack is compressed from its free length at a
// wheel travel [m].
func (t *Terms) Compression(w figure.Term) *figure.Working {
	set, i := &t.build().Setup, t.Corner
	return compression.Of(
		t.Free, t.helper("h", "free length of the helper", helperFree), t.Seat,
		figure.From("c", "seats closer than those measured", "m", &t.parts().SeatsCloser),
		figure.From("p", "platform raised from its start mark", "m", &set.Platform[i]),
		figure.From("b", "body made longer", "m", &set.BodyLength[i]),
		t.Raised, t.Read, t.Longer,
		t.SpringTravel("s", "spring travel there", w),
		t.SpringTravel("s_0", "spring travel as weighed", t.Measured()))
}

// Room is how far the stack can be compressed until its coils touch [m].
func (t *Terms) Room() *figure.Working {
	return springRoom.Of(
		t.Free, t.helper("h", "free length of the helper", helperFree),
		figure.From("L_block", "length of the spring with its coils touching", "m", &t.parts().Spring.Block),
		t.helper("h_block", "that of the helper", helperBlock))
}

// atWheel brings a force along a part to the wheel.
func atWheelTerm(symbol, name string, force, ratio figure.Term) figure.Term {
	force.Symbol, ratio.Symbol = "F", "r"
	return figure.As(symbol, name, atWheel.Of(force, ratio))
}

func rateAtWheelTerm(symbol, name string, rate, force, ratio figure.Term, change *figure.Working) figure.Term {
	rate.Symbol, force.Symbol, ratio.Symbol = "k", "F", "r"
	return figure.As(symbol, name, rateAtWheel.Of(rate, ratio, force, figure.As("c", "change of that ratio with wheel travel", change)))
}

// Push are the forces of a corner at the wheel at a wheel travel: spring, gas, stop,
// metal ends and bushes [N].
func (t *Terms) Push(w figure.Term) []figure.Term {
	return append([]figure.Term{atWheelTerm("F_spring", "spring at the wheel", t.SpringLoad(w), t.SpringRatio(w))}, t.Others(w)...)
}

// Others are the forces beside the spring's: gas, stop, metal ends and bushes [N].
func (t *Terms) Others(w figure.Term) []figure.Term {
	sh := t.Model.At(w.Value)
	r := t.DamperRatio("r_d", w)
	return []figure.Term{
		t.along("F_gas", "gas at the wheel", t.gas(w), r),
		t.along("F_stop", "stop at the wheel", t.stop(w, &sh), r),
		t.along("F_ends", "metal ends of the damper at the wheel", t.ends(w, &sh), r),
		t.bush(w),
	}
}

// along brings a force along the damper to the wheel; one that is not at work stays
// nothing.
func (t *Terms) along(symbol, name string, force, ratio figure.Term) figure.Term {
	if force.Working != nil && force.Working.Law == idle.Code {
		force.Symbol, force.Name = symbol, name
		return force
	}
	return atWheelTerm(symbol, name, force, ratio)
}

// StopAtWheel is the force of the stop at the wheel [N].
func (t *Terms) StopAtWheel(w figure.Term) figure.Term {
	sh := t.Model.At(w.Value)
	return t.along("F_stop", "force of the stop at the wheel", t.stop(w, &sh), t.DamperRatio("r_d", w))
}

// Rates are the terms of the wheel rate at a wheel travel: the spring's rate, ratio,
// load and change of ratio, then the rates of gas, stop, metal ends and bushes at the
// wheel.
func (t *Terms) Rates(w figure.Term) []figure.Term {
	sh := t.Model.At(w.Value)
	k, f := t.springRate(w), t.SpringLoad(w)
	k.Symbol, f.Symbol = "k", "F"
	out := []figure.Term{k, t.SpringRatio(w), f, figure.As("c", "change of that ratio with wheel travel", t.axle().SpringOf(t.Corner&1).Change(w))}
	r, change := t.DamperRatio("r", w), t.axle().DamperOf(t.Corner&1).Change(w)
	for _, one := range []struct {
		symbol, name string
		force, rate  figure.Term
	}{
		{"k_gas", "gas at the wheel", t.gas(w), t.gasRate(w)},
		{"k_stop", "stop at the wheel", t.stop(w, &sh), t.stopRate(w, &sh)},
		{"k_ends", "metal ends of the damper at the wheel", t.ends(w, &sh), t.endsRate(w, &sh)},
	} {
		if one.rate.Working != nil && one.rate.Working.Law == idleRate.Code {
			one.rate.Symbol, one.rate.Name = one.symbol, one.name
			out = append(out, one.rate)
			continue
		}
		out = append(out, rateAtWheelTerm(one.symbol, one.name, one.rate, one.force, r, change))
	}
	return append(out, figure.From("k_bush", "bushes at the wheel", "N/m", &t.axle().BushRate))
}

var bushForce = figure.Law{Code: "bush-force", Equation: "F = k*(w - w_b)", Unit: "N", Source: figure.Own}

func (t *Terms) bush(w figure.Term) figure.Term {
	if t.Model.BushRate == 0 {
		x := nothing("F_bush", "bushes at the wheel", "No rate of the bushes is known.")
		if in := &t.axle().BushRate; in.Known() {
			x.Working.Note = "The bushes push with nothing."
		}
		return x
	}
	w.Symbol = "w"
	return figure.As("F_bush", "bushes at the wheel", bushForce.Of(
		figure.From("k", "rate of the bushes at the wheel", "N/m", &t.axle().BushRate), w, t.Slack))
}

// solid is what stands for coils or metal that touch.
func solid(symbol string) figure.Term {
	return figure.Fixed(symbol, "stands for coils or metal that touch", "N/m", part.SolidRate, "chosen: common practice, no source")
}
