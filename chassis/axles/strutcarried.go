package axles

import (
	"errors"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/geom"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
)

// StrutCarried returns what a strut of a build, of a side (0 left) of an axle, carries at a wheel travel [m],
// standing in a load state: the road pushes up with what spring, gas, stop and
// bushes push down with there and with what the wheel weighs, and with nothing
// else: the bar's part, where the wheels stand unalike, is left out. rest is where
// the wheel stands [m].
func StrutCarried(a *study.Answer, build, load string, axle, side int) (carried func(travel float64) strut.Load, rest float64, err error) {
	k, err := a.CaseOf(build, load)
	if err != nil {
		return nil, math.NaN(), err
	}
	i := 2*axle + side
	s := &strutLoads{k: k, i: i, weight: k.State.Load[i]}
	weight := k.System.Unsprung[i] * equilibrium.Gravity
	return func(w float64) strut.Load {
		force, _ := k.System.Corner[i].Force(w)
		return s.load(w, 0, 0, math.Max(0, force)+weight)
	}, k.State.Travel[i], nil
}

// StrutDriving is the case of an axle that pulls the car along.
const StrutDriving = "driving"

// ErrNotDriven says that it is not known which axle drives, or that this one does
// not.
var ErrNotDriven = errors.New("axles: nothing drives that axle, or its share of the driving force is not known")

// StrutUnderPower puts a build's strut under power: the car accelerates [m/s2], its
// axle's wheels share their part of the force evenly, and shafts drive them, so
// that the road's force acts on the carrier at the wheel centre.
//
//	F = ½·p·m·a
//
// p is the axle's share of the driving force, m the mass in the load state. Source:
// Newton; derived here. The even split is that of an open differential.
func StrutUnderPower(a *study.Answer, all *Struts, one *BuildStrut, accel float64) (StrutCase, error) {
	share := &a.Job.Car.DriveShare
	p := share.Value
	if all.Ask.Axle == car.Rear {
		p = 1 - p
	}
	if !share.Known() || !(p > 0) {
		return StrutCase{}, ErrNotDriven
	}
	k, err := a.CaseOf(one.Build.ID, all.Ask.Load)
	if err != nil {
		return StrutCase{}, err
	}
	i := 2*all.Ask.Axle + one.Side
	s := strutLoads{k: k, i: i, weight: k.State.Load[i]}
	out := StrutCase{Code: StrutDriving, Event: -1, Travel: k.State.Travel[i], Longitudinal: accel}
	c, err := a.Cornering(one.Build.ID, all.Ask.Load)
	if err != nil {
		return out, err
	}
	at, err := c.At(0, accel, nil)
	if err != nil {
		out.Err = err
		return out, nil
	}
	weight := 0.0
	for _, z := range k.State.Load {
		weight += z
	}
	force := 0.5 * p * weight / equilibrium.Gravity * accel
	out = s.put(StrutDriving, at.Travel[i], 0, 0, at.Load[i])
	out.Longitudinal, out.Road.X = accel, force
	out.Load.Hub.X += force
	s.moving(&out.Load, geom.Vec{X: accel}, s.mirror()*c.RollAt(&at), c.PitchAt(&at))
	body := strut.Strut{Corner: one.Corner, Layout: one.Layout}
	if out.Moment, out.Err = strutAt(&body, out.Travel, &out.Load); errors.Is(out.Err, strut.ErrNotAStrut) {
		return out, out.Err
	}
	return out, nil
}
