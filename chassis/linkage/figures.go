package linkage

import (
	"math"

	"trunnion/chassis/geom"
	"trunnion/chassis/numeric"
)

// Mode is how the two wheels of an axle move together.
type Mode uint8

// The modes. An independent wheel moves the same in all of them.
const (
	Parallel Mode = iota // both up
	Opposite             // the other down as far
	Single               // the other stays
)

func (m Mode) direction() [2]float64 {
	switch m {
	case Opposite:
		return [2]float64{1, -1}
	case Single:
		return [2]float64{1, 0}
	case Parallel:
	}
	return [2]float64{1, 1}
}

// Motion is how a spring, damper or drop link moves with the wheel.
type Motion struct {
	Known  bool
	Length float64 // between its ends; of a drop link the bar end's arc [m]
	Travel float64 // shortening from travel 0, bump positive; of a drop link its bar end's travel [m]
	Ratio  float64 // dTravel/dw [-]
	Slope  float64 // of Ratio over wheel travel [1/m]
}

// Figures are everything about one wheel, the left one, at one travel.
type Figures struct {
	Travel float64 // of the left wheel, bump positive [m]
	Other  float64 // of the right wheel [m]
	Steer  float64 // rack travel, to the left positive [m]

	Spring, Damper, Bar Motion

	Camber     float64 // top outward positive [rad]
	CamberGain float64 // dCamber/dw [rad/m]
	Toe        float64 // toe-in positive [rad]
	BumpSteer  float64 // dToe/dw [rad/m]

	Centre    geom.Vec // of the wheel [m]
	Contact   geom.Vec // lowest point of the wheel [m]
	HalfTrack float64  // of the contact from the middle plane [m]
	Scrubbing float64  // dHalfTrack/dw, of the carrier's point at the contact [-]

	// RollCentre is the height over the ground about which the body leans, as a
	// lateral force sees it.
	RollCentre float64 // [m]
	Jacking    float64 // slope of the line from contact to lateral instant centre, up inward positive [rad]
	// Support angles: dx/dz of the locked carrier at the contact and of the wheel
	// centre; forward in bump is positive.
	BrakeSupport float64 // [rad]
	DriveSupport float64 // [rad]

	Instant geom.Line // axis of the carrier's movement over wheel travel
	Screw   float64   // its advance along that axis per turn of 1 rad [m]
	Turn    float64   // its rate of turn over wheel travel [rad/m]

	HasSteer    bool
	Steering    geom.Line // axis of the carrier's movement over the rack, spring held
	Caster      float64   // top rearward positive, in side view [rad]
	Inclination float64   // top inward positive, in front view [rad]
	Scrub       float64   // ground point of the steering axis inward of the contact [m]
	Trail       float64   // ground point of the steering axis ahead of the contact [m]
	HubOffset   float64   // steering axis inward of the wheel centre, at its height [m]
	SteerRate   float64   // turn of the wheel about z per rack travel, to the left positive [rad/m]
}

// Figures solves the linkage at a travel of the left wheel in a mode and at a
// rack travel [m].
func (l *Linkage) Figures(mode Mode, travel, rack float64) (Figures, error) {
	if rack != 0 && !l.steers {
		return Figures{}, &FaultError{[]Fault{{Code: NothingSteered, Points: []string{"rods"}, Travel: travel}}}
	}
	d := mode.direction()
	at, err := l.at([2]float64{d[0] * travel, d[1] * travel}, rack)
	if err != nil {
		return Figures{}, err
	}
	return l.read(&at, mode), nil
}

// moving returns velocities and accelerations of the bodies over the left
// wheel's travel.
func (l *Linkage) moving(at *position, d [2]float64) (t, a twists) {
	var b [numeric.MaxUnknowns]float64
	for i := range l.rows {
		if k := l.rows[i].drive; k > 0 {
			b[i] = d[k-1]
		}
	}
	at.f.Solve(&b)
	t = unpack(&b, l.bodies)
	var zero twists
	for i := range l.rows {
		b[i] = -l.bend(&l.rows[i], &at.q, at.rack, &t, &zero)
	}
	at.f.Solve(&b)
	return t, unpack(&b, l.bodies)
}

