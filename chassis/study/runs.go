package study

import (
	"strconv"

	"trunnion/chassis/figure"
)

// How the runs of a ride value were computed.
const (
	rideMethod      = "Each run by time simulation of seven degrees of freedom; ISO 8608 road, ISO 2631-1:1997 weighting."
	screeningMethod = "By stochastic linearisation of seven degrees of freedom; ISO 8608 road, ISO 2631-1:1997 weighting."
)

// RunsWorking is the working of a value of this answer that was driven or screened, as
// the mean of its runs [SI].
func (a *Answer) RunsWorking(v *figure.Value, runs []float64) *figure.Working {
	return meanWorking(v.Code, runs, v.Tier, a.givenTo(v))
}

// meanWorking shows a ride value as the mean of its runs, with what the runs were
// given.
func meanWorking(code string, samples []float64, tier figure.Tier, given []*figure.Input) *figure.Working {
	e := figure.Must(code)
	terms := make([]figure.Term, 0, len(samples))
	for k, x := range samples {
		terms = append(terms, figure.Among("x_"+strconv.Itoa(k+1), "of one run: "+figure.OfRun(code), e.Unit, x))
	}
	w := e.Law().Of(terms...)
	w.Given, w.Note = given, rideMethod
	if tier == figure.Screening {
		w.Note = screeningMethod
	}
	return w
}

// FoundWorking is the working of a value of this answer that was found elsewhere from a
// rest of it: its register's law, with what the rest was given, and more inputs.
func (a *Answer) FoundWorking(v *figure.Value, more []*figure.Input, terms ...figure.Term) *figure.Working {
	w := result(v.Code, terms...)
	w.Given = append(append(w.Given, a.ready.given(v.Place.Build, v.Place.Load)...), more...)
	return w
}
