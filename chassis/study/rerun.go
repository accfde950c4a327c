package study

import (
	"reflect"

	"trunnion/chassis/figure"
)

// keep finds the builds that an earlier answer holds as they stand now. Inputs
// are compared with the columns of the draws they have, so that what is taken
// over is what would come out again.
func (s *setup) keep(earlier *Answer) {
	if earlier == nil || earlier.ready == nil || earlier.ready.again {
		return
	}
	was := earlier.ready
	if !reflect.DeepEqual(was.opt, s.opt) || (earlier.columns == nil) != (s.opt.Samples <= 0) ||
		!reflect.DeepEqual(was.job.Car, s.job.Car) || !reflect.DeepEqual(was.job.Loads, s.job.Loads) ||
		!reflect.DeepEqual(was.hangup, s.hangup) || !reflect.DeepEqual(was.fitted.Build, s.fitted.Build) {
		return
	}
	s.kept = make([]int, len(s.job.Builds))
	for b, build := range s.job.Builds {
		s.kept[b] = -1
		for k, old := range was.job.Builds {
			if old.ID == build.ID && reflect.DeepEqual(old, build) {
				s.kept[b] = k
			}
		}
	}
	s.earlier = earlier
}

// keeps reports whether a build is taken over.
func (s *setup) keeps(b int) bool { return s.earlier != nil && s.kept[b] >= 0 }

// keepColumns takes over the draws of the builds that are kept.
func (s *setup) keepColumns(c *columns) {
	for b := range s.designs {
		if s.keeps(b) {
			size := c.loads * perCase * c.samples
			copy(c.data[b*size:(b+1)*size], s.earlier.columns.data[s.kept[b]*size:(s.kept[b]+1)*size])
		}
	}
}

// keepCase takes over what was said of a build in a load state.
func (s *setup) keepCase(a *Answer, b, l int) {
	build, load := s.job.Builds[b].ID, s.job.Loads[l].ID
	for i := range s.earlier.Values {
		v := &s.earlier.Values[i]
		// What the weighing and the old parts disagree by belongs to the job.
		if v.Place.Build == build && v.Place.Load == load && v.Tier != figure.Time && v.Tier != figure.Screening && v.Code != "preload-error" {
			a.Values = append(a.Values, *v)
		}
	}
	for i := range s.earlier.Curves {
		c := &s.earlier.Curves[i]
		if c.Build == build && c.Load == load && c.Road == "" {
			a.Curves = append(a.Curves, *c)
		}
	}
	for _, w := range s.earlier.Warnings {
		if w.Build == build && w.Load == load && w.Code != "draws-without-rest" {
			a.Warnings = append(a.Warnings, w)
		}
	}
}

// Kept is the earlier answer that a build is taken over from; nil where it was
// computed anew, and once Forget was called.
func (a *Answer) Kept(build int) *Answer {
	if a.ready == nil || !a.ready.keeps(build) {
		return nil
	}
	return a.ready.earlier
}

// Forget lets go of the answer that builds were taken over from: one that held on to
// the one before would hold on to all of them.
func (a *Answer) Forget() {
	if a.ready != nil {
		a.ready.earlier, a.ready.kept = nil, nil
	}
}
