package jobfile

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/shop/quantity"
)

// aPoint is a place by its three coordinates in car axes: forward of the front
// axle, left of the middle, over the ground.
var aPoint = rowOf(quantity.Length, 3)

var (
	onPart = may("on", "arm or rod that its low end stands on; the wheel carrier when none is named", anIdent)

	elementShape = anObject(
		must("top", "on the body", aPoint),
		must("low", "on the suspension", aPoint),
		onPart,
	)

	hardpointsShape = anObject(
		must("wheel_centre", "forward of the front axle, left of the middle, over the ground: so for every point", aPoint),
		must("wheel_radius", "wheel centre to ground", chosen(quantity.Length)),
		may("camber", "top outward positive", chosen(quantity.Angle)),
		may("toe", "of one wheel, toe-in positive", chosen(quantity.Angle)),
		may("arms", "rigid arms, each by its name", byID(anObject(
			must("front_pivot", "on the body", aPoint),
			must("rear_pivot", "on the body", aPoint),
			must("ball_joint", "on the wheel carrier", aPoint),
		))),
		may("rods", "links with a joint at either end, each by its name; on a live axle all four, left and right", byID(anObject(
			must("inner", "on the body", aPoint),
			must("outer", "on the wheel carrier or axle", aPoint),
			may("inner_on", "arm that its inner end stands on", anIdent),
			may("steered", "its inner end moves with the rack", yesNo),
			may("length", "between its joints, where it was measured by itself", chosen(quantity.Length)),
		))),
		may("strut", "the damper's axis", anObject(
			must("top", "centre of the top mount", aPoint),
			must("low", "lower on the axis, on the tube", aPoint),
		)),
		may("pivots", "of a trailing arm or twist beam, at the body", anObject(
			must("inner", "inner pivot; of a twist beam the shear centre of its cross member, in the middle of the car", aPoint),
			must("outer", "outer pivot; of a twist beam its bush", aPoint),
		)),
		may("spring", "around the strut when it is not given", elementShape),
		may("damper", "along the strut when it is not given", elementShape),
		may("drop_link", "of the anti-roll bar", anObject(
			must("low", "on the suspension", aPoint),
			must("end", "on the bar", aPoint),
			must("axis", "a point of the axis that the bar turns about", aPoint),
			must("axis_end", "another point of that axis", aPoint),
			onPart,
		)),
	)

	guideShape = anObject(
		must("from_top", "top mount to guide, or to the upper bush of an inverted strut, at travel zero", chosen(quantity.Length)),
		must("apart", "guide to piston, or bush to bush, at travel zero", chosen(quantity.Length)),
		may("length", "of the guide or upper bush, along the strut", chosen(quantity.Length)),
		may("lower_length", "of the piston's band or lower bush, along the strut", chosen(quantity.Length)),
		may("bore", "of a hollow rod, or inside the sliding body", chosen(quantity.Length)),
		may("friction", "coefficient of guide or upper bush", chosen(quantity.Ratio)),
		may("lower_friction", "coefficient of piston or lower bush", chosen(quantity.Ratio)),
		may("yield", "strength at which rod or body yields", chosen(quantity.Pressure)),
	)
)

func fillGuide(g *car.Guide, e *entry) {
	into(&g.FromTop, e, "from_top")
	into(&g.Apart, e, "apart")
	into(&g.Length, e, "length")
	into(&g.LowerLength, e, "lower_length")
	into(&g.Bore, e, "bore")
	into(&g.Friction, e, "friction")
	into(&g.LowerFriction, e, "lower_friction")
	into(&g.Yield, e, "yield")
}

// pointer reads points and keeps in mind whether all were points.
type pointer struct {
	b   *builder
	bad bool
}

