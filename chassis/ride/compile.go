package ride

import (
	"fmt"
	"math"
)

// Compile checks the car, builds its tables and finds its rest.
func Compile(car Car) (*Model, error) {
	if err := check(&car); err != nil {
		return nil, err
	}
	m := &Model{
		car: car, gravity: car.Gravity, mass: car.SprungMass,
		inertia: [2]float64{car.InertiaRoll, car.InertiaPitch},
		invMass: 1 / car.SprungMass, invRoll: 1 / car.InertiaRoll, invPitch: 1 / car.InertiaPitch,
		bars: car.Bars, barFree: car.BarFree, arm: [2]float64{car.RollArm, car.PitchArm},
	}
	if m.gravity == 0 {
		m.gravity = standardGravity
	}
	for i := range car.Corners {
		m.compileCorner(i, &car.Corners[i])
	}
	m.share()
	ahead, left, err := m.settle()
	if err != nil {
		return nil, err
	}
	m.move(ahead, left)
	for _, p := range car.Points {
		m.px = append(m.px, p.X+car.CGToFront-ahead)
		m.py = append(m.py, p.Y-car.CGOffset-left)
	}
	return m, nil
}

func (m *Model) compileCorner(i int, in *Corner) {
	c := &m.corner[i]
	car := &m.car
	c.x, c.y = car.CGToFront, car.TrackFront/2+car.TrackCentre[0]-car.CGOffset
	if i >= RearLeft {
		c.x, c.y = car.CGToFront-car.Wheelbase, car.TrackRear/2+car.TrackCentre[1]-car.CGOffset
	}
	if i%2 == 1 {
		c.y -= []float64{car.TrackFront, car.TrackRear}[i/2]
	}
	c.input = *in
	c.travel = in.DamperTravel
	if c.travel == nil {
		c.travel = func(w float64) (float64, float64, float64) { return w, 1, 0 }
	}
	c.position = buildPosition(in.Spring, c.travel)
	c.mass, c.invMass = in.UnsprungMass, 1/in.UnsprungMass
	c.rate, c.damping = in.Tyre.Rate, in.Tyre.Damping
	m.damped = m.damped || c.damping > 0
	c.rim = math.Inf(1)
	if in.Tyre.RimTravel > 0 {
		c.rim = in.Tyre.RimTravel
		c.rimRate = in.Tyre.RimRate - in.Tyre.Rate
		if in.Tyre.RimRate == 0 {
			c.rimRate = 9 * in.Tyre.Rate
		}
	}
	c.datum = in.Datum
	c.stopAt, c.topAt = math.Inf(1), math.Inf(-1)
	if c.top = in.buildTop(c.travel); c.top != nil {
		c.topAt = c.top.touch
	}
	law := in.damperLaw()
	c.damper = buildLog(law)
	m.checkCurves(i, in)
	if in.MountStiffness > 0 {
		c.mount = in.MountStiffness
		c.inverse = buildInverse(c.damper)
	}
}

// move counts the wheels' places from the centre of gravity where it is at rest: so far ahead and to the left of where the
// car says [m].
func (m *Model) move(ahead, left float64) {
	for i := range m.corner {
		c := &m.corner[i]
		c.x, c.y = c.x-ahead, c.y-left
		c.pitch, c.roll = c.x*m.invPitch, c.y*m.invRoll
		c.mobility = c.invMass + m.invMass + c.x*c.x*m.invPitch + c.y*c.y*m.invRoll
	}
}

// sunk is how much lower the centre of gravity stands than the axes of its lean say, at roll and pitch from rest [m].
//
//	½·(d_φ·φ² + d_θ·θ²)
func (m *Model) sunk(roll, pitch float64) float64 {
	return (m.arm[0]*roll*roll + m.arm[1]*pitch*pitch) / 2
}