func unpack(b *[numeric.MaxUnknowns]float64, bodies int) (t twists) {
	for i := range bodies {
		k := 6 * i
		t[i] = twist{vec{X: b[k], Y: b[k+1], Z: b[k+2]}, vec{X: b[k+3], Y: b[k+4], Z: b[k+5]}}
	}
	return t
}

func (l *Linkage) read(at *position, mode Mode) Figures {
	d := mode.direction()
	t, a := l.moving(at, d)
	f := Figures{Travel: at.travel[0], Other: at.travel[1], Steer: at.rack}
	s := &l.sides[0]
	f.Spring = l.motion(s.spring, at, &t, &a)
	f.Damper = l.motion(s.damper, at, &t, &a)
	if s.bar != nil {
		f.Bar = l.barMotion(s.bar, at, &t, &a)
	}
	l.wheelFigures(&f, at, &t)
	l.rollCentre(&f, at, &t)
	if l.steers {
		l.steering(&f, at)
	}
	return f
}

// motion reads a spring or damper.
func (l *Linkage) motion(r *row, at *position, t, a *twists) Motion {
	if r == nil {
		return Motion{}
	}
	var g, h gradient
	length := l.eval(r, &at.q, at.rack, &g)
	home := l.eval(r, &l.home, 0, &h)
	return Motion{
		Known: true, Length: length, Travel: home - length,
		Ratio: -g.along(t, l.bodies), Slope: -l.bend(r, &at.q, at.rack, t, a),
	}
}

// barMotion reads a drop link: the bar's end turns until the link has its
// length again.
//
//	u·(v − φ′·t) = 0,   u·(a − φ″·t + φ′²·r) + |v − φ′·t|²/L = 0
//
// u along the link, t = axis × r the end's movement, r from the axis to the end.
func (l *Linkage) barMotion(d *drop, at *position, t, a *twists) Motion {
	x := l.place(&d.low, &at.q)
	side := cross(d.axis, d.arm)
	turn := 0.0
	var u, r, move vec
	for range 40 {
		s, c := math.Sincos(turn)
		r = add(scale(c, d.arm), scale(s, side))
		move = cross(d.axis, r)
		link := sub(x, add(d.foot, r))
		n := norm(link)
		u = scale(1/n, link)
		slope := dot(u, move)
		if math.Abs(slope) < 1e-3*d.reach {
			return Motion{}
		}
		step := (n - d.length) / slope
		turn += step
		if math.Abs(step) < 1e-14 {
			break
		}
		if math.IsNaN(turn) || math.Abs(turn) > 1.5 {
			return Motion{}
		}
	}
	v := l.speed(&d.low, &at.q, t)
	rate := dot(u, v) / dot(u, move)
	apart := sub(v, scale(rate, move))
	bend := (dot(u, l.rush(&d.low, &at.q, t, a)) + rate*rate*dot(u, r) + dot(apart, apart)/d.length) / dot(u, move)
	// Positive with bump, whichever way the axis was typed.
	way := d.reach
	if rate < 0 {
		way = -way
	}
	return Motion{Known: true, Length: math.Abs(d.reach * turn), Travel: way * turn, Ratio: way * rate, Slope: way * bend}
}

func (l *Linkage) wheelFigures(f *Figures, at *position, t *twists) {
	w := &l.wheels[0]
	q, tw := &at.q[w.body], &t[w.body]
	spin := q.r.Apply(w.spin)
	v, r := carried(q, tw, w.centre)
	f.Centre = add(q.p, r)
	lever := scale(w.radius, down(spin))
	f.Contact = add(f.Centre, lever)
	vc := add(v, cross(tw.w, lever))
	turned := cross(tw.w, spin)
	f.Camber = -math.Asin(spin.Z)
	f.CamberGain = -turned.Z / math.Sqrt(1-spin.Z*spin.Z)
	f.Toe = math.Atan2(spin.X, spin.Y)
	f.BumpSteer = (turned.X*spin.Y - spin.X*turned.Y) / (spin.X*spin.X + spin.Y*spin.Y)
	f.HalfTrack = f.Contact.Y
	f.Scrubbing = vc.Y
	f.Jacking = math.Atan(vc.Y / vc.Z)
	f.BrakeSupport = math.Atan(vc.X / vc.Z)
	f.DriveSupport = math.Atan(v.X / v.Z)
	f.Turn = norm(tw.w)
	if f.Turn > 1e-9 {
		f.Instant, f.Screw = axisOf(q, tw)
	}
}

