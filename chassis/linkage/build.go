package linkage

import (
	"math"

	"trunnion/chassis/geom"
)

func (b *builder) carrier(body int, p vec) point {
	return point{on: onCarrier, body: body, local: sub(p, b.ref[body])}
}

func fixed(p vec) point { return point{on: onBody, local: p} }

func begin(kind Kind) *builder {
	b := &builder{l: &Linkage{kind: kind}, rods: map[string]*rodOf{}}
	for i := range b.l.home {
		b.l.home[i].r = geom.Identity
	}
	return b
}

func (b *builder) body(ref vec) int {
	k := b.l.bodies
	b.ref[k], b.l.home[k].p = ref, ref
	b.l.bodies++
	return k
}

// wheel adds a wheel on a body.
func (b *builder) wheel(body int, w *Wheel, out float64) {
	spin := vec{X: math.Sin(w.Toe) * math.Cos(w.Camber), Y: math.Cos(w.Toe) * math.Cos(w.Camber), Z: -math.Sin(w.Camber)}
	centre := w.Centre
	if out < 0 {
		spin, centre = geom.Mirror(spin), geom.Mirror(centre)
	}
	b.l.wheels = append(b.l.wheels, wheel{body: body, centre: sub(centre, b.ref[body]), spin: spin, radius: w.Radius, out: out, height: centre.Z})
}

// drives adds the equations that set the wheels' travel.
func (b *builder) drives(atContact bool) {
	for i := range b.l.wheels {
		w := &b.l.wheels[i]
		at := add(b.ref[w.body], w.centre)
		if atContact {
			at = add(at, scale(w.radius, down(w.spin)))
		}
		b.l.rows = append(b.l.rows, row{rule: level, a: b.carrier(w.body, at), n: vec{Z: 1}, c: at.Z, drive: i + 1, name: "wheel travel"})
	}
}

// down is the direction in the wheel's plane that points most to the ground.
func down(spin vec) vec {
	d := add(vec{Z: -1}, scale(spin.Z, spin))
	return scale(1/norm(d), d)
}

// distance adds a link between two points.
func (b *builder) distance(name string, a, far point, drawn, want float64, steered bool, points ...string) {
	b.l.rows = append(b.l.rows, row{rule: apart, a: a, b: far, c: drawn, name: name, steered: steered, points: points})
	if want != drawn {
		k := len(b.l.rows) - 1
		b.unshut = append(b.unshut, func(share float64) { b.l.rows[k].c = drawn + share*(want-drawn) })
	}
}

func (b *builder) arm(body int, a *Arm) {
	axis, ok := geom.Through(a.Front, a.Rear)
	name := func(end string) string { return a.Name + " " + end }
	if !ok || norm(sub(a.Front, a.Rear)) < 1e-3 {
		b.fault(ZeroLength, norm(sub(a.Front, a.Rear)), name("front pivot"), name("rear pivot"))
		return
	}
	reach := axis.Distance(a.Ball)
	if reach < 5e-3 {
		b.fault(Collinear, reach, name("front pivot"), name("rear pivot"), name("ball joint"))
		return
	}
	foot := axis.Foot(a.Ball)
	ball := add(a.Ball, scale(a.Extension/reach, sub(a.Ball, foot)))
	b.l.arms = append(b.l.arms, hinge{foot: foot, axis: axis.Along, body: body, ball: sub(a.Ball, b.ref[body])})
	b.l.armNames = append(b.l.armNames, a.Name)
	for _, p := range []struct {
		end string
		at  vec
	}{{"front pivot", a.Front}, {"rear pivot", a.Rear}} {
		b.distance(name(p.end), b.carrier(body, a.Ball), fixed(p.at), norm(sub(a.Ball, p.at)), norm(sub(ball, p.at)), false, name(p.end), name("ball joint"))
		b.l.rows[len(b.l.rows)-1].arm = len(b.l.arms)
	}
}

func (b *builder) rod(body int, r *Rod) {
	if d := norm(sub(r.Outer, r.Inner)); d < 1e-3 {
		b.fault(ZeroLength, d, r.Name+" inner", r.Name+" outer")
		return
	}
	inner := fixed(r.Inner)
	if r.InnerOn != "" {
		var ok bool
		if inner, ok = b.on(0, r.InnerOn, r.Inner); !ok {
			b.fault(UnknownPart, 0, r.Name+" inner", r.InnerOn)
			return
		}
	}
	drawn := norm(sub(r.Outer, r.Inner))
	want := r.Length
	if want == 0 {
		want = drawn
	}
	b.distance(r.Name, b.carrier(body, r.Outer), inner, drawn, want, r.Steered, r.Name+" inner", r.Name+" outer")
	b.l.steers = b.l.steers || r.Steered
	b.rods[r.Name] = &rodOf{r, body}
}

