package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/travel"
)

// worker writes the workings of one corner of one case: each number with the
// equation it follows from and the inputs in it.
type worker struct {
	s    *setup
	base *equilibrium.Baseline
	b, l int
	i    int
	sys  *equilibrium.System
	st   *equilibrium.State
	bud  travel.Budget
	made map[int]*figure.Working
	rest *figure.Working
}

func (s *setup) worker(base *equilibrium.Baseline, b, l, i int, c *Case) *worker {
	return &worker{
		s: s, base: base, b: b, l: l, i: i, sys: &c.System, st: &c.State,
		bud: travel.New(&c.System, &c.State, i), made: make(map[int]*figure.Working),
	}
}

func (w *worker) axle() int               { return car.AxleOf(w.i) }
func (w *worker) build() *car.Build       { return w.s.designs[w.b].Build }
func (w *worker) parts() *car.BuildCorner { return &w.build().Corner[w.i] }
func (w *worker) car() *car.Car           { return w.s.job.Car }

func finish(w *figure.Working) *figure.Working {
	v, err := w.Evaluate()
	if err != nil {
		v = math.NaN()
	}
	w.Result = v
	return w
}

// of returns the working of a quantity; nil where none is kept.
func (w *worker) of(q int) *figure.Working {
	if got, ok := w.made[q]; ok {
		return got
	}
	got := w.write(q)
	w.made[q] = got
	return got
}

func (w *worker) write(q int) *figure.Working {
	c, a := w.car(), w.axle()
	switch q {
	case qHeight:
		return w.two("H = H_0 - w_rest", "m", figure.From("H_0", "height where wheel travel is zero", "m", &c.ZeroHeight[a]), w.restTerm())
	case qLoad:
		return w.load()
	case qToStop:
		return w.margin("s = w_touch - w_rest", "w_touch", "wheel travel where the stop is touched", w.touch())
	case qToFirm:
		return w.margin("s = w_firm - w_rest", "w_firm", "wheel travel where the stop carries half the corner load", w.stopForceTravel(0.5, w.bud.Limits.Firm))
	case qToHard:
		return w.margin("s = w_hard - w_rest", "w_hard", "wheel travel where the stop carries twice the corner load", w.stopForceTravel(2, w.bud.Limits.Hard))
	case qToSolid:
		return w.margin("s = w_solid - w_rest", "w_solid", "wheel travel at the end of the stop's table", w.solid())
	case qToClosed:
		return w.margin("s = w_closed - w_rest", "w_closed", "wheel travel where the damper is closed", w.damperEnd(false))
	case qToArch:
		return w.toArch()
	case qToBlock:
		return w.margin("s = w_block - w_rest", "w_block", "wheel travel where the coils touch", w.block())
	case qToOpen:
		return w.two("s = w_rest - w_open", "m", w.restTerm(), figure.Got("w_open", "wheel travel with the damper fully open", "m", w.bud.Limits.Open, w.damperEnd(true)))
	case qSolidBeforeArch:
		in := w.archInput()
		if in == nil {
			return nil
		}
		return w.two("s = w_arch - w_solid", "m", figure.From("w_arch", "wheel travel where the tyre meets the arch", "m", in), figure.Got("w_solid", "wheel travel at the end of the stop's table", "m", w.bud.Limits.Solid, w.solid()))
	case qSolidBeforeBlock:
		return w.two("s = w_block - w_solid", "m", figure.Got("w_block", "wheel travel where the coils touch", "m", w.bud.Limits.Block, w.block()), figure.Got("w_solid", "wheel travel at the end of the stop's table", "m", w.bud.Limits.Solid, w.solid()))
	case qGapOpen:
		return w.gapOpen()
	case qStopShare:
		sh := w.sys.Corner[w.i].At(w.st.Travel[w.i])
		return w.two("p = F_stop/F_z", "1", figure.Got("F_stop", "force of the stop at the wheel", "N", sh.Stop, w.stopForce()), figure.Got("F_z", "load of the tyre", "N", w.st.Load[w.i], w.of(qLoad)))
	case qCatch:
		return w.catch()
	case qHangup:
		return w.two("h = F_f/k_w", "m", figure.From("F_f", "friction at the wheel", "N", &w.parts().Friction), w.rateTerm())
	case qWheelRate:
		return w.rate()
	case qFrequency:
		return w.two("f = sqrt(k_w/m)/(2*pi)", "Hz", w.rateTerm(), w.massTerm())
	case qFrequencyOnTyre:
		return w.three("f = sqrt(k_w*k_t/(k_w + k_t)/m)/(2*pi)", "Hz", w.rateTerm(), w.tyreTerm(), w.massTerm())
	case qRatio:
		return w.ratio(w.s.opt.MainSpeed, "mean")
	}
	return nil
}

