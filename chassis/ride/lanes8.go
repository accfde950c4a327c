// Code generated from lanes4.go by go test -run EightLanes -update. DO NOT EDIT.

//go:build goexperiment.simd && amd64

package ride

import "math"

// corner8 is one corner of as many cars as there are lanes: what the loop needs of cornerModel and coordinate, side by
// side.
type corner8 struct {
	x, y, pitch, roll                     row8
	rest, defl, rate, rim, rimRate        row8
	mass, supple, mount, stopAt, topAt    row8
	q, v, a1, a2, ahead, squeeze          row8
	force, travel, load, speeds, ratio    row8
	damp, slopes, yield, push, correction row8
	position                              [width8]*positions8
	damper, inverse                       [width8]*logs8
	mounted                               bool
	inStop                                bool // a stop remembers something in one of the lanes
}

// body8 is the bodies of those cars, and the numbers that do not change.
type body8 struct {
	z, p, r                                        freedom8
	zx, vx, ex, er                                 row8
	invM, armR, armP, toppleR, toppleP             row8
	bar, free                                      [2]row8
	zs, vs, ez, ep                                 row8 // of the bodies' centres, kept from the front axle for the rear
	h, half, h3, h12, kv, kq, ku                   row8
	gravity, one, point5, low, perStep, rows, unit row8
	offset, most, sign, octave, first, shift, side row8
	at                                             [width8]bits8
	row                                            [width8]int32
}

// freedom8 is one freedom of the bodies.
type freedom8 struct{ q, v, a1, a2, ahead, a row8 }

// block8 is what the steps leave for the metrics.
type block8 struct {
	n                                       int
	travel, speed, damper, load, force      [4][laneSteps]row8
	stop, top                               [4][laneSteps]row8
	heave, pitch, roll, bodyZ, bodyP, bodyR [laneSteps]row8
	road                                    [4][laneSteps]row8
	touched, opened                         [4]bool
}

func fill8(r *row8, x float64) {
	for l := range r {
		r[l] = num8(x)
	}
}

// first8 is the part of a step before the accelerations are there, of one corner: see Model.advance. It returns the lanes in
// which a stop, a top-out or the end of the table is reached.
//
//go:noinline
func (c *corner8) first8(b *body8, road *row8) uint8 {
	one, q := load8(&b.one), load8(&c.q)
	var zero vec8
	y := load8(&c.y)
	w := load8(&c.rest).Add(q).Sub(y.MulAdd(load8(&b.r.q), load8(&b.zx)))
	speed := load8(&c.ahead).Sub(y.MulAdd(load8(&b.r.ahead), load8(&b.vx)))
	w.Store(&c.travel)
	speed.Store(&c.speeds)
	u := w.Add(load8(&b.low)).Mul(load8(&b.perStep))
	far := u.Sub(u.Trunc().Max(zero).Min(load8(&b.rows))) // past the table's ends this is not 0 to 1
	f, rt := c.positionAt8(b, u.Max(zero).Min(load8(&b.rows)))
	vd := rt.Mul(speed)
	var d, g vec8
	if !c.mounted {
		d, g = logAt8(&c.damper, b, vd)
	} else {
		km, x := load8(&c.mount), load8(&c.squeeze)
		slip, rise := logAt8(&c.inverse, b, km.Mul(x).Mul(load8(&b.unit)))
		half := load8(&b.half)
		den := half.Div(one.Add(km.Mul(half).Mul(load8(&b.unit)).Mul(rise)))
		by := vd.Sub(slip).Mul(den) // dx/2
		d, g = km.Mul(x.Add(by)), km.Mul(den)
		x.Add(by.Add(by)).Store(&c.squeeze)
	}
	grr := g.Mul(rt).Mul(rt)
	yield := one.Div(grr.MulAdd(load8(&c.supple), one))
	d.Store(&c.damp)
	rt.Store(&c.ratio)
	g.Mul(rt).Store(&c.slopes)
	yield.Store(&c.yield)
	grr.Mul(yield).Store(&c.push)
	rt.MulAdd(d, f).Store(&c.force)
	defl := load8(&c.defl).Add(load8(road)).Sub(q)
	l := load8(&c.rate).Mul(defl)
	l = load8(&c.rimRate).MulAdd(defl.Sub(load8(&c.rim)).Max(zero), l)
	l.Max(zero).Store(&c.load)
	return w.Greater(load8(&c.stopAt)).Or(w.Less(load8(&c.topAt))).Or(far.Less(zero)).Or(far.Greater(one)).ToBits()
}

