package ride

import (
	"math"

	"trunnion/chassis/comfort"
)

// tally gathers the figures of one corner while the run goes on.
type tally struct {
	count, sampled         int
	load, load2            float64
	loadMax, loadMin       float64
	low, lift              int
	travel, travel2        float64
	travelMax, travelMin   float64
	speed2                 float64
	speedMax, speedMin     float64
	damperMax, damperMin   float64
	work                   float64
	forceMax, forceMin     float64
	inStop, outside, metal int
	rim                    int
	stopPeak               float64
	deepest                float64
	above                  [maxLevels]int
	hits                   [maxLevels]int
	was                    [maxLevels]bool
	shares                 [maxLevels]int
	dynoOut                int
	topOuts                int
	opened                 bool
	topSpeed, topForce     float64
}

// maxLevels bounds the settable forces of stops and speeds of dampers, so that the tallies need no memory of their own.
const maxLevels = 8

// account is the running energy account; it starts with the run, not with the statistics.
type account struct {
	road, through float64
	corner        [4]ledger
}

// ledger is one corner's part of the account.
type ledger struct {
	stop, travel, power, load, road float64 // at the last step
	stops                           float64 // gone into the stop so far [J]
	heat                            float64 // taken by damper and friction so far [J]
}

func (t *tally) begin() {
	t.loadMax, t.loadMin = math.Inf(-1), math.Inf(1)
	t.travelMax, t.travelMin = math.Inf(-1), math.Inf(1)
	t.speedMax, t.speedMin = math.Inf(-1), math.Inf(1)
	t.forceMax, t.forceMin = math.Inf(-1), math.Inf(1)
	t.deepest = math.Inf(-1)
}

// sums returns the sum and the sum of squares of x − zero; four lanes, so that the adds do not wait for each other.
func sums(x []float64, zero float64) (sum, sum2 float64) {
	var s0, s1, s2, s3, q0, q1, q2, q3 float64
	for len(x) >= 4 {
		v := (*[4]float64)(x)
		a, b, c, d := v[0]-zero, v[1]-zero, v[2]-zero, v[3]-zero
		s0 += a
		s1 += b
		s2 += c
		s3 += d
		q0 += a * a
		q1 += b * b
		q2 += c * c
		q3 += d * d
		x = x[4:]
	}
	for _, a := range x {
		a -= zero
		s0 += a
		q0 += a * a
	}
	return (s0 + s1) + (s2 + s3), (q0 + q1) + (q2 + q3)
}

// squares returns the sum of squares.
func squares(x []float64) float64 {
	var q0, q1, q2, q3 float64
	for len(x) >= 4 {
		v := (*[4]float64)(x)
		q0 += v[0] * v[0]
		q1 += v[1] * v[1]
		q2 += v[2] * v[2]
		q3 += v[3] * v[3]
		x = x[4:]
	}
	for _, a := range x {
		q0 += a * a
	}
	return (q0 + q1) + (q2 + q3)
}

// beyond says whether any x is above hi or below lo. Asked with what a run has reached already, the answer is hardly ever
// yes, so that this is all that most blocks cost.
func beyond(x []float64, hi, lo float64) bool {
	for len(x) >= 4 {
		v := (*[4]float64)(x)
		if v[0] > hi || v[0] < lo || v[1] > hi || v[1] < lo || v[2] > hi || v[2] < lo || v[3] > hi || v[3] < lo {
			return true
		}
		x = x[4:]
	}
	for _, a := range x {
		if a > hi || a < lo {
			return true
		}
	}
	return false
}

// stretch widens most and least to x.
func stretch(x []float64, most, least *float64) {
	hi, lo := *most, *least
	for _, a := range x {
		if a > hi {
			hi = a
		}
		if a < lo {
			lo = a
		}
	}
	*most, *least = hi, lo
}