func (w *worker) two(eq, unit string, a, b figure.Term) *figure.Working {
	return finish(&figure.Working{Equation: eq, Unit: unit, Source: ownDerivation, Terms: []figure.Term{a, b}})
}

func (w *worker) three(eq, unit string, a, b, c figure.Term) *figure.Working {
	return finish(&figure.Working{Equation: eq, Unit: unit, Source: ownDerivation, Terms: []figure.Term{a, b, c}})
}

const ownDerivation = "own derivation"

func (w *worker) margin(eq, symbol, name string, limit *figure.Working) *figure.Working {
	if limit == nil {
		return nil
	}
	return w.two(eq, "m", figure.Got(symbol, name, "m", limit.Result, limit), w.restTerm())
}

// restTerm is the rest position: where the body's movement and the tyre's
// deflection leave the wheel.
func (w *worker) restTerm() figure.Term {
	if w.rest == nil {
		i := w.i
		c := w.car()
		measured := w.two("w_0 = H_0 - H", "m", figure.From("H_0", "height where wheel travel is zero", "m", &c.ZeroHeight[w.axle()]), figure.From("H", "hub-to-arch height as weighed", "m", &c.Weighed.Height[i]))
		stood := figure.Got("w_0", "wheel travel as weighed", "m", w.base.Travel[i], measured)
		if w.base.Emptied {
			stood = figure.Got("w_0", "wheel travel with what was aboard on the scales taken off", "m", w.base.Travel[i], nil)
		}
		w.rest = finish(&figure.Working{
			Equation: "w_rest = w_0 + d_0 - d - z - y*phi - x*theta", Unit: "m", Source: ownDerivation,
			Note: "Heave, roll and pitch are the solution of the seven balances of body and wheels; the corner load's working shows the balance.",
			Terms: []figure.Term{
				stood,
				figure.Got("d_0", "tyre deflection there", "m", w.base.Tyre[i], nil),
				figure.Got("d", "tyre deflection now", "m", w.st.Tyre[i], nil),
				figure.Got("z", "body raised over the front axle", "m", w.st.Heave, nil),
				figure.Got("y", "wheel left of the middle", "m", w.sys.Left[i], nil),
				figure.Got("phi", "body roll, left side up", "rad", w.st.Roll, nil),
				figure.Got("x", "wheel behind the front axle", "m", w.sys.Behind[i], nil),
				figure.Got("theta", "body pitch, rear up", "rad", w.st.Pitch, nil),
			},
		})
	}
	return figure.Got("w_rest", "wheel travel at rest", "m", w.st.Travel[w.i], w.rest)
}

// load is the balance of the wheel.
func (w *worker) load() *figure.Working {
	sh := w.sys.Corner[w.i].At(w.st.Travel[w.i])
	bar := w.st.Force[w.i] - (sh.Spring + sh.Gas + sh.Stop + sh.Metal + sh.Open + sh.Bush)
	spring := w.two("F_spring = F*r", "N", figure.Got("F", "load of the spring", "N", sh.SpringLoad, w.springLoad()), figure.Got("r", "spring travel per wheel travel", "1", sh.SpringMotion, nil))
	return finish(&figure.Working{
		Equation: "F_z = F_spring + F_gas + F_stop + F_ends + F_bush + F_bar + m_u*g", Unit: "N", Source: "balance of one wheel; own derivation",
		Terms: []figure.Term{
			figure.Got("F_spring", "spring at the wheel", "N", sh.Spring, spring),
			figure.Got("F_gas", "gas at the wheel", "N", sh.Gas, nil),
			figure.Got("F_stop", "stop at the wheel", "N", sh.Stop, w.stopForce()),
			figure.Got("F_ends", "metal ends of the damper at the wheel", "N", sh.Metal+sh.Open, nil),
			figure.Got("F_bush", "bushes at the wheel", "N", sh.Bush, nil),
			figure.Got("F_bar", "anti-roll bar at the wheel", "N", bar, nil),
			figure.Got("m_u", "mass moving with the wheel", "kg", w.sys.Unsprung[w.i], nil),
			w.gravity(),
		},
	})
}