// second8 is the rest of it: the damper's correction, the step of the wheel, and what the metrics look at.
//
//go:noinline
func (c *corner8) second8(b *body8, out *block8, i, n int) {
	a1, a2, inv := load8(&c.a1), load8(&c.a2), load8(&c.mass)
	past := a2.Sub(a1.Add(a1))
	force, l := load8(&c.force), load8(&c.load)
	a := l.Sub(force).Mul(inv)
	h3 := load8(&b.h3)
	e := h3.Mul(a.Add(past)).Sub(load8(&c.y).MulAdd(load8(&b.er), load8(&b.ex)))
	df := e.Mul(load8(&c.push))
	df.Store(&c.correction)
	a = a.Sub(load8(&b.gravity)).Sub(df.Mul(inv))
	delta := e.Mul(load8(&c.yield))
	d := load8(&c.slopes).MulAdd(delta, load8(&c.damp))
	d.Store(&out.damper[i][n])
	var v vec8
	if !c.mounted {
		v = load8(&c.ratio).Mul(load8(&c.speeds).Add(delta))
	} else {
		v, _ = logAt8(&c.inverse, b, d.Mul(load8(&b.unit)))
	}
	v.Store(&out.speed[i][n])
	load8(&c.travel).Store(&out.travel[i][n])
	l.Store(&out.load[i][n])
	force.Add(df).Store(&out.force[i][n])
	w := load8(&b.h12).MulAdd(past, load8(&c.v))
	load8(&b.ku).MulAdd(a, w.Sub(h3.Mul(a1))).Store(&c.ahead)
	w = load8(&b.kv).MulAdd(a, w)
	w.Store(&c.v)
	load8(&b.h).MulAdd(w, load8(&c.q)).Store(&c.q)
	a1.Store(&c.a2)
	a.Store(&c.a1)
}

// step8 moves a freedom of the bodies on by its acceleration.
func (f *freedom8) step8(b *body8, a vec8) {
	a1, a2 := load8(&f.a1), load8(&f.a2)
	v := load8(&b.h12).MulAdd(a2.Sub(a1.Add(a1)), load8(&f.v))
	load8(&b.ku).MulAdd(a, v.Sub(load8(&b.h3).Mul(a1))).Store(&f.ahead)
	load8(&b.kq).MulAdd(a, load8(&b.h).MulAdd(v, load8(&f.q))).Store(&f.q)
	load8(&b.kv).MulAdd(a, v).Store(&f.v)
	a1.Store(&f.a2)
	a.Store(&f.a1)
}

// convoy8 is a group of cars on its way.
type convoy8 struct {
	corner [4]corner8
	body   body8
	block  block8
	models [width8]*Model
	stops  [width8][4]stopState
	tally  [4]tally8
	ledger [4]ledger8
	floors []meter8
	sink   [width8]float64
}

