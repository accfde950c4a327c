package clickmap

import (
	"context"
	"fmt"
	"math"

	"trunnion/chassis/drives"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/route"
	"trunnion/chassis/study"
)

// Unlike is an axle whose left and right dampers differ, with what that does to the car
// over obstacles that lie alike under both sides: on those the road gives no roll.
type Unlike struct {
	Axle  int
	Force [2]Sides // bump, rebound, at the speed at which clicks are compared
	Over  []Parted // obstacle by obstacle
}

// Sides are the forces of the two dampers of an axle, positive.
type Sides struct {
	Left, Right float64 // [N]
}

// Apart is the left force over the right one, as a share of their mean [-].
func (s Sides) Apart() float64 { return (s.Left - s.Right) / (0.5 * (s.Left + s.Right)) }

// Parted is one obstacle, driven twice: with the dampers as they are, and with both of
// the axle at the mean of the two.
type Parted struct {
	Event string
	Speed float64 // of the car [m/s]
	Roll  float64 // greatest lean from rest, dampers as they are [rad]
	Even  float64 // the same with both at their mean: what a load off the middle does [rad]
	// Of the dampers alone: the greatest difference of the two drives at one moment.
	ByDampers float64 // lean [rad]
	Pitch     float64 // [rad]
	Load      float64 // left less right tyre load of the axle [N]
}

// unlikeShare is the least difference of two forces, as a share of their mean, that is
// one: less is arithmetic. Chosen.
const unlikeShare = 1e-6

// usualHump is driven where the brief has no obstacle: a round hump 75 mm high over
// 3.7 m, at 30 km/h, both common practice, no source.
var usualHump = struct{ height, length, speed float64 }{0.075, 3.7, 30 / 3.6}

// unlike drives every axle whose sides are damped unlike.
func (m *Map) unlike(ctx context.Context, a *study.Answer) error {
	var nominal *ride.Car
	for axle := range 2 {
		if !m.sided(2 * axle) {
			continue
		}
		if nominal == nil {
			c, _, err := drives.Cars(a, m.Build.ID, m.Ask.Load, 0, 0)
			if err != nil {
				return err
			}
			nominal = &c
		}
		u := Unlike{Axle: axle}
		l, r := nominal.Corners[2*axle].Damper, nominal.Corners[2*axle+1].Damper
		if l == nil || r == nil {
			continue
		}
		differ := false
		for _, v := range m.Ask.Speeds {
			for k, way := range []float64{1, -1} {
				s := Sides{math.Abs(l(way * v)), math.Abs(r(way * v))}
				differ = differ || math.Abs(s.Apart()) > unlikeShare
				if v == m.Ask.Speeds[Mid] {
					u.Force[k] = s
				}
			}
		}
		if !differ {
			continue
		}
		obstacles, err := alike(a)
		if err != nil {
			return err
		}
		for i := range obstacles {
			p, err := parted(ctx, *nominal, axle, &obstacles[i])
			if err != nil {
				return fmt.Errorf("%s: %w", obstacles[i].Name, err)
			}
			u.Over = append(u.Over, p)
		}
		m.Unlike = append(m.Unlike, u)
	}
	return nil
}

// alike are the obstacles of the brief, each under both sides.
func alike(a *study.Answer) ([]route.Obstacle, error) {
	list, err := route.Obstacles(&a.Job, nil)
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		hump, err := road.RoundHump(usualHump.height, usualHump.length)
		if err != nil {
			return nil, err
		}
		list = []route.Obstacle{{Name: "round-hump-75", Event: hump, Speed: usualHump.speed}}
	}
	for i := range list {
		list[i].Event.Sides = road.BothSides
	}
	return list, nil
}

// parted drives a car over an obstacle with its dampers as they are and with those of an
// axle at their mean.
func parted(ctx context.Context, as ride.Car, axle int, over *route.Obstacle) (Parted, error) {
	out := Parted{Event: over.Name, Speed: over.Speed}
	even := as
	l, r := &as.Corners[2*axle], &as.Corners[2*axle+1]
	mean := func(v float64) float64 { return 0.5 * (l.Damper(v) + r.Damper(v)) }
	for _, c := range []*ride.Corner{&even.Corners[2*axle], &even.Corners[2*axle+1]} {
		c.Damper, c.DamperSlope = mean, nil
	}
	type moment struct{ roll, pitch, load float64 }
	var traces [2][]moment
	step := 0.0
	for k, car := range []ride.Car{as, even} {
		model, err := ride.Compile(car)
		if err != nil {
			return out, err
		}
		if k == 0 {
			step = model.StepFor(true)
		}
		course, _, duration, err := over.Courses(car.Wheelbase, step, false)
		if err != nil {
			return out, err
		}
		var result ride.Result
		err = model.Simulate(ctx, ride.Run{
			Course: course, Duration: duration, Step: step, Event: true,
			Each: func(now *ride.Moment) {
				traces[k] = append(traces[k], moment{now.Roll, now.Pitch, now.TyreLoad[2*axle] - now.TyreLoad[2*axle+1]})
			},
		}, &result)
		if err != nil {
			return out, err
		}
	}
	for i, x := range traces[0] {
		y := traces[1][i]
		for _, one := range []struct {
			most *float64
			v    float64
		}{{&out.Roll, x.roll}, {&out.Even, y.roll}, {&out.ByDampers, x.roll - y.roll}, {&out.Pitch, x.pitch - y.pitch}, {&out.Load, x.load - y.load}} {
			*one.most = math.Max(*one.most, math.Abs(one.v))
		}
	}
	return out, nil
}
