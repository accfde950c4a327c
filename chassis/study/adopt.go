package study

import "trunnion/chassis/figure"

// Drives are what driving the brief's roads and obstacles gave: the slow part of
// an answer, that can be kept and given back to the same study later.
type Drives struct {
	Options RideOptions
	Values  []figure.Value
	Curves  []Curve
}

// Drives returns what was driven and screened.
func (a *Answer) Drives() Drives {
	d := Drives{Options: a.Ridden}
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
func (a *Answer) Adopt(d Drives) {
	a.Ridden = d.Options
	a.Values = append(a.Values, d.Values...)
	a.Curves = append(a.Curves, d.Curves...)
	a.makeIndex()
}