func (p *pointer) at(e *entry, name string) geom.Vec {
	if e = e.at(name); e == nil {
		p.bad = true // told already: every point is due
		return geom.Vec{}
	}
	if len(e.row) != 3 {
		p.b.refuse(e.line, e.path, fmt.Sprintf("has %d numbers", len(e.row)), "a point has three: forward, left, up")
		p.bad = true
		return geom.Vec{}
	}
	return geom.Vec{X: e.row[0], Y: e.row[1], Z: e.row[2]}
}

func (p *pointer) element(e *entry) *linkage.Element {
	if e == nil {
		return nil
	}
	return &linkage.Element{Top: p.at(e, "top"), Low: p.at(e, "low"), On: e.word("on")}
}

func (p *pointer) drop(e *entry) *linkage.Drop {
	if e == nil {
		return nil
	}
	return &linkage.Drop{Low: p.at(e, "low"), On: e.word("on"), End: p.at(e, "end"), Axis: p.at(e, "axis"), Turn: p.at(e, "axis_end")}
}

// hardpoints makes an axle's links, and its motion table when none was measured.
func (b *builder) hardpoints(a *car.Axle, e *entry) {
	if e == nil {
		return
	}
	p := &pointer{b: b}
	wheel := linkage.Wheel{
		Centre: p.at(e, "wheel_centre"), Radius: e.input("wheel_radius").Value, Camber: e.input("camber").Value, Toe: e.input("toe").Value,
	}
	var arms []linkage.Arm
	for _, id := range e.at("arms").ids() {
		one := e.at("arms").at(id)
		arms = append(arms, linkage.Arm{Name: id, Front: p.at(one, "front_pivot"), Rear: p.at(one, "rear_pivot"), Ball: p.at(one, "ball_joint")})
	}
	var rods []linkage.Rod
	for _, id := range e.at("rods").ids() {
		one := e.at("rods").at(id)
		if l := one.at("length"); l != nil && l.in.Value <= 0 {
			b.refuse(l.line, l.path, "is "+short(l.in.Typed), "a rod has a length; leave it out where it was not measured by itself")
		}
		rods = append(rods, linkage.Rod{
			Name: id, Inner: p.at(one, "inner"), Outer: p.at(one, "outer"), InnerOn: one.word("inner_on"),
			Steered: one.is("steered"), Length: one.input("length").Value,
		})
	}
	spring, damper, drop := p.element(e.at("spring")), p.element(e.at("damper")), p.drop(e.at("drop_link"))
	var axis *linkage.Axis
	if s := e.at("strut"); s != nil {
		axis = &linkage.Axis{Top: p.at(s, "top"), Low: p.at(s, "low")}
	}
	var pivots *linkage.Pivots
	if s := e.at("pivots"); s != nil {
		pivots = &linkage.Pivots{Inner: p.at(s, "inner"), Outer: p.at(s, "outer")}
	}
	h := &linkage.Hardpoints{}
	switch kind := linkage.Kind(a.Kind); kind {
	case linkage.TwistBeam:
		if pivots == nil || len(arms)+len(rods) > 0 || axis != nil {
			b.refuse(e.line, e.path, "has other parts than a twist beam", "a twist beam has pivots, and neither arms, rods nor a strut")
			return
		}
		h.Beam = &linkage.Beam{Wheel: wheel, Bush: pivots.Outer, Shear: pivots.Inner, Spring: spring, Damper: damper, Bar: drop}
	case linkage.LiveAxle:
		if pivots != nil || len(arms) > 0 || axis != nil {
			b.refuse(e.line, e.path, "has other parts than a live axle", "a live axle has four rods, and neither arms, pivots nor a strut")
			return
		}
		h.Axle = &linkage.Axle{Wheel: wheel, Rods: rods, Spring: spring, Damper: damper, Bar: drop}
	case linkage.Strut, linkage.DoubleWishbone, linkage.FiveLink, linkage.TrailingArm:
		h.Corner = &linkage.Corner{Kind: kind, Wheel: wheel, Arms: arms, Rods: rods, Strut: axis, Pivots: pivots, Spring: spring, Damper: damper, Bar: drop}
	default:
		b.refuse(e.line, e.path, "stands on an axle without a type", "name the type of suspension beside it")
		return
	}
	if p.bad {
		return
	}
	l, err := h.New()
	if err != nil {
		b.pointFaults(e, err)
		return
	}
	a.Hardpoints = h
	b.motionOf(a, l, e)
}