// damperLaw joins valve and friction: F = D(v) + F_f·tanh(v/v_s).
func (c *Corner) damperLaw() func(v, side float64) (float64, float64) {
	vs := c.FrictionSpeed
	if vs == 0 {
		vs = defaultFrictionSpeed
	}
	return func(v, side float64) (f, slope float64) {
		if c.Damper != nil {
			f, slope = c.Damper(v), c.damperSlope(v, side)
		}
		if c.Friction > 0 {
			th := math.Tanh(v / vs)
			f += c.Friction * th
			slope += c.Friction * (1 - th*th) / vs
		}
		return f, slope
	}
}

// damperSlope returns the slope at v, at a kink the one towards side.
func (c *Corner) damperSlope(v, side float64) float64 {
	if c.DamperSlope != nil {
		if v == 0 {
			v = side * 1e-12
		}
		return c.DamperSlope(v)
	}
	d := 1e-6 + 1e-5*math.Abs(v)
	if v == 0 {
		return side * (c.Damper(side*d) - c.Damper(0)) / d
	}
	return (c.Damper(v+d) - c.Damper(v-d)) / (2 * d)
}

// share lets corners with equal tables use one.
func (m *Model) share() {
	for i := 1; i < 4; i++ {
		for j := range i {
			a, b := &m.corner[i], &m.corner[j]
			if a.position != b.position && samePosition(a.position, b.position) {
				a.position = b.position
			}
			if a.damper != b.damper && sameLog(a.damper, b.damper) {
				a.damper = b.damper
				if a.inverse != nil && b.inverse != nil { // one has a mount, and the other may have none
					a.inverse = b.inverse
				}
			}
		}
	}
}

// checkCurves warns of force laws that are suspicious, not impossible.
func (m *Model) checkCurves(i int, in *Corner) {
	c := &m.corner[i]
	var miss, total, falling float64
	for k := range c.position.rows[:positionRows-1] {
		w := positionLow + float64(k)*positionStep
		a, b := &c.position.rows[k], &c.position.rows[k+1]
		if math.Abs(w) > 0.1 {
			continue
		}
		df := b.c0 - a.c0
		miss += math.Abs(df - (a.c1+b.c1)/2)
		total += math.Abs(df)
		if math.Abs(w) <= 0.06 {
			falling = math.Min(falling, df/positionStep)
		}
	}
	if miss > 0.05*total {
		m.warn(SlopeMismatch, i, miss/total)
	}
	if falling < 0 {
		m.warn(FallingSpring, i, falling)
	}
	if in.Friction > 150 && in.MountStiffness <= 0 {
		m.warn(HeavyFriction, i, in.Friction)
	}
	law := in.damperLaw()
	for _, side := range []float64{1, -1} {
		for v := 0.005; v < 3; v *= 1.1 {
			if _, g := law(side*v, side); g < 0 {
				m.warn(SlopeOfDamper, i, side*v)
				break
			}
		}
	}
}

