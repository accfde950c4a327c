package cornering

import (
	"fmt"
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/numeric"
)

// Point is the car at one acceleration.
type Point struct {
	Lateral      float64 // to the left: a left turn [m/s2]
	Longitudinal float64 // forward: power; negative is braking [m/s2]
	equilibrium.State

	Side [4]float64 // lateral force of the tyre on the car, to the left [N]
	Lift [4]float64 // what the linkage adds to the wheel's load through lateral force, up on the body positive [N]
}

// NoHold says that the car is not held at an acceleration.
type NoHold struct {
	Lateral, Longitudinal float64 // asked for [m/s2]
	Lifted                [4]bool // wheels off the ground where the search ended
	Over                  bool    // both wheels of a side or an axle are off: it would tip over
	Last                  Point
}

func (e *NoHold) Error() string {
	if e.Over {
		return fmt.Sprintf("at %.3f m/s2 sideways and %.3f m/s2 forward the car would tip over", e.Lateral, e.Longitudinal)
	}
	return fmt.Sprintf("at %.3f m/s2 sideways and %.3f m/s2 forward no position was found in which the car is held", e.Lateral, e.Longitudinal)
}

const (
	maxSteps = 80    // chosen, as for the rest position
	maxMove  = 0.015 // longest step of a wheel: half a bump stop [m]
	settled  = 1e-10 // residual per sprung weight that counts as held
	// trace is the share of its rate that a tyre off the ground keeps, so that
	// the equations stay solvable.
	trace = 1e-6
)

// At finds the car at a lateral and a longitudinal acceleration [m/s2] from a
// guess, or from rest without one.
//
//	N_i = S_i ± B + f_i + J_i − m_u·a_y·h_u/y_i + m_u·g        each wheel, N_i = k_t·δ_i
//	J_i = −(G_i·own_i + G_j·other_i)·sign(y_i) + G_i·φ − X_i·dx/dw
//	G_i = F_i − m_u·a_y,  F_i = F_axle·p(N_i/(N_l + N_r))
//	Σ T_i = W,  T_i = S_i ± B + f_i + J_i
//	Σ T_i·y_i = W·y_W − W·d_φ·φ − m·a_y·h                       roll, left side up
//	Σ T_i·x_i = W·x_W − W·d_θ·θ + a_x·(m·h + Σ m_u·h_u)         pitch, rear up
//
// x is behind the front axle, y left, h the height of the sprung mass; own and
// other are how far the contacts move outward per bump of wheel i, or h_i/|y_i|
// and 0 where the line of wheel i's force meets the middle at a height h_i. The lateral
// force of an axle follows from steady turning: no yaw acceleration.
//
// Method: Newton with steps shortened where the balance does not improve.
// Source: equations of statics; own derivation. For even sides, no fall and
// rigid tyres it is the textbook's split of load transfer (W. F. Milliken, D. L.
// Milliken, Race Car Vehicle Dynamics, 1995, ch. 18, from memory).
func (c *Car) At(lateral, longitudinal float64, guess *Point) (Point, error) {
	var p Point
	if guess != nil {
		p.State = guess.State
	} else {
		p.State = c.rest.State
	}
	p.Lateral, p.Longitudinal = lateral, longitudinal
	var f, step [7]float64
	var jac [7][7]float64
	norm := c.balance(&p, &f, &jac)
	for p.Steps = 1; p.Steps <= maxSteps; p.Steps++ {
		if norm < settled*c.weight {
			c.finish(&p)
			if c.over(&p) {
				return p, c.noHold(&p)
			}
			return p, nil
		}
		step = f
		if !numeric.Solve7(&jac, &step) {
			break
		}
		scale := 1.0
		for i := range 4 {
			if big := math.Abs(step[i]) * scale; big > maxMove {
				scale *= maxMove / big
			}
		}
		was, next := norm, p
		for range 12 {
			next = p
			for i := range 4 {
				next.Travel[i] -= scale * step[i]
			}
			next.Heave -= scale * step[4]
			next.Roll -= scale * step[5]
			next.Pitch -= scale * step[6]
			norm = c.balance(&next, &f, &jac)
			if norm < was || norm < settled*c.weight {
				break
			}
			scale *= 0.5
		}
		p = next
		if math.Abs(p.Roll) > 0.5 || math.Abs(p.Pitch) > 0.5 {
			break // farther than any car leans on its wheels
		}
	}
	c.finish(&p)
	return p, c.noHold(&p)
}

