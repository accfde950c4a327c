package cornering

import (
	"errors"
	"math"

	"trunnion/chassis/linkage"
)

// Path is where an axle's links lead its wheels, over wheel travel: what a
// lateral force does to the springs, and how the wheels then stand.
type Path struct {
	low, step float64
	rows      []pathRow
	// coupled says that one wheel's travel moves the other: a beam or an axle.
	coupled bool
	// locks is where the linkage ends in droop and in bump; NaN: it does not. [m]
	locks [2]float64
}

// Locks are the wheel travels at which the links lock in droop and in bump, both
// wheels moving together; NaN where they do not as far as wheels go [m].
func (p *Path) Locks() (low, high float64) { return p.locks[0], p.locks[1] }

// pathRow is a path at one travel. Of an independent wheel roll and heave are
// the same.
type pathRow struct {
	// roll and heave are how far the left contact moves outward per bump of both
	// wheels, in opposite ways and together [-]; rollTyre and heaveTyre how much
	// more per deflection of the tyre [1/m].
	roll, heave, rollTyre, heaveTyre float64
	brake, hub                       float64 // forward movement of contact and wheel centre per bump [-]
	camber, toe                      float64 // wheels together, or the independent wheel [rad]
	camberRoll, toeRoll              float64 // of the left wheel, the other as far the other way [rad]
}

// pathReach is how far up and down a path is looked up: farther than road cars'
// wheels move. [m]
const pathReach = 0.16

// pathRows is the number of travels looked up.
const pathRows = 41

// ErrNoPath says that a linkage hardly moves.
var ErrNoPath = errors.New("cornering: the linkage locks at once")

// NewPath makes the path of a linkage, as far as it moves.
func NewPath(l *linkage.Linkage, coupled bool) (*Path, error) {
	travels := linkage.Travels(-pathReach, pathReach, pathRows)
	both, err := l.Sweep(linkage.Parallel, travels, 0)
	if err != nil {
		return nil, err
	}
	apart, leans := both, 0.0
	if coupled {
		home, err := l.Figures(linkage.Opposite, 0, 0)
		if err != nil {
			return nil, err
		}
		leans = home.CamberGain
		if apart, err = l.Sweep(linkage.Opposite, travels, 0); err != nil {
			return nil, err
		}
	}
	out := &Path{step: travels[1] - travels[0], coupled: coupled, locks: [2]float64{math.NaN(), math.NaN()}}
	for k, lock := range []*linkage.LockError{both.Low, both.High} {
		if lock != nil {
			out.locks[k] = lock.Reached
		}
	}
	for i := range both.Points {
		p := &both.Points[i]
		k := 0
		for k < len(apart.Points) && math.Abs(apart.Points[k].Travel-p.Travel) > 1e-9 {
			k++
		}
		if k == len(apart.Points) {
			continue // one of the two locks there
		}
		a := &apart.Points[k]
		row := pathRow{
			roll: math.Tan(p.Jacking), heave: math.Tan(p.Jacking), rollTyre: p.CamberGain, heaveTyre: p.CamberGain,
			brake: math.Tan(p.BrakeSupport), hub: math.Tan(p.DriveSupport), camber: p.Camber, toe: p.Toe, camberRoll: a.Camber, toeRoll: a.Toe,
		}
		if coupled {
			// Wheels at one travel that begin to move apart.
			row.roll, row.rollTyre = p.RollCentre/p.HalfTrack, leans
		}
		if len(out.rows) == 0 {
			out.low = p.Travel
		}
		out.rows = append(out.rows, row)
	}
	if len(out.rows) < 5 {
		return nil, ErrNoPath
	}
	return out, nil
}