func (w *worker) gravity() figure.Term {
	return figure.Term{Symbol: "g", Name: "standard free fall", Value: equilibrium.Gravity, Unit: "m/s^2", Origin: figure.Computed, Path: "CGPM 1901"}
}

func (w *worker) springLoad() *figure.Working {
	sp := w.parts().Spring
	m := &w.sys.Corner[w.i]
	s, _, _ := m.SpringTravel.At(w.st.Travel[w.i])
	x := m.Compressed0 + s
	if sp == nil || len(sp.Table) > 0 || sp.RateTo.Known() || w.parts().Helper != nil || x <= 0 || w.parts().Mount != nil || !sp.Free.Known() || x >= m.Spring.Room() {
		return nil
	}
	k, length := figure.From("k", "spring rate", "N/m", &sp.Rate), figure.Got("x", "compression of the spring", "m", x, w.compression())
	if w.base.Carries(w.parts(), w.i) {
		return w.three("F = q*k*x", "N", k, length, figure.Got("q", "how much stiffer than stated the old spring weighed in", "1", w.base.Stiffer[w.i], nil))
	}
	return w.two("F = k*x", "N", k, length)
}

// compression is the spring's compression at rest from the measured seats.
func (w *worker) compression() *figure.Working {
	p, c, i := w.parts(), w.car(), w.i
	m := &w.sys.Corner[i]
	s, _, _ := m.SpringTravel.At(w.st.Travel[i])
	s0, _, _ := m.SpringTravel.At(m.MeasuredAt)
	carried := 0.0
	if w.base.Carries(p, w.i) {
		carried = w.base.Longer[i]
	}
	seat := figure.From("L_0", "spring length seat to seat as weighed", "m", &c.Weighed.SpringLength[i])
	if w.base.Inferred[i] {
		seat = figure.Got("L_0", "spring length seat to seat as weighed, inferred from the load", "m", w.base.SeatLength[i], nil)
	}
	free := figure.From("L_free", "free length of the spring", "m", &p.Spring.Free)
	if !p.Spring.Free.Known() {
		return nil
	}
	helper := figure.Term{Symbol: "h", Name: "free length of a helper", Unit: "m"}
	if p.Helper != nil {
		helper = figure.From("h", "free length of the helper", "m", &p.Helper.Free)
	}
	setup := &w.build().Setup
	terms := []figure.Term{
		free, helper, seat,
		figure.From("c", "seats closer than those measured", "m", &p.SeatsCloser),
		figure.From("p", "platform raised from its start mark", "m", &setup.Platform[i]),
		figure.From("b", "body made longer", "m", &setup.BodyLength[i]),
	}
	moved := figure.Term{Symbol: "z", Name: "seat moved for wanted heights or by readings", Unit: "m"}
	if w.seatSolved() {
		rest := carried - s0
		for k := range terms {
			rest += [6]float64{1, 1, -1, 1, 1, 1}[k] * terms[k].Value
		}
		moved = figure.Got("z", "seat moved until the car meets the wanted heights, and by readings", "m", m.Compressed0-rest, nil)
	}
	return finish(&figure.Working{
		Equation: "x = L_free + h - L_0 + c + p + b + z + e + s - s_0", Unit: "m", Source: ownDerivation,
		Terms: append(terms, moved,
			figure.Got("e", "error of the old spring, carried with it alone", "m", carried, nil),
			figure.Got("s", "spring travel at rest", "m", s, nil),
			figure.Got("s_0", "spring travel as weighed", "m", s0, nil)),
	})
}

