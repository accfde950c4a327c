// Code generated from lanes4metrics.go by go test -run EightLanes -update. DO NOT EDIT.

//go:build goexperiment.simd && amd64

package ride

import "math"

// tally8 gathers the figures of one corner of every lane: see tally. Sums are kept to the full length and get what a block
// has added up.
type tally8 struct {
	one                                              [width8]tally
	static, low, rimLoad, restTravel                 row8
	loadMax, loadMin, travelMax, travelMin           row8
	speedMax, speedMin, forceMax, forceMin           row8
	slowest, quickest                                row8
	bounds                                           [maxLevels]row8
	travelShift, travelScale, speedShift, speedScale row8
}

// ledger8 is the energy account of one corner of every lane: see ledger.
type ledger8 struct {
	load, road, power           row8
	work, through, heat         [width8]float64
	stops, lastStop, lastTravel [width8]float64
}

func (g *convoy8) beginTally8(runs *[width8]*Run, results *[width8]*Result) {
	inf := num8(math.Inf(1))
	for i := range g.tally {
		t, d := &g.tally[i], &g.ledger[i]
		*t, *d = tally8{}, ledger8{}
		for l, m := range g.models {
			c := &m.corner[i]
			t.one[l].begin()
			t.static[l], t.low[l], t.rimLoad[l] = num8(m.rest.TyreLoad[i]), num8(0.2*m.rest.TyreLoad[i]), num8(c.rate*math.Min(c.rim, 10))
			t.restTravel[l] = num8(c.restTravel)
			t.loadMax[l], t.loadMin[l], t.travelMax[l], t.travelMin[l] = -inf, inf, -inf, inf
			t.speedMax[l], t.speedMin[l], t.forceMax[l], t.forceMin[l] = -inf, inf, -inf, inf
			t.slowest[l], t.quickest[l] = -inf, inf
			if c.input.DynoMax > c.input.DynoMin {
				t.slowest[l], t.quickest[l] = num8(c.input.DynoMin), num8(c.input.DynoMax)
			}
			for k, bound := range runs[l].DamperBounds {
				t.bounds[k][l] = num8(bound)
			}
			d.lastTravel[l], d.load[l] = c.restTravel, num8(m.rest.TyreLoad[i])
			d.lastStop[l], _ = c.stop.frozen(c.restTravel, c.stopRest.phi)
			out := &results[l].Corners[i]
			out.StopLost, out.Power = 0, 0
			out.travels, out.speeds = [travelBins]uint32{}, [speedBins]uint32{}
		}
		fill8(&t.travelShift, travelBins/2*travelBin)
		fill8(&t.travelScale, 1/travelBin)
		fill8(&t.speedShift, speedBins/2*speedBin)
		fill8(&t.speedScale, 1/speedBin)
	}
}

// sums8 returns sum and sum of squares of x less zero.
//
//go:noinline
func sums8(x []row8, zero, sum, sum2 *row8) {
	z := load8(zero)
	var s0, s1, q0, q1 vec8
	k := 0
	for ; k+1 < len(x); k += 2 {
		a, b := load8(&x[k]).Sub(z), load8(&x[k+1]).Sub(z)
		s0, s1 = s0.Add(a), s1.Add(b)
		q0, q1 = a.MulAdd(a, q0), b.MulAdd(b, q1)
	}
	if k < len(x) {
		a := load8(&x[k]).Sub(z)
		s0, q0 = s0.Add(a), a.MulAdd(a, q0)
	}
	s0.Add(s1).Store(sum)
	q0.Add(q1).Store(sum2)
	clearUpper8()
}

// stretch8 widens most and least to x and returns what x alone reaches.
//
//go:noinline
func stretch8(x []row8, most, least, high, low *row8) {
	h := load8(&x[0])
	l := h
	for k := 1; k < len(x); k++ {
		v := load8(&x[k])
		h, l = h.Max(v), l.Min(v)
	}
	h.Store(high)
	l.Store(low)
	load8(most).Max(h).Store(most)
	load8(least).Min(l).Store(least)
	clearUpper8()
}

// above8 counts, in every second step, how often the size of x is over a bound.
//
//go:noinline
func above8(x []row8, bound, unit, count *row8) {
	b, one := load8(bound), load8(unit)
	var n, zero vec8
	for k := 0; k < len(x); k += 2 {
		v := load8(&x[k])
		n = n.Add(one.Masked(v.Max(zero.Sub(v)).Greater(b)))
	}
	n.Store(count)
	clearUpper8()
}