// pointFaults tells what is wrong with the points.
func (b *builder) pointFaults(e *entry, err error) {
	var f *linkage.FaultError
	if !errors.As(err, &f) {
		b.refuse(e.line, e.path, "is no linkage: "+err.Error(), "check the points")
		return
	}
	for _, one := range f.Faults {
		want := wanted[one.Code]
		if want == "" {
			want = "check these points"
		}
		b.refuse(e.line, e.path, "does not work at "+strings.Join(one.Points, ", "), want)
	}
}

// wanted is what could be done about a fault of the points.
var wanted = map[linkage.Code]string{
	linkage.NotFinite:      "enter three numbers",
	linkage.WrongCount:     "the links must hold the wheel in exactly one movement: an arm counts two, a rod one, a strut two, and there must be five (a live axle has four rods)",
	linkage.ZeroLength:     "two ends of a link lie on each other: measure both",
	linkage.Collinear:      "the joint lies on the axis of its own pivots: an arm needs length",
	linkage.OtherSide:      "give the left side's points, left of the middle positive; the right side is their mirror image",
	linkage.MixedUnits:     "it is nowhere near the wheel: check its unit and its axes",
	linkage.TopUnder:       "a top mount stands above the wheel centre: check whether up and left were swapped",
	linkage.NotClosed:      "the length and the points do not fit together: measure the rod and its two ends again",
	linkage.Undetermined:   "these links do not fix where the wheel goes: two of them lie in one line or on each other",
	linkage.UnknownPart:    "nothing of that name carries it: name an arm, or a rod that lies and does not steer",
	linkage.BadRadius:      "a wheel's radius is between 100 and 1000 mm",
	linkage.NotInMiddle:    "the shear centre lies in the middle of the car: its second number is 0",
	linkage.NotAPart:       "this type of suspension has other parts: a strut its axis, a wishbone two arms and a rod, a trailing arm its pivots",
	linkage.NothingSteered: "name the rod that is steered",
}

// motionOf takes spring and damper travel from the points where no table was
// measured, and lays them beside the table where one was.
func (b *builder) motionOf(a *car.Axle, l *linkage.Linkage, e *entry) {
	spring, damper := car.MotionsOf(a.Hardpoints, l, e.path, e.line)
	for _, part := range []struct {
		name         string
		motion, from *car.Motion
		of           func(*linkage.Figures) linkage.Motion
	}{
		{"spring", &a.Spring, &spring, func(f *linkage.Figures) linkage.Motion { return f.Spring }},
		{"damper", &a.Damper, &damper, func(f *linkage.Figures) linkage.Motion { return f.Damper }},
	} {
		switch {
		case !part.from.Known():
		case part.motion.Known():
			b.disagree(l, part.name, part.motion, part.from.Off.Half, part.of)
		default:
			*part.motion = *part.from
		}
	}
}

// disagree warns where a measured table and the points differ by more than both
// may be off, the points by a share of the travel.
func (b *builder) disagree(l *linkage.Linkage, name string, m *car.Motion, share float64, of func(*linkage.Figures) linkage.Motion) {
	worst, at := 0.0, 0.0
	for _, d := range l.Disagree(m.Wheel, m.Part, of) {
		off := math.Abs(d.Measured - d.Computed)
		if off > m.Reading.Half+share*math.Abs(d.Computed) && off > worst {
			worst, at = off, d.Travel
		}
	}
	if worst > 0 {
		b.warn(m.Line, m.Path, fmt.Sprintf("differs from the hardpoints by up to %.1f mm, at %.0f mm of wheel travel", worst/quantity.Millimetre, at/quantity.Millimetre),
			"the table is used for the "+name+"; measure it or the points again")
	}
}