// seatSolved reports whether an iteration moved the spring seats of this build:
// where none did, every length in them was typed.
func (w *worker) seatSolved() bool {
	solved := w.build().Readings != nil
	for k := range 4 {
		solved = solved || w.build().Setup.WantedHeight[k].Known()
	}
	return solved
}

func (w *worker) stopForce() *figure.Working {
	m := &w.sys.Corner[w.i]
	sh := m.At(w.st.Travel[w.i])
	if sh.StopCrush <= 0 {
		return nil
	}
	return w.two("F_stop = F*r_d", "N", figure.Got("F", "force of the stop from its table", "N", sh.StopForce, nil), figure.Got("r_d", "damper travel per wheel travel", "1", sh.DamperMotion, nil))
}

// travelWorking says that a wheel travel is where the damper has a length.
func (w *worker) travelWorking(symbol string, at float64, length *figure.Working) *figure.Working {
	if math.IsNaN(at) {
		return nil
	}
	m := &w.sys.Corner[w.i]
	x, r, _ := m.DamperTravel.At(at)
	_ = r
	d0, _, _ := m.DamperTravel.At(m.MeasuredAt)
	p, c := w.parts(), w.car()
	// w is the root of d(w) = D_0 − c − L + d_0; the mean ratio between zero
	// and there makes that an equation of one line.
	mean := x / at
	if at == 0 {
		_, mean, _ = m.DamperTravel.At(0)
	}
	return finish(&figure.Working{
		Equation: symbol + " = (D_0 - c - L + d_0)/q", Unit: "m", Source: ownDerivation,
		Note: "q is the damper travel over the wheel travel from the zero height to this point, from the fitted motion table.",
		Terms: []figure.Term{
			figure.From("D_0", "damper length between the mounts as weighed", "m", &c.Weighed.DamperLength[w.i]),
			figure.From("c", "mounts closer than those measured", "m", &p.MountsCloser),
			figure.Got("L", "damper length there", "m", length.Result, length),
			figure.Got("d_0", "damper travel as weighed", "m", d0, nil),
			figure.Got("q", "mean damper travel per wheel travel", "1", mean, nil),
		},
	})
}

func (w *worker) touchLength() *figure.Working {
	p := w.parts()
	if p.Damper == nil || p.Stop == nil || !w.sys.Corner[w.i].HasStop {
		return nil
	}
	return finish(&figure.Working{
		Equation: "L = L_open - R_open + b + n + p", Unit: "m", Source: ownDerivation,
		Terms: []figure.Term{
			figure.From("L_open", "damper fully open", "m", &p.Damper.Open),
			figure.From("R_open", "rod showing when open", "m", &p.Damper.RodOpen),
			figure.From("b", "body made longer", "m", &w.build().Setup.BodyLength[w.i]),
			figure.From("n", "free length of the stop", "m", &p.Stop.Length),
			figure.From("p", "packer", "m", &p.Packer),
		},
	})
}

func (w *worker) touch() *figure.Working {
	l := w.touchLength()
	if l == nil {
		return nil
	}
	return w.travelWorking("w_touch", w.bud.Limits.Touch, l)
}

func (w *worker) crushed(crush figure.Term, symbol string, at float64) *figure.Working {
	l := w.touchLength()
	if l == nil || math.IsNaN(at) {
		return nil
	}
	length := w.two("L = L_touch - y", "m", figure.Got("L_touch", "damper length where the stop is touched", "m", l.Result, l), crush)
	return w.travelWorking(symbol, at, length)
}

func (w *worker) solid() *figure.Working {
	return w.crushed(figure.Got("y", "crush at the end of the stop's table", "m", w.sys.Corner[w.i].Stop.End, nil), "w_solid", w.bud.Limits.Solid)
}

