package car

import (
	"math"
	"slices"

	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/numeric"
)

const (
	// pointsRollHalf is how far a roll centre from points read to three millimetres
	// may be off: own computation on three linkages, rounded up. [m]
	pointsRollHalf = 0.015
	// pointsLinkShare is the same of a drop link's ratio, as a share of it: common
	// practice, no source. [-]
	pointsLinkShare = 0.05
	// PointsReading is how well a coordinate of a hardpoint is read on a car on the
	// lift, as a 95 % half-width: common practice, no source. [m]
	PointsReading = 0.003
)

// How far up and down curves are taken from the points, farther than road cars'
// wheels move, and how closely: choices of this package. [m]
const (
	curveReach = 0.160
	curveStep  = 0.010
)

// A motion ratio is believed between these: past them the linkage is about to lock. [-]
const curveLeast, curveMost = 0.1, 2

func curveTravels() []float64 {
	return linkage.Travels(-curveReach, curveReach, 1+int(math.Round(2*curveReach/curveStep)))
}

// MotionsOf returns how spring and damper move by the hardpoints of an axle: the
// linkage's own travel, ratio and change of ratio every curveStep, as far as it
// moves. What the points are not known to shifts a whole curve; parts on one line
// have one curve. A part whose line the points do not hold is not known.
func MotionsOf(h *linkage.Hardpoints, l *linkage.Linkage, path string, line int) (spring, damper Motion) {
	swept, err := l.Sweep(linkage.Parallel, curveTravels(), 0)
	if err != nil {
		return spring, damper
	}
	springOff, damperOff := h.RatioOff(PointsReading)
	curve := func(share float64, of func(*linkage.Figures) linkage.Motion) Motion {
		m := Motion{Origin: figure.Computed, Path: path, Line: line}
		m.follow(&swept, of)
		m.Off = &Input{
			Half: share, Shape: figure.Normal95, Origin: figure.Computed, Path: path, Line: line,
			Basis: "from the hardpoints, each coordinate read to ± 0.003 m: common practice, no source; the curve by first-order propagation",
		}
		return m
	}
	spring = curve(springOff, func(f *linkage.Figures) linkage.Motion { return f.Spring })
	damper = curve(damperOff, func(f *linkage.Figures) linkage.Motion { return f.Damper })
	if slices.Equal(spring.Wheel, damper.Wheel) && slices.Equal(spring.Part, damper.Part) {
		damper = spring
	}
	return spring, damper
}

// follow takes the run of points about travel 0 at which the part moves with its
// wheel.
func (m *Motion) follow(swept *linkage.Curves, of func(*linkage.Figures) linkage.Motion) {
	moves := func(i int) bool {
		p := of(&swept.Points[i])
		return p.Known && p.Ratio > curveLeast && p.Ratio < curveMost
	}
	home := slices.IndexFunc(swept.Points, func(f linkage.Figures) bool { return math.Abs(f.Travel) < curveStep/2 })
	if home < 0 || !moves(home) {
		return
	}
	first, last := home, home
	for first > 0 && moves(first-1) {
		first--
	}
	for last+1 < len(swept.Points) && moves(last+1) {
		last++
	}
	var wheel, part, ratio, bend []float64
	for i := first; i <= last; i++ {
		p := of(&swept.Points[i])
		wheel, part = append(wheel, swept.Points[i].Travel), append(part, p.Travel)
		ratio, bend = append(ratio, p.Ratio), append(bend, p.Slope)
	}
	if len(wheel) < 5 {
		return
	}
	curve, err := numeric.NewPieces(wheel[0], curveStep, part, ratio, bend)
	if err != nil {
		return
	}
	m.Wheel, m.Part, m.Curve = wheel, part, curve
}

// points fills in what the hardpoints of an axle tell at travel 0, with how it goes on
// from there: where the car stands with nobody aboard is not known yet.
func (f *filler) points(a int) {
	c, ax := f.car, &f.car.Axle[a]
	if ax.Hardpoints == nil {
		return
	}
	l, err := ax.Hardpoints.New()
	if err != nil {
		return
	}
	swept, err := l.Sweep(linkage.Parallel, curveTravels(), 0)
	if err != nil {
		return
	}
	if home, curve := overTravel(&swept, func(p *linkage.Figures) (float64, bool) { return p.RollCentre, true }); curve != nil && !c.RollCentre[a].Known() {
		ax.RollCentres = curve
		f.put(&c.RollCentre[a], "car.roll_centre."+AxleNames[a], home, pointsRollHalf,
			"from the hardpoints at the zero height, and from there as they lead the wheel, ± 0.015 m: points read to 0.003 m on three linkages, own computation, rounded up")
	}
	if home, curve := overTravel(&swept, func(p *linkage.Figures) (float64, bool) { return p.Bar.Ratio, p.Bar.Known }); curve != nil && ax.BarRate.Known() && !ax.BarLink.Known() {
		ax.BarLinks = curve
		f.put(&ax.BarLink, "car."+AxleNames[a]+".bar.link_ratio", home, pointsLinkShare*home,
			"from the hardpoints at the zero height, and from there as they lead the link, ± 5 %: common practice, no source")
	}
}

// overTravel is a figure of a linkage at travel 0 and how much more it is at
// others; nil where it is not known there.
func overTravel(swept *linkage.Curves, of func(*linkage.Figures) (float64, bool)) (home float64, more *numeric.Curve) {
	var x, y []float64
	known := false
	for i := range swept.Points {
		p := &swept.Points[i]
		v, ok := of(p)
		if !ok {
			continue
		}
		if math.Abs(p.Travel) < curveStep/2 {
			home, known = v, true
		}
		x, y = append(x, p.Travel), append(y, v)
	}
	if !known {
		return 0, nil
	}
	for i := range y {
		y[i] -= home
	}
	curve, err := numeric.NewCurve(x, y)
	if err != nil {
		return 0, nil
	}
	return home, &curve
}

// RollCentreAt returns the height of an axle's roll centre over the ground [m]
// where its wheels stand at a travel with nobody aboard [m], under a draw. A height
// that was given is that of the car there, whatever the travel.
func (c *Car) RollCentreAt(axle int, travel float64, d figure.Draw) float64 {
	return c.RollCentre[axle].At(d) + more(c.Axle[axle].RollCentres, travel)
}
