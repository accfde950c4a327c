package study

import (
	"slices"

	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

const abeSource = "M. Abe, Vehicle Handling Dynamics, ch. 3"

// bendWorking writes how a figure of a corner was reached; nil for a figure that
// is none.
func (s *setup) bendWorking(o *bent, l int, v *figure.Value) *figure.Working {
	c := o.car
	got := func(symbol, name, unit string, value float64) figure.Term {
		return figure.Got(symbol, name, unit, value, nil)
	}
	write := func(equation, unit, source string, terms ...figure.Term) *figure.Working {
		return finish(&figure.Working{Equation: equation, Unit: unit, Source: source, Terms: terms})
	}
	i := v.Place.Corner
	switch v.Code {
	case "roll-gradient":
		w := write("q = (phi_l - phi_r)/(2*a)", "rad/(m/s^2)", ownDerivation,
			got("phi_l", "roll of the body in a left turn, solved with stops, tyres and jacking", "rad", o.rolls[0]),
			got("phi_r", "roll in a right turn", "rad", o.rolls[1]),
			figure.Term{Symbol: "a", Name: "lateral acceleration", Value: 0.1 * equilibrium.Gravity, Unit: "m/s^2", Origin: figure.Chosen})
		w.Note = "Solved from the seven balances of body and wheels; roll against the ground, tyres in."
		return w
	case "front-transfer-share":
		p := &o.half[0]
		w := write("p = dF_f/(dF_f + dF_r)", "1", ownDerivation,
			got("dF_f", "load moved from the left to the right front wheel", "N", c.Transfer(p, 0)),
			got("dF_r", "load moved from the left to the right rear wheel", "N", c.Transfer(p, 1)))
		w.Note = "In a left turn at half of standard gravity."
		return w
	case "front-roll-share":
		return write("p = K_f/(K_f + K_r)", "1", ownDerivation,
			got("K_f", "roll stiffness of the front axle at rest, springs and bar", "N m/rad", c.RollStiffness(0).Sum()),
			got("K_r", "roll stiffness of the rear axle", "N m/rad", c.RollStiffness(1).Sum()))
	case "bar-roll-share":
		axle := 0
		if v.Place.Mode == "rear" {
			axle = 1
		}
		k := c.RollStiffness(axle)
		w := write("p = K_bar/(K_springs + K_bar)", "1", ownDerivation,
			got("K_bar", "roll stiffness of the bar, its rate per relative wheel travel times the track squared", "N m/rad", k.Bar),
			got("K_springs", "roll stiffness of springs, gas, bushes and stops in contact", "N m/rad", k.Springs))
		return w
	case "inside-droop-left":
		p := &o.half[i&1]
		return write("s = w - w_open", "m", ownDerivation,
			got("w", "wheel travel as the inner wheel of a bend at half of standard gravity", "m", p.Travel[i]),
			got("w_open", "wheel travel with the damper fully open", "m", p.Travel[i]-c.Droop(p, i)))
	case "links-steer":
		axle, equation := 0, "q = -delta/a_y"
		if v.Place.Mode == axleModes[1] {
			axle, equation = 1, "q = delta/a_y"
		}
		delta := v.Value * SteerAt
		if axle == 0 {
			delta = -delta
		}
		return write(equation, "rad/(m/s^2)", ownDerivation,
			got("delta", "mean toe of the axle's wheels to the left by the links' points, against straight ahead, in a left turn", "rad", delta),
			figure.Term{Symbol: "a_y", Name: "lateral acceleration", Value: SteerAt, Unit: "m/s^2", Origin: figure.Chosen})
	case "camber-to-road":
		p := &o.half[1-i&1]
		equation, links := "g = g_links + phi", v.Value-p.Roll
		if i&1 == 0 {
			equation, links = "g = g_links - phi", v.Value+p.Roll
		}
		return write(equation, "rad", ownDerivation,
			got("g_links", "camber against the body by the links, from hardpoints, at the wheel's travel", "rad", links),
			got("phi", "roll of the body in a corner at half of standard gravity, left side up", "rad", p.Roll))
	case "landing-balance-shift":
		k := &o.meets[i]
		return write("j = p_2 - p_1", "1", ownDerivation,
			got("p_1", "front share of a little more lateral load transfer, just short of the stop", "1", k.Before),
			got("p_2", "the same just on the stop", "1", k.After))
	case "stop-contact-acceleration":
		return contactWorking(o, i)
	}
	return s.steerWorking(o, l, v)
}

// contactWorking shows the last step of the search for a contact: the acceleration
// at which the travel is that of the touch. Where no stop is met, how far it was
// looked for.
func contactWorking(o *bent, i int) *figure.Working {
	k := &o.meets[i]
	given := func(name string, value float64, origin figure.Origin) *figure.Working {
		return finish(&figure.Working{
			Equation: "a = a_1", Unit: "m/s^2", Source: ownDerivation,
			Terms: []figure.Term{{Symbol: "a_1", Name: name, Value: value, Unit: "m/s^2", Origin: origin}},
		})
	}
	switch {
	case o.state[i] == bendNoStop:
		return nil
	case o.state[i] == bendNever:
		return given("as far as stops are looked for", o.numbers[cContact0+i], figure.Chosen)
	case o.state[i] == bendTips:
		return given("the most at which the car is held", o.numbers[cContact0+i], figure.Computed)
	case k.AtRest:
		return given("straight ahead: the corner rests on its stop", 0, figure.Computed)
	}
	last := &o.last[i]
	got := func(symbol, name, unit string, value float64) figure.Term {
		return figure.Got(symbol, name, unit, value, nil)
	}
	return finish(&figure.Working{
		Equation: "a = a_1 + (w_touch - w_1)*(a_1 - a_2)/(w_1 - w_2)", Unit: "m/s^2", Source: ownDerivation,
		Note: "Wheel travels are solved from the seven balances of body and wheels at each acceleration; the last step of the search is shown.",
		Terms: []figure.Term{
			got("a_1", "lateral acceleration just short of the stop", "m/s^2", last.near),
			got("a_2", "lateral acceleration a little before that", "m/s^2", last.far),
			got("w_touch", "wheel travel where the stop is touched", "m", last.touch),
			got("w_1", "wheel travel at the first", "m", last.nearTravel),
			got("w_2", "wheel travel at the second", "m", last.farTravel),
		},
	})
}

// steerWorking writes how a figure of steering or yaw was reached.
func (s *setup) steerWorking(o *bent, l int, v *figure.Value) *figure.Working {
	got := func(symbol, name, unit string, value float64, w *figure.Working) figure.Term {
		return figure.Got(symbol, name, unit, value, w)
	}
	if budgetCodes[v.Code] {
		return s.budgetWorking(o, l, v, func(part *figure.Value) *figure.Working { return s.bendWorking(o, l, part) })
	}
	if slices.Contains(towCodes[:], v.Code) {
		return s.towWorking(o, l, v)
	}
	y := s.yawCar(o.car, o.car.Rest(), l, nil, nil)
	b := y.At(v.Place.Speed)
	mass, inertia := got("m", "mass of the whole car", "kg", b.Mass, nil), got("I", "yaw inertia, an estimate", "kg m^2", b.YawInertia, nil)
	front, rear := got("a", "centre of gravity behind the front axle", "m", b.ToFront, nil), got("b", "centre of gravity ahead of the rear axle", "m", b.ToRear, nil)
	stiff := func(p *cornering.Point, speed float64) (figure.Term, figure.Term) {
		car := s.yawCar(o.car, p, l, nil, nil)
		return got("C_f", "cornering stiffness of the front axle at its tyres' loads", "N/rad", car.Axle[0].Stiffness(speed), nil),
			got("C_r", "cornering stiffness of the rear axle at its tyres' loads", "N/rad", car.Axle[1].Stiffness(speed), nil)
	}
	cf, cr := stiff(o.car.Rest(), v.Place.Speed)
	switch v.Code {
	case "understeer-gradient":
		if v.Place.Mode == straightMode {
			return finish(&figure.Working{Equation: "K = m/(a + b)*(b/C_f - a/C_r)", Unit: "rad/(m/s^2)", Source: abeSource, Terms: []figure.Term{mass, front, rear, cf, cr}})
		}
		p, err := o.car.At(SteerAt, 0, nil)
		if err != nil {
			return nil
		}
		cf, cr = stiff(&p, 0)
		return finish(&figure.Working{Equation: "K = (F_f/C_f - F_r/C_r)/a_y", Unit: "rad/(m/s^2)", Source: ownDerivation, Terms: []figure.Term{
			got("F_f", "lateral force of the front axle", "N", p.Side[0]+p.Side[1], nil), got("F_r", "lateral force of the rear axle", "N", p.Side[2]+p.Side[3], nil), cf, cr,
			{Symbol: "a_y", Name: "lateral acceleration", Value: SteerAt, Unit: "m/s^2", Origin: figure.Chosen},
		}})
	case "critical-speed":
		cf, cr = stiff(o.car.Rest(), v.Value)
		return finish(&figure.Working{
			Equation: "V = (a + b)/sqrt(m*(a/C_r - b/C_f))", Unit: "m/s", Source: abeSource, Terms: []figure.Term{mass, front, rear, cf, cr},
		})
	case "yaw-frequency", "yaw-damping", "yaw-settling":
		speed := figure.Term{Symbol: "V", Name: "speed of the car", Value: v.Place.Speed, Unit: "m/s", Origin: figure.Chosen}
		gradient := finish(&figure.Working{Equation: "K = m/(a + b)*(b/C_f - a/C_r)", Unit: "rad/(m/s^2)", Source: abeSource, Terms: []figure.Term{mass, front, rear, cf, cr}})
		k := got("K", "understeer gradient at that speed", "rad/(m/s^2)", gradient.Result, gradient)
		if v.Code == "yaw-settling" {
			decay := finish(&figure.Working{
				Equation: "D = 0.5*((C_f + C_r)/(m*V) + (a^2*C_f + b^2*C_r)/(I*V))", Unit: "1/s", Source: abeSource, Terms: []figure.Term{cf, cr, front, rear, mass, inertia, speed},
			})
			square := finish(&figure.Working{
				Equation: "q = C_f*C_r*(a + b)^2/(m*I*V^2)*(1 + K*V^2/(a + b))", Unit: "1/s^2", Source: abeSource, Terms: []figure.Term{cf, cr, front, rear, mass, inertia, speed, k},
			})
			return figure.Must(v.Code).Law().Of(
				got("D", "mean decay of both yaw motions", "1/s", decay.Result, decay), got("q", "square of the undamped yaw frequency; negative where yaw is unstable", "1/s^2", square.Result, square))
		}
		frequency := finish(&figure.Working{
			Equation: "f = sqrt(C_f*C_r*(a + b)^2/(m*I*V^2)*(1 + K*V^2/(a + b)))/(2*pi)", Unit: "Hz", Source: abeSource,
			Terms: []figure.Term{cf, cr, front, rear, mass, inertia, speed, k},
		})
		if v.Code == "yaw-frequency" {
			return frequency
		}
		return finish(&figure.Working{
			Equation: "zeta = ((C_f + C_r)/(m*V) + (a^2*C_f + b^2*C_r)/(I*V))/(4*pi*f)", Unit: "1", Source: abeSource,
			Terms: []figure.Term{cf, cr, front, rear, mass, inertia, speed, got("f", "yaw frequency", "Hz", frequency.Result, frequency)},
		})
	}
	return nil
}

// explainCorner writes the working of a figure of a corner where it was left out.
func (s *setup) explainCorner(a *Answer, b, l int, v *figure.Value) *figure.Working {
	c := &a.Cases[b][l]
	car, err := s.bendCar(&c.System, &c.State, l, nil, nil)
	if err != nil {
		return nil
	}
	o, err := s.bend(car, l, cornerSteps, nil, nil)
	if err != nil {
		return nil
	}
	return s.bendWorking(o, l, v)
}

// bendCodes are the figures of a corner and of yaw.
var bendCodes = map[string]bool{
	"stop-contact-acceleration": true, "landing-balance-shift": true, "inside-droop-left": true, "roll-gradient": true,
	"front-transfer-share": true, "front-roll-share": true, "bar-roll-share": true, "understeer-gradient": true, "critical-speed": true,
	"towing-settling": true, "weave-damping": true, "weave-frequency": true, "towing-critical-speed": true,
	"yaw-damping": true, "yaw-frequency": true, "yaw-settling": true, "camber-to-road": true,
	"links-steer": true, "understeer-total": true, "camber-steer": true, "compliance-steer": true, "lift-steer": true,
}
