package desk

import (
	"trunnion/chassis/axles"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
)

// StrutMove is what is changed of a corner and of its loads, to see what the strut then
// carries: the loads stay those of the case, by Heavier more.
type StrutMove struct {
	Change  linkage.Change
	Lower   float64 // the wheel that much further up [m]
	Heavier float64 // share that every load of the road is greater by [-]
}

// StrutMoment is a build's strut in one of its cases, as moved and as it stands.
type StrutMoment struct {
	Is, Was strut.Moment
	Err     error
}

// Corner is the axle's corner as it was moved.
func (s *Strutted) Corner(m *StrutMove) linkage.Corner { return s.Struts.Corner.With(m.Change) }

// Moments puts one build's strut under all its cases as it was moved.
func (s *Strutted) Moments(one *axles.BuildStrut, m *StrutMove) []StrutMoment {
	// The build's own wheel, and not the one that the car was weighed on.
	body := strut.Strut{Corner: one.Corner.With(m.Change), Layout: one.Layout}
	out := make([]StrutMoment, len(one.Cases))
	for n := range one.Cases {
		c, at := &one.Cases[n], &out[n]
		at.Is, at.Was, at.Err = c.Moment, c.Moment, c.Err
		if at.Err != nil || *m == (StrutMove{}) {
			continue
		}
		load := c.Load.Heavier(m.Heavier)
		list, errs, err := body.Over([]float64{c.Travel + m.Lower}, 0, func(float64) strut.Load { return load })
		if at.Err = err; err == nil {
			at.Is, at.Err = list[0], errs[0]
		}
	}
	return out
}

// StrutCarried stands for the case that follows springs and stop over the travel.
const StrutCarried = -2

// Over moves one build's strut through travels [m] under the load of one of its cases, by
// its place, or of StrutCarried; every travel has its moment or its error. The load is
// that at a travel.
func (s *Strutted) Over(one *axles.BuildStrut, m *StrutMove, n int, travels []float64) (list []strut.Moment, errs []error, load func(float64) strut.Load) {
	body := strut.Strut{Corner: one.Corner.With(m.Change), Layout: one.Layout}
	load = func(float64) strut.Load { return strut.Load{} }
	var trouble error
	switch {
	case n == StrutCarried:
		carried, _, err := axles.StrutCarried(s.Answer, one.Build.ID, s.Struts.Ask.Load, s.Struts.Ask.Axle, one.Side)
		if trouble = err; err == nil {
			load = func(w float64) strut.Load { return carried(w).Heavier(m.Heavier) }
		}
	case n < 0:
		trouble = study.ErrNoCase
	default:
		if trouble = one.Cases[n].Err; trouble == nil {
			held := one.Cases[n].Load.Heavier(m.Heavier)
			load = func(float64) strut.Load { return held }
		}
	}
	list, errs, err := body.Over(travels, 0, load)
	if err != nil {
		list, errs, trouble = make([]strut.Moment, len(travels)), make([]error, len(travels)), err
	}
	if trouble != nil {
		for k := range errs {
			errs[k] = trouble
		}
	}
	return list, errs, load
}
