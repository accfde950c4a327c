//go:build goexperiment.simd && amd64

package ride

import "math"

// corner4 is one corner of as many cars as there are lanes: what the loop needs of cornerModel and coordinate, side by
// side.
type corner4 struct {
	x, y, pitch, roll                     row4
	rest, defl, rate, rim, rimRate        row4
	mass, supple, mount, stopAt, topAt    row4
	q, v, a1, a2, ahead, squeeze          row4
	force, travel, load, speeds, ratio    row4
	damp, slopes, yield, push, correction row4
	position                              [width4]*positions4
	damper, inverse                       [width4]*logs4
	mounted                               bool
	inStop                                bool // a stop remembers something in one of the lanes
}

// body4 is the bodies of those cars, and the numbers that do not change.
type body4 struct {
	z, p, r                                        freedom4
	zx, vx, ex, er                                 row4
	invM, armR, armP, toppleR, toppleP             row4
	bar, free                                      [2]row4
	zs, vs, ez, ep                                 row4 // of the bodies' centres, kept from the front axle for the rear
	h, half, h3, h12, kv, kq, ku                   row4
	gravity, one, point5, low, perStep, rows, unit row4
	offset, most, sign, octave, first, shift, side row4
	at                                             [width4]bits4
	row                                            [width4]int32
}

// freedom4 is one freedom of the bodies.
type freedom4 struct{ q, v, a1, a2, ahead, a row4 }

// block4 is what the steps leave for the metrics.
type block4 struct {
	n                                       int
	travel, speed, damper, load, force      [4][laneSteps]row4
	stop, top                               [4][laneSteps]row4
	heave, pitch, roll, bodyZ, bodyP, bodyR [laneSteps]row4
	road                                    [4][laneSteps]row4
	touched, opened                         [4]bool
}

func fill4(r *row4, x float64) {
	for l := range r {
		r[l] = num4(x)
	}
}

// first4 is the part of a step before the accelerations are there, of one corner: see Model.advance. It returns the lanes in
// which a stop, a top-out or the end of the table is reached.
//
//go:noinline
func (c *corner4) first4(b *body4, road *row4) uint8 {
	one, q := load4(&b.one), load4(&c.q)
	var zero vec4
	y := load4(&c.y)
	w := load4(&c.rest).Add(q).Sub(y.MulAdd(load4(&b.r.q), load4(&b.zx)))
	speed := load4(&c.ahead).Sub(y.MulAdd(load4(&b.r.ahead), load4(&b.vx)))
	w.Store(&c.travel)
	speed.Store(&c.speeds)
	u := w.Add(load4(&b.low)).Mul(load4(&b.perStep))
	far := u.Sub(u.Trunc().Max(zero).Min(load4(&b.rows))) // past the table's ends this is not 0 to 1
	f, rt := c.positionAt4(b, u.Max(zero).Min(load4(&b.rows)))
	vd := rt.Mul(speed)
	var d, g vec4
	if !c.mounted {
		d, g = logAt4(&c.damper, b, vd)
	} else {
		km, x := load4(&c.mount), load4(&c.squeeze)
		slip, rise := logAt4(&c.inverse, b, km.Mul(x).Mul(load4(&b.unit)))
		half := load4(&b.half)
		den := half.Div(one.Add(km.Mul(half).Mul(load4(&b.unit)).Mul(rise)))
		by := vd.Sub(slip).Mul(den) // dx/2
		d, g = km.Mul(x.Add(by)), km.Mul(den)
		x.Add(by.Add(by)).Store(&c.squeeze)
	}
	grr := g.Mul(rt).Mul(rt)
	yield := one.Div(grr.MulAdd(load4(&c.supple), one))
	d.Store(&c.damp)
	rt.Store(&c.ratio)
	g.Mul(rt).Store(&c.slopes)
	yield.Store(&c.yield)
	grr.Mul(yield).Store(&c.push)
	rt.MulAdd(d, f).Store(&c.force)
	defl := load4(&c.defl).Add(load4(road)).Sub(q)
	l := load4(&c.rate).Mul(defl)
	l = load4(&c.rimRate).MulAdd(defl.Sub(load4(&c.rim)).Max(zero), l)
	l.Max(zero).Store(&c.load)
	return w.Greater(load4(&c.stopAt)).Or(w.Less(load4(&c.topAt))).Or(far.Less(zero)).Or(far.Greater(one)).ToBits()
}

