package desk

import (
	"cmp"
	"context"
	"errors"

	"trunnion/chassis/car"
	"trunnion/chassis/clickmap"
	"trunnion/chassis/dyno"
	"trunnion/shop/answer"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// ClicksAsk is which damper's clicks are mapped, and at which damper speeds.
type ClicksAsk struct {
	Build  string   `help:"Build, by id; the first whose dampers have clicks without it." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load   string   `help:"Load state, by id; the usual one without it." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Low    string   `help:"Low damper speed; 50 mm/s without it." json:"low,omitempty" maxLength:"60" placeholder:"SPEED"`
	Mid    string   `help:"Middle damper speed, at which clicks are compared; 130 mm/s without it." json:"mid,omitempty" maxLength:"60" placeholder:"SPEED"`
	High   string   `help:"High damper speed; 260 mm/s without it." json:"high,omitempty" maxLength:"60" placeholder:"SPEED"`
	Ratio  *float64 `help:"Damping ratio wanted at the middle speed: the nearest click is named." json:"ratio,omitempty" placeholder:"RATIO"`
	Force  string   `help:"Force wanted at the middle speed: the nearest click is named." json:"force,omitempty" maxLength:"60" placeholder:"FORCE"`
	Stroke string   `default:"rebound" enum:"bump,rebound" help:"Stroke of that force: ${enum}." json:"stroke,omitempty"`
	Steps  *int     `help:"Positions of the suggested ladder of equal steps; 5 without it." json:"steps,omitempty" placeholder:"N"`
	Roads  bool     `help:"Drive the brief's roads too: how fast the dampers move there." json:"roads,omitempty"`
	Settings
}

// Clicked is what clicks are worth on a car.
type Clicked struct {
	*Result
	Map *clickmap.Map
}

// Clicks maps the clicks of a build's dampers on the car.
func (d *Desk) Clicks(ctx context.Context, job *jobfile.Job, ask ClicksAsk) (*Clicked, error) {
	s := &ask.Settings
	of, err := ask.asked()
	if err := cmp.Or(err, s.check(), known(job, nil, []string{ask.Load})); err != nil {
		return nil, err
	}
	of.Load = LoadOf(job, ask.Load)
	if of.Build, err = adjustable(job, ask.Build); err != nil {
		return nil, err
	}
	q := &asked{job: job, opt: s.options(Draws), study: studied(job), strict: true, shown: s.Progress}
	q.study.Builds = onlyWeighedAnd(job, of.Build)
	q.opt.Velocities, q.opt.Lowering = []float64{q.opt.MainSpeed}, nil
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoPlans, q.opt.NoModes, q.opt.NoCorners = true, true, true, true, true
	if ask.Roads {
		if len(job.Brief.Roads) == 0 {
			return nil, absent("the brief names no road to drive")
		}
		drive := s.drive()
		drive.Unchecked, drive.Draws, drive.Mounts, drive.ScreenIn = true, 0, false, of.Load
		q.drive = &drive
	}
	r, err := d.answer(ctx, q)
	if err != nil {
		return nil, err
	}
	out := &Clicked{Result: r}
	if out.Map, err = clickmap.Of(ctx, r.Answer, of); err != nil {
		if errors.Is(err, clickmap.ErrNoClicks) {
			return nil, absent("no damper of build %q has curves at two clicks; read its sweeps into the job, or type them", of.Build)
		}
		return nil, err
	}
	return out, out.Map.See(ctx, r.Answer)
}

// asked is the question as the map takes it.
func (a *ClicksAsk) asked() (clickmap.Ask, error) {
	out := clickmap.Ask{Speeds: clickmap.UsualSpeeds, Steps: or(a.Steps, clickmap.UsualSteps), Ratio: or(a.Ratio, 0), Stroke: dyno.Stroke(cmp.Or(a.Stroke, string(dyno.Rebound)))}
	for k, one := range []struct{ field, typed string }{{"low", a.Low}, {"mid", a.Mid}, {"high", a.High}} {
		if one.typed == "" {
			continue
		}
		v, err := quantity.Parse(one.typed, quantity.SpeedDamper)
		if err != nil {
			return out, bad(one.field, "%s: %w", one.typed, err)
		}
		out.Speeds[k] = v.Value
	}
	if v := out.Speeds; !(v[0] > 0) || !(v[1] > v[0]) || !(v[2] > v[1]) || v[2] > mostShaft {
		return out, bad("low", "is above 0, middle and high above it in turn, none above 5 m/s")
	}
	if a.Force != "" {
		v, err := quantity.Parse(a.Force, quantity.Force)
		if err != nil || !(v.Value > 0) {
			return out, bad("force", "%s: enter a force above 0, such as 600 N", a.Force)
		}
		out.Force = v.Value
	}
	switch {
	case a.Ratio != nil && !(*a.Ratio > 0 && *a.Ratio < 10):
		return out, bad("ratio", "is above 0 and below 10")
	case out.Steps < 2 || out.Steps > 100:
		return out, bad("steps", "is 2 to 100")
	case out.Stroke != dyno.Bump && out.Stroke != dyno.Rebound:
		return out, bad("stroke", "is bump or rebound, not %q", a.Stroke)
	}
	return out, nil
}

// mostShaft is the highest damper speed that is taken for meant [m/s].
const mostShaft = 5

// adjustable is the build asked for, else the first whose dampers have clicks.
func adjustable(job *jobfile.Job, build string) (string, error) {
	if build != "" {
		return build, known(job, []string{build}, nil)
	}
	for _, b := range job.Builds {
		for i := range b.Corner {
			if d := b.Corner[i].Damper; d != nil && d.ClickMost > 0 && len(d.Curves) > 1 {
				return b.ID, nil
			}
		}
	}
	return "", absent("no build has dampers with clicks and curves at two of them")
}

// onlyWeighedAnd are the build that was weighed, which every study needs, and another.
func onlyWeighedAnd(job *jobfile.Job, build string) []*car.Build {
	var out []*car.Build
	for _, b := range job.Builds {
		if b.ID == build || b.ID == job.Car.Weighed.Build {
			out = append(out, b)
		}
	}
	return out
}

// Document is what clicks are worth, for programs.
func (c *Clicked) Document(program string) *answer.Clicks {
	return answer.NewClicks(program, c.Job.SHA256, c.Map)
}
