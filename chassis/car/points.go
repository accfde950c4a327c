package car

import (
	"math"

	"trunnion/chassis/linkage"
)

const (
	// pointsRollHalf is how far a roll centre from points read to three millimetres
	// may be off: own computation on three linkages, rounded up. [m]
	pointsRollHalf = 0.015
	// pointsLinkShare is the same of a drop link's ratio, as a share of it: common
	// practice, no source. [-]
	pointsLinkShare = 0.05
)

// points fills in what the hardpoints of an axle tell, at the height at which the
// car was weighed.
func (f *filler) points(a int) {
	c, ax := f.car, &f.car.Axle[a]
	if ax.Hardpoints == nil {
		return
	}
	l, err := ax.Hardpoints.New()
	if err != nil {
		return
	}
	travel, n := 0.0, 0.0
	for i := 2 * a; i < 2*a+2; i++ {
		if h := &c.Weighed.Height[i]; h.Known() && c.ZeroHeight[a].Known() {
			travel += c.ZeroHeight[a].Value - h.Value
			n++
		}
	}
	p, err := l.Figures(linkage.Parallel, travel/math.Max(1, n), 0)
	if err != nil {
		return
	}
	f.put(&c.RollCentre[a], "car.roll_centre."+AxleNames[a], p.RollCentre, pointsRollHalf,
		"from the hardpoints at the height as weighed, ± 0.015 m: points read to 0.003 m on three linkages, own computation, rounded up")
	if p.Bar.Known && ax.BarRate.Known() {
		f.put(&ax.BarLink, "car."+AxleNames[a]+".bar.link_ratio", p.Bar.Ratio, pointsLinkShare*p.Bar.Ratio,
			"from the hardpoints at the height as weighed, ± 5 %: common practice, no source")
	}
}
