package ride

import "math"

// A bump stop in motion.
//
// The static loading curve is F(c), its work E(c) = ∫F dc. In motion the force is
//
//	F_dyn = F·[ d·(1 − λ·φ) − m·2·F_rest/(F + F_rest) ]
//
// d is the dynamic factor. φ goes from 0 (being loaded) towards 1 (giving back) by
//
//	loading    φ  ← φ·(E_before/E_after)^p
//	unloading  1 − φ ← (1 − φ)·(E_after/E_before)^p,      p = 4, a choice of the engine
//
// which is rate-independent and has no jump at reversal. A complete hit from contact to E_m and back loses
//
//	∮F_dyn dc = d·λ·∫0^Em (1 − (E/E_m)^p) dE = d·λ·E_m·p/(p+1)
//
// so λ = loss·(p+1)/p makes the lost share exactly the given one, whatever the curve. Small oscillations about a load
// settle at φ near 1/2; the second term of F_dyn, with m = d·(1 − λ/2) − 1, makes the force at rest (φ = 1/2, F = F_rest)
// the static one, fades to nothing when the car is clear of its stop, and is conservative.
//
// Source: derived here. Hysteresis of 15 to 30 % and stiffening in motion are common practice, no source.
const stopPower = 4

// Rows of a stop table: 1 mm of wheel travel from first touch (or from the metal, whichever comes first).
const (
	stopRows = 192
	stopStep = 1.0 / 1024 // [m]
)

type stopRow struct {
	b0, b1, b2, b3 float64 // wheel force at φ = 0 without the loss [N]
	s0, s1, s2, s3 float64 // d·λ·static wheel force: what φ takes off [N]
	e0             float64 // ∫ of the s-cubic up to the row, over travel [J]
}

type stopTable struct {
	touch float64 // wheel travel at which the table starts [m]
	rows  [stopRows]stopRow
	lossy bool // a stop with loss stands in it, not metal alone
}

func (s Stop) dynamic() float64 {
	if s.Dynamic == 0 {
		return defaultDynamic
	}
	return s.Dynamic
}

// static returns the static force of stop and metal at the damper [N] and its slope there [N/m].
func (c *Corner) staticStop(x float64) (stop, stopSlope, metal, metalSlope float64) {
	if c.Stop.Force != nil && x > c.Stop.TouchTravel {
		stop, stopSlope = c.Stop.Force(x - c.Stop.TouchTravel)
	}
	if c.MetalStiffness > 0 && x > c.MetalTravel {
		metal, metalSlope = c.MetalStiffness*(x-c.MetalTravel), c.MetalStiffness
	}
	return stop, stopSlope, metal, metalSlope
}

// wheelTravelAt finds the wheel travel at which the damper travel is x. The motion ratio is positive, so x rises with w.
func wheelTravelAt(travel func(float64) (float64, float64, float64), x float64) float64 {
	w, lo, hi := x, -2.0, 2.0
	for range 100 {
		got, r, _ := travel(w)
		miss := got - x
		if math.Abs(miss) < 1e-12 {
			break
		}
		if miss > 0 {
			hi = math.Min(hi, w)
		} else {
			lo = math.Max(lo, w)
		}
		next := w - miss/r
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if next == w {
			break
		}
		w = next
	}
	return w
}

// buildStop makes the table for a corner whose stop carries the static force rest [N, at the damper] when the car
// stands. It returns nil where neither stop nor metal is modelled.
func (c *Corner) buildStop(travel func(float64) (float64, float64, float64), rest float64) *stopTable {
	if c.Stop.Force == nil && c.MetalStiffness <= 0 {
		return nil
	}
	x0 := math.Inf(1)
	if c.Stop.Force != nil {
		x0 = c.Stop.TouchTravel
	}
	if c.MetalStiffness > 0 {
		x0 = math.Min(x0, c.MetalTravel)
	}
	t := &stopTable{touch: wheelTravelAt(travel, x0), lossy: c.Stop.Force != nil && c.Stop.Loss > 0}
	d := c.Stop.dynamic()
	lambda := c.Stop.Loss * (stopPower + 1) / stopPower
	m := d*(1-lambda/2) - 1
	at := func(i int) (b, db, s, ds float64) {
		w := t.touch + float64(i)*stopStep
		x, r, drdw := travel(w)
		if i == 0 {
			// The last bit of the travel must not decide whether the knot is just before or just past the touch.
			x = x0 + 1e-15
		}
		f, df, metal, dmetal := c.staticStop(x)
		fade, dfade := 0.0, 0.0
		if rest > 0 {
			fade = m * 2 * rest * f / (f + rest)
			dfade = m * 2 * rest * rest / ((f + rest) * (f + rest)) * df
		}
		base, dbase := d*f-fade+metal, d*df-dfade+dmetal
		lost, dlost := d*lambda*f, d*lambda*df
		return r * base, r*r*dbase + drdw*base, r * lost, r*r*dlost + drdw*lost
	}
	b0, db0, s0, ds0 := at(0)
	e := 0.0
	for i := range t.rows {
		b1, db1, s1, ds1 := at(i + 1)
		row := &t.rows[i]
		row.b0, row.b1, row.b2, row.b3 = hermite(b0, b1, db0, db1, stopStep)
		row.s0, row.s1, row.s2, row.s3 = hermite(s0, s1, ds0, ds1, stopStep)
		row.e0 = e
		e += stopStep * quarticArea(row.s0, row.s1, row.s2, row.s3, 1)
		b0, db0, s0, ds0 = b1, db1, s1, ds1
	}
	return t
}