// add takes one block of one corner into the tally.
func (t *tally) add(m *Model, i int, b *block, r *Run, out *CornerResult) {
	c := &m.corner[i]
	n := b.n
	load, travel, speed := b.load[i][:n], b.travel[i][:n], b.speed[i][:n]
	t.count += n

	sum, sum2 := sums(load, m.rest.TyreLoad[i])
	t.load += sum
	t.load2 += sum2
	// Low loads and the rim are looked for only in blocks that hold some.
	low, rim := 0.2*m.rest.TyreLoad[i], c.rate*c.rim
	if beyond(load, math.Min(t.loadMax, rim), math.Max(t.loadMin, low)) {
		stretch(load, &t.loadMax, &t.loadMin)
		for _, l := range load {
			if l < low {
				t.low++
				if l <= 0 {
					t.lift++
				}
			}
			if l > rim {
				t.rim++
			}
		}
	}

	sum, sum2 = sums(travel, c.restTravel)
	t.travel += sum
	t.travel2 += sum2
	if beyond(travel, math.Min(t.travelMax, -positionLow), math.Max(t.travelMin, positionLow)) {
		stretch(travel, &t.travelMax, &t.travelMin)
		for _, w := range travel {
			if math.Abs(w) > -positionLow {
				t.outside++
			}
		}
	}
	// Every second step will do for shares of time, which move with the wheel's hop and slower.
	t.sampled += (n + 1) / 2
	for k := 0; k < n; k += 2 {
		w := travel[k]
		out.travels[uint(int((w+travelBins/2*travelBin)*(1/travelBin)))%travelBins]++
	}

	t.speed2 += squares(speed)
	slowest, quickest := math.Inf(-1), math.Inf(1)
	if c.input.DynoMax > c.input.DynoMin {
		slowest, quickest = c.input.DynoMin, c.input.DynoMax
	}
	if beyond(speed, math.Min(t.speedMax, quickest), math.Max(t.speedMin, slowest)) {
		stretch(speed, &t.speedMax, &t.speedMin)
		for _, v := range speed {
			if v > quickest || v < slowest {
				t.dynoOut++
			}
		}
	}
	for k := 0; k < n; k += 2 {
		v := speed[k]
		out.speeds[uint(int((v+speedBins/2*speedBin)*(1/speedBin)))%speedBins]++
	}
	for k, bound := range r.DamperBounds {
		// Numbers above zero stand in the order of their bits: the top bit of the difference tells without a branch.
		limit, over := math.Float64bits(bound), uint64(0)
		for k := 0; k < n; k += 2 {
			v := speed[k]
			over += (limit - math.Float64bits(math.Abs(v))) >> 63
		}
		t.shares[k] += int(over)
	}
	if force := b.force[i][:n]; beyond(force, t.forceMax, t.forceMin) {
		stretch(force, &t.forceMax, &t.forceMin)
	}

	if b.touched[i] {
		t.addStop(c, b.stop[i][:n], travel, r)
	} else {
		t.was = [maxLevels]bool{}
	}
	if b.opened[i] {
		t.addTop(c, b.top[i][:n], travel, speed)
	} else {
		t.opened = false
	}
}

// addStop counts hits; stop and metal are told apart by where they start.
func (t *tally) addStop(c *cornerModel, stop, travel []float64, r *Run) {
	for k, f := range stop {
		if f == 0 {
			t.was = [maxLevels]bool{}
			continue
		}
		x, ratio, _ := c.travel(travel[k])
		f /= ratio
		t.inStop++
		t.stopPeak = math.Max(t.stopPeak, f)
		t.deepest = math.Max(t.deepest, travel[k])
		if c.input.MetalStiffness > 0 && x > c.input.MetalTravel {
			t.metal++
		}
		if end := c.input.Stop.TableEnd; c.input.Stop.Force != nil && end > 0 && x-c.input.Stop.TouchTravel > end {
			t.outside++
		}
		for l, level := range r.StopForces {
			is := f > level
			if is {
				t.above[l]++
				if !t.was[l] {
					t.hits[l]++
				}
			}
			t.was[l] = is
		}
	}
}