// second4 is the rest of it: the damper's correction, the step of the wheel, and what the metrics look at.
//
//go:noinline
func (c *corner4) second4(b *body4, out *block4, i, n int) {
	a1, a2, inv := load4(&c.a1), load4(&c.a2), load4(&c.mass)
	past := a2.Sub(a1.Add(a1))
	force, l := load4(&c.force), load4(&c.load)
	a := l.Sub(force).Mul(inv)
	h3 := load4(&b.h3)
	e := h3.Mul(a.Add(past)).Sub(load4(&c.y).MulAdd(load4(&b.er), load4(&b.ex)))
	df := e.Mul(load4(&c.push))
	df.Store(&c.correction)
	a = a.Sub(load4(&b.gravity)).Sub(df.Mul(inv))
	delta := e.Mul(load4(&c.yield))
	d := load4(&c.slopes).MulAdd(delta, load4(&c.damp))
	d.Store(&out.damper[i][n])
	var v vec4
	if !c.mounted {
		v = load4(&c.ratio).Mul(load4(&c.speeds).Add(delta))
	} else {
		v, _ = logAt4(&c.inverse, b, d.Mul(load4(&b.unit)))
	}
	v.Store(&out.speed[i][n])
	load4(&c.travel).Store(&out.travel[i][n])
	l.Store(&out.load[i][n])
	force.Add(df).Store(&out.force[i][n])
	w := load4(&b.h12).MulAdd(past, load4(&c.v))
	load4(&b.ku).MulAdd(a, w.Sub(h3.Mul(a1))).Store(&c.ahead)
	w = load4(&b.kv).MulAdd(a, w)
	w.Store(&c.v)
	load4(&b.h).MulAdd(w, load4(&c.q)).Store(&c.q)
	a1.Store(&c.a2)
	a.Store(&c.a1)
}

// step4 moves a freedom of the bodies on by its acceleration.
func (f *freedom4) step4(b *body4, a vec4) {
	a1, a2 := load4(&f.a1), load4(&f.a2)
	v := load4(&b.h12).MulAdd(a2.Sub(a1.Add(a1)), load4(&f.v))
	load4(&b.ku).MulAdd(a, v.Sub(load4(&b.h3).Mul(a1))).Store(&f.ahead)
	load4(&b.kq).MulAdd(a, load4(&b.h).MulAdd(v, load4(&f.q))).Store(&f.q)
	load4(&b.kv).MulAdd(a, v).Store(&f.v)
	a1.Store(&f.a2)
	a.Store(&f.a1)
}

// convoy4 is a group of cars on its way.
type convoy4 struct {
	corner [4]corner4
	body   body4
	block  block4
	models [width4]*Model
	stops  [width4][4]stopState
	tally  [4]tally4
	ledger [4]ledger4
	floors []meter4
	sink   [width4]float64
}

