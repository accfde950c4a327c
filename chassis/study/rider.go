package study

import (
	"math"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/modes"
	"trunnion/chassis/part"
	"trunnion/chassis/ride"
)

// What the ride needs and no job says.
const (
	// ContactLength is the length over which a tyre averages a road: common
	// practice, no source. [m]
	ContactLength = 0.12
	// WheelRadius is the radius with which a tyre bridges a sharp edge: common
	// practice, no source. [m]
	WheelRadius = car.UsualHubHeight
	// topOutRate stands for a rebound end whose spring was not given, rubber on
	// metal: common practice, no source. [N/m]
	topOutRate = 4e5
)

// rider makes the ride engine's car of a case that was solved under a draw.
func (s *setup) rider(c *Case, b, l int, d figure.Draw) ride.Car {
	sys, st := &c.System, &c.State
	items := s.job.Loads[l].Items
	body := modes.BodyOf(sys, equilibrium.Of(items, d), s.job.Car.InertiaRoll.At(d), s.job.Car.InertiaPitch.At(d), items...)
	out := ride.Car{
		SprungMass: body.Mass, InertiaRoll: body.InertiaRoll, InertiaPitch: body.InertiaPitch,
		CGToFront: body.Behind, CGOffset: body.Left,
		Wheelbase: sys.Behind[2], TrackFront: 2 * sys.Left[0], TrackRear: 2 * sys.Left[2],
		RollArm: body.Lean.RollArm, PitchArm: body.Lean.PitchArm,
		Gravity: equilibrium.Gravity, Points: s.floorPoints(l),
	}
	out.Roll, out.Pitch = body.Lean.Of(st)
	rest := st.Travel
	out.Rest = &rest
	for a := range 2 {
		_, out.Bars[a] = sys.Bar[a].WheelForce(0)
		out.BarFree[a] = sys.Bar[a].Zero
	}
	for i := range 4 {
		out.Corners[i] = s.riderCorner(c, b, i, d)
	}
	return out
}

func (s *setup) riderCorner(c *Case, b, i int, d figure.Draw) ride.Corner {
	sys := &c.System
	m := &sys.Corner[i]
	ba := &s.designs[b].Build.Corner[i]
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
func (s *setup) floorPoints(l int) []ride.FloorPoint {
	wheelbase := s.job.Car.Wheelbase.Value
	driver := ride.FloorPoint{Name: FloorDriver, X: -0.48 * wheelbase, Y: 0}
	for _, k := range []int{l, s.usualLoad()} {
		if k < 0 || len(s.job.Loads[k].Items) == 0 || s.job.Loads[k].Items[0].Mass.Value <= 0 {
			continue
		}
		first := &s.job.Loads[k].Items[0]
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

// usualLoad is the load state of ordinary driving; −1 when there is none.
func (s *setup) usualLoad() int { return usualLoad(s.job.Brief, s.job.Loads) }

func usualLoad(b *brief.Brief, loads []car.Load) int {
	want := "driver"
	if b != nil && b.UsualLoad != "" {
		want = b.UsualLoad
	}
	for k := range loads {
		if loads[k].ID == want {
			return k
		}
	}
	for k := range loads {
		if len(loads[k].Items) > 0 {
			return k
		}
	}
	return -1
}

// UsualLoad is the id of the load state of ordinary driving: the brief's, else one
// called driver, else the first with something aboard, else the first. Empty
// without any.
func UsualLoad(b *brief.Brief, loads []car.Load) string {
	if k := usualLoad(b, loads); k >= 0 {
		return loads[k].ID
	}
	if len(loads) == 0 {
		return ""
	}
	return loads[0].ID
}

// studentHalf returns the half-width of the 95 % band of a mean from a few
// values. Quantiles of Student's t for 1 to 7 degrees of freedom: Abramowitz &
// Stegun, table 26.10.
func studentHalf(values []float64) (mean, half float64, ok bool) {
	n := float64(len(values))
	for _, v := range values {
		mean += v / n
	}
	t := [...]float64{0, 12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365}
	if len(values) < 3 || len(values) > len(t) {
		return mean, math.NaN(), false
	}
	ss := 0.0
	for _, v := range values {
		ss += (v - mean) * (v - mean)
	}
	return mean, t[len(values)-1] * math.Sqrt(ss/(n-1)/n), true
}