// axisOf returns the instant axis of a movement and the advance along it.
//
//	point = p + ω×v/|ω|²,   pitch = ω·v/|ω|²
func axisOf(q *pose, t *twist) (geom.Line, float64) {
	n2 := dot(t.w, t.w)
	return geom.Line{Point: add(q.p, scale(1/n2, cross(t.w, t.v))), Along: scale(1/math.Sqrt(n2), t.w)}, dot(t.w, t.v) / n2
}

// rollCentre finds the height at which a lateral force on both contacts does no
// work as the body rolls.
//
//	h = ½·(v_yL + v_yR)/φ,   φ = (v_zL − v_zR)/(y_L − y_R)
func (l *Linkage) rollCentre(f *Figures, at *position, t *twists) {
	if len(l.wheels) == 1 {
		// The other side is the mirror image at the same travel.
		f.RollCentre = f.Contact.Y * math.Tan(f.Jacking)
		return
	}
	roll := *t
	if at.travel[0] == at.travel[1] {
		roll, _ = l.moving(at, Opposite.direction())
	} else {
		roll, _ = l.moving(at, [2]float64{1, -1})
	}
	var y, vy, vz [2]float64
	for i := range l.wheels {
		w := &l.wheels[i]
		q, tw := &at.q[w.body], &roll[w.body]
		v, r := carried(q, tw, w.centre)
		lever := scale(w.radius, down(q.r.Apply(w.spin)))
		v = add(v, cross(tw.w, lever))
		y[i], vy[i], vz[i] = q.p.Y+r.Y+lever.Y, v.Y, v.Z
	}
	f.RollCentre = 0.5 * (vy[0] + vy[1]) * (y[0] - y[1]) / (vz[0] - vz[1])
}

// steering finds the axis the carrier turns about when the rack moves and the
// suspension is held: a strut at its length, whatever line its spring stands on, for
// the axis goes through its top mount; another at its spring's.
func (l *Linkage) steering(f *Figures, at *position) {
	s := l.sides[0].strut
	if s == nil {
		s = l.sides[0].spring
	}
	if s == nil {
		s = l.sides[0].damper
	}
	if s == nil || l.bodies != 1 {
		return
	}
	var m numeric.Factors
	var b [numeric.MaxUnknowns]float64
	m.N = 6
	for i := range l.rows {
		r := &l.rows[i]
		if r.drive > 0 {
			r = s
		}
		g := (*gradient)(&m.A[i])
		l.eval(r, &at.q, at.rack, g)
		if r.steered {
			b[i] = l.rackRate(r, &at.q, at.rack)
		}
	}
	if !m.Factor() {
		return
	}
	m.Solve(&b)
	t := unpack(&b, 1)
	if norm(t[0].w) < 1e-9 {
		return
	}
	line, _ := axisOf(&at.q[0], &t[0])
	if line.Along.Z < 0 {
		line.Along = scale(-1, line.Along)
	}
	ground, ok := line.AtHeight(f.Contact.Z)
	hub, ok2 := line.AtHeight(f.Centre.Z)
	if !ok || !ok2 {
		return
	}
	f.HasSteer, f.Steering = true, line
	f.Caster = math.Atan2(-line.Along.X, line.Along.Z)
	f.Inclination = math.Atan2(-line.Along.Y, line.Along.Z)
	f.Scrub = f.Contact.Y - ground.Y
	f.Trail = ground.X - f.Contact.X
	f.HubOffset = f.Centre.Y - hub.Y
	spin := at.q[0].r.Apply(l.wheels[0].spin)
	turned := cross(t[0].w, spin)
	f.SteerRate = (spin.X*turned.Y - turned.X*spin.Y) / (spin.X*spin.X + spin.Y*spin.Y)
}
