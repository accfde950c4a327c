package cornering

import (
	"errors"
	"math"

	"trunnion/chassis/equilibrium"
)

// Asked is what a sweep runs through: accelerations in equal steps from rest to
// the end, both in proportion.
type Asked struct {
	Lateral      float64 // at the end, to the left positive: a left turn [m/s2]
	Longitudinal float64 // at the end, forward positive [m/s2]
	Points       int     // rest not counted
	// Plain leaves out how the balance jumps.
	Plain bool
}

// Contact is a bump stop that is met.
type Contact struct {
	Corner       int
	Lateral      float64 // where it is met; 0 when the car rests on it [m/s2]
	Longitudinal float64 // there [m/s2]
	AtRest       bool    // the car rests on it
	Share        float64 // front share of the load transfer so far; NaN at rest and without lateral force [-]

	// Before and After are the front axle's share of what little more
	// acceleration moves across, just short of the stop and on it; NaN without
	// lateral force. Their difference is how the balance jumps. [-]
	Before, After float64
}

// Lifted is a wheel that comes off the ground.
type Lifted struct {
	Corner                int
	Lateral, Longitudinal float64 // where its tyre's load comes to nothing, to about 0.0005 g [m/s2]
}

// Swept is a sweep: rest first, then one point a step, up to where the car is no
// longer held.
type Swept struct {
	Points   []Point
	Contacts []Contact // in the order in which they are met
	Lifts    []Lifted
	Ended    *NoHold // nil when the sweep got to its end; else just past Reached
	// Reached is the greatest acceleration at which the car was held, to about
	// 0.001 g; that of the last point when the sweep got to its end.
	ReachedLateral, ReachedLongitudinal float64 // [m/s2]
}

// fine is how closely accelerations are searched for: 0.0005 of standard free
// fall, so that a bracket of 0.001 g is kept. [m/s2]
const fine = 0.0005 * equilibrium.Gravity

// Sweep runs through the accelerations, each point started from what the two
// before it lead to.
func (c *Car) Sweep(ask Asked) Swept {
	var out Swept
	out.Points = make([]Point, 1, ask.Points+1)
	out.Points[0] = c.rest
	line := line{c: c, lateral: ask.Lateral, longitudinal: ask.Longitudinal}
	line.size = math.Hypot(ask.Lateral, ask.Longitudinal)
	for i := range 4 {
		if c.rest.Travel[i] > c.touch[i] {
			out.Contacts = append(out.Contacts, Contact{Corner: i, AtRest: true, Share: math.NaN(), Before: math.NaN(), After: math.NaN()})
		}
	}
	if ask.Points < 1 || line.size == 0 {
		return out
	}
	from := 0.0
	for k := 1; k <= ask.Points; k++ {
		to := float64(k) / float64(ask.Points)
		was := &out.Points[len(out.Points)-1]
		next, err := line.at(to, out.guess(to, line))
		if err != nil {
			out.end(&line, from, to, was, err)
			return out
		}
		c.meet(&out, &line, from, to, was, &next, ask.Plain)
		for i := range 4 {
			if was.Tyre[i] > 0 && next.Tyre[i] <= 0 {
				share := lifting(i, &line, from, to, was)
				out.Lifts = append(out.Lifts, Lifted{Corner: i, Lateral: share * line.lateral, Longitudinal: share * line.longitudinal})
			}
		}
		out.Points = append(out.Points, next)
		from = to
	}
	out.ReachedLateral, out.ReachedLongitudinal = ask.Lateral, ask.Longitudinal
	return out
}

// line is a straight way through the accelerations, 0 to 1.
type line struct {
	c                     *Car
	lateral, longitudinal float64 // at its end [m/s2]
	size                  float64 // [m/s2]
}

func (l *line) at(share float64, guess *Point) (Point, error) {
	return l.c.At(share*l.lateral, share*l.longitudinal, guess)
}