// begin4 puts the cars to rest.
func (g *convoy4) begin4(h float64) {
	b := &g.body
	for i := range g.corner {
		c := &g.corner[i]
		*c = corner4{mounted: g.models[0].corner[i].mount > 0}
		for l, m := range g.models {
			o := &m.corner[i]
			c.x[l], c.y[l], c.pitch[l], c.roll[l] = num4(o.x), num4(o.y), num4(o.pitch), num4(o.roll)
			c.rest[l], c.defl[l], c.rate[l] = num4(o.restTravel), num4(o.restDeflection), num4(o.rate)
			c.rim[l], c.rimRate[l] = num4(math.Min(o.rim, 10)), num4(o.rimRate)
			c.mass[l], c.supple[l], c.mount[l] = num4(o.invMass), num4(h/3*o.mobility), num4(o.mount)
			c.stopAt[l], c.topAt[l] = num4(math.Min(o.stopAt, 10)), num4(math.Max(o.topAt, -10))
			c.position[l] = m.positions4(i)
			c.damper[l], c.inverse[l] = m.logs4(i)
			g.stops[l][i] = o.stopRest
			c.inStop = c.inStop || o.stopRest.energy != 0
		}
	}
	*b = body4{}
	for l, m := range g.models {
		b.invM[l], b.armR[l], b.armP[l] = num4(m.invMass), num4(m.arm[0]), num4(m.arm[1])
		b.toppleR[l], b.toppleP[l] = num4(m.arm[0]*m.invRoll), num4(m.arm[1]*m.invPitch)
		for a := range 2 {
			b.bar[a][l], b.free[a][l] = num4(m.bars[a]), num4(m.barFree[a])
		}
		b.gravity[l] = num4(m.gravity)
	}
	fill4(&b.h, h)
	fill4(&b.half, h/2)
	fill4(&b.h3, h/3)
	fill4(&b.h12, h/12)
	fill4(&b.kv, 13*h/12)
	fill4(&b.kq, 13*h/12*h)
	fill4(&b.ku, 13*h/12+h*5/6)
	fill4(&b.one, 1)
	fill4(&b.point5, 0.5)
	fill4(&b.sign, math.Copysign(0, -1))
	b.masks4()
	fill4(&b.low, -positionLow)
	fill4(&b.perStep, 1/positionStep)
	fill4(&b.rows, positionRows-0.001)
	fill4(&b.unit, 1/forceUnit)
	fill4(&b.offset, logOffset)
	fill4(&b.most, 400)
	g.sink = [width4]float64{}
}

// advance4 takes the steps of a block, whose roads are in it: Model.advance for every lane.
func (g *convoy4) advance4(n0 int) {
	b, out := &g.body, &g.block
	out.touched, out.opened = [4]bool{}, [4]bool{}
	for n := range n0 {
		g.bodies4()
		var limited uint8
		for i := range g.corner {
			if i == 2 {
				g.axle4(2)
			}
			c := &g.corner[i]
			limited |= c.first4(b, &out.road[i][n])
			if c.inStop {
				limited |= 1
			}
		}
		if limited != 0 {
			g.limit4(n)
		}
		g.sums4()
		for i := range g.corner {
			if i == 2 {
				g.axleMiss4(2)
			}
			g.corner[i].second4(b, out, i, n)
		}
		g.move4(n)
	}
	out.n = n0
	clearUpper4()
}

// bodies4 lays the bodies' height and speed over the front axle out for its corners; the sinking of their centres is in.
//
//go:noinline
func (g *convoy4) bodies4() {
	b := &g.body
	q, r := load4(&b.p.q), load4(&b.r.q)
	leanR, leanP := load4(&b.armR).Mul(r), load4(&b.armP).Mul(q)
	half := load4(&b.point5)
	zs := load4(&b.z.q).Add(leanR.Mul(r).Add(leanP.Mul(q)).Mul(half))
	vs := load4(&b.z.ahead).Add(leanR.Mul(load4(&b.r.ahead)).Add(leanP.Mul(load4(&b.p.ahead))))
	zs.Store(&b.zs)
	vs.Store(&b.vs)
	x := load4(&g.corner[0].x)
	zs.Sub(x.Mul(q)).Store(&b.zx)
	vs.Sub(x.Mul(load4(&b.p.ahead))).Store(&b.vx)
}

//go:noinline
func (g *convoy4) axle4(i int) {
	b := &g.body
	x := load4(&g.corner[i].x)
	load4(&b.zs).Sub(x.Mul(load4(&b.p.q))).Store(&b.zx)
	load4(&b.vs).Sub(x.Mul(load4(&b.p.ahead))).Store(&b.vx)
}

