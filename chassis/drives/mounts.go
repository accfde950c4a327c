package drives

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/counting"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
)

// What passes through an upper mount, as a figure's place names it.
const (
	MountDamper = "damper"
	MountStop   = "stop"
	MountOpen   = "top-out"
	MountSpring = "spring"
)

// MountParts are these in the order in which they are counted.
var MountParts = [4]string{MountDamper, MountStop, MountOpen, MountSpring}

// MountRatingAssumed marks a comparison of mounts of which one's rated range was not
// entered.
const MountRatingAssumed = "mount-rating-assumed"

// MountDistance is the road over which the life of a mount is told. [m]
const MountDistance = 1e8

// leastMountRange is the smallest range of force that is kept: a million of them are less
// than one of the least rated range that a mount may have. [N]
const leastMountRange = 20

// mountKey is one build on one road.
type mountKey struct {
	build, load, road string
	speed             float64
}

// mountWay is what goes through the four upper mounts in one drive, cycles by their
// range; nil for a drive that broke off. [N]
type mountWay *mountHeard

// mountHeard is that, and how long it was counted [s].
type mountHeard struct {
	tally [4]counting.Tally
	time  float64
}

// mountCount counts it.
type mountCount struct {
	model        *ride.Model
	stop, spring [4]bool // what the mount carries beside the damper
	settle       float64 // left out at the start [s]
	whole        float64 // how long the drive is [s]
	heard        float64 // last moment heard of [s]
	flow         [4]counting.Rainflow
	tally        [4]counting.Tally
}

// newMountCount listens to a run: to its first drive when it is checked at half
// the step and not driven once, so that counting costs no drive of its own.
func (r *riding) newMountCount(m *ride.Model, b int, run *ride.Run, once bool) *mountCount {
	c := &mountCount{model: m, settle: run.Settle, whole: run.Duration}
	for i := range 4 {
		c.tally[i].Least = leastMountRange
		c.flow[i].Each = c.tally[i].Take
		c.stop[i], c.spring[i] = r.a.Job.Builds[b].Corner[i].Mount.Carries()
	}
	run.Each, run.Glance = nil, c.hear
	if once {
		run.Each, run.Glance = c.hear, nil
	}
	return c
}

// close ends the histories.
func (c *mountCount) close() mountWay {
	for i := range 4 {
		c.flow[i].Close()
	}
	if c.heard < c.whole-0.1 {
		return nil
	}
	return &mountHeard{c.tally, c.heard - c.settle}
}

// hear takes a moment: the damper with its friction and the end of rebound, the stop
// where the mount carries it, and the spring with gas and bushes where that stands on it.
func (c *mountCount) hear(o *ride.Moment) {
	c.heard = o.Time
	if o.Time < c.settle {
		return
	}
	for i := range 4 {
		parts := counting.Parts{o.DamperForce[i], 0, -o.TopOutForce[i], 0}
		if c.stop[i] {
			parts[1] = o.StopForce[i]
		}
		if c.spring[i] {
			if f, ratio := c.model.Spring(i, o.Travel[i]); ratio > 0 {
				parts[3] = f / ratio
			}
		}
		c.flow[i].PushParts(&parts)
	}
}

// mountLine is the line of one mount, with the inputs that it rests on.
type mountLine struct {
	mount        *car.MountSpec
	rated, slope *figure.Input
	over         float64 // what rated is over: 1, or what the corner carries at rest [N]
}

func lineOfMount(m *car.MountSpec, load float64) mountLine {
	l := mountLine{mount: m, slope: m.SlopeInput()}
	l.rated, l.over = m.RatedInput(load)
	return l
}

// moved is the line with an input off by a share of its band; nil: as it is.
func (l *mountLine) moved(in *figure.Input, by float64) counting.Line {
	at := func(one *figure.Input) float64 {
		if one == in {
			return one.Value + by*one.Half
		}
		return one.Value
	}
	return l.mount.Line(l.over*at(l.rated), at(l.slope))
}

// mountPair is one corner of a build beside the reference's on the same roads.
type mountPair struct {
	corner         int
	roads          []mountRoad
	line, baseLine mountLine
}