// at reads one figure of the path and its slope over travel: cubic pieces with
// the slope of the chord between neighbours at each row, straight past the ends.
//
// Source: E. Catmull, R. Rom, A class of local interpolating splines (1974), from
// memory.
func (p *Path) at(w float64, of func(*pathRow) float64) (value, slope float64) {
	last := len(p.rows) - 1
	chord := func(i int) float64 {
		lo, hi := max(i-1, 0), min(i+1, last)
		return (of(&p.rows[hi]) - of(&p.rows[lo])) / float64(hi-lo)
	}
	x := (w - p.low) / p.step
	switch {
	case !(x > 0):
		s := chord(0)
		return of(&p.rows[0]) + s*x, s / p.step
	case x >= float64(last):
		s := chord(last)
		return of(&p.rows[last]) + s*(x-float64(last)), s / p.step
	}
	i := int(x)
	t := x - float64(i)
	y0, y1, s0, s1 := of(&p.rows[i]), of(&p.rows[i+1]), chord(i), chord(i+1)
	c2, c3 := 3*(y1-y0)-2*s0-s1, 2*(y0-y1)+s0+s1
	return y0 + t*(s0+t*(c2+t*c3)), (s0 + t*(2*c2+3*t*c3)) / p.step
}

func rollOf(r *pathRow) float64      { return r.roll }
func heaveOf(r *pathRow) float64     { return r.heave }
func rollTyreOf(r *pathRow) float64  { return r.rollTyre }
func heaveTyreOf(r *pathRow) float64 { return r.heaveTyre }
func brakeOf(r *pathRow) float64     { return r.brake }
func hubOf(r *pathRow) float64       { return r.hub }

// lever is how far the contacts of an axle move outward per bump of wheel i: its
// own, and that of the other wheel, with their slopes.
type lever struct {
	own, other           float64    // [-]
	ownBy, otherBy       [2]float64 // over the travel of wheel i and of the other [1/m]
	ownTyre, otherByTyre float64    // over the own tyre's deflection, and of other over the other's [1/m]
}

// lever finds it for wheel i at the travels and tyre deflections of its axle.
//
//	own = ½·(A + B) + ½·(A' + B')·(δ_i − δ_0),   other = ½·(A − B) + ½·(A' − B')·(δ_j − δ_0)
//
// A with the wheels moving apart, B together, primed per deflection of the tyre,
// which brings the ground nearer to the wheel. A car known by the height of its
// roll centre alone has A = B = (h_0 − κ·(w − w_0))/|y|, A' = B' = −1/|y|: the line
// of the force goes through a point of the middle that falls by κ. A taller tyre takes
// the ground away from the wheel by what it is taller.
//
// Source: virtual work; own derivation.
func (c *Car) lever(i int, travel, tyre *[4]float64) lever {
	a, j := i/2, i^1
	y := math.Abs(c.sys.Left[i])
	p := c.geo.Path[a]
	d, e := tyre[i]-c.sys.Base.Tyre[i]-c.sys.Grown[i], tyre[j]-c.sys.Base.Tyre[j]-c.sys.Grown[j]
	if p == nil {
		h := c.geo.RollCentre[a] - c.geo.Fall[a]*(travel[i]-c.sys.Base.Travel[i]) - d
		return lever{own: h / y, ownBy: [2]float64{-c.geo.Fall[a] / y, 0}, ownTyre: -1 / y}
	}
	w, half := travel[i], 1.0
	if p.coupled {
		w, half = 0.5*(travel[i]+travel[j]), 0.5
	}
	roll, rollBy := p.at(w, rollOf)
	rollTyre, rollTyreBy := p.at(w, rollTyreOf)
	roll += c.offset[a]
	if !p.coupled {
		return lever{own: roll + rollTyre*d, ownBy: [2]float64{rollBy + rollTyreBy*d, 0}, ownTyre: rollTyre}
	}
	heave, heaveBy := p.at(w, heaveOf)
	heaveTyre, heaveTyreBy := p.at(w, heaveTyreOf)
	out := lever{ownTyre: 0.5 * (rollTyre + heaveTyre), otherByTyre: 0.5 * (rollTyre - heaveTyre)}
	out.own = 0.5*(roll+heave) + out.ownTyre*d
	out.other = 0.5*(roll-heave) + out.otherByTyre*e
	ownBy := half * 0.5 * (rollBy + heaveBy + (rollTyreBy+heaveTyreBy)*d)
	otherBy := half * 0.5 * (rollBy - heaveBy + (rollTyreBy-heaveTyreBy)*e)
	out.ownBy, out.otherBy = [2]float64{ownBy, ownBy}, [2]float64{otherBy, otherBy}
	return out
}

