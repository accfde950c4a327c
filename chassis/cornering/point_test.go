package cornering

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"trunnion/chassis/equilibrium"
)

// anywhere is an uneven position that no balance asks for.
func anywhere(t *rapid.T, c *Car) Point {
	p := *c.Rest()
	for i := range 4 {
		p.Travel[i] += rapid.Float64Range(-0.05, 0.04).Draw(t, "travel")
	}
	p.Heave += rapid.Float64Range(-0.012, 0.012).Draw(t, "heave")
	p.Roll += rapid.Float64Range(-0.03, 0.03).Draw(t, "roll")
	p.Pitch += rapid.Float64Range(-0.01, 0.01).Draw(t, "pitch")
	p.Lateral = rapid.Float64Range(-9, 9).Draw(t, "lateral")
	p.Longitudinal = rapid.Float64Range(-9, 5).Draw(t, "longitudinal")
	return p
}

// The slopes of the balance are its numerical ones, wherever the wheels are.
func TestSlopesOfTheBalance(t *testing.T) { slopes(t, demoCar(t, 1, "four-aboard", nil)) }

func slopes(t *testing.T, c *Car) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		p := anywhere(t, c)
		const h = 1e-7
		for i := range 4 {
			body := p.Heave + c.sys.Left[i]*p.Roll + c.sys.Behind[i]*p.Pitch
			tyre := c.sys.Base.Tyre[i] - (p.Travel[i] - c.sys.Base.Travel[i]) - body
			m := &c.sys.Corner[i]
			for _, bend := range []float64{tyre, p.Travel[i] - c.touch[i], p.Travel[i] - c.open[i], p.Travel[i] - m.WheelAtDamper(m.Mounts0-m.Closed)} {
				if math.Abs(bend) < 20*h {
					return // a bend of a force within the step
				}
			}
		}
		var f, up, down [7]float64
		var jac, none [7][7]float64
		c.balance(&p, &f, &jac)
		for k := range 7 {
			move := func(by float64) Point {
				q := p
				switch {
				case k < 4:
					q.Travel[k] += by
				case k == 4:
					q.Heave += by
				case k == 5:
					q.Roll += by
				default:
					q.Pitch += by
				}
				return q
			}
			high, low := move(h), move(-h)
			c.balance(&high, &up, &none)
			c.balance(&low, &down, &none)
			for r := range 7 {
				slope := (up[r] - down[r]) / (2 * h)
				if scale := math.Abs(jac[r][k]) + 1e4; math.Abs(slope-jac[r][k]) > 2e-4*scale {
					t.Errorf("balance %d against unknown %d: %.6g by formula, %.6g by difference", r, k, jac[r][k], slope)
				}
			}
		}
	})
}

// Wherever the car is held, all forces and moments on it add up: loads to its
// weight, lateral forces to mass times acceleration and to no yaw moment, and the
// loads' moments to those of weight and inertia, taken about the ground.
func TestCarIsAFreeBody(t *testing.T) {
	for b := range 4 {
		freeBody(t, demoCar(t, b, "holiday", nil))
	}
}

func freeBody(t *testing.T, c *Car) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		lateral := rapid.Float64Range(-9, 9).Draw(t, "lateral")
		longitudinal := rapid.Float64Range(-7, 3).Draw(t, "longitudinal")
		p, err := c.At(lateral, longitudinal, nil)
		if err != nil {
			t.Fatal(err)
		}
		total, side, yaw, across, along := 0.0, 0.0, 0.0, 0.0, 0.0
		weight, lateralMass, mx, my := c.weight, c.mass, c.momentLeft, c.momentBehind
		behind := c.mass * c.behind
		for i := range 4 {
			s := c.sys
			total += p.Load[i]
			side += p.Side[i]
			yaw += p.Side[i] * s.Behind[i]
			across += p.Load[i] * s.Left[i]
			along += p.Load[i] * s.Behind[i]
			u := s.Unsprung[i]
			weight += u * equilibrium.Gravity
			mx += u * equilibrium.Gravity * s.Left[i]
			my += u * equilibrium.Gravity * s.Behind[i]
			lateralMass += u
			behind += u * s.Behind[i]
		}
		high := c.cgHeight(&p.State)
		mx -= lateral*(c.mass*high+c.unsprungMoment()) + c.weight*c.lean.RollArm*p.Roll
		my += longitudinal*(c.mass*high+c.unsprungMoment()) - c.weight*c.lean.PitchArm*p.Pitch
		for _, r := range []struct {
			what      string
			got, want float64
		}{
			{"loads", total, weight},
			{"lateral forces", side, lateralMass * lateral},
			{"yaw moment", yaw, behind * lateral},
			{"moment across", across, mx},
			{"moment along", along, my},
		} {
			if math.Abs(r.got-r.want) > 1e-5*c.weight/1e3 {
				t.Errorf("at %.2f, %.2f m/s2: %s are %.6f, %.6f by the free body", lateral, longitudinal, r.what, r.got, r.want)
			}
		}
	})
}

