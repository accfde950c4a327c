package car

// What a damper's curves are held against, once each: common practice, no source. Dynos
// for road cars begin where others end that were typed in the wrong unit, rebound is the
// greater force on nearly every car's damper, and a damper that holds next to nothing
// against the load on its wheel was typed in another unit of force.
const (
	slowestTop  = 0.05  // fastest speed of a table, at least [m/s]
	heldAt      = 0.1   // speed at which forces are compared [m/s]
	leastOver   = 0.7   // rebound over bump there, at least [-]
	leastOfLoad = 0.015 // rebound there over the load at the wheel, at least [-]
)

// sense looks at whether curves make sense on the wheel that the damper stands at.
func (k *checker) sense(d *DamperSpec, corner int) {
	path, line := partPath("dampers", d.ID)+".curves", d.Scale.Line
	for i := range d.Curves {
		bump, rebound := d.Curves[i].Bump, d.Curves[i].Rebound
		if len(bump) == 0 || len(rebound) == 0 {
			continue
		}
		top := max(bump[len(bump)-1].X, rebound[len(rebound)-1].X)
		if top <= 0 {
			continue // said already
		}
		if top < slowestTop {
			k.add(false, path, line, say("has {} as its fastest speed", si(top, "m/s")), say("a dyno goes to {} at least", si(slowestTop, "m/s")))
			k.slip(MetresPerSecond)
			return
		}
		at := min(heldAt, top)
		down, up := between(rebound, at), between(bump, at)
		if down < leastOver*up {
			k.add(false, path, line, say("has {} in rebound and {} in bump at {}", si(down, "N"), si(up, "N"), si(at, "m/s")), say("rebound is the greater on nearly every damper"))
			k.slip(Exchanged)
			return
		}
		load := &k.car.Weighed.Load[corner]
		if weight := load.Value * standardGravity; load.Known() && down > 0 && down < leastOfLoad*weight {
			k.add(false, path, line, say("has {} in rebound at {}, {} of the load on its wheel", si(down, "N"), si(at, "m/s"), si(down/weight, "share")), say("{} and more is usual", si(leastOfLoad, "share")))
			k.slip(OtherForce)
			return
		}
	}
}