func (w *worker) stopForceTravel(share float64, at float64) *figure.Working {
	if math.IsNaN(at) {
		return nil
	}
	m := &w.sys.Corner[w.i]
	x, r, _ := m.DamperTravel.At(at)
	crush := m.Touch - (m.Mounts0 - x)
	force := w.three("F = n*F_z/r_d", "N",
		figure.Term{Symbol: "n", Name: "multiple of the static corner load", Value: share, Unit: "1", Origin: figure.Chosen},
		figure.Got("F_z", "static corner load", "N", w.st.Load[w.i], w.of(qLoad)),
		figure.Got("r_d", "damper travel per wheel travel there", "1", r, nil))
	y := figure.Got("y", "crush at which the stop's table gives that force", "m", crush, nil)
	y.Working = nil
	symbol := "w_firm"
	if share > 1 {
		symbol = "w_hard"
	}
	out := w.crushed(y, symbol, at)
	if out != nil {
		out.Terms = append(out.Terms, figure.Got("F", "stop force looked up, along the damper", "N", force.Result, force))
	}
	return out
}

func (w *worker) damperEnd(open bool) *figure.Working {
	p := w.parts()
	if p.Damper == nil || !p.Damper.Open.Known() {
		return nil
	}
	in, name, symbol, at := &p.Damper.Closed, "damper closed", "w_closed", w.bud.Limits.Closed
	if open {
		in, name, symbol, at = &p.Damper.Open, "damper fully open", "w_open", w.bud.Limits.Open
	}
	length := w.two("L = L_end + b", "m", figure.From("L_end", name, "m", in), figure.From("b", "body made longer", "m", &w.build().Setup.BodyLength[w.i]))
	return w.travelWorking(symbol, at, length)
}

func (w *worker) block() *figure.Working {
	at := w.bud.Limits.Block
	if math.IsNaN(at) || w.parts().Spring == nil || !w.parts().Spring.Block.Known() {
		return nil
	}
	m := &w.sys.Corner[w.i]
	s, _, _ := m.SpringTravel.At(at)
	s1, _, _ := m.SpringTravel.At(w.st.Travel[w.i])
	mean := (s - s1) / (at - w.st.Travel[w.i])
	room := w.two("y = R - x", "m",
		figure.Got("R", "free length less block length of the stack", "m", m.Spring.Room(), nil),
		figure.Got("x", "compression at rest", "m", m.Compressed0+s1, w.compression()))
	return w.three("w_block = w_rest + y/q", "m", w.restTerm(),
		figure.Got("y", "spring travel left to block", "m", room.Result, room),
		figure.Got("q", "mean spring travel per wheel travel from rest to there", "1", mean, nil))
}

func (w *worker) archInput() *figure.Input {
	for i := range w.car().Axle[w.axle()].Limits {
		if l := &w.car().Axle[w.axle()].Limits[i]; l.Name == "arch" {
			return &l.Travel
		}
	}
	return nil
}

func (w *worker) toArch() *figure.Working {
	in := w.archInput()
	if in == nil {
		return nil
	}
	return w.two("s = w_arch - w_rest", "m", figure.From("w_arch", "wheel travel where the tyre meets the arch", "m", in), w.restTerm())
}

// gapOpen is the looseness of the spring, through the spring's own motion
// table: damper travel only says where the wheel stops.
func (w *worker) gapOpen() *figure.Working {
	l := w.bud.Limits.Open
	if math.IsNaN(l) || w.parts().Spring == nil {
		return nil
	}
	m := &w.sys.Corner[w.i]
	open, _, _ := m.SpringTravel.At(l)
	rest, _, _ := m.SpringTravel.At(w.st.Travel[w.i])
	return w.three("g = s_rest - s_open - x_rest", "m",
		figure.Got("s_rest", "spring travel at rest", "m", rest, nil),
		figure.Got("s_open", "spring travel with the damper fully open", "m", open, nil),
		figure.Got("x_rest", "compression of the spring at rest", "m", m.Compressed0+rest, w.compression()))
}

func (w *worker) catch() *figure.Working {
	v := w.bud.CatchSpeed
	if math.IsNaN(v) || v == 0 {
		return nil
	}
	static, _ := w.sys.Corner[w.i].Force(w.st.Travel[w.i])
	m := static / equilibrium.Gravity
	return w.two("v = sqrt(2*E/m)", "m/s",
		figure.Got("E", "work of spring and stop from rest to firm, less the weight carried", "J", w.bud.CatchWork, nil),
		figure.Got("m", "mass carried at rest", "kg", m, nil))
}