// on makes a point that stands on a named part.
func (b *builder) on(body int, part string, p vec) (point, bool) {
	if part == "" {
		return b.carrier(body, p), true
	}
	for k, name := range b.l.armNames {
		if name != part {
			continue
		}
		h := &b.l.arms[k]
		out, side, _ := h.frame(&b.l.home)
		d := sub(p, h.foot)
		return point{on: onArm, arm: k, along: dot(d, h.axis), out: dot(d, out), side: dot(d, side)}, true
	}
	if r := b.rods[part]; r != nil && r.rod.InnerOn == "" && !r.rod.Steered {
		pt := point{on: onRod, body: r.body, inner: r.rod.Inner, outer: sub(r.rod.Outer, b.ref[r.body])}
		along, across, up, length, plan := pt.stance(&b.l.home)
		if plan < 0.2*length {
			return point{}, false // nothing stands on an upright rod
		}
		d := sub(p, r.rod.Inner)
		pt.along, pt.out, pt.side = dot(d, along), dot(d, across), dot(d, up)
		return pt, true
	}
	return point{}, false
}

// element makes what a spring or damper's length is read by.
func (b *builder) element(body int, name string, e *Element, mirrored bool) *row {
	if e == nil {
		return nil
	}
	top, low := e.Top, e.Low
	if mirrored {
		top, low = geom.Mirror(top), geom.Mirror(low)
	}
	if d := norm(sub(top, low)); d < 1e-3 {
		b.fault(ZeroLength, d, name+" top", name+" low")
		return nil
	}
	at, ok := b.on(body, e.On, low)
	if !ok {
		b.fault(UnknownPart, 0, name+" low", e.On)
		return nil
	}
	return &row{rule: apart, a: at, b: fixed(top), name: name, points: []string{name + " top", name + " low"}}
}

func (b *builder) bar(body int, d *Drop, mirrored bool) *drop {
	if d == nil {
		return nil
	}
	low, end, p, q := d.Low, d.End, d.Axis, d.Turn
	if mirrored {
		low, end, p, q = geom.Mirror(low), geom.Mirror(end), geom.Mirror(p), geom.Mirror(q)
	}
	axis, ok := geom.Through(p, q)
	if !ok {
		b.fault(ZeroLength, 0, "bar axis", "bar axis second point")
		return nil
	}
	if r := axis.Distance(end); r < 5e-3 {
		b.fault(Collinear, r, "bar axis", "bar axis second point", "bar end")
		return nil
	}
	if n := norm(sub(low, end)); n < 1e-3 {
		b.fault(ZeroLength, n, "drop link low", "bar end")
		return nil
	}
	at, ok := b.on(body, d.On, low)
	if !ok {
		b.fault(UnknownPart, 0, "drop link low", d.On)
		return nil
	}
	foot := axis.Foot(end)
	return &drop{low: at, axis: axis.Along, foot: foot, arm: sub(end, foot), reach: axis.Distance(end), length: norm(sub(low, end))}
}

