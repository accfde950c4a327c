package drives

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Driven are what driving the brief's roads and obstacles gave: the slow part of
// an answer, that can be kept and given back to the same study later.
type Driven struct {
	Options Options
	Values  []figure.Value
	Curves  []study.Curve
}

// kept is what stays with an answer beside its values, for the next study from it.
type kept struct {
	options Options
	steps   [2]float64              // of the drives, on roads and over events [s]
	mounts  map[mountKey][]mountWay // per sample
}

// keptBy is what was kept with an answer; the zero value when it was not driven.
func keptBy(a *study.Answer) *kept {
	if k, ok := a.Driven.(*kept); ok {
		return k
	}
	return new(kept)
}

// OptionsOf are how an answer's roads were driven; the zero value when they were not.
func OptionsOf(a *study.Answer) Options { return keptBy(a).options }

// Of returns what was driven and screened.
func Of(a *study.Answer) Driven {
	d := Driven{Options: OptionsOf(a)}
	for i := range a.Values {
		if v := &a.Values[i]; v.Tier == figure.Time || v.Tier == figure.Screening {
			d.Values = append(d.Values, *v)
		}
	}
	for i := range a.Curves {
		if a.Curves[i].Road != "" {
			d.Curves = append(d.Curves, a.Curves[i])
		}
	}
	return d
}

// Adopt gives an answer the drives of an earlier one to the same job, in place
// of driving it again.
func Adopt(a *study.Answer, d Driven) {
	a.Driven = &kept{options: d.Options}
	a.Take(&study.Answer{Values: d.Values, Curves: d.Curves})
}
