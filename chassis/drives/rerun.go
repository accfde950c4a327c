package drives

import (
	"reflect"
	"slices"

	"trunnion/chassis/figure"
)

// keepsDrives reports whether the drives of a build are taken over: the same
// roads, options and step.
func (r *riding) keepsDrives(b int) bool {
	e := r.a.Kept(b)
	if e == nil || r.opt.Only != nil {
		return false
	}
	was := keptBy(e)
	return was.steps == [2]float64{r.roadStep, r.eventStep} && reflect.DeepEqual(was.options, r.opt) && reflect.DeepEqual(e.Job.Brief, r.a.Job.Brief)
}

// earlier is what was kept with the answer that a build is taken over from.
func (r *riding) earlier(b int) *kept { return keptBy(r.a.Kept(b)) }

// keepDrives takes over the drives of the builds that are kept. What is relative
// to the reference is set against it anew: that build may have changed.
func (r *riding) keepDrives() {
	for b, build := range r.a.Job.Builds {
		if !r.keepsDrives(b) {
			continue
		}
		e := r.a.Kept(b)
		for i := range e.Values {
			if v := &e.Values[i]; v.Place.Build == build.ID && (v.Tier == figure.Time || v.Tier == figure.Screening) && !slices.Contains(mountCodes[:], v.Code) {
				r.out.Values = append(r.out.Values, *v)
			}
		}
		for i := range e.Curves {
			if c := &e.Curves[i]; c.Build == build.ID && c.Road != "" {
				r.out.Curves = append(r.out.Curves, *c)
			}
		}
	}
}