// add8 takes one block of one corner into the tallies.
func (t *tally8) add8(g *convoy8, i int, runs *[width8]*Run, results *[width8]*Result) {
	b := &g.block
	n := b.n
	load, travel, speed := b.load[i][:n], b.travel[i][:n], b.speed[i][:n]
	var sum, sum2, high, low row8
	put := func(f func(o *tally) (s, s2 *float64)) {
		for l := range t.one {
			s, s2 := f(&t.one[l])
			if s != nil {
				*s += float64(sum[l])
			}
			*s2 += float64(sum2[l])
		}
	}
	sums8(load, &t.static, &sum, &sum2)
	put(func(o *tally) (s, s2 *float64) { return &o.load, &o.load2 })
	stretch8(load, &t.loadMax, &t.loadMin, &high, &low)
	for l := range t.one {
		o := &t.one[l]
		o.count += n
		o.sampled += (n + 1) / 2
		if low[l] < t.low[l] || high[l] > t.rimLoad[l] {
			for k := range load {
				v := load[k][l]
				if v < t.low[l] {
					o.low++
					if v <= 0 {
						o.lift++
					}
				}
				if v > t.rimLoad[l] {
					o.rim++
				}
			}
		}
	}
	sums8(travel, &t.restTravel, &sum, &sum2)
	put(func(o *tally) (s, s2 *float64) { return &o.travel, &o.travel2 })
	stretch8(travel, &t.travelMax, &t.travelMin, &high, &low)
	for l := range t.one {
		if high[l] > -positionLow || low[l] < positionLow {
			for k := range travel {
				if math.Abs(float64(travel[k][l])) > -positionLow {
					t.one[l].outside++
				}
			}
		}
	}
	var none row8
	sums8(speed, &none, &sum, &sum2)
	put(func(o *tally) (s, s2 *float64) { return nil, &o.speed2 })
	stretch8(speed, &t.speedMax, &t.speedMin, &high, &low)
	for l := range t.one {
		if high[l] > t.quickest[l] || low[l] < t.slowest[l] {
			for k := range speed {
				if v := speed[k][l]; v > t.quickest[l] || v < t.slowest[l] {
					t.one[l].dynoOut++
				}
			}
		}
	}
	var at [laneSteps][width8]int32
	bins8(travel, &t.travelShift, &t.travelScale, &at)
	for k := 0; k < n; k += 2 {
		for l := range results {
			results[l].Corners[i].travels[uint32(at[k][l])%travelBins]++
		}
	}
	bins8(speed, &t.speedShift, &t.speedScale, &at)
	for k := 0; k < n; k += 2 {
		for l := range results {
			results[l].Corners[i].speeds[uint32(at[k][l])%speedBins]++
		}
	}
	for k := range runs[0].DamperBounds {
		above8(speed, &t.bounds[k], &g.body.one, &sum)
		for l := range t.one {
			t.one[l].shares[k] += int(sum[l])
		}
	}
	stretch8(b.force[i][:n], &t.forceMax, &t.forceMin, &high, &low)
	var side, other, third [laneSteps]float64
	for l, m := range g.models {
		o, c := &t.one[l], &m.corner[i]
		if b.touched[i] {
			for k := range n {
				side[k], other[k] = float64(b.stop[i][k][l]), float64(travel[k][l])
			}
			o.addStop(c, side[:n], other[:n], runs[l])
		} else {
			o.was = [maxLevels]bool{}
		}
		if b.opened[i] {
			for k := range n {
				side[k], other[k], third[k] = float64(b.top[i][k][l]), float64(travel[k][l]), float64(speed[k][l])
			}
			o.addTop(c, side[:n], other[:n], third[:n])
		} else {
			o.opened = false
		}
	}
}

// balance8 carries the energy account over one block.
//
//go:noinline
func (d *ledger8) balance8(b *block8, i int, h float64) {
	n := b.n
	var work, heat, through row8
	d.flow8(b, i, &work, &heat, &through)
	clearUpper8()
	for l := range work {
		d.work[l] += float64(work[l]) / 2
		d.heat[l] += float64(heat[l]) / 2 * h
		d.through[l] += float64(through[l]) / 2
	}
	travel := &b.travel[i]
	for l := range d.stops {
		if b.touched[i] {
			for k := range n {
				f, w := float64(b.stop[i][k][l]), float64(travel[k][l])
				d.stops[l] += (f + d.lastStop[l]) / 2 * (w - d.lastTravel[l])
				d.lastStop[l], d.lastTravel[l] = f, w
			}
			continue
		}
		if d.lastStop[l] != 0 {
			d.stops[l] += d.lastStop[l] / 2 * (float64(travel[0][l]) - d.lastTravel[l])
			d.lastStop[l] = 0
		}
		d.lastTravel[l] = float64(travel[n-1][l])
	}
}

//go:noinline
func (d *ledger8) flow8(b *block8, i int, work, heat, through *row8) {
	lastLoad, lastRoad, lastPower := load8(&d.load), load8(&d.road), load8(&d.power)
	var w, q, t vec8
	var zero vec8
	load, road, damper, speed := b.load[i][:b.n], b.road[i][:b.n], b.damper[i][:b.n], b.speed[i][:b.n]
	for k := range load {
		l, z := load8(&load[k]), load8(&road[k])
		dw := l.Add(lastLoad).Mul(z.Sub(lastRoad))
		w, t = w.Add(dw), t.Add(dw.Max(zero.Sub(dw)))
		p := load8(&damper[k]).Mul(load8(&speed[k]))
		q = q.Add(p.Add(lastPower))
		lastLoad, lastRoad, lastPower = l, z, p
	}
	lastLoad.Store(&d.load)
	lastRoad.Store(&d.road)
	lastPower.Store(&d.power)
	w.Store(work)
	q.Store(heat)
	t.Store(through)
}

// close8 puts the extremes into the lanes' own tallies, for tally.close.
func (t *tally8) close8(l int) *tally {
	o := &t.one[l]
	o.loadMax, o.loadMin = float64(t.loadMax[l]), float64(t.loadMin[l])
	o.travelMax, o.travelMin = float64(t.travelMax[l]), float64(t.travelMin[l])
	o.speedMax, o.speedMin = float64(t.speedMax[l]), float64(t.speedMin[l])
	o.forceMax, o.forceMin = float64(t.forceMax[l]), float64(t.forceMin[l])
	return o
}
