package ride

import (
	"math"

	"trunnion/chassis/numeric"
)

// settle finds the rest of the car: seven forces and moments are zero for the heave, pitch and roll of the body and the
// heights of the four wheels on flat ground. Newton's method with the analytic tangent, the step halved while the misses
// do not shrink.
//
// It returns how far ahead and to the left the lean at rest has brought the centre of gravity [m].
//
// It runs twice: with the static curves of the stops, which tells what each stop carries, and with the tables the loop
// uses, so that a car at rest stays at rest to the last bits.
func (m *Model) settle() (ahead, left float64, err error) {
	u, err := m.firstGuess()
	if err != nil {
		return 0, 0, err
	}
	static := func(c *cornerModel, w float64) (float64, float64) {
		x, r, drdw := c.travel(w)
		f, df, metal, dmetal := c.input.staticStop(x)
		return r * (f + metal), r*r*(df+dmetal) + drdw*(f+metal)
	}
	if err := m.newton(&u, static); err != nil {
		return 0, 0, err
	}
	for i := range m.corner {
		c := &m.corner[i]
		x, _, _ := c.travel(m.travelOf(c, &u, i))
		f, _, _, _ := c.input.staticStop(x)
		m.rest.StopForce[i] = f
		if c.stop = c.input.buildStop(c.travel, f); c.stop != nil {
			c.stopAt = c.stop.touch
		}
		if end := c.input.Stop.TableEnd; f > 0 && end > 0 && x-c.input.Stop.TouchTravel > end {
			m.warn(RestsPastTable, i, x-c.input.Stop.TouchTravel)
		}
	}
	if err := m.newton(&u, func(c *cornerModel, w float64) (float64, float64) { return c.stop.frozen(w, 0.5) }); err != nil {
		return 0, 0, err
	}
	moved := 0.0
	for i := range m.corner {
		c := &m.corner[i]
		w := m.travelOf(c, &u, i)
		c.restTravel, c.restDeflection = w, -u[3+i]
		if w > c.stopAt {
			row, s := c.stop.find(w)
			c.stopRest = stopState{0.5, row.e0 + stopStep*quarticArea(row.s0, row.s1, row.s2, row.s3, s)}
		}
		m.rest.Travel[i], m.rest.Deflection[i] = w, c.restDeflection
		m.rest.TyreLoad[i], _ = c.tyre(c.restDeflection)
		if m.rest.TyreLoad[i] <= 0 {
			m.warn(WheelOffGround, i, 0)
		}
		f, k := m.cornerForce(c, w)
		m.rest.Force[i], m.rest.WheelRate[i] = f, k
		_, r, _ := c.travel(w)
		if k > 0 {
			m.rest.FrictionGap[i] = c.input.Friction * r / k
		}
		if m.car.Rest != nil {
			moved = math.Max(moved, math.Abs(w-m.car.Rest[i]))
		}
	}
	for axle := range 2 {
		b := m.bars[axle] * (m.rest.Travel[2*axle] - m.rest.Travel[2*axle+1] - m.barFree[axle])
		m.rest.Force[2*axle] += b
		m.rest.Force[2*axle+1] -= b
	}
	if moved > 0.0005 {
		m.warn(RestMoved, -1, moved)
	}
	m.rest.Roll, m.rest.Pitch = u[2]+m.car.Roll, u[1]+m.car.Pitch
	return m.arm[1] * m.rest.Pitch, -m.arm[0] * m.rest.Roll, nil
}

// cornerForce is the static force of one corner on its own tables, stop frozen at rest, bar out.
func (m *Model) cornerForce(c *cornerModel, w float64) (force, slope float64) {
	force, slope, _ = c.position.at(w)
	pull, dpull := c.top.at(w)
	f, df := c.stop.frozen(w, 0.5)
	return force - pull + f, slope - dpull + df
}

func (m *Model) travelOf(c *cornerModel, u *[7]float64, i int) float64 {
	return c.datum + u[3+i] - (u[0] - c.x*u[1] + c.y*u[2])
}

// tyre returns load [N] and rate [N/m] at a deflection; a tyre cannot pull.
func (c *cornerModel) tyre(deflection float64) (load, rate float64) {
	if deflection <= 0 {
		return 0, 0
	}
	load, rate = c.rate*deflection, c.rate
	if deflection > c.rim {
		load += c.rimRate * (deflection - c.rim)
		rate += c.rimRate
	}
	return load, rate
}

// deflectionAt is the inverse of tyre for a load above zero.
func (c *cornerModel) deflectionAt(load float64) float64 {
	d := load / c.rate
	if d > c.rim {
		d = c.rim + (load-c.rate*c.rim)/(c.rate+c.rimRate)
	}
	return d
}