// mountRoad is what both had on one road, per sample.
type mountRoad struct {
	own, base []mountWay
	speed     float64 // [m/s]
}

// mountCodes are the figures of the mounts: told anew with every answer, because they are
// set against the reference.
var mountCodes = [...]string{"mount-damage-share", "mount-life-share", "mount-damage-relative"}

// allRoads is every road of the brief, one as far as another.
const allRoads = -1

// wear returns the share of a line's life that goes per metre of a road, or of all alike,
// in one sample, and what each part has of it; not a number where a drive broke off. [1/m]
func (p *mountPair) wear(road, sample int, line *counting.Line, ways func(*mountRoad) []mountWay) (sum float64, parts counting.Parts) {
	n := 0.0
	for c := range p.roads {
		if road != allRoads && c != road {
			continue
		}
		list := ways(&p.roads[c])
		if sample >= len(list) || list[sample] == nil {
			return math.NaN(), parts
		}
		way := list[sample]
		d, own := way.tally[p.corner].Damage(line)
		n++
		sum += d / (p.roads[c].speed * way.time)
		for k := range parts {
			parts[k] += own[k] / (p.roads[c].speed * way.time)
		}
	}
	for k := range parts {
		parts[k] /= n
	}
	return sum / n, parts
}

func ownWays(r *mountRoad) []mountWay  { return r.own }
func baseWays(r *mountRoad) []mountWay { return r.base }

// each returns the wear on a road over the reference's on the mean of all, sample by
// sample, with an input off by a share of its band; nothing where a drive broke off or
// nothing was worn.
func (p *mountPair) each(road, samples int, in *figure.Input, by float64) []float64 {
	own, base := p.line.moved(in, by), p.baseLine.moved(in, by)
	out := make([]float64, samples)
	for s := range out {
		a, _ := p.wear(road, s, &own, ownWays)
		b, _ := p.wear(allRoads, s, &base, baseWays)
		if out[s] = a / b; !(a > 0) || !(b > 0) {
			return nil
		}
	}
	return out
}

// shares returns what each part has of the wear, sample by sample.
func (p *mountPair) shares(road, samples int) (out [4][]float64) {
	line := p.line.moved(nil, 0)
	for s := range samples {
		sum, parts := p.wear(road, s, &line, ownWays)
		if !(sum > 0) {
			return [4][]float64{}
		}
		for k := range parts {
			out[k] = append(out[k], parts[k]/sum)
		}
	}
	return out
}

// life returns the share of the mount's life that goes in MountDistance of all roads
// alike, sample by sample, with an input off by a share of its band.
func (p *mountPair) life(samples int, in *figure.Input, by float64) []float64 {
	line := p.line.moved(in, by)
	out := make([]float64, samples)
	for s := range out {
		a, _ := p.wear(allRoads, s, &line, ownWays)
		if out[s] = a * MountDistance; !(a > 0) {
			return nil
		}
	}
	return out
}

// inputs are those that the two lines rest on, each once.
func (p *mountPair) inputs() []*figure.Input {
	out := []*figure.Input{p.line.rated, p.line.slope}
	for _, in := range []*figure.Input{p.baseLine.rated, p.baseLine.slope} {
		if !slices.Contains(out, in) {
			out = append(out, in)
		}
	}
	return out
}

// band returns the half-width of the logarithm of a mean over samples [-]: what the
// samples of the roads leave open, and to first order what each input's band does to it.
func (p *mountPair) band(of func(in *figure.Input, by float64) []float64) float64 {
	square := 0.0
	if mean, half, ok := studentHalf(of(nil, 0)); ok {
		square = math.Pow(half/mean, 2)
	}
	for _, in := range p.inputs() {
		up, _, _ := studentHalf(of(in, 1))
		down, _, _ := studentHalf(of(in, -1))
		if up > 0 && down > 0 {
			square += math.Pow(0.5*math.Log(up/down), 2)
		}
	}
	return math.Sqrt(square)
}

// countedMounts gathers what was counted, and what was kept of the answer before.
func (r *riding) countedMounts() map[mountKey][]mountWay {
	kept := make(map[mountKey][]mountWay)
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
	return kept
}

