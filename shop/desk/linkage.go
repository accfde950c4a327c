package desk

import (
	"cmp"
	"context"
	"errors"

	"trunnion/chassis/axles"

	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
)

// LinkageAsk is how an axle's linkage is moved, and what is changed of it.
type LinkageAsk struct {
	Axle   string `default:"front" enum:"front,rear" help:"Which axle: ${enum}." json:"axle,omitempty"`
	Travel string `help:"How far up and down; 80mm without it." json:"travel,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Points *int   `help:"How many wheel travels to print; 9 without it." json:"points,omitempty" maximum:"1001" minimum:"2" placeholder:"N"`
	Rack   string `help:"How far the rack stands to the left." json:"rack,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Mode   string `default:"parallel" enum:"parallel,opposite,single" help:"How the other wheel moves: ${enum}." json:"mode,omitempty"`
	Lower  string `help:"Say what standing lower by this changes." json:"lower,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Offset string `help:"Wheel further out by this, by offset or spacer." json:"offset,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Plate  string `help:"Top mount inward by this, by a camber plate." json:"plate,omitempty" maxLength:"60" placeholder:"LENGTH"`
	Extend string `help:"First arm longer by this." json:"extend,omitempty" maxLength:"60" placeholder:"LENGTH"`
}

const (
	usualTravel = 0.080 // [m]
	mostTravel  = 0.5   // [m]
	usualPoints = 9
	mostPoints  = 1001 // more is not meant
)

// modes are how the other wheel moves, by name.
var modes = map[string]linkage.Mode{"": linkage.Parallel, "parallel": linkage.Parallel, "opposite": linkage.Opposite, "single": linkage.Single}

// Linkage moves an axle's linkage. Errors that say the axle has no such linkage
// are those of the study.
func (d *Desk) Linkage(_ context.Context, job *jobfile.Job, ask LinkageAsk) (*axles.Moved, error) {
	of, err := ask.study()
	if err := cmp.Or(err, known(job, nil, nil)); err != nil {
		return nil, err
	}
	return MoveLinkage(&Result{Job: job}, "", "", of)
}

// MoveLinkage moves an axle's linkage, in the stance of a build in a load state
// where the job is answered and has them.
func MoveLinkage(r *Result, build, load string, ask axles.LinkageAsk) (*axles.Moved, error) {
	if r.Answer == nil {
		return axles.MoveLinkage(r.Job.Car, ask)
	}
	got, err := axles.MoveStanding(r.Answer, build, load, ask)
	if errors.Is(err, study.ErrNoCase) {
		got, err = axles.MoveLinkage(r.Answer.Job.Car, ask)
	}
	return got, err
}

// study is the question as the study takes it.
func (a *LinkageAsk) study() (axles.LinkageAsk, error) {
	ask := axles.LinkageAsk{Points: or(a.Points, usualPoints)}
	if ask.Points < 2 || ask.Points > mostPoints {
		return ask, bad("points", "is 2 to %d", mostPoints)
	}
	mode, there := modes[a.Mode]
	if !there {
		return ask, bad("mode", "is parallel, opposite or single, not %q", a.Mode)
	}
	ask.Mode = mode
	var err error
	if ask.Axle, err = axleOf(a.Axle); err != nil {
		return ask, err
	}
	travel, plate := 0.0, 0.0
	for _, one := range []struct {
		field, typed string
		otherwise    float64
		into         *float64
	}{
		{"travel", a.Travel, usualTravel, &travel},
		{"rack", a.Rack, 0, &ask.Rack},
		{"lower", a.Lower, 0, &ask.Lower},
		{"offset", a.Offset, 0, &ask.Change.Offset},
		{"plate", a.Plate, 0, &plate},
		{"extend", a.Extend, 0, &ask.Change.Extension},
	} {
		if *one.into, err = length(one.field, one.typed, one.otherwise); err != nil {
			return ask, err
		}
	}
	if !(travel > 0 && travel <= mostTravel) {
		return ask, bad("travel", "is more than 0 and no more than half a metre")
	}
	ask.Low, ask.High, ask.Change.Plate = -travel, travel, geom.Vec{Y: -plate}
	return ask, nil
}