// addTop counts entries into the top-out.
func (t *tally) addTop(c *cornerModel, top, travel, speed []float64) {
	for k, f := range top {
		if f == 0 {
			t.opened = false
			continue
		}
		_, ratio, _ := c.travel(travel[k])
		t.topForce = math.Max(t.topForce, f/ratio)
		if !t.opened {
			t.topOuts++
			t.topSpeed = math.Max(t.topSpeed, -speed[k])
		}
		t.opened = true
	}
}

// balance carries the energy account over one block; always on, statistics or not.
func (a *account) balance(i int, b *block, road [][4]float64, h float64) {
	n := b.n
	t := &a.corner[i]
	load, speed, damper, travel := b.load[i][:n], b.speed[i][:n], b.damper[i][:n], b.travel[i][:n]
	lastLoad, lastRoad, lastPower := t.load, t.road, t.power
	var work, heat, through float64
	for k, l := range load {
		z := road[k][i]
		dw := (l + lastLoad) * (z - lastRoad)
		work += dw
		through += math.Abs(dw)
		lastLoad, lastRoad = l, z
		p := damper[k] * speed[k]
		heat += p + lastPower
		lastPower = p
	}
	t.load, t.road, t.power = lastLoad, lastRoad, lastPower
	a.road += work / 2
	a.through += through / 2
	t.heat += heat / 2 * h
	if b.touched[i] {
		for k, f := range b.stop[i][:n] {
			t.stops += (f + t.stop) / 2 * (travel[k] - t.travel)
			t.stop, t.travel = f, travel[k]
		}
		return
	}
	if t.stop != 0 && n > 0 {
		t.stops += t.stop / 2 * (travel[0] - t.travel)
		t.stop = 0
	}
	if n > 0 {
		t.travel = travel[n-1]
	}
}

// close turns the tally into figures.
func (t *tally) close(m *Model, i int, r *Run, out *CornerResult, distance float64) {
	c := &m.corner[i]
	n := float64(t.count)
	static := m.rest.TyreLoad[i]
	mean := t.load / n
	out.LoadMean = static + mean
	out.LoadDeviation = math.Sqrt(math.Max(t.load2/n-mean*mean, 0))
	if static > 0 {
		out.LoadVariation = out.LoadDeviation / static
	}
	out.LoadMax, out.LoadMin = t.loadMax, t.loadMin
	out.LowLoad, out.LiftOff = float64(t.low)/n, float64(t.lift)/n
	out.TravelMax, out.TravelMin = t.travelMax, t.travelMin
	out.Bump, out.Droop = math.Max(t.travelMax-c.restTravel, 0), math.Max(c.restTravel-t.travelMin, 0)
	out.TravelMean = t.travel / n
	out.TravelDeviation = math.Sqrt(math.Max(t.travel2/n-out.TravelMean*out.TravelMean, 0))
	out.StopHits = out.StopHits[:0]
	for l, level := range r.StopForces {
		hits := StopHits{Force: level, Count: t.hits[l], Share: float64(t.above[l]) / n}
		if distance > 0 {
			hits.PerMetre = float64(t.hits[l]) / distance
		}
		out.StopHits = append(out.StopHits, hits)
	}
	out.StopPeak = t.stopPeak
	out.StopEnergy = 0
	if c.stop != nil && t.deepest > c.stop.touch {
		out.StopEnergy = c.stop.taken(t.deepest)
	}
	out.StopTime, out.Outside = float64(t.inStop)/n, float64(t.outside)/n
	out.Metal, out.RimTime = float64(t.metal)/n, float64(t.rim)/n
	out.TopOuts, out.TopOutSpeed, out.TopOutForce = t.topOuts, t.topSpeed, t.topForce
	out.DamperShares = out.DamperShares[:0]
	over, sampled := t.sampled, float64(t.sampled)
	for k := range r.DamperBounds {
		out.DamperShares = append(out.DamperShares, float64(over-t.shares[k])/sampled)
		over = t.shares[k]
	}
	out.DamperShares = append(out.DamperShares, float64(over)/sampled)
	out.DamperMax, out.DamperMin = t.speedMax, t.speedMin
	out.DamperDeviation = math.Sqrt(t.speed2 / n)
	// The law rises with speed (where it does not, Compile has warned), so the extremes of one are those of the other.
	out.DamperForceMax, _ = c.damper.at(t.speedMax)
	out.DamperForceMin, _ = c.damper.at(t.speedMin)
	out.OutsideDyno = float64(t.dynoOut) / n
	out.ForceMax, out.ForceMin = t.forceMax, t.forceMin
}

