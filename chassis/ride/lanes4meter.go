//go:build goexperiment.simd && amd64

package ride

import (
	"math"

	"trunnion/chassis/comfort"
)

// sections4 is how many sections the filter of vertical acceleration has.
const sections4 = 4

// meter4 weighs the acceleration of one floor point of every lane: see comfort.Meter.
type meter4 struct {
	step, decay        float64
	b0, b1, b2, a1, a2 [sections4]row4
	s1, s2             [sections4]row4
	gain, decays       row4
	x, y               row4
	peak, rawTop       row4
	window, fresh      row4
	linear             row4
	slow, slowMost     row4
	sum2, sum4, raw2   [width4]float64
	count, at          int
	ring               []row4
	points             []string
}

// ready4 makes the meters of a convoy for a step; false where the filter is another than the lanes know.
func (g *convoy4) ready4(step float64) (bool, error) {
	f, err := comfort.NewFilter(comfort.Wk, step)
	if err != nil {
		return false, err
	}
	gain, sections := f.Coefficients()
	if len(sections) != sections4 {
		return false, nil
	}
	n := len(g.models[0].px)
	if len(g.floors) != n {
		g.floors = make([]meter4, n)
	}
	for k := range g.floors {
		ring := g.floors[k].ring
		if size := int(math.Round(comfort.RunningTime / step)); len(ring) != size {
			ring = make([]row4, size)
		}
		clear(ring)
		g.floors[k] = meter4{step: step, ring: ring}
		m := &g.floors[k]
		for j, s := range sections {
			for to, v := range map[*row4]float64{&m.b0[j]: s[0], &m.b1[j]: s[1], &m.b2[j]: s[2], &m.a1[j]: -s[3], &m.a2[j]: -s[4]} {
				fill4(to, v)
			}
		}
		fill4(&m.gain, gain)
		fill4(&m.decays, -math.Expm1(-step/comfort.RunningTime))
		for l, model := range g.models {
			m.x[l], m.y[l] = num4(model.px[k]), num4(model.py[k])
		}
	}
	return true, nil
}

// begin4 forgets the figures taken so far, as comfort.Meter.Begin.
func (m *meter4) begin4() {
	m.count = 0
	m.sum2, m.sum4, m.raw2 = [width4]float64{}, [width4]float64{}, [width4]float64{}
	m.peak, m.rawTop = row4{}, row4{}
	m.linear, m.slowMost = m.window, m.slow
}

// add4 takes a block.
func (m *meter4) add4(b *block4) {
	m.count += b.n
	var sum2, sum4, raw2 row4
	m.weigh4(b, &sum2, &sum4, &raw2)
	clearUpper4()
	for l := range sum2 {
		m.sum2[l] += float64(sum2[l])
		m.sum4[l] += float64(sum4[l])
		m.raw2[l] += float64(raw2[l])
	}
}

// section4 is one section of the filter: the weighted sample, and its two memories after it.
func section4(x, s1, s2 vec4, b0, b1, b2, a1, a2 *row4) (y, t1, t2 vec4) {
	y = load4(b0).MulAdd(x, s1)
	t1 = load4(a1).MulAdd(y, load4(b1).MulAdd(x, s2))
	t2 = load4(a2).MulAdd(y, load4(b2).Mul(x))
	return y, t1, t2
}

//go:noinline
func (m *meter4) weigh4(b *block4, sum2, sum4, raw2 *row4) {
	p0, q0, p1, q1 := load4(&m.s1[0]), load4(&m.s2[0]), load4(&m.s1[1]), load4(&m.s2[1])
	p2, q2, p3, q3 := load4(&m.s1[2]), load4(&m.s2[2]), load4(&m.s1[3]), load4(&m.s2[3])
	var squares, fourth, raw, zero vec4
	peak, top := load4(&m.peak), load4(&m.rawTop)
	heave, pitch, roll := b.heave[:b.n], b.pitch[:b.n], b.roll[:b.n]
	var weighted [laneSteps]row4
	for n := range heave {
		a := load4(&heave[n]).Sub(load4(&m.x).Mul(load4(&pitch[n]))).Add(load4(&m.y).Mul(load4(&roll[n])))
		raw = a.MulAdd(a, raw)
		top = top.Max(a.Max(zero.Sub(a)))
		x := a.Mul(load4(&m.gain))
		x, p0, q0 = section4(x, p0, q0, &m.b0[0], &m.b1[0], &m.b2[0], &m.a1[0], &m.a2[0])
		x, p1, q1 = section4(x, p1, q1, &m.b0[1], &m.b1[1], &m.b2[1], &m.a1[1], &m.a2[1])
		x, p2, q2 = section4(x, p2, q2, &m.b0[2], &m.b1[2], &m.b2[2], &m.a1[2], &m.a2[2])
		x, p3, q3 = section4(x, p3, q3, &m.b0[3], &m.b1[3], &m.b2[3], &m.a1[3], &m.a2[3])
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
	m.windows4(weighted[:b.n])
}

// windows4 keeps the running sums over the last second.
//
//go:noinline
func (m *meter4) windows4(squares []row4) {
	window, fresh, linear := load4(&m.window), load4(&m.fresh), load4(&m.linear)
	slow, most, decay := load4(&m.slow), load4(&m.slowMost), load4(&m.decays)
	at := m.at
	var zero vec4
	for n := range squares {
		s := load4(&squares[n])
		window = window.Add(s.Sub(load4(&m.ring[at])))
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

// result4 are the figures of one lane.
func (m *meter4) result4(l int) (comfort.Summary, error) {
	s := comfort.Sums{
		Count: m.count, Sum2: m.sum2[l], Sum4: m.sum4[l], Peak: float64(m.peak[l]), Raw2: m.raw2[l], RawTop: float64(m.rawTop[l]),
		Window: float64(m.linear[l]), Spread: float64(m.slowMost[l]),
	}
	return s.Summary(m.step)
}
