package desk

import (
	"cmp"
	"context"
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// CornerAsk is how far and which way builds are taken round a corner.
type CornerAsk struct {
	Load   string   `help:"Load state, by id; the usual one without it." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Build  []string `help:"Only these builds, by id." json:"builds,omitempty" maxItems:"100" placeholder:"ID"`
	To     string   `help:"Lateral acceleration to go to; 1g without it." json:"to,omitempty" maxLength:"60" placeholder:"0.9g"`
	Along  string   `help:"Acceleration along the car at the end, in step with the lateral one; negative is braking; none without it." json:"along,omitempty" maxLength:"60" placeholder:"-0.4g"`
	Right  bool     `help:"Turn right instead of left." json:"right,omitempty"`
	Points *int     `help:"Rows from straight ahead to the end; 20 without it." json:"points,omitempty" maximum:"1000" minimum:"1" placeholder:"N"`
	Settings
}

const (
	mostRows    = 1000
	usualRows   = 20
	mostLateral = 3 * equilibrium.Gravity // [m/s2]
)

// Cornered is how the builds corner.
type Cornered struct {
	*Result
	Load   string
	Ask    cornering.Asked
	Builds []CorneredBuild // that were asked for
	Steady Steadied
}

// CorneredBuild is one build round the corner.
type CorneredBuild struct {
	Build *car.Build
	Car   *cornering.Car // nil where Err says why
	Swept cornering.Swept
	First float64            // acceleration at which its first stop is met, as [cornering.Car.FirstStop] has it [m/s2]
	Holes [2][]study.BarHole // of adjustable bars, by axle
	Err   error
}

// Corner takes the builds round a corner.
func (d *Desk) Corner(ctx context.Context, job *jobfile.Job, ask CornerAsk) (*Cornered, error) {
	s := &ask.Settings
	sweep, err := ask.sweep()
	if err := cmp.Or(err, s.check(), known(job, ask.Build, []string{ask.Load})); err != nil {
		return nil, err
	}
	out := &Cornered{Load: LoadOf(job, ask.Load), Ask: sweep}
	if out.Result, err = d.answer(ctx, cornerAsked(job, out.Load, s, Draws)); err != nil {
		return nil, err
	}
	out.Builds = CornersOf(out.Result, out.Load, sweep, ask.Build)
	out.Steady = SteadyOf(out.Result, out.Load, 0)
	return out, nil
}

// CornersOf takes builds of an answered job round a corner, all where none is named.
func CornersOf(r *Result, load string, sweep cornering.Asked, builds []string) []CorneredBuild {
	out := make([]CorneredBuild, 0, len(r.Answer.Job.Builds))
	for _, b := range r.Answer.Job.Builds {
		if !asks(builds, b.ID) {
			continue
		}
		one := CorneredBuild{Build: b, First: math.NaN()}
		if one.Car, one.Err = r.Answer.Cornering(b.ID, load); one.Err == nil {
			one.Swept = one.Car.Sweep(sweep)
			one.First = one.Car.FirstStop(&one.Swept)
		}
		for a := range 2 {
			if holes, err := r.Answer.BarHoles(b.ID, load, a); err == nil {
				one.Holes[a] = holes
			}
		}
		out = append(out, one)
	}
	return out
}

// sweep reads how far to go.
func (a *CornerAsk) sweep() (cornering.Asked, error) {
	ask := cornering.Asked{Points: or(a.Points, usualRows)}
	if ask.Points < 1 || ask.Points > mostRows {
		return ask, bad("points", "is 1 to %d", mostRows)
	}
	for _, one := range []struct {
		field, text string
		into        *float64
	}{{"to", cmp.Or(a.To, "1g"), &ask.Lateral}, {"along", cmp.Or(a.Along, "0g"), &ask.Longitudinal}} {
		v, err := quantity.Parse(one.text, quantity.Acceleration)
		if err != nil {
			return ask, bad(one.field, "%s: %w", one.text, err)
		}
		if math.Abs(v.Value) > mostLateral {
			return ask, bad(one.field, "%s: more than 3 g is no road car's", one.text)
		}
		*one.into = v.Value
	}
	if ask.Lateral == 0 && ask.Longitudinal == 0 {
		return ask, absent("--to and --along are both nothing: the car stands still on the road")
	}
	if a.Right {
		ask.Lateral = -ask.Lateral
	}
	return ask, nil
}

// cornerAsked is how builds corner, with the movements of one load state: nothing
// is driven.
func cornerAsked(job *jobfile.Job, load string, s *Settings, draws int) *asked {
	q := &asked{job: job, opt: s.options(draws)}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.ModesIn = true, true, load
	return q
}