// over reports whether nothing holds the car: both wheels of a side, or of an
// axle, are off the ground.
func (c *Car) over(p *Point) bool {
	off := func(i int) bool { return p.Tyre[i] <= 0 }
	return off(0) && off(2) || off(1) && off(3) || off(0) && off(1) || off(2) && off(3)
}

func (c *Car) noHold(p *Point) error {
	e := &NoHold{Lateral: p.Lateral, Longitudinal: p.Longitudinal, Last: *p, Over: c.over(p)}
	for i := range 4 {
		e.Lifted[i] = p.Tyre[i] <= 0
	}
	return e
}

// wheels are the forces at the four wheels at a point, and their derivatives.
type wheels struct {
	total, rate [4]float64 // suspension force, bar, friction and linkage in; tangent rate of the corner alone
	barRate     [2]float64
	load        [4]float64 // of the tyre, negative where it hangs on its trace [N]
	tyreRate    [4]float64
	direct      [4]float64 // load that the unsprung mass moves without the springs [N]
	side, lift  [4]float64
	// slope of the lift against the six quantities it hangs on: own and other
	// wheel's travel, heave, roll, pitch.
	slope [4][5]float64
}

// forces fills the forces at a point.
func (c *Car) forces(p *Point, w *wheels) {
	s := c.sys
	var bar [2]float64
	for a := range 2 {
		bar[a], w.barRate[a] = s.Bar[a].WheelForce(p.Travel[2*a] - p.Travel[2*a+1])
	}
	var tyre [4]float64
	for i := range 4 {
		body := p.Heave + s.Left[i]*p.Roll + s.Behind[i]*p.Pitch
		deflection := s.Base.Tyre[i] + s.Grown[i] - (p.Travel[i] - s.Base.Travel[i]) - body
		tyre[i] = math.Max(0, deflection)
		w.tyreRate[i] = s.TyreRate[i]
		if deflection < 0 {
			w.tyreRate[i] *= trace
		}
		w.load[i] = w.tyreRate[i] * deflection
		w.direct[i] = -s.Unsprung[i] * p.Lateral * c.geo.HubHeight[i/2] / s.Left[i]
	}
	for i := range 4 {
		a, j := i/2, i^1
		force, rate := s.Corner[i].Force(p.Travel[i])
		sign := 1.0
		if i&1 == 1 {
			sign = -1
		}
		c.lift(p, w, &tyre, i, j)
		w.rate[i] = rate
		w.total[i] = force + sign*bar[a] + s.Stuck[i] + w.lift[i]
	}
}

// lift fills the lateral force of wheel i and what the linkage makes of it; j is
// the other wheel of the axle.
func (c *Car) lift(p *Point, w *wheels, tyre *[4]float64, i, j int) {
	s, a := c.sys, i/2
	axle := p.Lateral * (c.mass*c.share[a] + c.unsprung[a])
	load, other := s.TyreRate[i]*tyre[i], s.TyreRate[j]*tyre[j]
	part, byOwn, byOther := 0.5, 0.0, 0.0
	if sum := load + other; !c.geo.EvenSides && sum > 0 {
		var slope float64
		part, slope = sideShare(load/sum, c.geo.Sensitivity)
		byOwn, byOther = slope*other/(sum*sum), -slope*load/(sum*sum)
	}
	onGround := func(k int) float64 {
		if tyre[k] > 0 {
			return 1
		}
		return 0
	}
	l := c.lever(i, &p.Travel, tyre)
	y := s.Left[i]
	w.side[i] = axle * part
	net := w.side[i] - s.Unsprung[i]*p.Lateral
	netOther := axle*(1-part) - s.Unsprung[j]*p.Lateral
	sign := math.Copysign(1, y)
	along, alongBy := c.along(i, p.Travel[i], p.Longitudinal)
	w.lift[i] = -sign*(net*l.own+netOther*l.other) + net*p.Roll + along
	// What moves between the wheels of the axle leaves the sum of both.
	moved := -sign*(l.own-l.other) + p.Roll
	own := axle*byOwn*s.TyreRate[i]*moved - sign*net*l.ownTyre               // dJ/dδ_i
	others := axle*byOther*s.TyreRate[j]*moved - sign*netOther*l.otherByTyre // dJ/dδ_j
	// Tyre deflections fall with own travel and with the body's rise over them.
	one, two := -own*onGround(i), -others*onGround(j)
	w.slope[i] = [5]float64{
		one - sign*(net*l.ownBy[0]+netOther*l.otherBy[0]) + alongBy,
		two - sign*(net*l.ownBy[1]+netOther*l.otherBy[1]),
		one + two,
		one*y + two*s.Left[j] + net,
		(one + two) * s.Behind[i],
	}
}

