package car

import (
	"math"

	"trunnion/chassis/figure"
)

// LipGap is how far inside the lip of the arch a build's tyre stands [m], wheels straight
// at travel zero: less by what it stands farther out and half of what it is wider.
//
//	g = g_0 − o − w/2
func (c *Car) LipGap(b *Build, i int, d figure.Draw) float64 {
	return c.Axle[AxleOf(i)].Clearance.Lip.At(d) - c.Outward(b, i, d) - 0.5*c.Wider(b, i, d)
}

// StrutGap is the least room between a build's tyre and strut, spring seat or arm [m]:
// more by what it stands farther out, less by half of what it is wider. That the strut
// turns with its wheel keeps it over travel and steer; where it does not, the least that
// was read is taken to shift alike.
//
//	g = g_0 + o − w/2
func (c *Car) StrutGap(b *Build, i int, d figure.Draw) float64 {
	return c.Axle[AxleOf(i)].Clearance.Strut.At(d) + c.Outward(b, i, d) - 0.5*c.Wider(b, i, d)
}

// LinerGap is the least room between tread and liner [m], at full lock where the axle
// steers: there the outer edge of the tread reaches forward by what it stands farther out
// too, by the sine of the angle.
//
//	g = g_0 − r·cos δ − (o + w/2)·sin δ
func (c *Car) LinerGap(b *Build, i int, d figure.Draw) float64 {
	k := &c.Axle[AxleOf(i)].Clearance
	sin, cos := math.Sincos(k.Lock.At(d))
	return k.Liner.At(d) - c.Grown(b, i, d)*cos - (c.Outward(b, i, d)+0.5*c.Wider(b, i, d))*sin
}
