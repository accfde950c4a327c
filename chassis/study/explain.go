package study

import (
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// Explain returns the working of a value of this answer, written now where it
// was left out; nil where none is kept. It changes nothing and may be called by
// several at a time.
func (a *Answer) Explain(v *figure.Value) *figure.Working {
	s := a.ready
	switch {
	case v == nil || v.Working != nil:
		if v == nil {
			return nil
		}
		return v.Working
	case s == nil || v.State == figure.Unknown || math.IsNaN(v.Value):
		return nil
	case v.Tier == figure.Time || v.Tier == figure.Screening:
		return a.RunsWorking(v, []float64{v.Value})
	}
	if v.Code == "preload-error" {
		base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
		return s.weighedTerms(&base).Preload(v.Place.Corner)
	}
	b, l := -1, -1
	for i, build := range s.job.Builds {
		if build.ID == v.Place.Build {
			b = i
		}
	}
	for i := range s.job.Loads {
		if s.job.Loads[i].ID == v.Place.Load {
			l = i
		}
	}
	if b < 0 || l < 0 || a.Cases[b][l].Err != nil {
		return nil
	}
	c := &a.Cases[b][l]
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	switch {
	case v.Tier == figure.ModesTier:
		return s.explainMode(c, b, l, v)
	case bendCodes[v.Code]:
		return s.explainCorner(a, b, l, v)
	case v.Place.Corner == figure.NoCorner:
		return s.explainCar(s.caseTerms(&base, b, l, c), v)
	}
	w := s.worker(s.caseTerms(&base, b, l, c), b, l, v.Place.Corner, c)
	if v.Code == "damping-ratio" && v.Place.Direction != "" {
		return w.explainRatio(v)
	}
	for q, code := range cornerCodes {
		if code == v.Code {
			return w.of(q)
		}
	}
	return nil
}

func (s *setup) explainMode(c *Case, b, l int, v *figure.Value) *figure.Working {
	list, err := s.modesOf(c, b, l, nil)
	if err != nil {
		return nil
	}
	for k := range list {
		if m := &list[k]; m.Name == v.Place.Mode {
			f, z := modeWorkings(m, s.given(v.Place.Build, v.Place.Load))
			if v.Code == "mode-damping" {
				return z
			}
			return f
		}
	}
	return nil
}

func (s *setup) explainCar(t *equilibrium.CaseTerms, v *figure.Value) *figure.Working {
	for q, code := range carCodes {
		if code == v.Code {
			return carWorking(t, q)
		}
	}
	return nil
}

func (w *worker) explainRatio(v *figure.Value) *figure.Working {
	m := &w.sys.Corner[w.i]
	curve := m.Curve
	if v.Place.HasClick && w.parts().Damper != nil {
		var err error
		if curve, err = curveAt(w.parts().Damper, v.Place.Click); err != nil {
			return nil
		}
	}
	return w.ratioOf(v.Place.Velocity, v.Place.Direction, curve.Bump, curve.Rebound)
}

// explainCorner writes the working of a figure of a corner where it was left out.
func (s *setup) explainCorner(a *Answer, b, l int, v *figure.Value) *figure.Working {
	c := &a.Cases[b][l]
	car, err := s.bendCar(&c.System, &c.State, l, nil, nil)
	if err != nil {
		return nil
	}
	o, err := s.bend(car, l, cornerSteps, nil, nil)
	if err != nil {
		return nil
	}
	return s.bendWorking(o, l, v)
}
