package equilibrium

import (
	"strconv"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

var (
	restTravel = figure.Law{
		Code: "rest-travel", Equation: "w_rest = w_0 + d_0 + r - d - z - y*phi - x*theta", Unit: "m", Source: figure.Own,
		Note: "Tyre deflection, heave, roll and pitch are the solution of the seven balances of body and wheels.",
	}
	hanging    = figure.Law{Code: "hanging-travel", Equation: "w_rest = w", Unit: "m", Source: figure.Own, Note: "The wheel hangs: its travel is solved with the seven balances of body and wheels."}
	bodyHeave  = figure.Law{Code: "body-heave", Equation: "S_1 + S_2 + S_3 + S_4 = W", Solves: "z", Unit: "m", Source: "balance of the body; own derivation"}
	bodyRoll   = figure.Law{Code: "body-roll", Equation: "y_1*S_1 + y_2*S_2 + y_3*S_3 + y_4*S_4 + W*a*(phi - phi_0) = M", Solves: "phi", Unit: "rad", Source: "balance of the body; own derivation"}
	bodyPitch  = figure.Law{Code: "body-pitch", Equation: "x_1*S_1 + x_2*S_2 + x_3*S_3 + x_4*S_4 + W*a*(theta - theta_0) = M", Solves: "theta", Unit: "rad", Source: "balance of the body; own derivation"}
	weightOf   = figure.Law{Code: "sprung-weight", Equation: "W = S_1 + S_2 + S_3 + S_4 + g*(m - n + p)", Unit: "N", Source: figure.Own}
	massesOf   = figure.Law{Code: "sum-of-masses", Equation: "m = sum(m)", Unit: "kg", Source: figure.Own}
	emptyForce = figure.Law{Code: "force-without-aboard", Equation: "S = S_0", Unit: "N", Source: figure.Own, Note: emptiedNote}
	suspension = figure.Law{Code: "suspension-force", Equation: "S = F_spring + F_gas + F_stop + F_ends + F_bush + F_bar", Unit: "N", Source: "balance of one wheel; own derivation"}
	sprungMass = figure.Law{Code: "corner-sprung-mass", Equation: "m = F_z/g - m_u", Unit: "kg", Source: figure.Own}
	barForce   = figure.Law{Code: "bar-force", Equation: "F_bar = n*K*q^2*(w_l - w_r - w_l0 + w_r0)", Unit: "N", Source: figure.Own}
	barInHole  = figure.Law{Code: "bar-rate-in-hole", Equation: "K = K_1*(r_1/r_2)^2", Unit: "N/m", Source: figure.Own}
	barOff     = figure.Law{Code: "bar-off", Equation: "F_bar = 0", Unit: "N", Source: figure.Own, Note: "The bar's drop links are off, or its rate is not known."}
)

// CaseTerms are a build at rest in one load state with where its numbers come from.
type CaseTerms struct {
	*Terms
	State *State
	Items []car.Payload

	given []*figure.Input
	rest  [4]*figure.Working
	load  [4]*figure.Working
	body  [3]*figure.Working // heave, roll, pitch
	whole *figure.Working    // sprung weight
}

// Case are the terms of a rest that was solved under these payloads.
func (t *Terms) Case(st *State, items []car.Payload) *CaseTerms {
	c := &CaseTerms{Terms: t, State: st, Items: items}
	c.given = append(c.given, t.Given...)
	c.given = append(c.given, figure.ReadBy(func(d figure.Draw) { Of(items, d) })...)
	return c
}

// Solution are the inputs that the rest was solved from.
func (t *CaseTerms) Solution() []*figure.Input { return t.given }

// Rest is the wheel travel at rest.
func (t *CaseTerms) Rest(i int) figure.Term {
	if t.rest[i] == nil {
		t.rest[i] = t.makeRest(i)
	}
	return figure.As("w_rest", "wheel travel at rest", t.rest[i])
}

func (t *CaseTerms) makeRest(i int) *figure.Working {
	st := t.State
	if st.Tyre[i] <= 0 {
		w := hanging.Of(figure.Among("w", "wheel travel", "m", st.Travel[i]))
		w.Given = t.given
		return w
	}
	w := restTravel.Of(
		t.Travel(i), t.Tyre(i), t.grown(i), figure.Among("d", "tyre deflection now", "m", st.Tyre[i]),
		t.heave(), t.left("y", i), t.roll(), t.behind(i), t.pitch())
	w.Given = t.given
	return w
}

// pushes are the forces of the four corners with what holds them, solved together.
func (t *CaseTerms) pushes() []figure.Term {
	out := make([]figure.Term, 0, 8)
	for i := range 4 {
		out = append(out, figure.Among("S_"+strconv.Itoa(i+1), "suspension force "+figure.CornerNames[i], "N", t.State.Force[i]+t.System.Stuck[i]))
	}
	return out
}

func (t *CaseTerms) heave() figure.Term {
	if t.body[0] == nil {
		t.body[0] = bodyHeave.Found(t.State.Heave, t.given, append(t.pushes(), t.weight())...)
	}
	return figure.As("z", "body raised over the front axle", t.body[0])
}

func (t *CaseTerms) roll() figure.Term {
	if t.body[1] == nil {
		extra := Of(t.Items, nil)
		s, lean := t.System, t.System.LeanWith(extra)
		terms := t.pushes()
		for i := range 4 {
			terms = append(terms, t.left("y_"+strconv.Itoa(i+1), i))
		}
		t.body[1] = bodyRoll.Found(t.State.Roll, t.given, append(terms, t.weight(),
			figure.Among("a", "sprung centre of gravity above the roll axis", "m", lean.RollArm),
			figure.Among("phi", "body roll, left side up", "rad", t.State.Roll), figure.Among("phi_0", "roll at which that centre is over the axis", "rad", lean.Upright),
			figure.Among("M", "moment of the weight about the middle plane", "N m", s.MomentLeft+extra.Left))...)
	}
	return figure.As("phi", "body roll, left side up", t.body[1])
}

func (t *CaseTerms) pitch() figure.Term {
	if t.body[2] == nil {
		terms := t.pushes()
		for i := range 4 {
			terms = append(terms, figure.Among("x_"+strconv.Itoa(i+1), "wheel behind the front axle", "m", t.System.Behind[i]))
		}
		lean := t.System.LeanWith(Of(t.Items, nil))
		t.body[2] = bodyPitch.Found(t.State.Pitch, t.given, append(terms, t.weight(),
			figure.Among("a", "sprung centre of gravity above the hubs", "m", lean.PitchArm),
			figure.Among("theta", "body pitch, rear up", "rad", t.State.Pitch), figure.Among("theta_0", "pitch at which that centre stands where the scales found it", "rad", lean.Level),
			figure.Among("M", "moment of the weight about the front axle", "N m", t.System.MomentBehind+Of(t.Items, nil).Behind))...)
	}
	return figure.As("theta", "body pitch, rear up", t.body[2])
}

// weight is the sprung weight: what the scales say the springs carry, with what the
// build adds, without what was fitted on the scales, and the payload.
func (t *CaseTerms) weight() figure.Term {
	if t.whole == nil {
		t.whole = t.makeWeight()
	}
	return figure.As("W", "sprung weight", t.whole)
}

func (t *CaseTerms) makeWeight() *figure.Working {
	terms := make([]figure.Term, 0, 8)
	for i := range 4 {
		symbol, name := "S_"+strconv.Itoa(i+1), "suspension force as weighed, "+figure.CornerNames[i]
		if t.Base.Emptied {
			w := emptyForce.Of(figure.Among("S_0", name, "N", t.Base.Force[i]))
			w.Given = t.scales
			terms = append(terms, figure.As(symbol, name+", nobody aboard", w))
			continue
		}
		terms = append(terms, figure.As(symbol, name, weighedForce.Of(t.scale(i), t.unsprung(t.Fitted.Build, i), gravity())))
	}
	return weightOf.Of(append(terms, gravity(),
		masses("m", "added by this build", t.Design.Build.Mass), masses("n", "added by the build that was weighed", t.Fitted.Build.Mass), masses("p", "payload", t.Items))...)
}

func masses(symbol, name string, items []car.Payload) figure.Term {
	if len(items) == 0 {
		return figure.Term{Symbol: symbol, Name: name, Unit: "kg"}
	}
	terms := make([]figure.Term, 0, len(items))
	for k := range items {
		terms = append(terms, figure.From("m_"+strconv.Itoa(k+1), items[k].Name, "kg", &items[k].Mass))
	}
	return figure.As(symbol, name, massesOf.Of(terms...))
}

// Bar is what the anti-roll bar adds at a wheel.
func (t *CaseTerms) Bar(i int) figure.Term {
	a := car.AxleOf(i)
	l, r := 2*a, 2*a+1
	ax, set := &t.Design.Car.Axle[a], &t.Design.Build.Setup
	if set.BarsOff || t.System.Bar[a] == (part.Bar{Zero: t.System.Bar[a].Zero}) {
		return figure.As("F_bar", "anti-roll bar at the wheel", barOff.Of())
	}
	side := figure.Fixed("n", "1 left, -1 right", "1", 1, "axes of ISO 8855")
	if i == r {
		side.Value = -1
	}
	name := func(x figure.Term, symbol, words string) figure.Term {
		x.Symbol, x.Name = symbol, words
		return x
	}
	rate, link := figure.From("K", "rate of the bar at its drop links", "N/m", &ax.BarRate), figure.From("q", "drop-link travel per wheel travel", "1", &ax.BarLink)
	if h := ax.HoleOf(set.BarHole[a]); h != nil {
		if h.LinkRatio.Known() {
			link = figure.From("q", "drop-link travel per wheel travel", "1", &h.LinkRatio)
		}
		switch {
		case h.Rate.Known():
			rate = figure.From("K", "rate of the bar in this hole", "N/m", &h.Rate)
		case h.Arm.Known() && ax.Bar.Arm.Known():
			rate = name(rate, "K_1", "rate of the bar as weighed")
			rate = figure.As("K", "rate of the bar in this hole", barInHole.Of(rate,
				figure.From("r_1", "arm in use as weighed", "m", &ax.Bar.Arm), figure.From("r_2", "arm in this hole", "m", &h.Arm)))
		}
	}
	return figure.As("F_bar", "anti-roll bar at the wheel", barForce.Of(side, rate, link,
		name(t.Rest(l), "w_l", "wheel travel at rest, left"), name(t.Rest(r), "w_r", "the same, right"),
		name(t.Travel(l), "w_l0", "wheel travel with the bar slack, left"), name(t.Travel(r), "w_r0", "the same, right")))
}

// Suspension is the suspension force at a wheel: springs, gas, stop, metal ends,
// bushes and bar.
func (t *CaseTerms) Suspension(symbol string, i int) figure.Term {
	return figure.As(symbol, "suspension force at the wheel, "+figure.CornerNames[i], suspension.Of(append(t.Corner(i).Push(t.Rest(i)), t.Bar(i))...))
}

// Load is the law of a tyre's load.
func (t *CaseTerms) Load(i int) *figure.Working {
	if t.load[i] == nil {
		e := figure.Must("corner-load")
		t.load[i] = e.Law().Of(t.Suspension("S", i), t.Unsprung(i), gravity())
	}
	return t.load[i]
}

// Mass is the sprung mass of a corner.
func (t *CaseTerms) Mass(i int) figure.Term {
	return figure.As("m", "sprung mass of the corner", sprungMass.Of(figure.As("F_z", "load of the tyre", t.Load(i)), gravity(), t.Unsprung(i)))
}

// Gravity is standard free fall.
func (t *CaseTerms) Gravity() figure.Term { return gravity() }