// firstGuess places each corner where it carries its share of the weight, then lays the body through the four places.
func (m *Model) firstGuess() (u [7]float64, err error) {
	var zb [4]float64
	for i := range m.corner {
		c := &m.corner[i]
		axle := (m.car.Wheelbase - m.car.CGToFront) / m.car.Wheelbase
		track, centre := m.car.TrackFront, m.car.TrackCentre[i/2]
		if i >= RearLeft {
			axle, track = 1-axle, m.car.TrackRear
		}
		side := 0.5 + (m.car.CGOffset-centre)/track
		if i%2 == 1 {
			side = 1 - side
		}
		load := math.Max(m.mass*m.gravity*axle*side, 0)
		at := func(w float64) float64 {
			f, _, _ := c.position.at(w)
			pull, _ := c.top.at(w)
			x, r, _ := c.travel(w)
			stop, _, metal, _ := c.input.staticStop(x)
			return f - pull + r*(stop+metal)
		}
		w := 0.0
		if m.car.Rest != nil {
			w = m.car.Rest[i]
			load = at(w)
			if partner := m.car.Rest[i^1]; i%2 == 0 {
				load += m.bars[i/2] * (w - partner - m.barFree[i/2])
			} else {
				load -= m.bars[i/2] * (partner - w - m.barFree[i/2])
			}
			if load+c.mass*m.gravity <= 0 {
				return u, &RestError{i, load, *m.car.Rest, "the corner pulls its wheel off the ground at the given rest"}
			}
			c.datum = w + c.deflectionAt(load+c.mass*m.gravity)
		} else {
			lo, hi := positionLow, -positionLow
			if at(hi) < load {
				return u, &RestError{i, load - at(hi), [4]float64{}, "the corner does not carry its share within the reach of bump"}
			}
			if at(lo) > load {
				return u, &RestError{i, load - at(lo), [4]float64{}, "the corner carries more than its share at the reach of droop"}
			}
			if w, err = numeric.Root(func(w float64) float64 { return at(w) - load }, lo, hi, 1e-9); err != nil {
				return u, &RestError{i, load, [4]float64{}, err.Error()}
			}
		}
		u[3+i] = -c.deflectionAt(load + c.mass*m.gravity)
		zb[i] = c.datum + u[3+i] - w
	}
	// Least squares of zb = Z − x·θ + y·φ.
	var a [3][3]float64
	var plane [3]float64
	for i := range m.corner {
		row := [3]float64{1, -m.corner[i].x, m.corner[i].y}
		for j := range 3 {
			for k := range 3 {
				a[j][k] += row[j] * row[k]
			}
			plane[j] += row[j] * zb[i]
		}
	}
	if !numeric.Solve3(&a, &plane) {
		return u, &RestError{0, 0, [4]float64{}, "the wheels do not span a plane"}
	}
	copy(u[:3], plane[:])
	return u, nil
}

// newton solves the seven equations from u.
func (m *Model) newton(u *[7]float64, stop func(*cornerModel, float64) (float64, float64)) error {
	misses := func(u, step *[7]float64, jac *[7][7]float64) (norm float64, worst int) {
		var r [7]float64
		if jac != nil {
			*jac = [7][7]float64{}
		}
		weight := m.mass * m.gravity
		r[0] = -weight
		r[1] = weight * m.arm[1] * (u[1] + m.car.Pitch)
		r[2] = weight * m.arm[0] * (u[2] + m.car.Roll)
		if jac != nil {
			jac[1][1], jac[2][2] = weight*m.arm[1], weight*m.arm[0]
		}
		for i := range m.corner {
			c := &m.corner[i]
			w := m.travelOf(c, u, i)
			f, k, _ := c.position.at(w)
			pull, dpull := c.top.at(w)
			fs, ks := stop(c, w)
			f += fs - pull
			k += ks - dpull
			bar, free, sign := m.bars[i/2], m.barFree[i/2], 1.0
			if i%2 == 1 {
				sign = -1
			}
			partner := m.travelOf(&m.corner[i^1], u, i^1)
			f += bar * (w - partner - sign*free)
			load, kt := c.tyre(-u[3+i])
			r[0] += f
			r[1] -= c.x * f
			r[2] += c.y * f
			r[3+i] = load - f - c.mass*m.gravity
			if jac == nil {
				continue
			}
			var df [7]float64
			add := func(c *cornerModel, i int, k float64) {
				df[0] -= k
				df[1] += k * c.x
				df[2] -= k * c.y
				df[3+i] += k
			}
			add(c, i, k+bar)
			add(&m.corner[i^1], i^1, -bar)
			for j := range 7 {
				jac[0][j] += df[j]
				jac[1][j] -= c.x * df[j]
				jac[2][j] += c.y * df[j]
				jac[3+i][j] = -df[j]
			}
			// A wheel in the air has no stiffness to the ground; a little of it keeps the equations solvable.
			jac[3+i][3+i] -= math.Max(kt, 1e-3*c.rate)
		}
		for j := range 7 {
			if jac != nil {
				step[j] = -r[j]
			}
			if a := math.Abs(r[j]); !(a <= norm) {
				norm = a
				worst = j
			}
		}
		return norm, worst
	}
	var jac [7][7]float64
	var step [7]float64
	norm, worst := misses(u, &step, &jac)
	small := 1e-9 * m.mass * m.gravity
	polish := 0
	for range 200 {
		if norm < small {
			if polish++; polish > 2 {
				return nil
			}
		}
		if !numeric.Solve7(&jac, &step) {
			break
		}
		next, scale := *u, 1.0
		better := false
		for range 30 {
			for j := range u {
				next[j] = u[j] + scale*step[j]
			}
			if n, _ := misses(&next, nil, nil); n < norm {
				better = true
				break
			}
			scale /= 2
		}
		if !better {
			if norm < small {
				return nil
			}
			break
		}
		*u = next
		norm, worst = misses(u, &step, &jac)
	}
	if norm < small {
		return nil
	}
	e := &RestError{max(worst-3, 0), norm, [4]float64{}, "forces do not balance"}
	for i := range m.corner {
		e.Travel[i] = m.travelOf(&m.corner[i], u, i)
	}
	return e
}