// Going straight, the car sits where the rest position has it.
func TestStraightIsRest(t *testing.T) {
	for b := range 4 {
		c := demoCar(t, b, "four-aboard", nil)
		p, err := c.At(0, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		rest, err := c.sys.Solve(equilibrium.Weights{
			Down: c.weight - c.sys.SprungWeight, Behind: c.momentBehind - c.sys.MomentBehind, Left: c.momentLeft - c.sys.MomentLeft,
		}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 4 {
			if d := p.Travel[i] - rest.Travel[i]; math.Abs(d) > 1e-9 {
				t.Errorf("build %d: wheel %d stands %.3g m elsewhere than at rest", b, i, d)
			}
		}
	}
}

// A car mirrored turns right as it turned left.
func TestMirror(t *testing.T) {
	c := demoCar(t, 1, "four-aboard", nil)
	m := *c
	sys := *c.sys
	for i := range 4 {
		j := i ^ 1
		sys.Corner[i], sys.TyreRate[i], sys.Unsprung[i] = c.sys.Corner[j], c.sys.TyreRate[j], c.sys.Unsprung[j]
		sys.Stuck[i], sys.Base.Travel[i], sys.Base.Tyre[i] = c.sys.Stuck[j], c.sys.Base.Travel[j], c.sys.Base.Tyre[j]
		sys.Left[i] = -c.sys.Left[j]
		m.touch[i], m.open[i] = c.touch[j], c.open[j]
	}
	for a := range 2 {
		sys.Bar[a].Zero = -sys.Bar[a].Zero
	}
	m.sys, m.momentLeft, m.left = &sys, -m.momentLeft, -m.left
	var err error
	if m.rest, err = m.At(0, 0, &Point{State: equilibrium.State{Travel: sys.Base.Travel}}); err != nil {
		t.Fatal(err)
	}
	left, right := c.Sweep(Asked{Lateral: 8, Longitudinal: -3, Points: 40}), m.Sweep(Asked{Lateral: -8, Longitudinal: -3, Points: 40})
	if len(left.Points) != len(right.Points) || len(left.Contacts) != len(right.Contacts) {
		t.Fatalf("%d points and %d contacts to the left, %d and %d to the right", len(left.Points), len(left.Contacts), len(right.Points), len(right.Contacts))
	}
	for k := range left.Points {
		for i := range 4 {
			if d := left.Points[k].Load[i] - right.Points[k].Load[i^1]; math.Abs(d) > 1e-4 {
				t.Errorf("point %d: wheel %d carries %.6f N more than its image", k, i, d)
			}
		}
	}
	for k := range left.Contacts {
		l, r := &left.Contacts[k], &right.Contacts[k]
		if l.AtRest && r.AtRest {
			continue // listed by corner
		}
		if l.Corner != r.Corner^1 || math.Abs(l.Lateral+r.Lateral) > 1e-4 {
			t.Errorf("contact %d: corner %d at %.5f m/s2, corner %d at %.5f m/s2", k, l.Corner, l.Lateral, r.Corner, r.Lateral)
		}
	}
}

// Just short of the acceleration that is named the stop hangs free, 0.001 g on it
// is touched; and from there on the front share of what is moved across jumps
// towards the axle that landed.
func TestStopIsMetWhereSaid(t *testing.T) {
	seen := 0
	for b := range 4 {
		for _, load := range []string{"driver", "four-aboard", "holiday"} {
			for _, way := range []float64{1, -1} {
				c := demoCar(t, b, load, nil)
				s := c.Sweep(Asked{Lateral: way * equilibrium.Gravity, Points: 60})
				for _, k := range s.Contacts {
					if k.AtRest {
						if c.ToStop(c.Rest(), k.Corner) >= 0 {
							t.Errorf("build %d, %s: corner %d is said to rest on its stop", b, load, k.Corner)
						}
						continue
					}
					seen++
					const half = 0.0005 * equilibrium.Gravity
					short, err := c.At(k.Lateral-way*half, 0, nil)
					past, err2 := c.At(k.Lateral+way*half, 0, nil)
					if err != nil || err2 != nil {
						t.Fatal(err, err2)
					}
					if c.ToStop(&short, k.Corner) < 0 || c.ToStop(&past, k.Corner) > 0 {
						t.Errorf("build %d, %s: corner %d does not meet its stop within 0.001 g of %.4f g", b, load, k.Corner, k.Lateral*inG)
					}
					if front := k.Corner < 2; (k.After > k.Before) != front {
						t.Errorf("build %d, %s: landing corner %d moves the front share of what is moved from %.3f to %.3f", b, load, k.Corner, k.Before, k.After)
					}
				}
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d contacts were looked at", seen)
	}
}

// With a centre of gravity as high as a lorry's the car tips; where, the sweep
// says to 0.001 g, and no point past it is given.
func TestTipsOver(t *testing.T) {
	c := demoCar(t, 3, "driver", func(g *Geometry, _ *equilibrium.System) { g.CGHeight = 1.1 })
	s := c.Sweep(Asked{Lateral: 1.2 * equilibrium.Gravity, Points: 60})
	if s.Ended == nil || s.ReachedLateral <= 0.5*equilibrium.Gravity || s.ReachedLateral >= 0.8*equilibrium.Gravity {
		t.Fatalf("ended with %v at %.3f g", s.Ended, s.ReachedLateral*inG)
	}
	if gap := s.Ended.Lateral - s.ReachedLateral; gap <= 0 || gap > 0.001*equilibrium.Gravity {
		t.Errorf("held at %.4f g, not at %.4f g: farther apart than 0.001 g", s.ReachedLateral*inG, s.Ended.Lateral*inG)
	}
	last := &s.Points[len(s.Points)-1]
	if math.Abs(last.Lateral-s.ReachedLateral) > 1e-9 {
		t.Errorf("the last point is at %.4f g, %.4f g was reached", last.Lateral*inG, s.ReachedLateral*inG)
	}
	if len(s.Lifts) == 0 {
		t.Error("the car tipped without lifting a wheel first")
	}
	var no *NoHold
	if _, err := c.At(s.Ended.Lateral, 0, nil); !errors.As(err, &no) {
		t.Errorf("asked for on its own, that acceleration gives %v", err)
	}
	// The rigid car tips where track/2 meets the height of the whole mass; this
	// one rolls first and tips sooner.
	mass, moment := c.mass+c.unsprungTotal, c.mass*1.1+c.unsprungMoment()
	if rigid := 0.775 / (moment / mass); s.ReachedLateral*inG >= rigid {
		t.Errorf("tips at %.3f g; a rigid car would at %.3f g", s.ReachedLateral*inG, rigid)
	}
}

// The share that a wheel takes of its axle's force: none without load, all with
// all of it, half in the middle, less than its load's when it carries more; and
// both wheels' shares add up to one.
func TestSideShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, e := rapid.Float64Range(0, 1).Draw(t, "x"), rapid.Float64Range(0, 0.45).Draw(t, "e")
		p, slope := sideShare(x, e)
		other, _ := sideShare(1-x, e)
		if math.Abs(p+other-1) > 1e-12 {
			t.Errorf("shares at %.3f add up to %.12f", x, p+other)
		}
		if x > 0.5 && p > x+1e-12 || x < 0.5 && p < x-1e-12 {
			t.Errorf("a wheel with %.3f of the load takes %.3f of the force", x, p)
		}
		const h = 1e-6
		up, _ := sideShare(x+h, e)
		down, _ := sideShare(x-h, e)
		if math.Abs((up-down)/(2*h)-slope) > 1e-6 {
			t.Errorf("slope at %.3f is %.6f by formula, %.6f by difference", x, slope, (up-down)/(2*h))
		}
	})
	for _, x := range []float64{0, 0.5, 1} {
		if p, _ := sideShare(x, 0.2); math.Abs(p-x) > 1e-15 {
			t.Errorf("share at %.1f is %.16f", x, p)
		}
	}
}
