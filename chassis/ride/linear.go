package ride

// What follows lets a spectral estimate look at the same car and the same tables.

// Inertia returns sprung mass [kg] and its inertias in roll and pitch [kg m²].
func (m *Model) Inertia() (mass, roll, pitch float64) { return m.mass, m.inertia[0], m.inertia[1] }

// Lean returns what the weight takes off the stiffness of the body's roll and pitch [N m/rad]: W·d.
func (m *Model) Lean() (roll, pitch float64) {
	weight := m.mass * m.gravity
	return weight * m.arm[0], weight * m.arm[1]
}

// Hub returns where a wheel is from the centre of gravity of the sprung mass [m] and the unsprung mass [kg].
func (m *Model) Hub(corner int) (x, y, unsprung float64) {
	c := &m.corner[corner]
	return c.x, c.y, c.mass
}

// Tyre returns rate [N/m], damping [N s/m] and load at rest [N].
func (m *Model) Tyre(corner int) (rate, damping, load float64) {
	c := &m.corner[corner]
	_, rate = c.tyre(c.restDeflection)
	return rate, c.damping, m.rest.TyreLoad[corner]
}

// Bar returns the rate of an axle's bar per relative wheel travel [N/m].
func (m *Model) Bar(axle int) float64 { return m.bars[axle] }

// Mount returns the stiffness in series with the damper, 0 for rigid [N/m].
func (m *Model) Mount(corner int) float64 { return m.corner[corner].mount }

// Friction returns the friction at the damper [N].
func (m *Model) Friction(corner int) float64 { return m.corner[corner].input.Friction }

// Standing returns the wheel travel at rest [m].
func (m *Model) Standing(corner int) float64 { return m.corner[corner].restTravel }

// Touch returns the wheel travels at which stop and top-out are first touched [m], ±Inf where there is none.
func (m *Model) Touch(corner int) (stop, open float64) {
	return m.corner[corner].stopAt, m.corner[corner].topAt
}

// Points returns how many floor points there are [-].
func (m *Model) Points() int { return len(m.px) }

// Point returns a floor point from the centre of gravity [m].
func (m *Model) Point(k int) (name string, x, y float64) {
	return m.car.Points[k].Name, m.px[k], m.py[k]
}

// Spring returns the force at the wheel [N] without stop and top-out, and the damper's motion ratio [-], at wheel travel w.
func (m *Model) Spring(corner int, w float64) (force, ratio float64) {
	force, _, ratio = m.corner[corner].position.at(w)
	return force, ratio
}

// Stop returns the force of stop and metal at the wheel, half way between loading and giving back, less the top-out's
// pull [N], at wheel travel w.
func (m *Model) Stop(corner int, w float64) float64 {
	c := &m.corner[corner]
	f, _ := c.stop.frozen(w, 0.5)
	pull, _ := c.top.at(w)
	return f - pull
}

// Damper returns the force at the damper [N] with friction at a damper speed [m/s].
func (m *Model) Damper(corner int, v float64) float64 {
	f, _ := m.corner[corner].damper.at(v)
	return f
}

// DamperSpeed returns the damper speed [m/s] at which the damper gives a force [N], from the table that a mount is solved
// with; 0 where no mount is given.
func (m *Model) DamperSpeed(corner int, force float64) float64 {
	c := &m.corner[corner]
	if c.inverse == nil {
		return 0
	}
	v, _ := c.inverse.at(force * (1 / forceUnit))
	return v
}