// reportMounts sets each build's wear of the mounts against the reference's on the same
// roads, each mount on its own line, and says what of it damper, stop, open end and spring
// do: for every road, and for all of them.
func (r *riding) reportMounts() {
	if !r.opt.Mounts || r.opt.EventsOnly || len(r.roads) == 0 {
		return
	}
	kept := r.countedMounts()
	r.kept.mounts = kept
	reference := slices.IndexFunc(r.a.Job.Builds, func(b *car.Build) bool { return b.ID == r.a.Reference })
	if reference < 0 {
		return
	}
	usual := r.a.UsualLoad()
	rest := &r.a.Cases[reference][max(slices.IndexFunc(r.a.Job.Loads, func(l car.Load) bool { return l.ID == usual }), 0)]
	for b := range r.a.Job.Builds {
		for i := range 4 {
			load := math.NaN() // without it a rated range that was not entered is not known
			if rest.Err == nil {
				load = rest.State.Load[i]
			}
			own, was := r.a.Job.Builds[b].Corner[i].Mount, r.a.Job.Builds[reference].Corner[i].Mount
			pair := &mountPair{corner: i, line: lineOfMount(own, load), baseLine: lineOfMount(was, load)}
			for c := range r.roads {
				pair.roads = append(pair.roads, mountRoad{kept[r.mountKey(c, b)], kept[r.mountKey(c, reference)], r.roads[c].Speed})
			}
			for c := range r.roads {
				p := roadPlace(&r.a.Job, b, r.roads[c].Load)
				p.Road, p.Speed, p.Corner = r.roads[c].Name, r.roads[c].Speed, i
				r.reportMount(p, c, pair)
			}
			r.reportMount(figure.Place{Build: r.a.Job.Builds[b].ID, Corner: i}, allRoads, pair)
		}
	}
}

// reportMount adds the figures of one mount on one road, or on all.
func (r *riding) reportMount(p figure.Place, road int, pair *mountPair) {
	for k, values := range pair.shares(road, r.opt.Samples) {
		if len(values) == 0 || slices.Max(values) <= 0 && slices.Min(values) >= 0 {
			continue
		}
		q := p
		q.Mode = MountParts[k]
		r.add("mount-damage-share", q, figure.Time, values, nil, figure.OK, "")
	}
	own, was := pair.line.mount, pair.baseLine.mount
	if (own.KindName() == car.MountSpherical) != (was.KindName() == car.MountSpherical) {
		r.add("mount-damage-relative", p, figure.Time, nil, nil, figure.Unknown, "a joint of metal wears by turning under load, rubber by cracking: one is not compared with the other")
		return
	}
	ratio := func(in *figure.Input, by float64) []float64 { return pair.each(road, r.opt.Samples, in, by) }
	var notes []string
	if own == nil || was == nil || !own.Rated.Known() || !was.Rated.Known() {
		notes = append(notes, MountRatingAssumed)
	}
	if road == allRoads && own != nil && own.Rated.Known() && own.KindName() != car.MountSpherical {
		r.addByFactor("mount-life-share", p, pair, nil, func(in *figure.Input, by float64) []float64 { return pair.life(r.opt.Samples, in, by) })
	}
	r.addByFactor("mount-damage-relative", p, pair, notes, ratio)
}

// addByFactor adds a figure whose band is a factor either way; nothing where a drive did
// not come to its end, which is a failure already.
func (r *riding) addByFactor(code string, p figure.Place, pair *mountPair, notes []string, of func(in *figure.Input, by float64) []float64) {
	list := of(nil, 0)
	if len(list) == 0 {
		return
	}
	state := figure.OK
	for _, in := range pair.inputs() {
		if in.Origin == figure.Estimated {
			state = figure.FromGuesses
		}
	}
	r.add(code, p, figure.Time, list, notes, state, "")
	v := &r.out.Values[len(r.out.Values)-1]
	half := pair.band(of)
	v.Low, v.High, v.HasBand, v.BandOf = v.Value*math.Exp(-half), v.Value*math.Exp(half), true, figure.OfRuns
}

func (r *riding) mountKey(c, b int) mountKey {
	p := roadPlace(&r.a.Job, b, r.roads[c].Load)
	return mountKey{p.Build, p.Load, r.roads[c].Name, r.roads[c].Speed}
}