// NewCorner makes an independent suspension.
func NewCorner(c Corner) (*Linkage, error) {
	b := begin(c.Kind)
	b.checkCorner(&c)
	if b.faults != nil {
		return nil, &FaultError{b.faults}
	}
	k := b.body(c.Wheel.Centre)
	b.wheel(k, &c.Wheel, 1)
	for i := range c.Arms {
		b.arm(k, &c.Arms[i])
	}
	for i := range c.Rods {
		b.rod(k, &c.Rods[i])
	}
	spring, damper := b.element(k, "spring", c.Spring, false), b.element(k, "damper", c.Damper, false)
	var strut *row
	if s := c.Strut; s != nil {
		line, ok := geom.Through(s.Low, s.Top)
		if !ok || norm(sub(s.Top, s.Low)) < 0.02 {
			b.fault(ZeroLength, norm(sub(s.Top, s.Low)), "strut low", "top mount")
			return nil, &FaultError{b.faults}
		}
		e, f := geom.Perpendiculars(line.Along)
		slides := func(name string, n vec) row {
			return row{rule: slide, a: b.carrier(k, s.Low), b: fixed(s.Top), n: n, c: dot(n, sub(s.Top, b.ref[k])), name: name, points: []string{"top mount", "strut low"}}
		}
		for _, n := range []vec{e, f} {
			b.l.rows = append(b.l.rows, slides("strut guide", n))
			if s.Shift != (vec{}) {
				i := len(b.l.rows) - 1
				b.unshut = append(b.unshut, func(share float64) { b.l.rows[i].b = fixed(add(s.Top, scale(share, s.Shift))) })
			}
		}
		top := add(s.Top, s.Shift)
		b.l.strut = &strutAxis{body: k, low: sub(s.Low, b.ref[k]), along: line.Along, top: top}
		along := slides("strut", line.Along)
		along.b, along.c = fixed(top), dot(line.Along, sub(s.Low, b.ref[k]))
		length := along
		strut = &length
		if spring == nil {
			r := along
			spring = &r
		}
		if damper == nil {
			r := along
			damper = &r
		}
	}
	if p := c.Pivots; p != nil {
		b.pivots(k, p)
	}
	b.l.sides = []side{{spring: spring, damper: damper, strut: strut, bar: b.bar(k, c.Bar, false)}}
	b.drives(c.AtContact)
	return b.finish()
}

func (b *builder) pivots(k int, p *Pivots) {
	line, ok := geom.Through(p.Inner, p.Outer)
	if !ok || norm(sub(p.Inner, p.Outer)) < 5e-3 {
		b.fault(ZeroLength, norm(sub(p.Inner, p.Outer)), "inner pivot", "outer pivot")
		return
	}
	w := &b.l.wheels[0]
	if d := line.Distance(add(b.ref[k], w.centre)); d < 0.02 {
		b.fault(Collinear, d, "inner pivot", "outer pivot", "wheel centre")
		return
	}
	for _, n := range []vec{{X: 1}, {Y: 1}, {Z: 1}} {
		b.l.rows = append(b.l.rows, row{rule: level, a: b.carrier(k, p.Inner), n: n, c: dot(n, p.Inner), name: "inner pivot", points: []string{"inner pivot"}})
	}
	e, f := geom.Perpendiculars(line.Along)
	for _, n := range []vec{e, f} {
		b.l.rows = append(b.l.rows, row{rule: level, a: b.carrier(k, p.Outer), n: n, c: dot(n, p.Outer), name: "outer pivot", points: []string{"outer pivot"}})
	}
}

// NewBeam makes a twist beam.
//
// Either bush gives way along the axle only, both by as much, so that the small
// shortening by twist is taken up; the cross member lets its halves turn about
// a line across the car through its shear centre and nothing else.
func NewBeam(c Beam) (*Linkage, error) {
	b := begin(TwistBeam)
	b.checkWheel(&c.Wheel)
	b.checkPoints(c.Wheel.Centre, named{"bush", c.Bush}, named{"spring top", topOf(c.Spring)}, named{"damper top", topOf(c.Damper)})
	if !geom.Finite(c.Shear) {
		b.fault(NotFinite, 0, "shear centre")
	}
	if math.Abs(c.Shear.Y) > 1e-6 {
		b.fault(NotInMiddle, c.Shear.Y, "shear centre")
	}
	if d := norm(sub(c.Bush, c.Wheel.Centre)); d < 0.02 {
		b.fault(ZeroLength, d, "bush", "wheel centre")
	}
	if b.faults != nil {
		return nil, &FaultError{b.faults}
	}
	for i, out := range []float64{1, -1} {
		mirrored := out < 0
		at := func(p vec) vec {
			if mirrored {
				return geom.Mirror(p)
			}
			return p
		}
		k := b.body(at(c.Wheel.Centre))
		b.wheel(k, &c.Wheel, out)
		name := [2]string{"left", "right"}[i]
		for _, n := range []vec{{X: 1}, {Z: 1}} {
			p := at(c.Bush)
			b.l.rows = append(b.l.rows, row{rule: level, a: b.carrier(k, p), n: n, c: dot(n, p), name: name + " bush", points: []string{name + " bush"}})
		}
		b.l.sides = append(b.l.sides, side{
			spring: b.element(k, "spring", c.Spring, mirrored), damper: b.element(k, "damper", c.Damper, mirrored), bar: b.bar(k, c.Bar, mirrored),
		})
	}
	b.l.rows = append(b.l.rows, row{
		rule: beside, a: b.carrier(0, c.Bush), b: b.carrier(1, geom.Mirror(c.Bush)), n: vec{Y: 1}, s: 1, name: "bushes", points: []string{"left bush", "right bush"},
	})
	for _, n := range []vec{{X: 1}, {Y: 1}, {Z: 1}} {
		b.l.rows = append(b.l.rows, row{rule: beside, a: b.carrier(0, c.Shear), b: b.carrier(1, c.Shear), n: n, s: -1, name: "shear centre", points: []string{"shear centre"}})
	}
	for _, m := range []vec{{X: 1}, {Z: 1}} {
		b.l.rows = append(b.l.rows, row{rule: squared, a: b.carrier(0, c.Shear), b: b.carrier(1, c.Shear), n: vec{Y: 1}, m: m, name: "cross member", points: []string{"shear centre"}})
	}
	b.drives(false)
	return b.finish()
}

