package axles

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/spread"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
)

// StrutDraws is how many draws of the car stand behind the bands of a strut's figures: a
// choice, between a band's steadiness and how long a page takes.
const StrutDraws = 96

// pointsSeed sets the draws of the points apart from those of the readings.
const pointsSeed = 0x5bd1e9955bd1e995

// StrutDraw is one draw of a strut: its points, what it is made of, and the load of its
// wheel.
type StrutDraw struct {
	Corner linkage.Corner
	Layout strut.Layout
	Yield  float64 // strength of rod or body; 0: not given [Pa]
	Share  float64 // what its wheel carries at rest more than it does undrawn, a share [-]
}

// Drawn are draws of a build's strut; none where the answer has none. Each coordinate of
// a point is drawn within what is read on a lift, the same for every build and side, since
// they are the same readings; wheel, tyre, guide, rod and load are those of the car's own
// draws. Not drawn: how the lateral force is shared, and what an obstacle does.
func (s *Struts) Drawn(a *study.Answer, one *BuildStrut) []StrutDraw {
	i := 2*s.Ask.Axle + one.Side
	draws, loads := a.LoadDraws(one.Build.ID, s.Ask.Load, i, StrutDraws)
	k, err := a.CaseOf(one.Build.ID, s.Ask.Load)
	if err != nil || len(draws) == 0 {
		return nil
	}
	h := a.Job.Car.Axle[s.Ask.Axle].Hardpoints.Corner
	points := pointsOf(copied(h))
	table := spread.NewTable(a.Options.Seed^pointsSeed, len(draws), 3*len(points), 1)
	out := make([]StrutDraw, 0, len(draws))
	for n, d := range draws {
		c := copied(h)
		z := table.Draw(n)
		for p, at := range pointsOf(c) {
			at.X += car.PointsReading * z[3*p].Normal95
			at.Y += car.PointsReading * z[3*p+1].Normal95
			at.Z += car.PointsReading * z[3*p+2].Normal95
		}
		b := a.Job.Car
		moved := c.With(linkage.Change{Offset: b.Outward(one.Build, i, d) + s.Ask.Offset})
		moved.Wheel.Radius += b.Grown(one.Build, i, d)
		damper := one.Damper(s.Ask.Axle)
		out = append(out, StrutDraw{
			Corner: moved, Layout: strutLayoutAt(damper, d), Yield: damper.Guide.Yield.At(d), Share: loads[n]/k.State.Load[i] - 1,
		})
	}
	return out
}

// Under is the drawn strut at a wheel travel [m] under a load, its corner changed.
func (d *StrutDraw) Under(travel float64, load *strut.Load, ch linkage.Change) (strut.Moment, error) {
	body := strut.Strut{Corner: d.Corner.With(ch), Layout: d.Layout}
	heavier := load.Heavier(d.Share)
	return strutAt(&body, travel, &heavier)
}

// copied is a corner whose points are its own.
func copied(c *linkage.Corner) *linkage.Corner {
	out := *c
	out.Arms, out.Rods = append([]linkage.Arm(nil), c.Arms...), append([]linkage.Rod(nil), c.Rods...)
	if c.Strut != nil {
		axis := *c.Strut
		out.Strut = &axis
	}
	if c.Spring != nil {
		spring := *c.Spring
		out.Spring = &spring
	}
	return &out
}

// pointsOf are the points that a strut's forces follow from.
func pointsOf(c *linkage.Corner) []*geom.Vec {
	out := []*geom.Vec{&c.Wheel.Centre}
	for i := range c.Arms {
		out = append(out, &c.Arms[i].Front, &c.Arms[i].Rear, &c.Arms[i].Ball)
	}
	for i := range c.Rods {
		out = append(out, &c.Rods[i].Inner, &c.Rods[i].Outer)
	}
	if c.Strut != nil {
		out = append(out, &c.Strut.Top, &c.Strut.Low)
	}
	if c.Spring != nil {
		out = append(out, &c.Spring.Top, &c.Spring.Low)
	}
	return out
}

// strutLayoutAt is a damper's guide under a draw of the car; nil: as it stands.
func strutLayoutAt(d *car.DamperSpec, by figure.Draw) strut.Layout {
	g := &d.Guide
	l := strut.Layout{
		Inverted: d.Construction == "single-tube-inverted", ToGuide: g.FromTop.At(by), Apart: g.Apart.At(by),
		Sliding:     strut.Section{Diameter: d.Rod.At(by), Bore: g.Bore.At(by)},
		GuideLength: g.Length.At(by), LowerLength: g.LowerLength.At(by), LowerDiameter: d.Piston.At(by),
	}
	l.GuideFriction, l.LowerFriction = frictionOf(&g.Friction, l.Inverted, by), frictionOf(&g.LowerFriction, l.Inverted, by)
	if l.Inverted {
		l.Sliding.Diameter, l.LowerDiameter = d.Body.At(by), 0
	}
	return l
}

// frictionOf is a coefficient as typed, 0 too, or the usual one where none was.
func frictionOf(in *car.Input, inverted bool, by figure.Draw) float64 {
	if in.Known() {
		return in.At(by)
	}
	return strut.UsualFriction(inverted)
}
