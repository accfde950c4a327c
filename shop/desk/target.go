package desk

import (
	"cmp"
	"context"
	"errors"

	"trunnion/chassis/dyno"
	"trunnion/chassis/valving"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// TargetAsk is what is wanted of the builder.
type TargetAsk struct {
	Build    string   `help:"Build whose dampers are ordered, by id; the first with clicks without it." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load     string   `help:"Load state, by id; the usual one without it." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Soft     *float64 `help:"Damping ratio up to the knee at the softest click; 0.25 without it." json:"soft,omitempty" placeholder:"RATIO"`
	Hard     *float64 `help:"The same at the hardest click; 0.65 without it." json:"hard,omitempty" placeholder:"RATIO"`
	SoftHigh *float64 `help:"Damping ratio at 520 mm/s at the softest click; 0.15 without it." json:"soft_high,omitempty" name:"soft-high" placeholder:"RATIO"`
	HardHigh *float64 `help:"The same at the hardest click; 0.28 without it." json:"hard_high,omitempty" name:"hard-high" placeholder:"RATIO"`
	Knee     string   `help:"Damper speed up to which force rises in proportion; 80 mm/s without it." json:"knee,omitempty" maxLength:"60" placeholder:"SPEED"`
	Split    *float64 `help:"Rebound over bump force; 1.8 without it." json:"split,omitempty" placeholder:"RATIO"`
	Clicks   *int     `help:"Clicks that are ordered, from closed to open; 5 without it." json:"clicks,omitempty" name:"positions" placeholder:"N"`
	Use      string   `default:"club" enum:"club,race,road" help:"Tolerance of common practice: ${enum}." json:"use,omitempty"`
	Settings
}

// tolerances are those of common practice, by use.
var tolerances = map[string]dyno.Tolerance{"": dyno.Club, "club": dyno.Club, "race": dyno.Race, "road": dyno.Road}

// Ordered is what is asked of a damper's builder.
type Ordered struct {
	*Result
	Order *valving.Order
}

// Target makes an order of forces from wanted damping ratios on the car.
func (d *Desk) Target(ctx context.Context, job *jobfile.Job, ask TargetAsk) (*Ordered, error) {
	s := &ask.Settings
	of, err := ask.asked()
	if err := cmp.Or(err, s.check(), known(job, nil, []string{ask.Load})); err != nil {
		return nil, err
	}
	of.Load = LoadOf(job, ask.Load)
	if of.Build, err = adjustable(job, ask.Build); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(0), study: studied(job)}
	q.study.Builds = onlyWeighedAnd(job, of.Build)
	q.opt.Lowering = nil
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoPlans, q.opt.NoModes, q.opt.NoCorners = true, true, true, true, true
	r, err := d.answer(ctx, q)
	if err != nil {
		return nil, err
	}
	o, err := valving.Target(r.Answer, of)
	switch {
	case errors.Is(err, valving.ErrFalls):
		return nil, bad("hard-high", "is too low for this knee: force would fall above it")
	case errors.Is(err, valving.ErrAsk):
		return nil, bad("soft", "is above 0, as every ratio, speed and the split, and the hardest click not below the softest")
	case errors.Is(err, valving.ErrNothing):
		return nil, absent("build %q has no damper whose wheel rate and mass are known", of.Build)
	case err != nil:
		return nil, err
	}
	return &Ordered{r, o}, nil
}

// asked is the question as the order takes it.
func (a *TargetAsk) asked() (valving.Ask, error) {
	of := valving.Usual
	of.Low = [2]float64{or(a.Soft, of.Low[0]), or(a.Hard, of.Low[1])}
	of.High = [2]float64{or(a.SoftHigh, of.High[0]), or(a.HardHigh, of.High[1])}
	of.Split, of.Positions = or(a.Split, of.Split), or(a.Clicks, of.Positions)
	if a.Knee != "" {
		v, err := quantity.Parse(a.Knee, quantity.SpeedDamper)
		if err != nil {
			return of, bad("knee", "%s: %w", a.Knee, err)
		}
		of.Knee = v.Value
	}
	var there bool
	if of.Tolerance, there = tolerances[a.Use]; !there {
		return of, bad("use", "is club, race or road, not %q", a.Use)
	}
	if of.Positions < 1 || of.Positions > 100 {
		return of, bad("positions", "is 1 to 100")
	}
	return of, nil
}

// Document is the order, for programs.
func (o *Ordered) Document(program string) *answer.Order {
	return answer.NewOrder(program, o.Job.SHA256, o.Order)
}
