package main

import (
	"context"
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/chassis/strut"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

type loadsCommand struct {
	Job       string   `arg:"" help:"Job file, or - for standard input."`
	Axle      string   `enum:"front,rear" default:"front" help:"Which axle: ${enum}."`
	Build     []string `help:"Only these builds, by id." placeholder:"ID"`
	Cornering float64  `default:"0.9" help:"Lateral acceleration of the outside wheel, in g."`
	Transfer  float64  `default:"1.6" help:"Load of the outside wheel over its weighed load while cornering."`
	Braking   float64  `default:"0.9" help:"Deceleration, in g."`
	Dive      float64  `default:"1.3" help:"Load of the wheel over its weighed load while braking."`
	Offset    string   `help:"Wheel further out by this, by offset or spacer." placeholder:"LENGTH"`
	Format    string   `enum:"text,csv" default:"text" help:"What to print: ${enum}."`
	Units     string   `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// loadCase is one load of a strut.
type loadCase struct {
	name   string
	travel float64 // [m]
	load   strut.Load
}

// loaded is one build's strut under its cases.
type loaded struct {
	build   *car.Build
	cases   []loadCase
	moments []strut.Moment
	errs    []error
}

// Run puts each build's strut under its loads.
func (c *loadsCommand) Run(ctx context.Context, s streams) error {
	job, err := jobOrFaults(c.Job, s, "nothing was computed")
	if err != nil {
		return err
	}
	system, err := wording.System(c.Units)
	if err != nil {
		return usage("%w", err)
	}
	for name, v := range map[string]float64{"--cornering": c.Cornering, "--transfer": c.Transfer, "--braking": c.Braking, "--dive": c.Dive} {
		if !(v >= 0 && v <= 5) {
			return usage("%s is 0 to 5", name)
		}
	}
	corner, err := c.corner(job)
	if err != nil {
		return err
	}
	opt := study.Defaults()
	opt.Samples, opt.NoModes, opt.NoWorkings = 0, true, true
	a, err := study.Run(ctx, study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}, opt)
	if err != nil {
		return noAnswer(ctx, err)
	}
	tell := wording.New(a, system)
	var all []loaded
	for b, build := range job.Builds {
		if len(c.Build) > 0 && !slices.Contains(c.Build, build.ID) {
			continue
		}
		d := build.Axle[axleNumber(c.Axle)].Damper
		if d == nil || !d.Guide.Known() {
			say(s.err, "trunnion: %s: nothing is known of its guide; it is left out\n", build.Name)
			continue
		}
		one := loaded{build: build}
		if one.cases, err = c.cases(ctx, a, b, tell); err != nil {
			return noAnswer(ctx, err)
		}
		if err := one.compute(corner, layoutOf(d)); err != nil {
			return &status{exitNoAnswer, fmt.Errorf("no answer: %w", err)}
		}
		all = append(all, one)
	}
	if len(all) == 0 {
		return &status{exitNoAnswer, fmt.Errorf("no build says how its strut is guided: give guide under its damper")}
	}
	if c.Format == "csv" {
		return writeLoads(s, all)
	}
	return c.print(s, job, tell, a.Reference, corner, all)
}

// changes are what workshops do to a corner, tried on one build standing.
func (l *loaded) changes(s streams, axle int, corner linkage.Corner, tell *wording.Teller) {
	const out, arm, low, more = 0.020, 0.010, 0.025, 0.10
	stand := l.cases[0]
	heavier := stand.load
	heavier.Contact.Z *= 1 + more
	layout := layoutOf(l.build.Axle[axle].Damper)
	var names []string
	var rows []strut.Moment
	for _, c := range []struct {
		name   string
		corner linkage.Corner
		travel float64
		load   strut.Load
	}{
		{stand.name, corner, stand.travel, stand.load},
		{tell.LoadCase("further-out", out), corner.With(linkage.Change{Offset: out}), stand.travel, stand.load},
		{tell.LoadCase("longer-arm", arm), corner.With(linkage.Change{Extension: arm}), stand.travel, stand.load},
		{tell.LoadCase("lower", low), corner, stand.travel + low, stand.load},
		{tell.LoadCase("heavier", more), corner, stand.travel, heavier},
	} {
		one := strut.Strut{Corner: c.corner, Layout: layout}
		ms, errs, err := one.Over([]float64{c.travel}, 0, func(float64) strut.Load { return c.load })
		if err == nil && errs[0] == nil {
			names, rows = append(names, c.name), append(rows, ms[0])
		}
	}
	say(s.out, "%s\n", tell.LoadChanges(l.build.Name))
	printFigures(s.out, tell, wording.LoadColumns()[:8], rows, names)
}

// corner is the axle's strut with what the command line changes.
func (c *loadsCommand) corner(job *jobfile.Job) (linkage.Corner, error) {
	h := job.Car.Axle[axleNumber(c.Axle)].Hardpoints
	if h == nil || h.Corner == nil || h.Corner.Kind != linkage.Strut {
		return linkage.Corner{}, &status{exitNoAnswer, fmt.Errorf("the job gives no hardpoints of a strut on the %s axle", c.Axle)}
	}
	if c.Offset == "" {
		return *h.Corner, nil
	}
	out, err := aLength("--offset", c.Offset)
	return h.Corner.With(linkage.Change{Offset: out}), err
}

func layoutOf(d *car.DamperSpec) strut.Layout {
	g := &d.Guide
	l := strut.Layout{
		Inverted: d.Construction == "single-tube-inverted", ToGuide: g.FromTop.Value, Apart: g.Apart.Value,
		Sliding:     strut.Section{Diameter: d.Rod.Value, Bore: g.Bore.Value},
		GuideLength: g.Length.Value, LowerLength: g.LowerLength.Value, LowerDiameter: d.Piston.Value,
		GuideFriction: g.Friction.Value, LowerFriction: g.LowerFriction.Value,
	}
	if l.Inverted {
		l.Sliding.Diameter, l.LowerDiameter = d.Body.Value, 0
	}
	return l
}

// cases are standing, cornering and braking at rest in the usual load state, and
// each obstacle of the brief at its hardest moment.
func (c *loadsCommand) cases(ctx context.Context, a *study.Answer, b int, tell *wording.Teller) ([]loadCase, error) {
	load := usualLoad(a)
	k := &a.Cases[b][load]
	if k.Err != nil {
		return nil, k.Err
	}
	i := 2 * axleNumber(c.Axle) // the left wheel
	w, weight := k.State.Travel[i], k.State.Load[i]
	road := func(x, y, z float64) strut.Load {
		// Wheel and carrier weigh down on what the strut carries.
		return strut.Load{Contact: geom.Vec{X: x, Y: y, Z: z}, Hub: geom.Vec{Z: -k.System.Unsprung[i] * equilibrium.Gravity}}
	}
	out := []loadCase{
		{tell.LoadCase("standing", 0), w, road(0, 0, weight)},
		// The tyre's force on an outside wheel points toward the car.
		{tell.LoadCase("cornering", c.Cornering), w, road(0, -c.Cornering*c.Transfer*weight, c.Transfer*weight)},
		{tell.LoadCase("braking", c.Braking), w, road(-c.Braking*c.Dive*weight, 0, c.Dive*weight)},
	}
	radius := 0.3
	if h := a.Job.Car.Axle[axleNumber(c.Axle)].Hardpoints; h != nil && h.Corner != nil {
		radius = h.Corner.Wheel.Radius
	}
	if a.Job.Brief == nil {
		return out, nil
	}
	for e, ev := range a.Job.Brief.Events {
		t, err := a.Trace(ctx, a.Job.Builds[b].ID, e, 20000)
		if err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			continue
		}
		// Either wheel may meet it; the right strut is the left one's mirror image.
		side, at := i, 0
		for _, k := range []int{i, i + 1} {
			for n, f := range t.TyreLoad[k] {
				if f > t.TyreLoad[side][at] {
					side, at = k, n
				}
			}
		}
		fz, slope := t.TyreLoad[side][at], 0.0
		if ev.Kind == "pothole" || ev.Kind == "kerb" {
			slope = strut.EnvelopeSlope(radius, math.Max(ev.Depth.Value, ev.Height.Value))
		}
		out = append(out, loadCase{tell.LoadCase(ev.Kind, 0), t.Travel[side][at], road(-slope*fz, 0, fz)})
	}
	return out, nil
}

func usualLoad(a *study.Answer) int {
	want := "driver"
	if b := a.Job.Brief; b != nil && b.UsualLoad != "" {
		want = b.UsualLoad
	}
	return max(0, slices.IndexFunc(a.Job.Loads, func(l car.Load) bool { return l.ID == want }))
}

func (l *loaded) compute(corner linkage.Corner, layout strut.Layout) error {
	s := strut.Strut{Corner: corner, Layout: layout}
	for _, k := range l.cases {
		ms, errs, err := s.Over([]float64{k.travel}, 0, func(float64) strut.Load { return k.load })
		if err != nil {
			return err
		}
		l.moments, l.errs = append(l.moments, ms[0]), append(l.errs, errs[0])
	}
	return nil
}

func (c *loadsCommand) print(s streams, job *jobfile.Job, tell *wording.Teller, reference string, corner linkage.Corner, all []loaded) error {
	say(s.out, "%s, %s axle: forces in the strut, left side\n\n", job.Car.Name, c.Axle)
	base := slices.IndexFunc(all, func(l loaded) bool { return l.build.ID == reference })
	inverted := false
	for n := range all {
		l := &all[n]
		say(s.out, "%s\n", l.build.Name)
		inverted = inverted || l.build.Axle[axleNumber(c.Axle)].Damper.Construction == "single-tube-inverted"
		var names []string
		var rows []strut.Moment
		for i := range l.moments {
			if l.errs[i] == nil {
				names, rows = append(names, l.cases[i].name), append(rows, l.moments[i])
			}
		}
		printFigures(s.out, tell, wording.LoadColumns(), rows, names)
		for i, err := range l.errs {
			if err != nil {
				say(s.out, "%s\n", wrapped(fmt.Sprintf("%s: no answer: %v", l.cases[i].name, err), lineWidth, ""))
			}
		}
		if base >= 0 && base != n {
			for i := range l.moments {
				if i < len(all[base].moments) && l.errs[i] == nil && all[base].errs[i] == nil {
					say(s.out, "%s\n", wrapped(tell.LoadComparison(l.build.Name, all[base].build.Name, l.cases[i].name, &l.moments[i], &all[base].moments[i]), lineWidth, ""))
				}
			}
			say(s.out, "\n")
		}
	}
	for n := range all {
		c.strength(s, tell, &all[n])
	}
	say(s.out, "\n")
	all[max(base, 0)].changes(s, axleNumber(c.Axle), corner, tell)
	if inverted {
		say(s.out, "%s\n", wrapped(wording.InversionCosts(), lineWidth, ""))
	}
	say(s.out, "%s\n", wrapped(wording.StrutAssumptions(), lineWidth, ""))
	return nil
}

// strength says how near the hardest case comes to buckling, and how a spring
// would have to stand to leave the rod without side load.
func (c *loadsCommand) strength(s streams, tell *wording.Teller, l *loaded) {
	d := l.build.Axle[axleNumber(c.Axle)].Damper
	layout := layoutOf(d)
	hardest := -1
	for i := range l.moments {
		if l.errs[i] == nil && (hardest < 0 || l.moments[i].Forces.Along < l.moments[hardest].Forces.Along) {
			hardest = i
		}
	}
	if hardest < 0 {
		return
	}
	m := &l.moments[hardest]
	if share, err := layout.BucklingShare(m.Short, -m.Forces.Along, d.Guide.Yield.Value); err == nil {
		say(s.out, "%s\n", wrapped(tell.Buckling(l.build.Name, l.cases[hardest].name, share, d.Guide.Yield.Known()), lineWidth, ""))
	}
	if l.errs[0] != nil {
		return
	}
	if _, angle, err := strut.SpringWithoutSideLoad(&l.moments[0].Joints, &l.cases[0].load); err == nil {
		say(s.out, "%s\n", wrapped(tell.StraightSpring(l.build.Name, angle), lineWidth, ""))
	}
}

func writeLoads(s streams, all []loaded) error {
	var texts [][]string
	var rows []strut.Moment
	for n := range all {
		for i := range all[n].moments {
			if all[n].errs[i] == nil {
				texts, rows = append(texts, []string{all[n].build.ID, all[n].cases[i].name}), append(rows, all[n].moments[i])
			}
		}
	}
	return writeFigures(s.out, []string{"build", "case"}, texts, wording.LoadColumns(), rows)
}
