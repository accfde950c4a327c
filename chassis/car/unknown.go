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
			if s := p.Spring; s != nil && !s.Block.Known() {
				add(partPath("springs", s.ID)+".block", "whether its coils touch stays open without a block or a free length")
			}
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