// NewAxle makes a live axle on four links.
func NewAxle(c Axle) (*Linkage, error) {
	b := begin(LiveAxle)
	b.checkWheel(&c.Wheel)
	b.checkPoints(c.Wheel.Centre, named{"spring top", topOf(c.Spring)}, named{"damper top", topOf(c.Damper)})
	for i := range c.Rods {
		r := &c.Rods[i]
		for _, p := range []named{{r.Name + " inner", r.Inner}, {r.Name + " outer", r.Outer}} {
			b.near(c.Wheel.Centre, p)
		}
	}
	if len(c.Rods) != 4 {
		b.fault(WrongCount, float64(len(c.Rods)), "rods")
	}
	if b.faults != nil {
		return nil, &FaultError{b.faults}
	}
	k := b.body(vec{X: c.Wheel.Centre.X, Z: c.Wheel.Centre.Z})
	for i := range c.Rods {
		b.rod(k, &c.Rods[i])
	}
	for _, out := range []float64{1, -1} {
		b.wheel(k, &c.Wheel, out)
		b.l.sides = append(b.l.sides, side{
			spring: b.element(k, "spring", c.Spring, out < 0), damper: b.element(k, "damper", c.Damper, out < 0), bar: b.bar(k, c.Bar, out < 0),
		})
	}
	b.drives(false)
	return b.finish()
}

// finish closes the links where their lengths differ from the points.
func (b *builder) finish() (*Linkage, error) {
	if b.faults != nil {
		return nil, &FaultError{b.faults}
	}
	l := b.l
	if n := len(l.rows); n != 6*l.bodies {
		return nil, &FaultError{[]Fault{{Code: WrongCount, Value: float64(n - len(l.wheels)), Points: []string{"links"}}}}
	}
	at := position{q: l.home}
	if !l.newton(&at) {
		return nil, &FaultError{[]Fault{{Code: Undetermined, Points: b.names()}}}
	}
	if worst := l.stiffest(&at); worst > 1e5 {
		return nil, &FaultError{[]Fault{{Code: Undetermined, Points: l.held(&at), Value: worst}}}
	}
	if len(b.unshut) > 0 {
		const steps = 8
		for k := 1; k <= steps; k++ {
			for _, set := range b.unshut {
				set(float64(k) / steps)
			}
			if !l.newton(&at) {
				var miss [12]float64
				worst := l.assemble(&at.q, [2]float64{}, 0, &at.f, &miss)
				var points []string
				for i := range l.rows {
					if math.Abs(miss[i]) > 0.1*worst {
						points = append(points, l.rows[i].points...)
					}
				}
				return nil, &FaultError{[]Fault{{Code: NotClosed, Value: worst * steps / float64(steps-k+1), Points: points}}}
			}
		}
	}
	l.home, l.atHome = at.q, at.f
	return l, nil
}

// stiffest returns how much a link's force outgrows a force at the wheel: the
// greatest entry of the inverse, whose rows are equations and whose columns are
// movements. [1/m, -]
func (l *Linkage) stiffest(at *position) float64 {
	worst := 0.0
	for k := range 6 * l.bodies {
		var e [12]float64
		e[k] = 1
		at.f.Solve(&e)
		for i := range 6 * l.bodies {
			worst = math.Max(worst, math.Abs(e[i]))
		}
	}
	return worst
}

func (b *builder) names() (out []string) {
	seen := map[string]bool{}
	for i := range b.l.rows {
		if n := b.l.rows[i].name; b.l.rows[i].drive == 0 && !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

func topOf(e *Element) vec {
	if e == nil {
		return vec{X: math.Inf(1)}
	}
	return e.Top
}