// guess carries on the last two points in a straight line.
func (s *Swept) guess(to float64, l line) *Point {
	n := len(s.Points)
	last := s.Points[n-1]
	if n < 2 {
		return &last
	}
	along := func(p *Point) float64 {
		return (p.Lateral*l.lateral + p.Longitudinal*l.longitudinal) / (l.size * l.size)
	}
	before := &s.Points[n-2]
	ahead := (to - along(&last)) / (along(&last) - along(before))
	return carried(&last, before, ahead)
}

// carried carries the way from one point to the last on by a share of itself.
func carried(last, before *Point, ahead float64) *Point {
	p := *last
	for i := range 4 {
		p.Travel[i] += ahead * (last.Travel[i] - before.Travel[i])
	}
	p.Heave += ahead * (last.Heave - before.Heave)
	p.Roll += ahead * (last.Roll - before.Roll)
	p.Pitch += ahead * (last.Pitch - before.Pitch)
	return &p
}

// end finds how far the car is held between a share that was solved and one that
// was not.
func (s *Swept) end(l *line, from, to float64, last *Point, err error) {
	guess := *last
	for (to-from)*l.size > fine {
		middle := 0.5 * (from + to)
		p, e := l.at(middle, &guess)
		if e != nil {
			to, err = middle, e
			continue
		}
		from, guess = middle, p
	}
	var no *NoHold
	if errors.As(err, &no) {
		s.Ended = no
	}
	s.ReachedLateral, s.ReachedLongitudinal = from*l.lateral, from*l.longitudinal
	if guess.Lateral != last.Lateral || guess.Longitudinal != last.Longitudinal {
		s.Points = append(s.Points, guess)
	}
}

// meet adds the stops met between two points.
func (c *Car) meet(out *Swept, l *line, from, to float64, was, next *Point, plain bool) {
	first := len(out.Contacts)
	for i := range 4 {
		if !(was.Travel[i] <= c.touch[i] && next.Travel[i] > c.touch[i]) {
			continue
		}
		share, p := c.touching(i, l, from, to, was, next)
		k := Contact{Corner: i, Lateral: share * l.lateral, Longitudinal: share * l.longitudinal, Share: math.NaN(), Before: math.NaN(), After: math.NaN()}
		if l.lateral != 0 {
			k.Share = c.FrontShare(&p)
			if !plain {
				k.Before, k.After = c.jump(l, share, &p)
			}
		}
		out.Contacts = append(out.Contacts, k)
	}
	// Two stops may be met in one step: in their order.
	met := out.Contacts[first:]
	for i := 1; i < len(met); i++ {
		for j := i; j > 0 && math.Hypot(met[j].Lateral, met[j].Longitudinal) < math.Hypot(met[j-1].Lateral, met[j-1].Longitudinal); j-- {
			met[j], met[j-1] = met[j-1], met[j]
		}
	}
}

// touching finds where wheel i comes to its stop between two points: false
// position with the kept end halved (Illinois; M. Dowell, P. Jarratt, BIT 11
// (1971) 168, from memory).
func (c *Car) touching(i int, l *line, from, to float64, was, next *Point) (share float64, at Point) {
	low, high := was.Travel[i]-c.touch[i], next.Travel[i]-c.touch[i]
	first, second := *was, *next
	share, at = to, second
	side := 0
	for range 30 {
		if (to-from)*l.size <= 1e-5*fine || high == low {
			break // the share on both sides is wanted, so closer than is said
		}
		share = from + (to-from)*(-low)/(high-low)
		ahead := (share - from) / (to - from)
		p, err := l.at(share, carried(&first, &second, -ahead))
		if err != nil {
			return to, second
		}
		at = p
		off := p.Travel[i] - c.touch[i]
		if math.Abs(off) < 1e-9 {
			break
		}
		if off > 0 {
			to, high, second = share, off, p
			if side == 1 {
				low *= 0.5
			}
			side = 1
		} else {
			from, low, first = share, off, p
			if side == -1 {
				high *= 0.5
			}
			side = -1
		}
	}
	return share, at
}