// settle finds by how much an axle's path is off the height of the roll centre
// that the car has as weighed [-].
func (c *Car) settle() {
	for a, p := range c.geo.Path {
		if p == nil {
			continue
		}
		w := 0.5 * (c.sys.Base.Travel[2*a] + c.sys.Base.Travel[2*a+1])
		roll, _ := p.at(w, rollOf)
		c.offset[a] = c.geo.RollCentre[a]/math.Abs(c.sys.Left[2*a]) - roll
	}
}

// along is what braking or power of a wheel adds to its suspension force through
// the links, and the slope of it over its travel [N/m].
//
//	J = −X·dx/dw
//
// X is its share of the force along the car: at the ground where it brakes, or
// where an axle keeps its own driving torque, and else at the wheel centre.
func (c *Car) along(i int, travel float64, longitudinal float64) (lift, slope float64) {
	a := i / 2
	p := c.geo.Path[a]
	if p == nil || longitudinal == 0 {
		return 0, 0
	}
	share, of := c.geo.BrakeShare, brakeOf
	if longitudinal > 0 {
		share = c.geo.DriveShare
		if !c.geo.Reacted[a] {
			of = hubOf
		}
	}
	if a == 1 {
		share = 1 - share
	}
	if math.IsNaN(share) {
		return 0, 0
	}
	x := 0.5 * share * longitudinal * (c.mass + c.unsprungTotal)
	v, by := p.at(travel, of)
	return -x * v, -x * by
}

// Led reports whether an axle's links are known by their points.
func (c *Car) Led(axle int) bool { return c.geo.Path[axle] != nil }

// stands is a wheel's camber or toe against the body [rad].
func (c *Car) stands(p *Point, i int, of, apart func(*pathRow) float64) float64 {
	path := c.geo.Path[i/2]
	if path == nil {
		return math.NaN()
	}
	if !path.coupled {
		v, _ := path.at(p.Travel[i], of)
		return v
	}
	v, _ := path.at(0.5*(p.Travel[i]+p.Travel[i^1]), of)
	turned, _ := path.at(0.5*(p.Travel[i]-p.Travel[i^1]), apart)
	home, _ := path.at(0, apart)
	return v + turned - home
}

// Camber is how far a wheel leans against the road's upright, top outward
// positive [rad]: by its links and with the body. NaN where the links' points are
// not known.
//
//	γ_i = γ(w) − sign(y_i)·φ,   φ the body's roll, left side up
func (c *Car) Camber(p *Point, i int) float64 {
	return c.LinkCamber(p, i) - math.Copysign(1, c.sys.Left[i])*p.Roll
}

// LinkCamber is the camber of a wheel against the body by its links [rad], positive
// when its top leans outward. NaN where the links' points are not known.
func (c *Car) LinkCamber(p *Point, i int) float64 {
	return c.stands(p, i, func(r *pathRow) float64 { return r.camber }, func(r *pathRow) float64 { return r.camberRoll })
}

// Steer is how far an axle is steered to the left by its links alone, the mean of
// its wheels against straight ahead [rad]: bump steer and the turn of a beam or
// an axle as the car rolls. In a left turn a front axle with less than nothing, or
// a rear one with more, adds to understeer. NaN where the links' points are not
// known.
//
//	δ = ½·(θ_r − θ_l) − ½·(θ_r0 − θ_l0),   θ toe-in
func (c *Car) Steer(p *Point, axle int) float64 {
	l, r := 2*axle, 2*axle+1
	return 0.5*(c.Toe(p, r)-c.Toe(p, l)) - 0.5*(c.Toe(&c.rest, r)-c.Toe(&c.rest, l))
}

// Toe is how far a wheel points inward [rad]; the steering is taken as straight.
// NaN where the links' points are not known.
func (c *Car) Toe(p *Point, i int) float64 {
	return c.stands(p, i, func(r *pathRow) float64 { return r.toe }, func(r *pathRow) float64 { return r.toeRoll })
}
