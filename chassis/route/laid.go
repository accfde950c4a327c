package route

import (
	"sync"

	"trunnion/chassis/road"
)

// Laid are samples of roads as tyres feel them: whoever drives a road again, with another
// draw of the car or another build, goes over the same heights. Those of one brief and one
// wheelbase belong together. It may be used from several goroutines.
type Laid struct {
	lock    sync.Mutex
	samples map[laidAt]*laidSample
	makers  map[laidAt]*laidMaker
}

// ContactLength is the length over which a tyre averages a road: common
// practice, no source. [m]
const ContactLength = 0.12

// laidAt is one sample of a road at one speed, or with sample −1 the road itself.
type laidAt struct {
	road   string
	length float64 // [m]
	sample int
	seed   uint64
}

type laidSample struct {
	sync.Once
	profile road.Profile
	err     error
}

// laidMaker makes the samples of one road, one at a time: its tables are worth keeping.
type laidMaker struct {
	sync.Mutex
	generator *road.Generator
}

// Sample is one of a road, long enough for a run [m].
func (l *Laid) Sample(c *Road, sample int, seed uint64, length float64) (*road.Profile, error) {
	at := laidAt{c.Name, length, sample, seed}
	of := laidAt{c.Name, length, -1, 0}
	l.lock.Lock()
	if l.samples == nil {
		l.samples, l.makers = map[laidAt]*laidSample{}, map[laidAt]*laidMaker{}
	}
	if l.samples[at] == nil {
		l.samples[at] = new(laidSample)
	}
	if l.makers[of] == nil {
		l.makers[of] = new(laidMaker)
	}
	one, maker := l.samples[at], l.makers[of]
	l.lock.Unlock()
	one.Do(func() { one.profile, one.err = c.tracks(maker, sample, seed, length) })
	return &one.profile, one.err
}

// tracks generates one sample of a road as the tyres feel it.
func (c *Road) tracks(maker *laidMaker, sample int, seed uint64, length float64) (road.Profile, error) {
	if c.Measured != nil {
		p := *c.Measured
		from, _ := p.Extent()
		p.Start -= from // the car sets out where the profile begins
		return p.Averaged(ContactLength)
	}
	p, err := maker.generate(c.Spectrum, length, seed+1000*uint64(sample))
	if err != nil {
		return road.Profile{}, err
	}
	return p.Averaged(ContactLength)
}

func (m *laidMaker) generate(s road.Spectrum, length float64, seed uint64) (road.Profile, error) {
	m.Lock()
	defer m.Unlock()
	if m.generator == nil {
		g, err := road.NewGenerator(road.UsualRoad(s, length))
		if err != nil {
			return road.Profile{}, err
		}
		m.generator = g
	}
	return m.generator.Generate(seed), nil
}
