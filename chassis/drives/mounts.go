package drives

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/counting"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
)

// MountSlope is the slope of the line that mounts are compared on: common
// practice for rubber between 3 and 10, no source. [-]
const MountSlope = 5

// mountKey is one build on one road.
type mountKey struct {
	build, load, road string
	speed             float64
}

// mountCount counts what goes through the four upper mounts in one drive.
type mountCount struct {
	model  *ride.Model
	spring [4]bool // the spring stands on the mount too
	settle float64 // left out at the start [s]
	whole  float64 // how long the drive is [s]
	heard  float64 // last moment heard of [s]
	flow   [4]counting.Rainflow
	damage [4]counting.Damage
}

// newMountCount listens to a run: to its first drive when it is checked at half
// the step, so that counting costs no drive of its own.
func (r *riding) newMountCount(m *ride.Model, b int, run *ride.Run) *mountCount {
	c := &mountCount{model: m, settle: run.Settle, whole: run.Duration}
	for i := range 4 {
		c.damage[i].Slope = r.opt.MountSlope
		c.flow[i].Each = c.damage[i].Take
		if mt := r.a.Job.Builds[b].Corner[i].Mount; mt != nil {
			c.spring[i] = mt.CarriesSpring
		}
	}
	if r.opt.Unchecked {
		run.Each = c.hear
	} else {
		run.Glance = c.hear
	}
	return c
}

// close ends the histories and returns each corner's damage sum, not a number
// when the drive broke off.
func (c *mountCount) close() (sum [4]float64) {
	for i := range 4 {
		c.flow[i].Close()
		sum[i] = c.damage[i].Sum
		if c.heard < c.whole-0.1 {
			sum[i] = math.NaN()
		}
	}
	return sum
}

// hear takes a moment: the damper with its friction, the stop and the end of
// rebound, and the spring with gas and bushes where it stands on the mount.
func (c *mountCount) hear(o *ride.Moment) {
	c.heard = o.Time
	if o.Time < c.settle {
		return
	}
	for i := range 4 {
		force := o.DamperForce[i] + o.StopForce[i] - o.TopOutForce[i]
		if c.spring[i] {
			if f, ratio := c.model.Spring(i, o.Travel[i]); ratio > 0 {
				force += f / ratio
			}
		}
		c.flow[i].Push(force)
	}
}

// reportMounts sets each build's damage against the reference's on the same
// roads, sample by sample.
func (r *riding) reportMounts() {
	if !(r.opt.MountSlope > 0) || r.opt.EventsOnly {
		return
	}
	kept := make(map[mountKey][][4]float64)
	for c := range r.roads {
		for b := range r.a.Job.Builds {
			k := r.mountKey(c, b)
			if r.keepsDrives(b) {
				kept[k] = r.earlier(b).mounts[k]
				continue
			}
			for u := c * r.opt.Samples; u < (c+1)*r.opt.Samples; u++ {
				kept[k] = append(kept[k], r.counted[u][b])
			}
		}
	}
	r.kept.mounts = kept
	reference := slices.IndexFunc(r.a.Job.Builds, func(b *car.Build) bool { return b.ID == r.a.Reference })
	if reference < 0 {
		return
	}
	for c := range r.roads {
		base := kept[r.mountKey(c, reference)]
		for b := range r.a.Job.Builds {
			own := kept[r.mountKey(c, b)]
			p := roadPlace(&r.a.Job, b, r.roads[c].load)
			p.Road, p.Speed = r.roads[c].name, r.roads[c].speed
			for i := range 4 {
				p.Corner = i
				var ratios []float64
				for s := range min(len(own), len(base)) {
					a := counting.Damage{Slope: r.opt.MountSlope, Sum: own[s][i]}
					if x, ok := a.Relative(&counting.Damage{Slope: r.opt.MountSlope, Sum: base[s][i]}); ok && x > 0 {
						ratios = append(ratios, x)
					}
				}
				if len(ratios) != r.opt.Samples || len(ratios) == 0 {
					continue // a drive that did not come to its end is a failure already
				}
				r.add("mount-damage-relative", p, figure.Time, ratios, nil, figure.OK, "")
			}
		}
	}
}

func (r *riding) mountKey(c, b int) mountKey {
	p := roadPlace(&r.a.Job, b, r.roads[c].load)
	return mountKey{p.Build, p.Load, r.roads[c].name, r.roads[c].speed}
}
