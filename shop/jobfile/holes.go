package jobfile

import (
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

var barHole = anObject(
	may("arm", "from the twisted part to the drop link in this hole, square to it", planLength),
	may("rate", "force at one drop link in this hole per travel of it against the other; instead of arm", barRate),
	may("link_ratio", "drop-link travel over wheel travel in this hole, where it is another", linkRatio),
)

// holes reads an adjustable bar. What stands beside the holes is true of the one
// that was in use as the car was weighed.
func (b *builder) holes(e *entry, a *car.Axle) {
	list := e.at("holes")
	for _, id := range list.ids() {
		one := list.at(id)
		a.Holes = append(a.Holes, car.BarHole{ID: id, Arm: one.input("arm"), Rate: one.input("rate"), LinkRatio: one.input("link_ratio")})
	}
	a.Hole = e.word("hole")
	if len(a.Holes) == 0 {
		return
	}
	if used := a.HoleOf(a.Hole); used != nil {
		// One bar, one value: what the hole in use says is what the bar says.
		b.take(&a.BarRate, &used.Rate, "rate")
		b.take(&a.BarLink, &used.LinkRatio, "link_ratio")
		b.take(&a.Bar.Arm, &used.Arm, "arm")
	}
	if size := &a.Bar; !a.BarRate.Known() && !(size.Diameter.Known() && size.Length.Known() && size.Arm.Known()) {
		b.refuse(list.line, list.path, "say nothing of the hole in use as the car was weighed", "name it under hole and give it a rate, or give bar.rate")
	}
	for i := range a.Holes {
		h := &a.Holes[i]
		if h.ID == a.Hole || h.Rate.Known() {
			continue
		}
		at := list.at(h.ID)
		switch {
		case !h.Arm.Known():
			b.refuse(at.line, at.path, "has neither an arm nor a rate", "give the length of arm there, or the rate")
		case !a.Bar.Arm.Known():
			b.refuse(at.line, at.path, "has an arm that there is nothing to compare with", "name under hole the one in use as the car was weighed and give it an arm, or give bar.arm")
		}
	}
}

// take moves a value of the hole in use to the bar, where the bar has none, and
// leaves the bar's where it has one; two that differ are told.
func (b *builder) take(bar, hole *figure.Input, name string) {
	switch {
	case !bar.Known():
		*bar = *hole
	case hole.Known() && hole.Value != bar.Value:
		b.warn(hole.Line, hole.Path, "is given beside bar."+name, "bar."+name+" is used for this hole; one of the two is enough")
	}
	*hole = figure.Input{}
}

// barHoles finds holes that no bar has.
func (b *builder) barHoles(c *car.Car, top *entry, look func(e *entry, ids []string, what string)) {
	for a, name := range axleKeys {
		ids := make([]string, 0, len(c.Axle[a].Holes))
		for _, h := range c.Axle[a].Holes {
			ids = append(ids, h.ID)
		}
		if len(ids) > 0 {
			look(top.at("car").at(name).at("bar").at("hole"), ids, "hole of this bar")
		}
		for _, id := range top.at("builds").ids() {
			e := top.at("builds").at(id).at("setup").at("bar_hole").at(name)
			switch {
			case e == nil:
			case len(ids) > 0:
				look(e, ids, "hole of this bar")
			default:
				b.warn(e.line, e.path, "changes nothing", "give the bar its holes under car."+name+".bar.holes, with the arm or the rate in each")
			}
		}
	}
}
