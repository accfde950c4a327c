package study

import (
	"slices"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

const abeSource = "M. Abe, Vehicle Handling Dynamics, ch. 3"

var (
	contactStep = figure.Law{
		Code: "stop-contact-step", Equation: "d = (w_touch - w_1)*(a_1 - a_2)/(w_1 - w_2)", Unit: "m/s^2", Source: figure.Own,
		Note: "Wheel travels are solved from the seven balances of body and wheels at each acceleration; the last step of the search is shown.",
	}
	noContact = figure.Law{Code: "no-stop-contact-step", Equation: "d = 0", Unit: "m/s^2", Source: figure.Own}
	liftStep  = figure.Law{
		Code: "wheel-lift-step", Equation: "d = F_1*(a_1 - a_2)/(F_2 - F_1)", Unit: "m/s^2", Source: figure.Own,
		Note: "Tyre loads are solved from the seven balances of body and wheels at each acceleration; the last step of the search is shown.",
	}
	noLift      = figure.Law{Code: "no-wheel-lift-step", Equation: "d = 0", Unit: "m/s^2", Source: figure.Own}
	sideMass    = figure.Law{Code: "axle-side-mass", Equation: "Y = m*l/(a + b)", Unit: "kg", Source: abeSource}
	sideForce   = figure.Law{Code: "axle-side-force", Equation: "Y = F/a_y", Unit: "kg", Source: figure.Own}
	yawDecay    = figure.Law{Code: "yaw-mean-decay", Equation: "D = 0.5*((C_f + C_r)/(m*V) + (a^2*C_f + b^2*C_r)/(I*V))", Unit: "1/s", Source: abeSource}
	yawSquare   = figure.Law{Code: "yaw-frequency-squared", Equation: "q = C_f*C_r*(a + b)^2/(m*I*V^2)*(1 + K*V^2/(a + b))", Unit: "1/s^2", Source: abeSource}
	wheelbaseOf = figure.Law{Code: "wheelbase", Equation: "L = a + b", Unit: "m", Source: figure.Own}
)

// solvedFrom says what a working's solution was given.
func solvedFrom(w *figure.Working, given []*figure.Input) *figure.Working {
	if w != nil {
		w.Given = given
	}
	return w
}

// bendWorking writes how a figure of a corner was reached; nil for a figure that
// is none.
func (s *setup) bendWorking(o *bent, l int, v *figure.Value) *figure.Working {
	c := o.car
	given := s.given(v.Place.Build, v.Place.Load)
	among := figure.Among
	write := func(note string, terms ...figure.Term) *figure.Working {
		w := solvedFrom(result(v.Code, terms...), given)
		w.Note = note
		return w
	}
	at := func(symbol string, a float64) figure.Term {
		return figure.Fixed(symbol, "lateral acceleration", "m/s^2", a, "chosen: common practice, no source")
	}
	way := func(name string, n float64) figure.Term { return figure.Fixed("n", name, "1", n, "axes of ISO 8855") }
	i := v.Place.Corner
	switch v.Code {
	case "roll-gradient":
		return write("Solved from the seven balances of body and wheels; roll against the ground, tyres in.",
			among("phi_l", "roll of the body in a left turn, solved with stops, tyres and jacking", "rad", o.rolls[0]),
			among("phi_r", "roll in a right turn", "rad", o.rolls[1]), at("a", 0.1*equilibrium.Gravity))
	case "front-transfer-share":
		p := &o.half[0]
		return write("In a left turn at half of standard gravity.",
			among("dF_f", "load moved from the left to the right front wheel", "N", c.Transfer(p, 0)),
			among("dF_r", "load moved from the left to the right rear wheel", "N", c.Transfer(p, 1)))
	case "front-roll-share":
		return write("",
			among("K_f", "roll stiffness of the front axle at rest, springs and bar", "N m/rad", c.RollStiffness(0).Sum()),
			among("K_r", "roll stiffness of the rear axle", "N m/rad", c.RollStiffness(1).Sum()))
	case "bar-roll-share":
		axle := 0
		if v.Place.Mode == axleModes[1] {
			axle = 1
		}
		k := c.RollStiffness(axle)
		return write("",
			among("K_bar", "roll stiffness of the bar, its rate per relative wheel travel times the track squared", "N m/rad", k.Bar),
			among("K_springs", "roll stiffness of springs, gas, bushes and stops in contact", "N m/rad", k.Springs))
	case "inside-droop-left":
		p := &o.half[i&1]
		return write("",
			among("w", "wheel travel as the inner wheel of a corner at half of standard gravity", "m", p.Travel[i]),
			among("w_open", "wheel travel with the damper fully open", "m", c.Open(i)))
	case "links-steer":
		axle, n := 0, -1.0
		if v.Place.Mode == axleModes[1] {
			axle, n = 1, 1
		}
		return write("", way("1 at the rear, -1 at the front", n),
			among("delta", "mean toe of the axle's wheels to the left by the links' points, against straight ahead, in a left turn", "rad", c.Steer(&o.steady, axle)),
			at("a_y", SteerAt))
	case "camber-to-road":
		p, n := &o.half[1-i&1], 1.0
		if i&1 == 0 {
			n = -1
		}
		return write("",
			among("g_links", "camber against the body by the links, from hardpoints, at the wheel's travel", "rad", c.LinkCamber(p, i)),
			way("-1 left, 1 right", n),
			among("phi", "roll of the body in a corner at half of standard gravity, left side up", "rad", p.Roll))
	case "landing-balance-shift":
		k := &o.meets[i]
		return write("",
			among("p_1", "front share of a little more lateral load transfer, just short of the stop", "1", k.Before),
			among("p_2", "the same just on the stop", "1", k.After))
	case "stop-contact-acceleration":
		return contactWorking(o, i, given)
	case "wheel-lift-acceleration":
		return liftWorking(o, i, given)
	}
	return s.steerWorking(o, l, v, given)
}

// contactWorking shows the last step of the search for a contact: the acceleration
// at which the travel is that of the touch. Where no stop is met, how far it was
// looked for.
func contactWorking(o *bent, i int, given []*figure.Input) *figure.Working {
	k := &o.meets[i]
	const code = "stop-contact-acceleration"
	found := func(a figure.Term) *figure.Working {
		return solvedFrom(result(code, a, figure.As("d", "from there to the touch", noContact.Of())), given)
	}
	switch {
	case o.state[i] == bendNoStop:
		return nil
	case o.state[i] == bendNever:
		return found(figure.Fixed("a_1", "as far as stops are looked for", "m/s^2", o.numbers[cContact0+i], "chosen: common practice, no source"))
	case o.state[i] == bendTips:
		return found(figure.Among("a_1", "the most at which the car is held", "m/s^2", o.numbers[cContact0+i]))
	case k.AtRest:
		return found(figure.Among("a_1", "straight ahead: the corner rests on its stop", "m/s^2", 0))
	}
	last := &o.last[i]
	a := figure.Among("a_1", "lateral acceleration just short of the stop", "m/s^2", last.near)
	step := solvedFrom(contactStep.Of(
		a, figure.Among("a_2", "lateral acceleration a little before that", "m/s^2", last.far),
		figure.Among("w_touch", "wheel travel where the stop is touched", "m", last.touch),
		figure.Among("w_1", "wheel travel at the first", "m", last.nearTravel),
		figure.Among("w_2", "wheel travel at the second", "m", last.farTravel)), given)
	return solvedFrom(result(code, a, figure.As("d", "from there to the touch", step)), given)
}

// liftWorking shows the last step of the search for the acceleration at which a tyre
// carries nothing; where it always carries something, how far it was looked for.
func liftWorking(o *bent, i int, given []*figure.Input) *figure.Working {
	const code = "wheel-lift-acceleration"
	found := func(a figure.Term) *figure.Working {
		return solvedFrom(result(code, a, figure.As("d", "from there to where the tyre carries nothing", noLift.Of())), given)
	}
	last := &o.lifts[i]
	switch at := o.numbers[cLift0+i]; {
	case o.lifted[i] == bendNever:
		return found(figure.Fixed("a_1", "as far as a wheel off the ground is looked for", "m/s^2", at, "chosen: common practice, no source"))
	case o.lifted[i] == bendTips:
		return found(figure.Among("a_1", "the most at which the car is held", "m/s^2", at))
	case last.far == 0: //nolint:floateq // no step was taken
		return found(figure.Among("a_1", "lateral acceleration at which the tyre carries nothing, to 0.0005 of standard gravity", "m/s^2", at))
	}
	a := figure.Among("a_1", "lateral acceleration just short of it", "m/s^2", last.near)
	step := solvedFrom(liftStep.Of(
		a, figure.Among("a_2", "lateral acceleration a little before that", "m/s^2", last.far),
		figure.Among("F_1", "load of the tyre at the first", "N", last.nearTravel),
		figure.Among("F_2", "load of the tyre at the second", "N", last.farTravel)), given)
	return solvedFrom(result(code, a, figure.As("d", "from there to where the tyre carries nothing", step)), given)
}

// steerWorking writes how a figure of steering or yaw was reached.
func (s *setup) steerWorking(o *bent, l int, v *figure.Value, given []*figure.Input) *figure.Working {
	if budgetCodes[v.Code] {
		return solvedFrom(s.budgetWorking(o, l, v, func(part *figure.Value) *figure.Working { return s.bendWorking(o, l, part) }), given)
	}
	if slices.Contains(towCodes[:], v.Code) {
		return solvedFrom(s.towWorking(o, l, v), given)
	}
	among := figure.Among
	y := s.yawCar(o.car, o.car.Rest(), l, nil, nil)
	b := y.At(v.Place.Speed)
	mass, inertia := among("m", "mass of the whole car", "kg", b.Mass), among("I", "yaw inertia, an estimate", "kg m^2", b.YawInertia)
	front, rear := among("a", "centre of gravity behind the front axle", "m", b.ToFront), among("b", "centre of gravity ahead of the rear axle", "m", b.ToRear)
	stiff := func(p *cornering.Point, speed float64) (figure.Term, figure.Term) {
		car := s.yawCar(o.car, p, l, nil, nil)
		return among("C_f", "cornering stiffness of the front axle at its tyres' loads", "N/rad", car.Axle[0].Stiffness(speed)),
			among("C_r", "cornering stiffness of the rear axle at its tyres' loads", "N/rad", car.Axle[1].Stiffness(speed))
	}
	write := func(terms ...figure.Term) *figure.Working { return solvedFrom(result(v.Code, terms...), given) }
	// straight is the understeer gradient about straight ahead at a speed.
	straight := func(speed float64) *figure.Working {
		share := func(symbol, name string, arm figure.Term) figure.Term {
			arm.Symbol = "l"
			return figure.As(symbol, name, solvedFrom(sideMass.Of(mass, arm, front, rear), given))
		}
		cf, cr := stiff(o.car.Rest(), speed)
		return solvedFrom(result("understeer-gradient",
			share("Y_f", "side force of the front axle per lateral acceleration", rear), cf,
			share("Y_r", "side force of the rear axle per lateral acceleration", front), cr), given)
	}
	cf, cr := stiff(o.car.Rest(), v.Place.Speed)
	switch v.Code {
	case "understeer-gradient":
		if v.Place.Mode == straightMode {
			return straight(v.Place.Speed)
		}
		p, err := o.car.At(SteerAt, 0, nil)
		if err != nil {
			return nil
		}
		cf, cr = stiff(&p, 0)
		side := func(symbol, name string, force float64) figure.Term {
			return figure.As(symbol, name, solvedFrom(sideForce.Of(among("F", "lateral force of the axle", "N", force),
				figure.Fixed("a_y", "lateral acceleration", "m/s^2", SteerAt, "chosen: common practice, no source")), given))
		}
		return write(side("Y_f", "side force of the front axle per lateral acceleration", p.Side[0]+p.Side[1]), cf,
			side("Y_r", "side force of the rear axle per lateral acceleration", p.Side[2]+p.Side[3]), cr)
	case "critical-speed":
		length := figure.As("L", "wheelbase", solvedFrom(wheelbaseOf.Of(front, rear), given))
		return write(length, figure.As("K", "understeer gradient at that speed", straight(v.Value)))
	case "yaw-frequency", "yaw-damping", "yaw-settling":
		speed := figure.Fixed("V", "speed of the car", "m/s", v.Place.Speed, "a speed of the brief's roads, or the car's top speed")
		k := figure.As("K", "understeer gradient at that speed", straight(v.Place.Speed))
		if v.Code == "yaw-settling" {
			return write(
				figure.As("D", "mean decay of both yaw motions", solvedFrom(yawDecay.Of(cf, cr, front, rear, mass, inertia, speed), given)),
				figure.As("q", "square of the undamped yaw frequency; negative where yaw is unstable", solvedFrom(yawSquare.Of(cf, cr, front, rear, mass, inertia, speed, k), given)))
		}
		frequency := solvedFrom(result("yaw-frequency", cf, cr, front, rear, mass, inertia, speed, k), given)
		if v.Code == "yaw-frequency" {
			return frequency
		}
		return write(cf, cr, front, rear, mass, inertia, speed, figure.As("f", "yaw frequency", frequency))
	}
	return nil
}