// sideShare is the share of an axle's lateral force that a wheel takes with a
// share x of its load, and the slope against x. A tyre's force per load falls by
// ε as its load doubles from nothing to the axle's mean and on by as much again.
//
//	p = g(x)/(g(x) + g(1 − x)),  g(x) = x·(1 + ε − 2·ε·x)
//
// Source: own derivation.
func sideShare(x, e float64) (share, slope float64) {
	n, dn := x*(1+e-2*e*x), 1+e-4*e*x
	d, dd := 1+e-2*e*(1-2*x+2*x*x), 4*e*(1-2*x)
	return n / d, (dn*d - n*dd) / (d * d)
}

// balance fills the residuals and their derivatives and returns the greatest.
func (c *Car) balance(p *Point, f *[7]float64, jac *[7][7]float64) float64 {
	s := c.sys
	var w wheels
	c.forces(p, &w)
	*jac = [7][7]float64{}
	high := c.cgHeight(&p.State)
	f[4] = -c.weight
	roll, pitch := c.lean.Of(&p.State)
	f[5] = -c.momentLeft + c.weight*c.lean.RollArm*roll + c.mass*p.Lateral*high
	f[6] = -c.momentBehind + c.weight*c.lean.PitchArm*pitch - p.Longitudinal*(c.mass*high+c.unsprungMoment())
	// The higher the body is lifted, the longer the arms of its inertia.
	sideways, forward := c.mass*p.Lateral, -p.Longitudinal*c.mass
	jac[5][4], jac[5][5], jac[5][6] = sideways, sideways*c.left+c.weight*c.lean.RollArm, sideways*c.behind
	jac[6][4], jac[6][5], jac[6][6] = forward, forward*c.left, forward*c.behind+c.weight*c.lean.PitchArm
	norm := 0.0
	for i := range 4 {
		a, j := i/2, i^1
		kt, x, y := w.tyreRate[i], s.Behind[i], s.Left[i]
		f[i] = w.total[i] + w.direct[i] + s.Unsprung[i]*equilibrium.Gravity - w.load[i]
		var row [7]float64 // of the total
		row[i] = w.rate[i] + w.barRate[a] + w.slope[i][0]
		row[j] = -w.barRate[a] + w.slope[i][1]
		row[4], row[5], row[6] = w.slope[i][2], w.slope[i][3], w.slope[i][4]
		for k := range 7 {
			jac[i][k] = row[k]
			jac[4][k] += row[k]
			jac[5][k] += row[k] * y
			jac[6][k] += row[k] * x
		}
		jac[i][i] += kt
		jac[i][4] += kt
		jac[i][5] += kt * y
		jac[i][6] += kt * x
		f[4] += w.total[i]
		f[5] += w.total[i] * y
		f[6] += w.total[i] * x
		norm = math.Max(norm, math.Abs(f[i]))
	}
	norm = math.Max(norm, math.Abs(f[4]))
	return math.Max(norm, math.Max(math.Abs(f[5]), math.Abs(f[6])))
}

// finish fills what follows from the travels.
func (c *Car) finish(p *Point) {
	var w wheels
	c.forces(p, &w)
	for i := range 4 {
		p.Tyre[i] = math.Max(0, w.load[i]/w.tyreRate[i])
		p.Load[i] = math.Max(0, w.load[i])
		p.Side[i], p.Lift[i] = w.side[i], w.lift[i]
		p.Force[i] = w.total[i] - w.lift[i] - c.sys.Stuck[i]
		p.Rate[i] = w.rate[i]
	}
}