// check returns every fault of the car at once.
func check(car *Car) error {
	var faults []Fault
	positive := func(field string, v float64) {
		if !(v > 0) || math.IsInf(v, 0) {
			faults = append(faults, Fault{field, v, "must be greater than zero"})
		}
	}
	notNegative := func(field string, v float64) {
		if !(v >= 0) || math.IsInf(v, 0) {
			faults = append(faults, Fault{field, v, "must be zero or greater"})
		}
	}
	finite := func(field string, v float64) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			faults = append(faults, Fault{field, v, "must be a number"})
		}
	}
	positive("SprungMass", car.SprungMass)
	positive("InertiaRoll", car.InertiaRoll)
	positive("InertiaPitch", car.InertiaPitch)
	positive("Wheelbase", car.Wheelbase)
	positive("TrackFront", car.TrackFront)
	positive("TrackRear", car.TrackRear)
	notNegative("Gravity", car.Gravity)
	finite("CGOffset", car.CGOffset)
	finite("RollArm", car.RollArm)
	finite("PitchArm", car.PitchArm)
	finite("Roll", car.Roll)
	finite("Pitch", car.Pitch)
	if !(car.CGToFront > 0 && car.CGToFront < car.Wheelbase) {
		faults = append(faults, Fault{"CGToFront", car.CGToFront, "must lie between the axles"})
	}
	for i := range car.Bars {
		notNegative(fmt.Sprintf("Bars[%d]", i), car.Bars[i])
		finite(fmt.Sprintf("BarFree[%d]", i), car.BarFree[i])
	}
	for i := range car.Points {
		finite(fmt.Sprintf("Points[%d].X", i), car.Points[i].X)
		finite(fmt.Sprintf("Points[%d].Y", i), car.Points[i].Y)
	}
	for i := range car.Corners {
		c := &car.Corners[i]
		at := func(s string) string { return fmt.Sprintf("Corners[%d].%s", i, s) }
		positive(at("UnsprungMass"), c.UnsprungMass)
		positive(at("Tyre.Rate"), c.Tyre.Rate)
		notNegative(at("Tyre.Damping"), c.Tyre.Damping)
		notNegative(at("Tyre.RimTravel"), c.Tyre.RimTravel)
		if c.Tyre.RimRate != 0 && !(c.Tyre.RimRate >= c.Tyre.Rate) {
			faults = append(faults, Fault{at("Tyre.RimRate"), c.Tyre.RimRate, "must not be softer than the tyre"})
		}
		notNegative(at("Friction"), c.Friction)
		if v := c.FrictionSpeed; v != 0 && !(v >= finestFriction) {
			faults = append(faults, Fault{at("FrictionSpeed"), v, "must be 0 or at least 0.002 m/s: the tables do not resolve less"})
		}
		notNegative(at("MountStiffness"), c.MountStiffness)
		notNegative(at("MetalStiffness"), c.MetalStiffness)
		notNegative(at("TopOut.Stiffness"), c.TopOut.Stiffness)
		finite(at("Datum"), c.Datum)
		if d := c.Stop.Dynamic; d != 0 && !(d >= 1 && d <= 2) {
			faults = append(faults, Fault{at("Stop.Dynamic"), d, "must lie between 1 and 2"})
		}
		if l := c.Stop.Loss; !(l >= 0 && l <= 0.75) {
			faults = append(faults, Fault{at("Stop.Loss"), l, "must lie between 0 and 0.75"})
		}
		if c.Spring == nil {
			faults = append(faults, Fault{at("Spring"), 0, "is missing"})
		} else {
			for w := -0.25; w <= 0.25; w += 0.005 {
				if f, d := c.Spring(w); math.IsNaN(f+d) || math.IsInf(f+d, 0) {
					faults = append(faults, Fault{at("Spring"), w, "gives no force at this wheel travel"})
					break
				}
			}
		}
		faults = checkDamper(faults, at, c)
	}
	if len(faults) > 0 {
		return &InputError{faults}
	}
	return nil
}

// checkDamper refuses a damper that adds energy and a motion ratio that turns round.
func checkDamper(faults []Fault, at func(string) string, c *Corner) []Fault {
	if c.DamperTravel != nil {
		for w := -0.15; w <= 0.15; w += 0.005 {
			x, r, d := c.DamperTravel(w)
			if !(r > 0) || math.IsNaN(x+d) || math.IsInf(x+r+d, 0) {
				faults = append(faults, Fault{at("DamperTravel"), w, "has no positive motion ratio at this wheel travel"})
				break
			}
		}
	}
	if c.Damper == nil {
		return faults
	}
	if f := c.Damper(0); !(math.Abs(f) <= 1e-6) {
		faults = append(faults, Fault{at("Damper"), f, "must be zero at rest: gas and friction belong elsewhere"})
	}
	for _, side := range []float64{1, -1} {
		for v := 0.001; v < logTrust; v *= 1.2 {
			f := c.Damper(side * v)
			if math.IsNaN(f) || math.IsInf(f, 0) || f*side < 0 {
				faults = append(faults, Fault{at("Damper"), side * v, "adds energy at this speed"})
				break
			}
		}
	}
	return faults
}