// taken is the work of one loading from touch to w [J].
func (t *stopTable) taken(w float64) float64 {
	row, u := t.find(w)
	e := 0.0
	for k := range t.rows {
		r := &t.rows[k]
		if r == row {
			return e + stopStep*quarticArea(r.b0, r.b1, r.b2, r.b3, u)
		}
		e += stopStep * quarticArea(r.b0, r.b1, r.b2, r.b3, 1)
	}
	return e
}

// stored is the energy in springs, bars, top-outs, tyres and height at the last step taken, with an arbitrary zero. The
// state is one position ahead of it.
func (m *Model) stored(s *state, h float64) float64 {
	z, p, r := s.body[0].place(h), s.body[1].place(h), s.body[2].place(h)
	e := m.mass * m.gravity * z
	var w [4]float64
	for i := range m.corner {
		c := &m.corner[i]
		q := s.wheel[i].place(h)
		w[i] = c.restTravel + q - (z + m.sunk(r, p) - c.x*p + c.y*r)
		// Bump compresses: the force does work on the body as it rises, so what it stores grows with w.
		e += c.position.energy(w[i]) + c.top.energy(w[i]) + c.mass*m.gravity*q
		if d := c.restDeflection - q + s.road[0][i]; d > 0 {
			e += c.rate * d * d / 2
			if d > c.rim {
				e += c.rimRate * (d - c.rim) * (d - c.rim) / 2
			}
		}
		if c.mount > 0 {
			e += c.mount * s.mount[i] * s.mount[i] / 2
		}
	}
	for k := range 2 {
		d := w[2*k] - w[2*k+1] - m.barFree[k]
		e += m.bars[k] * d * d / 2
	}
	return e
}

// kinetic is the energy of motion at the last step.
func (m *Model) kinetic(s *state, h float64) float64 {
	square := func(c *coordinate) float64 { v := c.speed(h); return v * v }
	e := m.mass*square(&s.body[0]) + m.inertia[1]*square(&s.body[1]) + m.inertia[0]*square(&s.body[2])
	for i := range m.corner {
		e += m.corner[i].mass * square(&s.wheel[i])
	}
	return e / 2
}

// floors holds the meters of the floor points.
type floors struct {
	step   float64
	meters []*comfort.Meter
}

func (f *floors) ready(step float64, n int) error {
	if f.step != step || len(f.meters) != n {
		f.meters = f.meters[:0]
		f.step = step
		for range n {
			m, err := comfort.NewMeter(comfort.Wk, step)
			if err != nil {
				return err
			}
			f.meters = append(f.meters, m)
		}
	}
	for _, m := range f.meters {
		m.Reset()
	}
	return nil
}

func (f *floors) add(m *Model, b *block) {
	for k, meter := range f.meters {
		x, y := m.px[k], m.py[k]
		heave, pitch, roll := b.heave[:b.n], b.pitch[:b.n], b.roll[:b.n]
		for n, a := range heave {
			meter.Add(a - x*pitch[n] + y*roll[n])
		}
	}
}
