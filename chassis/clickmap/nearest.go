package clickmap

import (
	"math"

	"trunnion/chassis/dyno"
)

// Step is one position of a suggested ladder.
type Step struct {
	Click int
	Ratio float64 // there, at the mid speed [-]
	Even  float64 // that steps of equal ratio would want [-]
}

// ladder suggests clicks whose damping ratios at the mid speed rise by the same factor
// from the softest to the hardest click measured:
//
//	ζ_k = ζ_soft·(ζ_hard/ζ_soft)^(k/(n − 1))
//
// Of two positions that fall on one click one is left out. That steps of equal ratio
// feel equal is common practice, no source.
func ladder(all []Click, steps int) []Step {
	if steps < 2 || len(all) < 2 {
		return nil
	}
	hard, soft := all[0].Ratio[Mid].Value, all[len(all)-1].Ratio[Mid].Value
	if !(hard > soft) || !(soft > 0) {
		return nil
	}
	var out []Step
	for k := range steps {
		even := soft * math.Pow(hard/soft, float64(k)/float64(steps-1))
		c := nearest(all, even, func(c *Click) float64 { return c.Ratio[Mid].Value })
		if len(out) == 0 || out[len(out)-1].Click != c.Click {
			out = append(out, Step{c.Click, c.Ratio[Mid].Value, even})
		}
	}
	return out
}

// nearest is the click whose figure is nearest by ratio to one that is wanted.
func nearest(all []Click, want float64, of func(*Click) float64) *Click {
	best := &all[0]
	for i := range all {
		if math.Abs(math.Log(of(&all[i])/want)) < math.Abs(math.Log(of(best)/want)) {
			best = &all[i]
		}
	}
	return best
}

// Wanted is the click nearest to a ratio or a force that is wanted at the mid speed.
type Wanted struct {
	Ratio  bool // a damping ratio; else a force in Stroke
	Stroke dyno.Stroke
	Want   float64 // [SI]
	Click  int
	Is     float64 // [SI]
	Within bool    // the range of the clicks reaches what is wanted
}

func wanted(all []Click, ask *Ask) []Wanted {
	var out []Wanted
	add := func(w Wanted, of func(*Click) float64) {
		c := nearest(all, w.Want, of)
		w.Click, w.Is = c.Click, of(c)
		least, most := math.Inf(1), math.Inf(-1)
		for i := range all {
			least, most = math.Min(least, of(&all[i])), math.Max(most, of(&all[i]))
		}
		w.Within = w.Want >= least && w.Want <= most
		out = append(out, w)
	}
	if ask.Ratio > 0 {
		add(Wanted{Ratio: true, Want: ask.Ratio}, func(c *Click) float64 { return c.Ratio[Mid].Value })
	}
	if ask.Force > 0 {
		s := 0
		if ask.Stroke == dyno.Rebound {
			s = 1
		}
		add(Wanted{Stroke: ask.Stroke, Want: ask.Force}, func(c *Click) float64 { return c.Force[s][Mid].Value })
	}
	return out
}
