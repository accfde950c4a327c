package drives

import (
	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/modes"
	"trunnion/chassis/part"
	"trunnion/chassis/ride"
	"trunnion/chassis/study"
)

// What the ride needs and no job says.
const (
	// topOutRate stands for a rebound end whose spring was not given, rubber on
	// metal: common practice, no source. [N/m]
	topOutRate = 4e5
)

// rider makes the ride engine's car of a case that was solved under a draw.
func rider(job *study.Job, c *study.Case, b, l int, d figure.Draw) ride.Car {
	sys, st := &c.System, &c.State
	items := job.Loads[l].Items
	body := modes.BodyOf(sys, equilibrium.Of(items, d), job.Car.InertiaRoll.At(d), job.Car.InertiaPitch.At(d), items...)
	out := ride.Car{
		SprungMass: body.Mass, InertiaRoll: body.InertiaRoll, InertiaPitch: body.InertiaPitch,
		CGToFront: body.Behind, CGOffset: body.Left,
		Wheelbase: sys.Behind[2], TrackFront: sys.Left[0] - sys.Left[1], TrackRear: sys.Left[2] - sys.Left[3],
		TrackCentre: [2]float64{0.5 * (sys.Left[0] + sys.Left[1]), 0.5 * (sys.Left[2] + sys.Left[3])},
		RollArm:     body.Lean.RollArm, PitchArm: body.Lean.PitchArm,
		Gravity: equilibrium.Gravity, Points: floorPoints(job, l),
	}
	out.Roll, out.Pitch = body.Lean.Of(st)
	rest := st.Travel
	out.Rest = &rest
	for a := range 2 {
		_, out.Bars[a] = sys.Bar[a].WheelForce(0)
		out.BarFree[a] = sys.Bar[a].Zero
	}
	for i := range 4 {
		out.Corners[i] = riderCorner(c, &job.Builds[b].Corner[i], i, d)
	}
	return out
}

func riderCorner(c *study.Case, ba *car.BuildCorner, i int, d figure.Draw) ride.Corner {
	sys := &c.System
	m := &sys.Corner[i]
	_, rd, _ := m.DamperTravel.At(c.State.Travel[i])
	k := ride.Corner{
		UnsprungMass: sys.Unsprung[i],
		Spring:       m.Suspended,
		DamperTravel: m.DamperTravel.At,
		Tyre:         ride.Tyre{Rate: sys.TyreRate[i]},
	}
	if rd > 0 {
		k.Friction = m.Friction / rd
	}
	if m.Curve.Bump != nil {
		k.Damper = func(v float64) float64 { f, _ := m.DamperForce(v); return f }
		k.DynoMin, k.DynoMax = -m.Curve.TopSpeed, m.Curve.TopSpeed
	}
	if !m.HasDamper {
		return k
	}
	k.MetalTravel, k.MetalStiffness = m.Mounts0-m.Closed, part.SolidRate
	k.TopOut = ride.TopOut{OpenTravel: m.Mounts0 - m.Open, Stiffness: topOutRate}
	if m.TopOut != nil {
		k.TopOut = ride.TopOut{OpenTravel: m.Mounts0 - m.Open + m.TopOut.Last(), Force: m.TopOut.At}
	}
	if m.HasStop {
		k.Stop = ride.Stop{
			TouchTravel: m.Mounts0 - m.Touch, TableEnd: m.Stop.End, Loss: m.Stop.Loss, Dynamic: m.Stop.Dynamic,
			Force: func(crush float64) (force, slope float64) { f, k, _ := m.Stop.Force(crush); return f, k },
		}
	}
	if mt := ba.Mount; mt != nil && mt.Stiffness.Known() {
		k.MountStiffness = mt.Stiffness.At(d)
	}
	return k
}

// floorPoints are the places on the floor that are judged in a load state: under
// the first that is aboard in it, or in the usual one where nothing is, and between
// the rear seats.
func floorPoints(job *study.Job, l int) []ride.FloorPoint {
	wheelbase := job.Car.Wheelbase.Value
	driver := ride.FloorPoint{Name: FloorDriver, X: -0.48 * wheelbase, Y: 0}
	for _, k := range []int{l, study.UsualLoadAt(job.Brief, job.Loads)} {
		if k < 0 || len(job.Loads[k].Items) == 0 || job.Loads[k].Items[0].Mass.Value <= 0 {
			continue
		}
		first := &job.Loads[k].Items[0]
		driver.X, driver.Y = -first.Behind.Value, first.Left.Value
		break
	}
	return []ride.FloorPoint{driver, {Name: FloorRear, X: -0.8 * wheelbase}}
}

// The floor points' names as they stand in a value's place.
const (
	FloorDriver = "floor"
	FloorRear   = "rear-floor"
)
