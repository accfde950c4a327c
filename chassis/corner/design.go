package corner

import (
	"fmt"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
	"trunnion/chassis/part"
)

// Design is a build on a car with its tables made once, so that a draw of the
// inputs costs no more than the arithmetic.
type Design struct {
	Car   *car.Car
	Build *car.Build
	table [4]tables
}

type tables struct {
	spring  *numeric.Curve
	stop    *numeric.Curve
	stopEnd float64
	curve   part.DamperCurve
	topOut  *numeric.Curve
}

// NewDesign makes the tables of a build. It fails when a table is not one.
func NewDesign(c *car.Car, b *car.Build) (*Design, error) {
	ds := &Design{Car: c, Build: b}
	set := &b.Setup
	for i := range 4 {
		if l := i - 1; i&1 == 1 && b.Alike(car.AxleOf(i)) && set.Click[i] == set.Click[l] && set.HasClick[i] == set.HasClick[l] {
			ds.table[i] = ds.table[l]
			continue
		}
		if err := ds.compile(i); err != nil {
			return nil, fmt.Errorf("build %s, %s: %w", b.ID, figure.CornerNames[i], err)
		}
	}
	return ds, nil
}

// Changed is the design of another build on the same car, with the tables of what both
// have in common taken over: the difference alone costs.
func (ds *Design) Changed(b *car.Build) (*Design, error) {
	out := &Design{Car: ds.Car, Build: b}
	for i := range 4 {
		was, is, t := &ds.Build.Corner[i], &b.Corner[i], ds.table[i]
		sameClick := ds.Build.Setup.Click[i] == b.Setup.Click[i] && ds.Build.Setup.HasClick[i] == b.Setup.HasClick[i]
		if was.Spring == is.Spring && was.Stop == is.Stop && was.Damper == is.Damper && sameClick {
			out.table[i] = t
			continue
		}
		if l := i - 1; i&1 == 1 && b.Alike(car.AxleOf(i)) && b.Setup.Click[i] == b.Setup.Click[l] && b.Setup.HasClick[i] == b.Setup.HasClick[l] {
			out.table[i] = out.table[l]
			continue
		}
		if was.Damper == is.Damper && sameClick {
			out.table[i].curve, out.table[i].topOut = t.curve, t.topOut
			if err := out.compileSprings(i); err != nil {
				return nil, fmt.Errorf("build %s, %s: %w", b.ID, figure.CornerNames[i], err)
			}
			continue
		}
		if err := out.compile(i); err != nil {
			return nil, fmt.Errorf("build %s, %s: %w", b.ID, figure.CornerNames[i], err)
		}
	}
	return out, nil
}

// compileSprings makes the tables of a corner's spring and stop.
func (ds *Design) compileSprings(i int) error {
	ax, t := &ds.Build.Corner[i], &ds.table[i]
	var err error
	if s := ax.Spring; s != nil && len(s.Table) > 1 {
		if t.spring, err = curveOf(s.Table); err != nil {
			return fmt.Errorf("spring %s: %w", s.ID, err)
		}
	}
	if s := ax.Stop; s != nil && len(s.Table) > 1 {
		if t.stop, err = curveOf(s.Table); err != nil {
			return fmt.Errorf("stop %s: %w", s.ID, err)
		}
		t.stopEnd = s.Table[len(s.Table)-1].X
	}
	return nil
}

func (ds *Design) compile(i int) error {
	if err := ds.compileSprings(i); err != nil {
		return err
	}
	ax, t := &ds.Build.Corner[i], &ds.table[i]
	var err error
	if d := ax.Damper; d != nil {
		if t.curve, err = CurveAt(d, ds.Build.Setup.Click[i], ds.Build.Setup.HasClick[i]); err != nil {
			return fmt.Errorf("damper %s: %w", d.ID, err)
		}
		if len(d.TopOut) > 1 {
			if t.topOut, err = curveOf(d.TopOut); err != nil {
				return fmt.Errorf("damper %s, top-out: %w", d.ID, err)
			}
		}
	}
	return nil
}

func curveOf(points []car.Point) (*numeric.Curve, error) {
	xs, fs := make([]float64, 0, len(points)+1), make([]float64, 0, len(points)+1)
	if points[0].X > 0 {
		xs, fs = append(xs, 0), append(fs, 0)
	}
	for _, p := range points {
		xs, fs = append(xs, p.X), append(fs, p.F)
	}
	c, err := numeric.NewCurve(xs, fs)
	if err != nil {
		return nil, err
	}
	return &c, nil
}

