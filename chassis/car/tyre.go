package car

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/part"
)

// onRoad is what a build's corner stands on.
func (b *Build) onRoad(i int) Rolling {
	return Rolling{b.Corner[i].Tyre, b.Corner[i].Wheel, &b.Setup.Pressure[i]}
}

// Retyred reports a corner of a build with another tyre than the car was weighed on,
// where the size of both is known.
func (c *Car) Retyred(b *Build, i int) bool {
	is, was := b.Corner[i].Tyre, c.Weighed.Rolls[i].Tyre
	return is != was && is.Sized() && was.Sized()
}

// Sized reports a tyre that is known and whose radius is.
func (t *TyreSpec) Sized() bool {
	return t != nil && (t.Diameter.Known() || t.LoadedRadius.Known() || t.Width.Known() && t.Aspect.Known() && t.Rim.Known())
}

// Rewheeled is the same of the wheel, where the offset of both is known.
func (c *Car) Rewheeled(b *Build, i int) bool {
	is, was := b.Corner[i].Wheel, c.Weighed.Rolls[i].Wheel
	return is != was && is != nil && was != nil && is.Offset.Known() && was.Offset.Known()
}

// TyreRateIn is the input the rate of a corner's tyre rests on, at the pressure of
// [Car.KnownPressure]: what the build says, its tyre's own, or the car's. A rate that was
// typed for the car holds for the tyre it was weighed on, before an estimate.
func (c *Car) TyreRateIn(b *Build, i int) *Input {
	p, cars := &b.Corner[i], &c.Axle[AxleOf(i)].TyreRate
	switch {
	case p.TyreRate.Known():
		return &p.TyreRate
	case p.Tyre == nil || !p.Tyre.Rate.Known():
		return cars
	case p.Tyre == c.Weighed.Rolls[i].Tyre && cars.Known() && p.Tyre.Rate.Origin == figure.Estimated:
		return cars
	}
	return &p.Tyre.Rate
}

// KnownPressure is the pressure at which that rate holds.
func (c *Car) KnownPressure(b *Build, i int) *Input {
	if t := b.Corner[i].Tyre; t != nil && t.Pressure.Known() {
		return &t.Pressure
	}
	return &c.Axle[AxleOf(i)].Tyre.Pressure
}

// SetPressure is the pressure a corner's tyre is set to: its build's, that of the car as
// weighed, or, where nobody said, that at which the tyre was read.
func (c *Car) SetPressure(b *Build, i int) *Input {
	if set := &b.Setup.Pressure[i]; set.Known() {
		return set
	}
	if was := c.Weighed.Rolls[i].Pressure; was != nil && was.Known() {
		return was
	}
	return c.KnownPressure(b, i)
}

// TyreRate is the vertical rate of a build's tyre at its pressure [N/m].
func (c *Car) TyreRate(b *Build, i int, d figure.Draw) float64 {
	rate := c.TyreRateIn(b, i).At(d)
	known, set := c.KnownPressure(b, i), c.SetPressure(b, i)
	if set == known || !known.Known() {
		return rate
	}
	return part.RateAt(rate, known.At(d), set.At(d))
}

// FreeRadius is the radius of a tyre without load [m], so that under a load it stands on
// that less the load by its rate: half the diameter, or what a loaded radius says.
//
//	R = R_l + m·g/k
func (t *TyreSpec) FreeRadius(d figure.Draw) float64 {
	if t.LoadedRadius.Known() {
		return t.LoadedRadius.At(d) + t.LoadedAt.At(d)*standardGravity/t.Rate.At(d)
	}
	return 0.5 * t.Diameter.At(d)
}

// Grown is how much greater the radius without load of a corner's tyre is than that of
// the one the car was weighed on [m].
func (c *Car) Grown(b *Build, i int, d figure.Draw) float64 {
	if !c.Retyred(b, i) {
		return 0
	}
	return b.Corner[i].Tyre.FreeRadius(d) - c.Weighed.Rolls[i].Tyre.FreeRadius(d)
}

