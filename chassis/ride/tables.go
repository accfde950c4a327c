package ride

import "math"

// Position table: one row a millimetre of wheel travel, ±256 mm about the reference. Both figures are choices of the
// engine: at 1 mm the cubic follows springs and stops to better than 0.001 %, and no road car travels further.
const (
	positionRows = 512
	positionStep = 1.0 / 1024 // a binary fraction, so that knots are exact [m]
	positionLow  = -positionRows / 2 * positionStep
)

// positionRow is the cubic of the wheel force F = c0 + t·(c1 + t·(c2 + t·c3)) over t = 0..1 along the row and the
// damper's motion ratio r = r0 + t·dr.
type positionRow struct {
	c0, c1, c2, c3 float64
	r0, dr         float64
}

// positionTable is everything at one wheel that depends on wheel travel alone and is in force all the time.
type positionTable struct {
	rows   [positionRows]positionRow
	stored [positionRows]float64 // energy at the start of each row, zero at the first [J]
}

// hermite returns the cubic over t = 0..1 with values f0, f1 and slopes d0, d1 by x over a row of length h.
func hermite(f0, f1, d0, d1, h float64) (c0, c1, c2, c3 float64) {
	d0 *= h
	d1 *= h
	return f0, d0, 3*(f1-f0) - 2*d0 - d1, 2*(f0-f1) + d0 + d1
}

// quarticArea is the integral of a cubic from 0 to t, in units of the row.
func quarticArea(c0, c1, c2, c3, t float64) float64 {
	return t * (c0 + t*(c1/2+t*(c2/3+t*c3/4)))
}

// buildPosition fills the table from the curve and the motion ratio.
func buildPosition(spring Curve, travel func(float64) (float64, float64, float64)) *positionTable {
	t := new(positionTable)
	f0, d0 := spring(positionLow)
	_, r0, _ := travel(positionLow)
	for i := range t.rows {
		w1 := positionLow + float64(i+1)*positionStep
		f1, d1 := spring(w1)
		_, r1, _ := travel(w1)
		row := &t.rows[i]
		row.c0, row.c1, row.c2, row.c3 = hermite(f0, f1, d0, d1, positionStep)
		row.r0, row.dr = r0, r1-r0
		if i+1 < positionRows {
			t.stored[i+1] = t.stored[i] + positionStep*quarticArea(row.c0, row.c1, row.c2, row.c3, 1)
		}
		f0, d0, r0 = f1, d1, r1
	}
	return t
}

// at returns force [N], slope [N/m] and motion ratio at wheel travel w [m]. Off the table the end line is carried on.
func (t *positionTable) at(w float64) (force, slope, ratio float64) {
	u := (w - positionLow) * (1 / positionStep)
	k := int(u)
	if !(u >= 0) || k >= positionRows {
		return t.beyond(u)
	}
	row := &t.rows[k]
	s := u - float64(k)
	force = row.c0 + s*(row.c1+s*(row.c2+s*row.c3))
	slope = (row.c1 + s*(2*row.c2+s*3*row.c3)) * (1 / positionStep)
	return force, slope, row.r0 + s*row.dr
}

// beyond carries the end lines on.
func (t *positionTable) beyond(u float64) (force, slope, ratio float64) {
	row, s, d := &t.rows[0], 0.0, u
	if u > 0 {
		row, s, d = &t.rows[positionRows-1], 1, u-positionRows
	}
	slope = row.c1 + s*(2*row.c2+s*3*row.c3)
	force = row.c0 + s*(row.c1+s*(row.c2+s*row.c3)) + slope*d
	return force, slope / positionStep, row.r0 + s*row.dr
}

// energy returns the stored energy [J] at wheel travel w, from an arbitrary zero.
func (t *positionTable) energy(w float64) float64 {
	u := (w - positionLow) / positionStep
	k := int(u)
	if !(u >= 0) || k >= positionRows {
		row, s, d, e := &t.rows[0], 0.0, u, 0.0
		if u > 0 {
			k = positionRows - 1
			row, s, d = &t.rows[k], 1, u-positionRows
			e = t.stored[k] + positionStep*quarticArea(row.c0, row.c1, row.c2, row.c3, 1)
		}
		slope := row.c1 + s*(2*row.c2+s*3*row.c3)
		f := row.c0 + s*(row.c1+s*(row.c2+s*row.c3))
		return e + positionStep*d*(f+slope*d/2)
	}
	row := &t.rows[k]
	return t.stored[k] + positionStep*quarticArea(row.c0, row.c1, row.c2, row.c3, u-float64(k))
}

// Logarithmic table: eight rows an octave of |v| + 1/128, both signs; about 1 mm/s apart near zero, 12 % of the speed
// further out. The row is read off the exponent and the first mantissa bits of the number.
const (
	logOffset  = 1.0 / 128
	logPerSign = 128
	logRows    = 2 * logPerSign
	logShift   = 52 - 3
	logFirst   = (1023 - 7) << 3 // exponent and three mantissa bits of 1/128
	// logTrust is the speed past which the law is carried on as a straight line [m/s].
	logTrust = 20.0
)

// logRow is the cubic f = c0 + t·(c1 + t·(c2 + t·c3)) with t = v − v0.
type logRow struct {
	v0, c0, c1, c2, c3 float64
}

type logTable struct {
	rows [logRows]logRow
	_    [2]float64 // lanes read the last row's end together with what follows it
}

// logKnot is the |v| at which row k starts.
func logKnot(k int) float64 {
	return math.Float64frombits(uint64(k+logFirst)<<logShift) - logOffset
}

// buildLog fills the table from a law; at(v, side) returns value and slope, where side says from which side of a kink
// at zero the slope is wanted.
func buildLog(at func(v, side float64) (f, slope float64)) *logTable {
	t := new(logTable)
	limited := func(v, side float64) (float64, float64) {
		if math.Abs(v) <= logTrust {
			return at(v, side)
		}
		end := math.Copysign(logTrust, v)
		f, d := at(end, side)
		return f + d*(v-end), d
	}
	for sign := range 2 {
		side := 1 - 2*float64(sign)
		v0 := 0.0
		f0, d0 := limited(0, side)
		for k := range logPerSign {
			v1 := side * logKnot(k+1)
			f1, d1 := limited(v1, side)
			h := v1 - v0
			c0, c1, c2, c3 := hermite(f0, f1, d0, d1, h)
			t.rows[sign*logPerSign+k] = logRow{v0, c0, c1 / h, c2 / (h * h), c3 / (h * h * h)}
			v0, f0, d0 = v1, f1, d1
		}
	}
	return t
}

// row picks the row of v.
func (t *logTable) row(v float64) *logRow {
	bits := math.Float64bits(v)
	k := int(math.Float64bits(math.Abs(v)+logOffset)>>logShift) - logFirst
	if uint(k) >= logPerSign {
		k = logPerSign - 1
	}
	return &t.rows[(k+int(bits>>63)*logPerSign)&(logRows-1)]
}

// at returns value and slope at v.
func (t *logTable) at(v float64) (f, slope float64) {
	r := t.row(v)
	s := v - r.v0
	return r.c0 + s*(r.c1+s*(r.c2+s*r.c3)), r.c1 + s*(2*r.c2+s*3*r.c3)
}

// sameLog and samePosition let left and right share a table, which halves what the cache has to hold.
func sameLog(a, b *logTable) bool { return a != nil && b != nil && a.rows == b.rows }

func samePosition(a, b *positionTable) bool { return a.rows == b.rows }