// lifting finds by halves where the tyre of wheel i comes off the ground, between a share
// at which it stands on it and one at which it does not.
func lifting(i int, l *line, from, to float64, was *Point) float64 {
	guess := *was
	for (to-from)*l.size > fine {
		middle := 0.5 * (from + to)
		p, err := l.at(middle, &guess)
		if err != nil {
			break
		}
		if p.Tyre[i] <= 0 {
			to = middle
			continue
		}
		from, guess = middle, p
	}
	return to
}

// jump returns the front share of what a little more acceleration moves across,
// just short of a stop and just on it.
func (c *Car) jump(l *line, share float64, at *Point) (before, after float64) {
	step := 0.01 * equilibrium.Gravity / l.size
	part := func(to float64) float64 {
		p, err := l.at(to, at)
		if err != nil {
			return math.NaN()
		}
		front := c.Transfer(&p, 0) - c.Transfer(at, 0)
		rear := c.Transfer(&p, 1) - c.Transfer(at, 1)
		return front / (front + rear)
	}
	return part(share - step), part(share + step)
}

// Transfer is the load that lateral acceleration has moved from the left to the
// right wheel of an axle [N].
func (c *Car) Transfer(p *Point, axle int) float64 {
	l, r := 2*axle, 2*axle+1
	return 0.5 * ((p.Load[r] - p.Load[l]) - (c.rest.Load[r] - c.rest.Load[l]))
}

// FrontShare is the front axle's share of the load moved across [-]; NaN when
// none is.
func (c *Car) FrontShare(p *Point) float64 {
	front, rear := c.Transfer(p, 0), c.Transfer(p, 1)
	if p.Lateral == 0 || front+rear == 0 {
		return math.NaN()
	}
	return front / (front + rear)
}

// Droop is the droop left at a corner to the damper's open end [m]; NaN when that
// is not known.
func (c *Car) Droop(p *Point, i int) float64 { return p.Travel[i] - c.open[i] }

// Open is the wheel travel with the damper fully open [m]; NaN where it is not known.
func (c *Car) Open(i int) float64 { return c.open[i] }

// ToStop is the bump travel left to the touch of the stop [m], negative in it;
// NaN without one.
func (c *Car) ToStop(p *Point, i int) float64 { return c.touch[i] - p.Travel[i] }

// StopForce is what the stop pushes the wheel down with [N].
func (c *Car) StopForce(p *Point, i int) float64 {
	if !(p.Travel[i] > c.touch[i]) {
		return 0
	}
	sh := c.sys.Corner[i].At(p.Travel[i])
	return sh.Stop
}

// RollAt is how far the body rolls out of the corner at a point, against the
// ground: positive to the right in a left turn [rad].
func (c *Car) RollAt(p *Point) float64 { return p.Roll - c.rest.Roll }

// PitchAt is how far the nose goes down at a point [rad].
func (c *Car) PitchAt(p *Point) float64 { return p.Pitch - c.rest.Pitch }

// gradientAt is how far to each side of straight ahead the roll gradient looks:
// far enough that friction is no matter, short of most stops. [m/s2]
const gradientAt = 0.1 * equilibrium.Gravity

// RollGradient returns the roll of the body against the ground per lateral
// acceleration around straight ahead [rad/(m/s2)], half the difference between
// left and right, and the two rolls it comes from [rad].
func (c *Car) RollGradient() (gradient, left, right float64, err error) {
	l, err := c.At(gradientAt, 0, nil)
	if err != nil {
		return math.NaN(), 0, 0, err
	}
	r, err := c.At(-gradientAt, 0, nil)
	if err != nil {
		return math.NaN(), 0, 0, err
	}
	return (l.Roll - r.Roll) / (2 * gradientAt), c.RollAt(&l), c.RollAt(&r), nil
}