// Corner compiles one corner under a draw; nil is the nominal case.
//
// Where the seat-to-seat length or the spring's free length is not known it
// counts as 0 in Compressed0, and the caller adds what the calibration infers.
func (ds *Design) Corner(i int, d figure.Draw) Model {
	c, b := ds.Car, ds.Build
	a := car.AxleOf(i)
	ca, ba, t := &c.Axle[a], &b.Corner[i], &ds.table[i]
	m := Model{
		SpringTravel: ca.SpringOf(i & 1).At(d),
		DamperTravel: ca.DamperOf(i & 1).At(d),
		Stop:         t.stopOf(ba, d),
		Curve:        t.curve,
		CurveScale:   1,
		BushRate:     ca.BushRate.At(d),
		Friction:     ba.Friction.At(d),
		TopOut:       t.topOut,
	}
	if ba.Spring != nil {
		m.Spring = springOf(ba, t, d)
	}
	m.MeasuredAt = c.ZeroHeight[a].At(d) - c.Weighed.Height[i].At(d)
	platform := b.Setup.Platform[i].At(d)
	body := b.Setup.BodyLength[i].At(d)

	// Spring: compression at w = 0 from the measured seat-to-seat length.
	s, _, _ := m.SpringTravel.At(m.MeasuredAt)
	// The platform and a longer body both bring the seats together.
	seat := c.Weighed.SpringLength[i].At(d) - ba.SeatsCloser.At(d) - platform - body
	m.Compressed0 = m.Spring.StackFree() - seat - s

	if dm := ba.Damper; dm != nil {
		x, _, _ := m.DamperTravel.At(m.MeasuredAt)
		m.Mounts0 = ds.mountDistance(i, d) - ba.MountsCloser.At(d) + x
		m.Open = dm.Open.At(d) + body
		m.Closed = dm.Closed.At(d) + body
		m.Touch = m.Open - dm.RodOpen.At(d) + m.Stop.Length + m.Stop.Packer
		m.HasDamper = dm.Open.Known() && dm.Closed.Known() && c.Weighed.DamperLength[i].Known()
		m.HasStop = m.HasDamper && dm.RodOpen.Known() && m.Stop.Table != nil
		m.Gas = dm.GasOn(m.Mounts0, body, d)
		m.CurveScale = dm.Scale.At(d)
	}
	if mt := ba.Mount; mt != nil && mt.CarriesSpring && mt.Stiffness.Known() {
		m.MountRate = mt.Stiffness.At(d)
	}
	return m
}

// mountDistance is the damper's mount-to-mount length in the state as weighed:
// measured, or from the rod showing on the damper that was fitted.
func (ds *Design) mountDistance(i int, d figure.Draw) float64 {
	return ds.Car.Weighed.DamperLength[i].At(d)
}

func (t *tables) stopOf(ba *car.BuildCorner, d figure.Draw) part.BumpStop {
	if ba.Stop == nil {
		return part.BumpStop{}
	}
	return part.BumpStop{
		Length: ba.Stop.Length.At(d), Packer: ba.Packer.At(d), Table: t.stop, End: t.stopEnd,
		Scale: ba.Stop.Scale.At(d), Loss: ba.Stop.Loss.At(d), Dynamic: ba.Stop.Dynamic.At(d),
	}
}

// usualDeflection is the deflection over which a progressive spring of unknown
// length goes from its softer to its firmer rate: common practice, no source. [m]
const usualDeflection = 0.2

func springOf(ba *car.BuildCorner, t *tables, d figure.Draw) part.Spring {
	sp := ba.Spring
	s := part.Spring{Free: sp.Free.At(d), Block: sp.Block.At(d), Rate: sp.Rate.At(d), Table: t.spring, TableScale: sp.Scale.At(d)}
	if sp.RateTo.Known() {
		over := usualDeflection
		if sp.Free.Known() && sp.Block.Known() && s.Free > s.Block {
			over = s.Free - s.Block
		}
		s.Growth = (sp.RateTo.At(d) - s.Rate) / over
	}
	if h := ba.Helper; h != nil {
		s.HelperRate, s.HelperFree, s.HelperBlock = h.Rate.At(d), h.Free.At(d), h.Block.At(d)
	}
	return s
}
