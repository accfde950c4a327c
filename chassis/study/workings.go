package study

import (
	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/travel"
)

// worker collects the workings of one corner of one case: each law returns its terms,
// from there down to what was typed.
type worker struct {
	s    *setup
	t    *equilibrium.CaseTerms
	b, l int
	i    int
	sys  *equilibrium.System
	st   *equilibrium.State
	bud  travel.Budget
	made map[int]*figure.Working
}

// caseTerms are the terms of a solved case.
func (s *setup) caseTerms(base *equilibrium.Baseline, b, l int, c *Case) *equilibrium.CaseTerms {
	return equilibrium.NewTerms(s.fitted, s.designs[b], base, s.hangup, &c.System).Case(&c.State, s.job.Loads[l].Items)
}

// worker makes the worker of a corner; t may be nil where no working is asked for.
func (s *setup) worker(t *equilibrium.CaseTerms, b, l, i int, c *Case) *worker {
	return &worker{
		s: s, t: t, b: b, l: l, i: i, sys: &c.System, st: &c.State,
		bud: travel.New(&c.System, &c.State, i), made: make(map[int]*figure.Working),
	}
}

func (w *worker) axle() int               { return car.AxleOf(w.i) }
func (w *worker) build() *car.Build       { return w.s.designs[w.b].Build }
func (w *worker) parts() *car.BuildCorner { return &w.build().Corner[w.i] }
func (w *worker) car() *car.Car           { return w.s.job.Car }
func (w *worker) rest() figure.Term       { return w.t.Rest(w.i) }

// at are the terms of the corner.
func (w *worker) at() *corner.Terms { return w.t.Corner(w.i) }