// begin8 puts the cars to rest.
func (g *convoy8) begin8(h float64) {
	b := &g.body
	for i := range g.corner {
		c := &g.corner[i]
		*c = corner8{mounted: g.models[0].corner[i].mount > 0}
		for l, m := range g.models {
			o := &m.corner[i]
			c.x[l], c.y[l], c.pitch[l], c.roll[l] = num8(o.x), num8(o.y), num8(o.pitch), num8(o.roll)
			c.rest[l], c.defl[l], c.rate[l] = num8(o.restTravel), num8(o.restDeflection), num8(o.rate)
			c.rim[l], c.rimRate[l] = num8(math.Min(o.rim, 10)), num8(o.rimRate)
			c.mass[l], c.supple[l], c.mount[l] = num8(o.invMass), num8(h/3*o.mobility), num8(o.mount)
			c.stopAt[l], c.topAt[l] = num8(math.Min(o.stopAt, 10)), num8(math.Max(o.topAt, -10))
			c.position[l] = m.positions8(i)
			c.damper[l], c.inverse[l] = m.logs8(i)
			g.stops[l][i] = o.stopRest
			c.inStop = c.inStop || o.stopRest.energy != 0
		}
	}
	*b = body8{}
	for l, m := range g.models {
		b.invM[l], b.armR[l], b.armP[l] = num8(m.invMass), num8(m.arm[0]), num8(m.arm[1])
		b.toppleR[l], b.toppleP[l] = num8(m.arm[0]*m.invRoll), num8(m.arm[1]*m.invPitch)
		for a := range 2 {
			b.bar[a][l], b.free[a][l] = num8(m.bars[a]), num8(m.barFree[a])
		}
		b.gravity[l] = num8(m.gravity)
	}
	fill8(&b.h, h)
	fill8(&b.half, h/2)
	fill8(&b.h3, h/3)
	fill8(&b.h12, h/12)
	fill8(&b.kv, 13*h/12)
	fill8(&b.kq, 13*h/12*h)
	fill8(&b.ku, 13*h/12+h*5/6)
	fill8(&b.one, 1)
	fill8(&b.point5, 0.5)
	fill8(&b.sign, math.Copysign(0, -1))
	b.masks8()
	fill8(&b.low, -positionLow)
	fill8(&b.perStep, 1/positionStep)
	fill8(&b.rows, positionRows-0.001)
	fill8(&b.unit, 1/forceUnit)
	fill8(&b.offset, logOffset)
	fill8(&b.most, 400)
	g.sink = [width8]float64{}
}

// advance8 takes the steps of a block, whose roads are in it: Model.advance for every lane.
func (g *convoy8) advance8(n0 int) {
	b, out := &g.body, &g.block
	out.touched, out.opened = [4]bool{}, [4]bool{}
	for n := range n0 {
		g.bodies8()
		var limited uint8
		for i := range g.corner {
			if i == 2 {
				g.axle8(2)
			}
			c := &g.corner[i]
			limited |= c.first8(b, &out.road[i][n])
			if c.inStop {
				limited |= 1
			}
		}
		if limited != 0 {
			g.limit8(n)
		}
		g.sums8()
		for i := range g.corner {
			if i == 2 {
				g.axleMiss8(2)
			}
			g.corner[i].second8(b, out, i, n)
		}
		g.move8(n)
	}
	out.n = n0
	clearUpper8()
}

// bodies8 lays the bodies' height and speed over the front axle out for its corners; the sinking of their centres is in.
//
//go:noinline
func (g *convoy8) bodies8() {
	b := &g.body
	q, r := load8(&b.p.q), load8(&b.r.q)
	leanR, leanP := load8(&b.armR).Mul(r), load8(&b.armP).Mul(q)
	half := load8(&b.point5)
	zs := load8(&b.z.q).Add(leanR.Mul(r).Add(leanP.Mul(q)).Mul(half))
	vs := load8(&b.z.ahead).Add(leanR.Mul(load8(&b.r.ahead)).Add(leanP.Mul(load8(&b.p.ahead))))
	zs.Store(&b.zs)
	vs.Store(&b.vs)
	x := load8(&g.corner[0].x)
	zs.Sub(x.Mul(q)).Store(&b.zx)
	vs.Sub(x.Mul(load8(&b.p.ahead))).Store(&b.vx)
}

//go:noinline
func (g *convoy8) axle8(i int) {
	b := &g.body
	x := load8(&g.corner[i].x)
	load8(&b.zs).Sub(x.Mul(load8(&b.p.q))).Store(&b.zx)
	load8(&b.vs).Sub(x.Mul(load8(&b.p.ahead))).Store(&b.vx)
}

