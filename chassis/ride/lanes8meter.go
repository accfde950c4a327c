// Code generated from lanes4meter.go by go test -run EightLanes -update. DO NOT EDIT.

//go:build goexperiment.simd && amd64

package ride

import (
	"math"

	"trunnion/chassis/comfort"
)

// sections8 is how many sections the filter of vertical acceleration has.
const sections8 = 4

// meter8 weighs the acceleration of one floor point of every lane: see comfort.Meter.
type meter8 struct {
	step, decay        float64
	b0, b1, b2, a1, a2 [sections8]row8
	s1, s2             [sections8]row8
	gain, decays       row8
	x, y               row8
	peak, rawTop       row8
	window, fresh      row8
	linear             row8
	slow, slowMost     row8
	sum2, sum4, raw2   [width8]float64
	count, at          int
	ring               []row8
	points             []string
}

// ready8 makes the meters of a convoy for a step; false where the filter is another than the lanes know.
func (g *convoy8) ready8(step float64) (bool, error) {
	f, err := comfort.NewFilter(comfort.Wk, step)
	if err != nil {
		return false, err
	}
	gain, sections := f.Coefficients()
	if len(sections) != sections8 {
		return false, nil
	}
	n := len(g.models[0].px)
	if len(g.floors) != n {
		g.floors = make([]meter8, n)
	}
	for k := range g.floors {
		ring := g.floors[k].ring
		if size := int(math.Round(comfort.RunningTime / step)); len(ring) != size {
			ring = make([]row8, size)
		}
		clear(ring)
		g.floors[k] = meter8{step: step, ring: ring}
		m := &g.floors[k]
		for j, s := range sections {
			for to, v := range map[*row8]float64{&m.b0[j]: s[0], &m.b1[j]: s[1], &m.b2[j]: s[2], &m.a1[j]: -s[3], &m.a2[j]: -s[4]} {
				fill8(to, v)
			}
		}
		fill8(&m.gain, gain)
		fill8(&m.decays, -math.Expm1(-step/comfort.RunningTime))
		for l, model := range g.models {
			m.x[l], m.y[l] = num8(model.px[k]), num8(model.py[k])
		}
	}
	return true, nil
}

// begin8 forgets the figures taken so far, as comfort.Meter.Begin.
func (m *meter8) begin8() {
	m.count = 0
	m.sum2, m.sum4, m.raw2 = [width8]float64{}, [width8]float64{}, [width8]float64{}
	m.peak, m.rawTop = row8{}, row8{}
	m.linear, m.slowMost = m.window, m.slow
}

// add8 takes a block.
func (m *meter8) add8(b *block8) {
	m.count += b.n
	var sum2, sum4, raw2 row8
	m.weigh8(b, &sum2, &sum4, &raw2)
	clearUpper8()
	for l := range sum2 {
		m.sum2[l] += float64(sum2[l])
		m.sum4[l] += float64(sum4[l])
		m.raw2[l] += float64(raw2[l])
	}
}

// section8 is one section of the filter: the weighted sample, and its two memories after it.
func section8(x, s1, s2 vec8, b0, b1, b2, a1, a2 *row8) (y, t1, t2 vec8) {
	y = load8(b0).MulAdd(x, s1)
	t1 = load8(a1).MulAdd(y, load8(b1).MulAdd(x, s2))
	t2 = load8(a2).MulAdd(y, load8(b2).Mul(x))
	return y, t1, t2
}

//go:noinline
func (m *meter8) weigh8(b *block8, sum2, sum4, raw2 *row8) {
	p0, q0, p1, q1 := load8(&m.s1[0]), load8(&m.s2[0]), load8(&m.s1[1]), load8(&m.s2[1])
	p2, q2, p3, q3 := load8(&m.s1[2]), load8(&m.s2[2]), load8(&m.s1[3]), load8(&m.s2[3])
	var squares, fourth, raw, zero vec8
	peak, top := load8(&m.peak), load8(&m.rawTop)
	heave, pitch, roll := b.heave[:b.n], b.pitch[:b.n], b.roll[:b.n]
	var weighted [laneSteps]row8
	for n := range heave {
		a := load8(&heave[n]).Sub(load8(&m.x).Mul(load8(&pitch[n]))).Add(load8(&m.y).Mul(load8(&roll[n])))
		raw = a.MulAdd(a, raw)
		top = top.Max(a.Max(zero.Sub(a)))
		x := a.Mul(load8(&m.gain))
		x, p0, q0 = section8(x, p0, q0, &m.b0[0], &m.b1[0], &m.b2[0], &m.a1[0], &m.a2[0])
		x, p1, q1 = section8(x, p1, q1, &m.b0[1], &m.b1[1], &m.b2[1], &m.a1[1], &m.a2[1])
		x, p2, q2 = section8(x, p2, q2, &m.b0[2], &m.b1[2], &m.b2[2], &m.a1[2], &m.a2[2])
		x, p3, q3 = section8(x, p3, q3, &m.b0[3], &m.b1[3], &m.b2[3], &m.a1[3], &m.a2[3])
		peak = peak.Max(x.Max(zero.Sub(x)))
		s := x.Mul(x)
		s.Store(&weighted[n])
		squares = squares.Add(s)
		fourth = s.MulAdd(s, fourth)
	}
	p0.Store(&m.s1[0])
	q0.Store(&m.s2[0])
	p1.Store(&m.s1[1])
	q1.Store(&m.s2[1])
	p2.Store(&m.s1[2])
	q2.Store(&m.s2[2])
	p3.Store(&m.s1[3])
	q3.Store(&m.s2[3])
	peak.Store(&m.peak)
	top.Store(&m.rawTop)
	squares.Store(sum2)
	fourth.Store(sum4)
	raw.Store(raw2)
	m.windows8(weighted[:b.n])
}

// windows8 keeps the running sums over the last second.
//
//go:noinline
func (m *meter8) windows8(squares []row8) {
	window, fresh, linear := load8(&m.window), load8(&m.fresh), load8(&m.linear)
	slow, most, decay := load8(&m.slow), load8(&m.slowMost), load8(&m.decays)
	at := m.at
	var zero vec8
	for n := range squares {
		s := load8(&squares[n])
		window = window.Add(s.Sub(load8(&m.ring[at])))
		s.Store(&m.ring[at])
		fresh = fresh.Add(s)
		if at++; at == len(m.ring) {
			at = 0
			window, fresh = fresh, zero
		}
		linear = linear.Max(window)
		slow = s.Sub(slow).MulAdd(decay, slow)
		most = most.Max(slow)
	}
	m.at = at
	window.Store(&m.window)
	fresh.Store(&m.fresh)
	linear.Store(&m.linear)
	slow.Store(&m.slow)
	most.Store(&m.slowMost)
}

// result8 are the figures of one lane.
func (m *meter8) result8(l int) (comfort.Summary, error) {
	s := comfort.Sums{
		Count: m.count, Sum2: m.sum2[l], Sum4: m.sum4[l], Peak: float64(m.peak[l]), Raw2: m.raw2[l], RawTop: float64(m.rawTop[l]),
		Window: float64(m.linear[l]), Spread: float64(m.slowMost[l]),
	}
	return s.Summary(m.step)
}