// stopState is what a stop remembers between steps.
type stopState struct {
	phi    float64 // how far on the way of giving back, 0..1
	energy float64 // scaled work of the static curve at the last step [J]
}

// advance moves the stop to wheel travel w > touch and returns the force at the wheel [N] and its tangent [N/m].
func (t *stopTable) advance(w float64, s *stopState) (force, slope float64) {
	row, u := t.find(w)
	e := row.e0 + stopStep*quarticArea(row.s0, row.s1, row.s2, row.s3, u)
	if t.lossy {
		s.follow(e)
	}
	base := row.b0 + u*(row.b1+u*(row.b2+u*row.b3))
	lost := row.s0 + u*(row.s1+u*(row.s2+u*row.s3))
	slope = row.b1 + u*(2*row.b2+u*3*row.b3) - s.phi*(row.s1+u*(2*row.s2+u*3*row.s3))
	return base - s.phi*lost, slope / stopStep
}

// follow brings φ to the scaled work e.
func (s *stopState) follow(e float64) {
	switch {
	case e > s.energy:
		q := s.energy / e
		q *= q
		s.phi *= q * q
	case s.energy > 0:
		q := e / s.energy
		q *= q
		s.phi = 1 - (1-s.phi)*q*q
	}
	s.energy = e
}

// find returns the row of w and the place in it; past the last row the last cubic's end is held with its slope, which
// the caller sees as outside.
func (t *stopTable) find(w float64) (*stopRow, float64) {
	u := (w - t.touch) * (1 / stopStep)
	k := int(u)
	if uint(k) >= stopRows {
		if !(u > 0) {
			return &t.rows[0], 0
		}
		k = stopRows - 1
	}
	return &t.rows[k], u - float64(k)
}

// frozen is the force and tangent at w with φ held: what the car stands on and vibrates about.
func (t *stopTable) frozen(w, phi float64) (force, slope float64) {
	if t == nil || w <= t.touch {
		return 0, 0
	}
	s := stopState{phi: phi}
	row, u := t.find(w)
	s.energy = row.e0 + stopStep*quarticArea(row.s0, row.s1, row.s2, row.s3, u)
	return t.advance(w, &s)
}

// topTable is the rebound limit over wheel travel, 1 mm rows downwards from first touch.
type topTable struct {
	touch float64 // wheel travel [m]
	rows  [stopRows]struct{ c0, c1, c2, c3 float64 }
}

func (c *Corner) topForce(squash float64) (force, slope float64) {
	if c.TopOut.Force != nil {
		return c.TopOut.Force(squash)
	}
	return c.TopOut.Stiffness * squash, c.TopOut.Stiffness
}

func (c *Corner) hasTopOut() bool { return c.TopOut.Force != nil || c.TopOut.Stiffness > 0 }

// buildTop makes the table; the force in it is the pull at the wheel, positive when it holds the wheel up.
func (c *Corner) buildTop(travel func(float64) (float64, float64, float64)) *topTable {
	if !c.hasTopOut() {
		return nil
	}
	t := &topTable{touch: wheelTravelAt(travel, c.TopOut.OpenTravel)}
	at := func(i int) (float64, float64) {
		x, r, drdw := travel(t.touch - float64(i)*stopStep)
		f, df := c.topForce(math.Max(c.TopOut.OpenTravel-x, 0))
		return r * f, r*r*df - drdw*f // slope by distance below touch
	}
	f0, d0 := at(0)
	for i := range t.rows {
		f1, d1 := at(i + 1)
		r := &t.rows[i]
		r.c0, r.c1, r.c2, r.c3 = hermite(f0, f1, d0, d1, stopStep)
		f0, d0 = f1, d1
	}
	return t
}

// at returns the pull [N] and its slope by wheel travel [N/m] for w below touch.
func (t *topTable) at(w float64) (pull, slope float64) {
	if t == nil || w >= t.touch {
		return 0, 0
	}
	k, u := t.find(w)
	r := &t.rows[k]
	return r.c0 + u*(r.c1+u*(r.c2+u*r.c3)), -(r.c1 + u*(2*r.c2+u*3*r.c3)) / stopStep
}

// energy returns what the top-out stores at w [J].
func (t *topTable) energy(w float64) float64 {
	if t == nil || w >= t.touch {
		return 0
	}
	k, u := t.find(w)
	e := 0.0
	for i := range k {
		r := &t.rows[i]
		e += stopStep * quarticArea(r.c0, r.c1, r.c2, r.c3, 1)
	}
	r := &t.rows[k]
	return e + stopStep*quarticArea(r.c0, r.c1, r.c2, r.c3, u)
}

// find returns the row of w and the place in it; past the last row the last cubic is carried on.
func (t *topTable) find(w float64) (row int, place float64) {
	u := (t.touch - w) * (1 / stopStep)
	if !(u < stopRows) {
		return stopRows - 1, u - (stopRows - 1)
	}
	k := int(u)
	return k, u - float64(k)
}