// Outward is how much farther out the middle of a corner's tyre stands than as weighed
// [m]: by a lower offset.
func (c *Car) Outward(b *Build, i int, d figure.Draw) float64 {
	if !c.Rewheeled(b, i) {
		return 0
	}
	return c.Weighed.Rolls[i].Wheel.Offset.At(d) - b.Corner[i].Wheel.Offset.At(d)
}

// Wider is how much wider a corner's tyre is than as weighed [m].
func (c *Car) Wider(b *Build, i int, d figure.Draw) float64 {
	if !c.widened(b, i) {
		return 0
	}
	return b.Corner[i].Tyre.Section.At(d) - c.Weighed.Rolls[i].Tyre.Section.At(d)
}

func (c *Car) widened(b *Build, i int) bool {
	return c.Retyred(b, i) && b.Corner[i].Tyre.Section.Known() && c.Weighed.Rolls[i].Tyre.Section.Known()
}

// HeavierBy are the masses that a corner's tyre and wheel weigh more than those the car
// was weighed on, new and old in turn; empty where nothing is known to differ. Where the
// build says by how much its wheels are heavier, only masses that somebody gave count.
func (c *Car) HeavierBy(b *Build, i int) (more, less []*Input) {
	put := func(is, was *Input) {
		guessed := is.Origin == figure.Estimated || was.Origin == figure.Estimated
		if is.Known() && was.Known() && (!guessed || !b.Corner[i].UnsprungMore.Known()) {
			more, less = append(more, is), append(less, was)
		}
	}
	is, was := &b.Corner[i], &c.Weighed.Rolls[i]
	if is.Tyre != nil && was.Tyre != nil && is.Tyre != was.Tyre {
		put(&is.Tyre.Mass, &was.Tyre.Mass)
	}
	if is.Wheel != nil && was.Wheel != nil && is.Wheel != was.Wheel {
		put(&is.Wheel.Mass, &was.Wheel.Mass)
	}
	return more, less
}

// UnsprungAt is the mass that moves with a build's wheel [kg].
func (c *Car) UnsprungAt(b *Build, i int, d figure.Draw) float64 {
	m := c.Unsprung[AxleOf(i)].At(d) + b.Corner[i].UnsprungMore.At(d)
	more, less := c.HeavierBy(b, i)
	for k := range more {
		m += more[k].At(d) - less[k].At(d)
	}
	return m
}

// HalfTrack is how far the middle of a corner's tyre stands from the middle of the car [m].
func (c *Car) HalfTrack(b *Build, i int, d figure.Draw) float64 {
	return 0.5*c.Track[AxleOf(i)].At(d) + c.Outward(b, i, d)
}

// WeighedPressure is the pressure of a corner's tyre as the car was weighed.
func (c *Car) WeighedPressure(i int) *Input {
	r := &c.Weighed.Rolls[i]
	switch {
	case r.Pressure != nil && r.Pressure.Known():
		return r.Pressure
	case r.Tyre != nil && r.Tyre.Pressure.Known():
		return &r.Tyre.Pressure
	}
	return &c.Axle[AxleOf(i)].Tyre.Pressure
}

// RatedOver is the load a tyre's index stands for over another's; 1 where one is not
// known [-].
func (t *TyreSpec) RatedOver(o *TyreSpec) float64 {
	is, ok := part.IndexLoad(t.LoadIndex)
	was, known := part.IndexLoad(o.LoadIndex)
	if !ok || !known {
		return 1
	}
	return is / was
}

// Capacity is what a corner's tyre carries at its pressure [kg]; false where its load
// index is not known.
func (c *Car) Capacity(b *Build, i int, d figure.Draw) (float64, bool) {
	t := b.Corner[i].Tyre
	if t == nil {
		return 0, false
	}
	indexed, ok := part.IndexLoad(t.LoadIndex)
	set := c.SetPressure(b, i)
	if !ok || !set.Known() {
		return 0, false
	}
	return part.CapacityAt(indexed, set.At(d), t.FullPressure()), true
}

// FullPressure is the pressure at which a tyre carries the load of its index [Pa].
func (t *TyreSpec) FullPressure() float64 {
	if t.ExtraLoad {
		return part.ExtraLoadPressure
	}
	return part.StandardLoadPressure
}