// sums8 adds the bars, sums the forces on the bodies and says by how much the foretold speeds miss.
//
//go:noinline
func (g *convoy8) sums8() {
	b := &g.body
	var f [4]vec8
	for a := range 2 {
		l, r := &g.corner[2*a], &g.corner[2*a+1]
		bar := load8(&b.bar[a]).Mul(load8(&l.travel).Sub(load8(&r.travel)).Sub(load8(&b.free[a])))
		f[2*a], f[2*a+1] = load8(&l.force).Add(bar), load8(&r.force).Sub(bar)
		f[2*a].Store(&l.force)
		f[2*a+1].Store(&r.force)
	}
	front, rear := f[0].Add(f[1]), f[2].Add(f[3])
	whole := front.Add(rear)
	az := whole.Mul(load8(&b.invM))
	ap := load8(&b.toppleP).Mul(load8(&b.p.q)).Mul(whole).Sub(load8(&g.corner[0].pitch).Mul(front).Add(load8(&g.corner[2].pitch).Mul(rear)))
	ar := load8(&b.toppleR).Mul(load8(&b.r.q)).Mul(whole)
	for i := range f {
		ar = load8(&g.corner[i].roll).MulAdd(f[i], ar)
	}
	h3 := load8(&b.h3)
	miss := func(f *freedom8, a vec8) vec8 {
		a1 := load8(&f.a1)
		return h3.Mul(a.Add(load8(&f.a2).Sub(a1.Add(a1))))
	}
	ez, ep, er := miss(&b.z, az), miss(&b.p, ap), miss(&b.r, ar)
	er.Store(&b.er)
	ez.Sub(load8(&g.corner[0].x).Mul(ep)).Store(&b.ex)
	ez.Store(&b.ez)
	ep.Store(&b.ep)
	az.Store(&b.z.a)
	ap.Store(&b.p.a)
	ar.Store(&b.r.a)
}

//go:noinline
func (g *convoy8) axleMiss8(i int) {
	b := &g.body
	load8(&b.ez).Sub(load8(&g.corner[i].x).Mul(load8(&b.ep))).Store(&b.ex)
}

// move8 takes the corrections into the accelerations of the bodies and moves them on.
//
//go:noinline
func (g *convoy8) move8(n int) {
	b, out := &g.body, &g.block
	var d [4]vec8
	for i := range d {
		d[i] = load8(&g.corner[i].correction)
	}
	front, rear := d[0].Add(d[1]), d[2].Add(d[3])
	az := load8(&b.z.a).Sub(load8(&b.gravity)).Add(front.Add(rear).Mul(load8(&b.invM)))
	ap := load8(&b.p.a).Sub(load8(&g.corner[0].pitch).Mul(front).Add(load8(&g.corner[2].pitch).Mul(rear)))
	ar := load8(&b.r.a)
	for i := range d {
		ar = load8(&g.corner[i].roll).MulAdd(d[i], ar)
	}
	az.Store(&out.heave[n])
	ap.Store(&out.pitch[n])
	ar.Store(&out.roll[n])
	load8(&b.z.q).Store(&out.bodyZ[n])
	load8(&b.p.q).Store(&out.bodyP[n])
	load8(&b.r.q).Store(&out.bodyR[n])
	b.z.step8(b, az)
	b.p.step8(b, ap)
	b.r.step8(b, ar)
}

// limit8 adds what stops and top-outs push, and mends what lies past a table's end, lane by lane: as Model.limit.
//
//go:noinline
func (g *convoy8) limit8(n int) {
	clearUpper8()
	out := &g.block
	for i := range g.corner {
		c := &g.corner[i]
		c.inStop = false
		for l, m := range g.models {
			o, s := &m.corner[i], &g.stops[l][i]
			w := float64(c.travel[l])
			force := 0.0
			if u := (w - positionLow) * (1 / positionStep); !(u >= 0 && u < positionRows) {
				// The tables' last rows were read there: put the line in their place, and the damper by its motion ratio there.
				f, _, _ := o.position.at(w)
				c.force[l] = num8(f) + c.ratio[l]*c.damp[l]
			}
			if w > o.stopAt {
				if !out.touched[i] {
					out.touched[i] = true
					out.stop[i] = [laneSteps]row8{}
				}
				f, _ := o.stop.advance(w, s)
				out.stop[i][n][l] = num8(f)
				force += f
				c.inStop = c.inStop || s.energy != 0
			} else {
				*s = stopState{}
			}
			if w < o.topAt {
				if !out.opened[i] {
					out.opened[i] = true
					out.top[i] = [laneSteps]row8{}
				}
				pull, _ := o.top.at(w)
				out.top[i][n][l] = num8(pull)
				force -= pull
			}
			c.force[l] += num8(force)
		}
	}
}