// sums4 adds the bars, sums the forces on the bodies and says by how much the foretold speeds miss.
//
//go:noinline
func (g *convoy4) sums4() {
	b := &g.body
	var f [4]vec4
	for a := range 2 {
		l, r := &g.corner[2*a], &g.corner[2*a+1]
		bar := load4(&b.bar[a]).Mul(load4(&l.travel).Sub(load4(&r.travel)).Sub(load4(&b.free[a])))
		f[2*a], f[2*a+1] = load4(&l.force).Add(bar), load4(&r.force).Sub(bar)
		f[2*a].Store(&l.force)
		f[2*a+1].Store(&r.force)
	}
	front, rear := f[0].Add(f[1]), f[2].Add(f[3])
	whole := front.Add(rear)
	az := whole.Mul(load4(&b.invM))
	ap := load4(&b.toppleP).Mul(load4(&b.p.q)).Mul(whole).Sub(load4(&g.corner[0].pitch).Mul(front).Add(load4(&g.corner[2].pitch).Mul(rear)))
	ar := load4(&b.toppleR).Mul(load4(&b.r.q)).Mul(whole)
	for i := range f {
		ar = load4(&g.corner[i].roll).MulAdd(f[i], ar)
	}
	h3 := load4(&b.h3)
	miss := func(f *freedom4, a vec4) vec4 {
		a1 := load4(&f.a1)
		return h3.Mul(a.Add(load4(&f.a2).Sub(a1.Add(a1))))
	}
	ez, ep, er := miss(&b.z, az), miss(&b.p, ap), miss(&b.r, ar)
	er.Store(&b.er)
	ez.Sub(load4(&g.corner[0].x).Mul(ep)).Store(&b.ex)
	ez.Store(&b.ez)
	ep.Store(&b.ep)
	az.Store(&b.z.a)
	ap.Store(&b.p.a)
	ar.Store(&b.r.a)
}

//go:noinline
func (g *convoy4) axleMiss4(i int) {
	b := &g.body
	load4(&b.ez).Sub(load4(&g.corner[i].x).Mul(load4(&b.ep))).Store(&b.ex)
}

// move4 takes the corrections into the accelerations of the bodies and moves them on.
//
//go:noinline
func (g *convoy4) move4(n int) {
	b, out := &g.body, &g.block
	var d [4]vec4
	for i := range d {
		d[i] = load4(&g.corner[i].correction)
	}
	front, rear := d[0].Add(d[1]), d[2].Add(d[3])
	az := load4(&b.z.a).Sub(load4(&b.gravity)).Add(front.Add(rear).Mul(load4(&b.invM)))
	ap := load4(&b.p.a).Sub(load4(&g.corner[0].pitch).Mul(front).Add(load4(&g.corner[2].pitch).Mul(rear)))
	ar := load4(&b.r.a)
	for i := range d {
		ar = load4(&g.corner[i].roll).MulAdd(d[i], ar)
	}
	az.Store(&out.heave[n])
	ap.Store(&out.pitch[n])
	ar.Store(&out.roll[n])
	load4(&b.z.q).Store(&out.bodyZ[n])
	load4(&b.p.q).Store(&out.bodyP[n])
	load4(&b.r.q).Store(&out.bodyR[n])
	b.z.step4(b, az)
	b.p.step4(b, ap)
	b.r.step4(b, ar)
}

// limit4 adds what stops and top-outs push, and mends what lies past a table's end, lane by lane: as Model.limit.
//
//go:noinline
func (g *convoy4) limit4(n int) {
	clearUpper4()
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
				c.force[l] = num4(f) + c.ratio[l]*c.damp[l]
			}
			if w > o.stopAt {
				if !out.touched[i] {
					out.touched[i] = true
					out.stop[i] = [laneSteps]row4{}
				}
				f, _ := o.stop.advance(w, s)
				out.stop[i][n][l] = num4(f)
				force += f
				c.inStop = c.inStop || s.energy != 0
			} else {
				*s = stopState{}
			}
			if w < o.topAt {
				if !out.opened[i] {
					out.opened[i] = true
					out.top[i] = [laneSteps]row4{}
				}
				pull, _ := o.top.at(w)
				out.top[i][n][l] = num4(pull)
				force -= pull
			}
			c.force[l] += num4(force)
		}
	}
}
