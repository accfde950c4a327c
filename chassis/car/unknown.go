package car

import "trunnion/chassis/figure"

// Unknown lists what stays open because a length was not given and cannot be
// estimated: what is missing, and what it would answer. None of it stops the
// rest from being computed. Call it after Fill.
func Unknown(c *Car, builds []*Build) []Problem {
	var list []Problem
	seen := map[string]bool{}
	add := func(path, answers string) {
		if !seen[path] {
			seen[path] = true
			list = append(list, Problem{Path: path, Got: say("is not known"), Want: say(answers)})
		}
	}
	for i := range 4 {
		if h := &c.Weighed.Height[i]; h.Origin == figure.Estimated && h.Typed == "" && h.Half == 0 {
			add("car.weighed.arch_height."+pathCorners[i], "heights are differences only until it is measured")
		}
	}
	for _, b := range builds {
		for i := range 4 {
			p := &b.Corner[i]
			if path, answers := Unseated(c, fittedOf(c, builds), b, i); path != "" {
				add(path, answers)
			}
			if s := p.Spring; s != nil && !s.Block.Known() {
				add(partPath("springs", s.ID)+".block", "whether its coils touch stays open without a block or a free length")
			}
			unknownRolling(c, b, i, add)
			d := p.Damper
			if d == nil || !d.Open.Known() || !d.RodOpen.Known() {
				path := b.PlaceOf(i) + ".damper.open"
				if d != nil {
					path = partPath("dampers", d.ID) + ".open"
				}
				add(path, "gap, droop and whether the spring stays seated stay open without open length, closed length and rod showing")
			}
			if !c.Weighed.DamperLength[i].Known() {
				add("car.weighed.damper_length."+pathCorners[i], "gap and droop stay open without the damper's length, or the rod that shows, as weighed")
			}
		}
	}
	for a := range 2 {
		if !c.Axle[a].BarRate.Known() {
			add("car."+AxleNames[a]+".bar.rate", "no bar is counted: roll, twist and one-wheel bumps are softer here than on a car that has one")
		}
	}
	return list
}

// unknownRolling says what stays open of a build's other tyre or wheel.
func unknownRolling(c *Car, b *Build, i int, add func(path, answers string)) {
	is, was := &b.Corner[i], &c.Weighed.Rolls[i]
	place := "builds." + c.Weighed.Build + "." + AxleNames[AxleOf(i)]
	if is.Tyre != was.Tyre && is.Tyre != nil {
		switch {
		case !was.Tyre.Sized():
			add(place+".tyre", "height over the ground, room in the arch and speedometer with other tyres stay open until the size of those it was weighed on is known")
		case !is.Tyre.Sized():
			add(partPath("tyres", is.Tyre.ID)+".size", "height over the ground, room in the arch and speedometer stay open without a size")
		}
	}
	if is.Wheel != was.Wheel && is.Wheel != nil {
		switch {
		case was.Wheel == nil || !was.Wheel.Offset.Known():
			add(place+".wheel.offset", "how far out the wheels stand stays open until the offset of those it was weighed on is known")
		case !is.Wheel.Offset.Known():
			add(partPath("wheels", is.Wheel.ID)+".offset", "how far out the wheels stand stays open without their offset")
		}
	}
	if is.Tyre != nil && is.Tyre.Size != "" && is.Tyre.LoadIndex == 0 {
		add(partPath("tyres", is.Tyre.ID)+".size", "whether it carries the load stays open without its load index")
	}
}

// fittedOf is the build that was on the car as it was weighed; nil where none is named.
func fittedOf(c *Car, builds []*Build) *Build {
	for _, b := range builds {
		if b.ID == c.Weighed.Build {
			return b
		}
	}
	return nil
}