// result is the register's law of a code with these terms.
func result(code string, terms ...figure.Term) *figure.Working {
	e := figure.Must(code)
	return e.Law().Of(terms...)
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

// again is the working of a quantity as a term.
func (w *worker) again(symbol, name string, q int) figure.Term {
	return figure.As(symbol, name, w.of(q))
}

func (w *worker) write(q int) *figure.Working {
	code, l := cornerCodes[q], &w.bud.Limits
	switch q {
	case qHeight:
		return result(code, figure.From("H_0", "height where wheel travel is zero", "m", &w.car().ZeroHeight[w.axle()]), w.rest())
	case qLoad:
		return w.t.Load(w.i)
	case qToStop:
		return result(code, w.at().Touch(l), w.rest())
	case qToFirm:
		return w.shared(code, "w_firm", "wheel travel where the stop carries half the corner load", l.Firm, 0.5)
	case qToHard:
		return w.shared(code, "w_hard", "wheel travel where the stop carries twice the corner load", l.Hard, 2)
	case qToSolid:
		return result(code, w.at().Solid(l), w.rest())
	case qToClosed:
		return result(code, w.at().Closed(l), w.rest())
	case qToArch:
		return result(code, w.s.archTerm(w.build(), w.i), w.rest())
	case qToBlock:
		return result(code, w.at().Block(l), w.rest())
	case qToOpen:
		return result(code, w.rest(), w.at().Open(l))
	case qSolidBeforeArch:
		return result(code, w.s.archTerm(w.build(), w.i), w.at().Solid(l))
	case qSolidBeforeBlock:
		return result(code, w.at().Block(l), w.at().Solid(l))
	case qGapOpen:
		return w.gapOpen(code)
	case qStopShare:
		return result(code, w.at().StopAtWheel(w.rest()), w.again("F_z", "load of the tyre", qLoad))
	case qCatch:
		return w.catch(code)
	case qHangup:
		return result(code, figure.From("F_f", "friction at the wheel", "N", &w.parts().Friction), w.rate())
	case qWheelRate:
		return result(code, w.at().Rates(w.rest())...)
	case qFrequency:
		return result(code, w.rate(), w.t.Mass(w.i))
	case qFrequencyOnTyre:
		return result(code, w.rate(), w.t.TyreRate(w.i), w.t.Mass(w.i))
	case qRise:
		return w.t.Rise(w.i)
	case qSideLower:
		other := w.t.Rest(w.i ^ 1)
		other.Symbol, other.Name = "w_other", "wheel travel at rest of the other side"
		return result(code, w.rest(), other)
	case qRatio:
		return w.ratioOf(w.s.opt.MainSpeed, "mean", w.sys.Corner[w.i].Curve.Bump, w.sys.Corner[w.i].Curve.Rebound)
	}
	return nil
}

func (w *worker) rate() figure.Term { return w.again("k_w", "wheel rate, tangent", qWheelRate) }

// shared is the margin to where the stop carries a multiple of the corner load.
func (w *worker) shared(code, symbol, name string, found, multiple float64) *figure.Working {
	n := figure.Fixed("n", "multiple of the static corner load", "1", multiple, "chosen: common practice, no source")
	at := w.at().Shared(symbol, name, found, n, w.again("F_z", "static corner load", qLoad))
	if at.Symbol == "" {
		return nil
	}
	return result(code, at, w.rest())
}

// gapOpen is the looseness of the spring, through the spring's own motion
// table: damper travel only says where the wheel stops.
func (w *worker) gapOpen(code string) *figure.Working {
	c := w.at()
	return result(code, c.SpringTravel("s_rest", "spring travel at rest", w.rest()),
		c.SpringTravel("s_open", "spring travel with the damper fully open", c.Open(&w.bud.Limits)),
		figure.As("x_rest", "compression of the spring at rest", c.Compression(w.rest())))
}

var (
	catchWork = figure.Law{
		Code: "catch-work", Equation: "E = A_1 + A_2 - S*(w_firm - w_rest)", Unit: "J", Source: "work and energy; own derivation",
		Note: "The work is the force at the wheel over its travel, by five-point Gauss-Legendre on each side of the touch.",
	}
	noCatch     = figure.Law{Code: "catch-work-on-the-stop", Equation: "E = 0", Unit: "J", Source: figure.Own, Note: "The stop is firm at rest: it catches nothing more."}
	carriedMass = figure.Law{Code: "mass-carried-at-rest", Equation: "m = S/g", Unit: "kg", Source: figure.Own}
	cornerPush  = figure.Law{Code: "corner-push", Equation: "S = F_spring + F_gas + F_stop + F_ends + F_bush", Unit: "N", Source: "virtual work; own derivation"}
)

func (w *worker) catch(code string) *figure.Working {
	l := &w.bud.Limits
	push := figure.As("S", "force of the corner at the wheel at rest, bar left out", cornerPush.Of(w.at().Push(w.rest())...))
	mass := figure.As("m", "mass carried at rest", carriedMass.Of(push, w.t.Gravity()))
	if l.Firm <= w.bud.Rest {
		return result(code, figure.As("E", "work until the stop is firm", noCatch.Of()), mass)
	}
	firm := w.of(qToFirm)
	if firm == nil {
		return nil
	}
	before, after := travel.Work(&w.sys.Corner[w.i], w.bud.Rest, *l)
	work := catchWork.Of(
		figure.Among("A_1", "work of spring, gas and bushes from rest to the touch of the stop", "J", before),
		figure.Among("A_2", "the same with the stop, from there until it is firm", "J", after),
		push, firm.Terms[0], w.rest())
	work.Given = w.t.Solution()
	return result(code, figure.As("E", "work until the stop is firm, less the weight carried", work), mass)
}

var (
	coefficient = map[string]*figure.Law{
		"bump":    {Code: "damper-coefficient-bump", Equation: "C = F_b/v", Unit: "N s/m", Source: figure.Own},
		"rebound": {Code: "damper-coefficient-rebound", Equation: "C = F_r/v", Unit: "N s/m", Source: figure.Own},
		"mean":    {Code: "damper-coefficient", Equation: "C = (F_b + F_r)/(2*v)", Unit: "N s/m", Source: figure.Own},
	}
	// usualSpeed says why ratios are given at a damper speed.
	usualSpeed = "chosen: common practice, no source"
)

// ratioOf is the working of the damping ratio at a damper speed, one way or the mean
// of both.
func (w *worker) ratioOf(speed float64, direction string, bump, rebound *numeric.Curve) *figure.Working {
	v := figure.Fixed("v", "damper speed", "m/s", speed, usualSpeed)
	terms := []figure.Term{v}
	if direction != "rebound" {
		terms = append(terms, w.at().DamperForce("F_b", "bump force", bump, v))
	}
	if direction != "bump" {
		terms = append(terms, w.at().DamperForce("F_r", "rebound force", rebound, v))
	}
	return result("damping-ratio",
		figure.As("C", "damper coefficient, secant", coefficient[direction].Of(terms...)),
		w.at().DamperRatio("r_d", w.rest()), w.rate(), w.t.Mass(w.i))
}
