package study

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/figure"
)

// Understeer is a budget: what tyres, links, camber and bushes each ask of the
// steering beyond the bend's geometry, in a bend at SteerAt.

// sideways says of an axle what more slip angle of its tyres means: understeer in
// front, oversteer at the rear.
var sideways = [2]float64{1, -1}

// camberSteer is what an axle's change of camber asks of its slip angle per
// lateral acceleration, understeer positive [rad/(m/s2)]; NaN where its links'
// points are not known.
//
//	K = ±κ·Σ C_i·ε_i/(Σ C_i)/a_y
//
// ε_i how far wheel i leans further out of the bend than straight ahead, C_i its
// cornering stiffness at its load, κ camber over cornering stiffness; plus in
// front.
//
// Source: own derivation; camber thrust as in T. D. Gillespie, Fundamentals of
// Vehicle Dynamics, ch. 6.
func (s *setup) camberSteer(c *cornering.Car, p *cornering.Point, axle, l int, d, own figure.Draw) (steer, lean float64) {
	y := s.yawCar(c, p, l, d, own)
	sum, weight := 0.0, 0.0
	for side := range 2 {
		i := 2*axle + side
		stiff := y.Axle[axle].Of(side).Stiffness(p.Load[i])
		out := 1.0 // the right wheel leans out of a left turn with its top outward
		if side == 0 {
			out = -1
		}
		sum += stiff * out * (c.Camber(p, i) - c.Camber(c.Rest(), i))
		weight += stiff
	}
	lean = sum / weight
	return sideways[axle] * s.bends.CamberShare.At(own) * lean / p.Lateral, lean
}

// compliance is how far an axle steers out of the bend by its bushes per side
// force: as typed, or as is usual [rad/N].
func (s *setup) compliance(axle int) *car.Input {
	if in := &s.job.Car.Axle[axle].ComplianceSteer; in.Known() {
		return in
	}
	return &s.bends.Compliance[axle]
}

func (s *setup) complianceSteer(p *cornering.Point, axle int, d, own figure.Draw) float64 {
	draw := own
	if s.job.Car.Axle[axle].ComplianceSteer.Known() {
		draw = d
	}
	return s.compliance(axle).At(draw) * (p.Side[2*axle] + p.Side[2*axle+1]) / p.Lateral
}

// budget fills the parts of understeer and their sum; what is not known is left
// out of the sum.
func (s *setup) budget(o *bent, l int, d, own figure.Draw) {
	n := o.numbers
	at, err := o.car.At(SteerAt, 0, nil)
	if err != nil {
		return
	}
	p := &at
	total := n[cUndersteerBend]
	for axle := range 2 {
		n[cCamberSteer0+axle], _ = s.camberSteer(o.car, p, axle, l, d, own)
		n[cCompliance0+axle] = s.complianceSteer(p, axle, d, own)
		for _, k := range []int{cSteer0, cCamberSteer0, cCompliance0} {
			if v := n[k+axle]; !math.IsNaN(v) {
				total += v
			}
		}
	}
	n[cUndersteerTotal] = total
	if top := s.speeds[len(s.speeds)-1]; s.job.Car.Axle[0].LiftArea.Known() || s.job.Car.Axle[1].LiftArea.Known() {
		y := s.yawCar(o.car, o.car.Rest(), l, d, own)
		fast, slow := y.At(top), y.At(0)
		n[cLiftSteer] = fast.Gradient() - slow.Gradient()
	}
}

// budgetValues reports them.
func (s *setup) budgetValues(nominal *bent, add func(code, mode string, corner, k int) *figure.Value) {
	none := figure.NoCorner
	total := add("understeer-total", "", none, cUndersteerTotal)
	for axle := range 2 {
		add("compliance-steer", axleModes[axle], none, cCompliance0+axle)
		if nominal.car.Led(axle) {
			add("links-steer", axleModes[axle], none, cSteer0+axle)
			add("camber-steer", axleModes[axle], none, cCamberSteer0+axle)
		} else {
			total.Warnings = append(total.Warnings, axleModes[axle]+" links not known")
		}
	}
	if !math.IsNaN(nominal.numbers[cLiftSteer]) {
		add("lift-steer", "", none, cLiftSteer).Place.Speed = s.speeds[len(s.speeds)-1]
	}
}

// budgetWorking writes how one of them was reached; of gives the workings of the
// parts.
func (s *setup) budgetWorking(o *bent, l int, v *figure.Value, of func(*figure.Value) *figure.Working) *figure.Working {
	p, err := o.car.At(SteerAt, 0, nil)
	if err != nil {
		return nil
	}
	got := figure.Among
	lateral := figure.Fixed("a_y", "lateral acceleration", "m/s^2", SteerAt, "common practice, no source")
	law := figure.Must(v.Code).Law()
	axle := 0
	if v.Place.Mode == axleModes[1] {
		axle = 1
	}
	turned := figure.Fixed("o", "plus one in front, minus one at the rear", "1", sideways[axle], "definition")
	switch v.Code {
	case "camber-steer":
		_, lean := s.camberSteer(o.car, &p, axle, l, nil, nil)
		return law.Of(turned, figure.From("q", "side force per camber over that per slip angle", "1", &s.bends.CamberShare),
			got("e", "how far the axle's wheels lean further out of the bend, by their cornering stiffness", "rad", lean), lateral)
	case "compliance-steer":
		return law.Of(figure.From("c", "how far the axle steers out of the bend by its bushes per side force", "rad/N", s.compliance(axle)),
			got("F", "side force of the axle", "N", p.Side[2*axle]+p.Side[2*axle+1]), lateral)
	case "lift-steer":
		y := s.yawCar(o.car, o.car.Rest(), l, nil, nil)
		fast, slow := y.At(v.Place.Speed), y.At(0)
		return law.Of(got("K_V", "understeer of the tyres at that speed, lift on their loads", "rad/(m/s^2)", fast.Gradient()),
			got("K_0", "without lift", "rad/(m/s^2)", slow.Gradient()))
	case "understeer-total":
		terms := make([]figure.Term, 0, 7)
		for _, one := range []struct {
			symbol, name, code, mode string
			value                    float64
		}{
			{"K_t", "understeer by the tyres", "understeer-gradient", bendMode, o.numbers[cUndersteerBend]},
			{"K_lf", "by the front links", "links-steer", axleModes[0], o.numbers[cSteer0]},
			{"K_lr", "by the rear links", "links-steer", axleModes[1], o.numbers[cSteer0+1]},
			{"K_cf", "by the front camber", "camber-steer", axleModes[0], o.numbers[cCamberSteer0]},
			{"K_cr", "by the rear camber", "camber-steer", axleModes[1], o.numbers[cCamberSteer0+1]},
			{"K_rf", "by the front bushes", "compliance-steer", axleModes[0], o.numbers[cCompliance0]},
			{"K_rr", "by the rear bushes", "compliance-steer", axleModes[1], o.numbers[cCompliance0+1]},
		} {
			if math.IsNaN(one.value) {
				terms = append(terms, figure.Fixed(one.symbol, one.name+", not known", law.Unit, 0, "left out"))
				continue
			}
			part := figure.Value{Code: one.code, Place: v.Place, Value: one.value}
			part.Place.Mode = one.mode
			terms = append(terms, figure.As(one.symbol, one.name, of(&part)))
		}
		return law.Of(terms...)
	}
	return nil
}

// budgetCodes are the parts of understeer and their sum.
var budgetCodes = map[string]bool{"understeer-total": true, "camber-steer": true, "compliance-steer": true, "lift-steer": true}