func (w *worker) massTerm() figure.Term {
	mass := (w.st.Load[w.i] - w.sys.Unsprung[w.i]*equilibrium.Gravity) / equilibrium.Gravity
	work := w.three("m = F_z/g - m_u", "kg",
		figure.Got("F_z", "load of the tyre", "N", w.st.Load[w.i], w.of(qLoad)), w.gravity(),
		figure.Got("m_u", "mass moving with the wheel", "kg", w.sys.Unsprung[w.i], nil))
	return figure.Got("m", "sprung mass of the corner", "kg", mass, work)
}

func (w *worker) rateTerm() figure.Term {
	return figure.Got("k_w", "wheel rate, tangent", "N/m", w.st.Rate[w.i], w.of(qWheelRate))
}

func (w *worker) tyreTerm() figure.Term {
	in := &w.car().Axle[w.axle()].TyreRate
	if w.parts().TyreRate.Known() {
		in = &w.parts().TyreRate
	}
	return figure.From("k_t", "rate of the tyre", "N/m", in)
}

func (w *worker) rate() *figure.Working {
	m := &w.sys.Corner[w.i]
	sh := m.At(w.st.Travel[w.i])
	_, r, dr := m.SpringTravel.At(w.st.Travel[w.i])
	k := 0.0
	if r != 0 {
		k = (sh.SpringRate - sh.SpringLoad*dr) / (r * r)
	}
	spring := figure.Got("k", "spring rate here", "N/m", k, nil)
	if p := w.parts(); w.springLoad() != nil && !w.base.Carries(p, w.i) {
		spring = figure.From("k", "spring rate", "N/m", &p.Spring.Rate) // of one rate, and it works as stated
	}
	return finish(&figure.Working{
		Equation: figure.Must("wheel-rate").Equation, Unit: "N/m", Source: "virtual work; own derivation",
		Terms: []figure.Term{
			spring,
			figure.Got("r", "spring travel per wheel travel", "1", r, nil),
			figure.Got("F", "load of the spring", "N", sh.SpringLoad, w.springLoad()),
			figure.Got("c", "change of that ratio with wheel travel", "1/m", dr, nil),
			figure.Got("k_gas", "gas, both parts", "N/m", sh.GasRate, nil),
			figure.Got("k_stop", "stop, both parts", "N/m", sh.StopRate, nil),
			figure.Got("k_ends", "metal ends", "N/m", sh.MetalRate+sh.OpenRate, nil),
			figure.Got("k_bush", "bushes", "N/m", sh.BushRate, nil),
		},
	})
}

// ratio is the damping ratio at a damper speed, one way or the mean of both.
func (w *worker) ratio(speed float64, direction string) *figure.Working {
	m := &w.sys.Corner[w.i]
	return w.ratioOf(speed, direction, func(v float64) float64 { f, _ := m.DamperForce(v); return f })
}

func (w *worker) ratioOf(speed float64, direction string, force func(float64) float64) *figure.Working {
	m := &w.sys.Corner[w.i]
	_, rd, _ := m.DamperTravel.At(w.st.Travel[w.i])
	bump, rebound := force(speed), -force(-speed)
	v := figure.Term{Symbol: "v", Name: "damper speed", Value: speed, Unit: "m/s", Origin: figure.Chosen}
	var c *figure.Working
	switch direction {
	case "bump":
		c = w.two("C = F_b/v", "N s/m", figure.Got("F_b", "bump force", "N", bump, nil), v)
	case "rebound":
		c = w.two("C = F_r/v", "N s/m", figure.Got("F_r", "rebound force", "N", rebound, nil), v)
	default:
		c = w.three("C = (F_b + F_r)/(2*v)", "N s/m", figure.Got("F_b", "bump force", "N", bump, nil), figure.Got("F_r", "rebound force", "N", rebound, nil), v)
	}
	return finish(&figure.Working{
		Equation: "zeta = C*r_d^2/(2*sqrt(k_w*m))", Unit: "1", Source: "critical damping of one degree of freedom; definition ours",
		Terms: []figure.Term{
			figure.Got("C", "damper coefficient, secant", "N s/m", c.Result, c),
			figure.Got("r_d", "damper travel per wheel travel", "1", rd, nil),
			w.rateTerm(), w.massTerm(),
		},
	})
}
