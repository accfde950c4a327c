package jobfile

import (
	"trunnion/chassis/car"
)

// noPart stands where a part that was on the car goes and nothing takes its place.
const noPart = "none"

// stays is the one rule for what a build does not name: it is what was on the car
// when it was weighed, the very part. Four things follow the part they belong to:
// packer and friction their damper, a collar that stands on a damper's body that
// damper, and a tyre's rate its tyre. What stays beside a part it may not fit is said.
func (b *builder) stays(builds []*car.Build, entries *entry, c *car.Car, fitted *car.Build) {
	weighedTyres(c, fitted)
	for _, build := range builds {
		if build == fitted {
			continue
		}
		e := entries.at(build.ID)
		if e.at("mass") == nil {
			build.Mass = fitted.Mass
		}
		for i := range build.Corner {
			a := car.AxleOf(i)
			axle := e.at(axleKeys[a])
			b.cornerStays(&build.Corner[i], &fitted.Corner[i], cornerEntry{axle.at(sideKeys[i&1]), axle}, c.Axle[a].OnDamper())
		}
	}
}

// cornerEntry is what a build says of a corner: of its side, and of the axle.
type cornerEntry struct{ own, axle *entry }

func (c cornerEntry) at(name string) *entry {
	if e := c.own.at(name); e != nil {
		return e
	}
	return c.axle.at(name)
}

func (c cornerEntry) word(name string) string {
	if e := c.at(name); e != nil {
		return e.text
	}
	return ""
}

// cornerStays fills what one corner does not name. What both sides are asked about is
// one fault.
func (b *builder) cornerStays(to, from *car.BuildCorner, e cornerEntry, onDamper bool) {
	gone := func(key string) bool { return e.word(key) == noPart }
	newSpring := to.Spring != nil && to.Spring != from.Spring
	newDamper := to.Damper != nil && to.Damper != from.Damper
	if to.Spring == nil {
		to.Spring = from.Spring
	}
	if to.Damper == nil {
		to.Damper = from.Damper
	}
	if to.Helper == nil && from.Helper != nil && !gone("helper") {
		to.Helper = from.Helper
		if newSpring {
			s := e.at("spring")
			b.warn(s.line, s.path, "is another spring, and nothing is said of the helper "+short(from.Helper.ID)+" that was on the car", "it stays, on the new spring: name a helper, or write helper: none")
		}
	}
	if to.Platform == nil && from.Platform != nil && !gone("platform") {
		if !newDamper || !onDamper {
			to.Platform = from.Platform
		} else {
			d := e.at("damper")
			b.warn(d.line, d.path, "is another damper, and the collars "+short(from.Platform.ID)+" stood on the old one", "they go with it: name the platform of the new one, or write platform: none")
		}
	}
	if to.Stop == nil && !gone("stop") {
		to.Stop = from.Stop
	}
	if to.Mount == nil && !gone("mount") {
		to.Mount = from.Mount
	}
	if !to.Packer.Known() && !newDamper {
		to.Packer = from.Packer
	}
	if !to.Friction.Known() && !newDamper {
		to.Friction = from.Friction
	}
	newTyre := to.Tyre != nil && to.Tyre != from.Tyre
	if to.Tyre == nil {
		to.Tyre = from.Tyre
	}
	if to.Wheel == nil {
		to.Wheel = from.Wheel
	}
	if !to.TyreRate.Known() && !newTyre {
		to.TyreRate = from.TyreRate
	}
	if !to.UnsprungMore.Known() {
		to.UnsprungMore = from.UnsprungMore
	}
}
