package desk

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"trunnion/chassis/axles"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/strut"
	"trunnion/shop/jobfile"
)

// StrutsAsk is how hard the struts of an axle are driven.
type StrutsAsk struct {
	Axle      string   `default:"front" enum:"front,rear" help:"Which axle: ${enum}." json:"axle,omitempty"`
	Build     []string `help:"Only these builds, by id." json:"builds,omitempty" maxItems:"100" placeholder:"ID"`
	Load      string   `help:"Load state, by id; the usual one without it." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Cornering *float64 `help:"Lateral acceleration of the car in the corner, in g; 0.9 without it." json:"cornering,omitempty" placeholder:"G"`
	Transfer  *float64 `help:"Load of the outside wheel over its load at rest while cornering; without it, as the car itself leans." json:"transfer,omitempty" placeholder:"RATIO"`
	Braking   *float64 `help:"Deceleration, in g; 0.9 without it." json:"braking,omitempty" placeholder:"G"`
	Dive      *float64 `help:"Load of the wheel over its load at rest while braking; without it, as the car itself dives." json:"dive,omitempty" placeholder:"RATIO"`
	Offset    string   `help:"Wheel further out by this, by offset or spacer." json:"offset,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Travel    bool     `help:"Print each strut over its travel too." json:"travel,omitempty"`
	Settings
}

// usualPower is how hard the car pulls in the case under power: common practice, no
// source. [m/s2]
const usualPower = 0.3 * equilibrium.Gravity

// Strutted is what the struts carry.
type Strutted struct {
	*Result
	Struts *axles.Struts
	// NoPower says that the case under power is missing because it is not known
	// which axle drives.
	NoPower bool
}

// Struts puts the struts of an axle under loads. Errors of the study's own,
// axles.ErrNoStrut and axles.ErrNoGuide, come with the builds that have no known
// guide.
func (d *Desk) Struts(ctx context.Context, job *jobfile.Job, ask StrutsAsk) (*Strutted, error) {
	s := &ask.Settings
	of, err := ask.study()
	if err := cmp.Or(err, s.check(), known(job, ask.Build, []string{ask.Load})); err != nil {
		return nil, err
	}
	of.Load = LoadOf(job, ask.Load)
	q := &asked{job: job, opt: s.options(axles.StrutDraws)}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoModes, q.opt.NoCorners = true, true, true, true
	r, err := d.answer(ctx, q)
	if err != nil {
		return nil, err
	}
	return StrutsOf(ctx, r, of)
}

// StrutsOf puts the struts of an answered job under loads: bends, braking, the
// brief's obstacles, and the case under power after the bends.
func StrutsOf(ctx context.Context, r *Result, ask axles.StrutAsk) (*Strutted, error) {
	out := &Strutted{Result: r}
	var err error
	if out.Struts, err = axles.LoadStruts(ctx, r.Answer, ask); err != nil {
		return out, err
	}
	for i := range out.Struts.Builds {
		one := &out.Struts.Builds[i]
		c, err := axles.StrutUnderPower(r.Answer, out.Struts, one, usualPower)
		switch {
		case errors.Is(err, axles.ErrNotDriven):
			out.NoPower = out.NoPower || !r.Answer.Job.Car.DriveShare.Known()
			continue
		case errors.Is(err, strut.ErrNotAStrut):
			continue
		case err != nil:
			c = axles.StrutCase{Code: axles.StrutDriving, Event: -1, Longitudinal: usualPower, Err: err}
		}
		at := slices.IndexFunc(one.Cases, func(k axles.StrutCase) bool { return k.Event >= 0 })
		if at < 0 {
			at = len(one.Cases)
		}
		one.Cases = slices.Insert(one.Cases, at, c)
		for k := range one.Changes {
			if one.Changes[k].Case >= at {
				one.Changes[k].Case++
			}
		}
		if one.Hardest >= at {
			one.Hardest++
		}
	}
	return out, nil
}

// study is the question as the study takes it.
func (a *StrutsAsk) study() (axles.StrutAsk, error) {
	axle, err := axleOf(a.Axle)
	if err != nil {
		return axles.StrutAsk{}, err
	}
	ask := axles.UsualStrutAsk(axle)
	ask.Builds = a.Build
	for _, one := range []struct {
		field string
		said  *float64
		unit  float64
		into  *float64
	}{
		{"cornering", a.Cornering, equilibrium.Gravity, &ask.Lateral},
		{"braking", a.Braking, equilibrium.Gravity, &ask.Braking},
		{"transfer", a.Transfer, 1, &ask.Transfer},
		{"dive", a.Dive, 1, &ask.Dive},
	} {
		if one.said == nil {
			continue
		}
		if !(*one.said >= 0 && *one.said <= 5) {
			return ask, bad(one.field, "is 0 to 5")
		}
		*one.into = *one.said * one.unit
	}
	if !a.Travel {
		ask.Points = 0
	}
	ask.Offset, err = length("offset", a.Offset, 0)
	return ask, err
}
