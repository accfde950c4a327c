package desk

import (
	"cmp"
	"context"
	"fmt"

	"trunnion/chassis/drives"

	"trunnion/chassis/car"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
)

// AssessAsk is what may be said with an assessment.
type AssessAsk struct {
	Build []string `help:"Only these builds, by id." json:"builds,omitempty" maxItems:"100" placeholder:"ID"`
	Load  []string `help:"Only these load states, by id." json:"loads,omitempty" maxItems:"100" placeholder:"ID"`
	Settings
}

// Keeps reports whether a build in a load state is asked for. All are answered:
// what is shown of one does not hang on the others shown.
func (a *AssessAsk) Keeps(build, load string) bool {
	return (build == "" || asks(a.Build, build)) && (load == "" || asks(a.Load, load))
}

// Assess answers everything there is to ask of a job: every build in every load
// state, its roads and obstacles driven, findings with remedies and workings. The same
// text asked again gets the same answer.
func (d *Desk) Assess(ctx context.Context, job *jobfile.Job, ask AssessAsk) (*Result, error) {
	s := &ask.Settings
	if err := cmp.Or(s.check(), known(job, ask.Build, ask.Load)); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(Draws), shown: s.Progress}
	ride := s.drive()
	q.drive = &ride
	q.as = fmt.Sprintf("assess %s %d %d %v", job.SHA256, q.opt.Samples, q.opt.Seed, ride.Lanes)
	return d.answer(ctx, q)
}

// Judge answers the same with workings and remedies left until they are opened.
// kept, where given, are drives of an earlier judgement of the same job, which are
// taken over in place of driving.
func (d *Desk) Judge(ctx context.Context, job *jobfile.Job, kept *drives.Driven, s Settings) (*Result, error) {
	q := &asked{job: job, opt: s.options(Draws), shown: s.Progress, drives: kept, strict: true}
	q.opt.NoWorkings, q.opt.NoRemedies = true, true
	ride := s.drive()
	q.drive = &ride
	return d.answer(ctx, q)
}

// Figures answers what paper shows of a job: static figures and obstacles, with
// all draws. The same text asked again gets the same answer.
func (d *Desk) Figures(ctx context.Context, job *jobfile.Job, s Settings) (*Result, error) {
	if err := cmp.Or(s.check(), known(job, nil, nil)); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(Draws), shown: s.Progress}
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoModes, q.opt.NoCorners = true, true, true, true
	ride := s.drive()
	ride.EventsOnly = true
	q.drive = &ride
	q.as = fmt.Sprintf("figures %s %d %d", job.SHA256, q.opt.Samples, q.opt.Seed)
	return d.answer(ctx, q)
}

// Preview judges a job with few draws and nothing driven: enough to say what is
// gravest.
func (d *Desk) Preview(ctx context.Context, job *jobfile.Job) (*Result, error) {
	half := max(1, Workers()/2)
	s := Settings{Workers: &half}
	q := &asked{job: job, opt: s.options(glanceDraws)}
	q.opt.Velocities, q.opt.Lowering = []float64{q.opt.MainSpeed}, nil
	q.opt.NoWorkings, q.opt.NoModes, q.opt.NoCorners, q.opt.NoRemedies = true, true, true, true
	return d.answer(ctx, q)
}

// plain answers a build alone, beside the one that was weighed, in load states of
// its own: nominal figures, no bands.
func (d *Desk) plain(ctx context.Context, job *jobfile.Job, build *car.Build, loads []car.Load) (*Result, error) {
	one := 1
	s := Settings{Workers: &one}
	q := &asked{job: job, opt: s.options(0)}
	q.opt.NoModes, q.opt.NoCorners, q.opt.NoWorkings, q.opt.NoRemedies, q.opt.Lowering = true, true, true, true, nil
	builds := []*car.Build{build}
	for _, b := range job.Builds {
		if b.ID == job.Car.Weighed.Build && b.ID != build.ID {
			builds = append(builds, b)
		}
	}
	q.study = study.Job{Car: job.Car, Builds: builds, Loads: loads, Brief: &job.Brief}
	return d.answer(ctx, q)
}

// Ratios are the travels of spring and damper per wheel travel where the sides of an
// axle of a build rest in the first load state, left first [-].
func (d *Desk) Ratios(ctx context.Context, job *jobfile.Job, build *car.Build, axle int) (spring, damper [2]float64, err error) {
	r, err := d.plain(ctx, job, build, job.Loads[:1])
	if err != nil {
		return spring, damper, err
	}
	c := &r.Answer.Cases[0][0]
	if c.Err != nil {
		return spring, damper, c.Err
	}
	for k := range 2 {
		i := 2*axle + k
		m := &c.System.Corner[i]
		_, spring[k], _ = m.SpringTravel.At(c.State.Travel[i])
		_, damper[k], _ = m.DamperTravel.At(c.State.Travel[i])
	}
	return spring, damper, nil
}
