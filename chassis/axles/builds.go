package axles

import (
	"context"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/linkage"
	"trunnion/chassis/study"
)

// cornerOf is an axle's corner as a build's wheel and tyre make it: farther out by a lower
// offset, its contact as much lower as the tyre is taller.
func cornerOf(c *car.Car, b *car.Build, i int) linkage.Corner {
	out := c.Axle[car.AxleOf(i)].Hardpoints.Corner.With(linkage.Change{Offset: c.Outward(b, i, nil)})
	out.Wheel.Radius += c.Grown(b, i, nil)
	return out
}

// Report adds to an answer, for each build in the load state of ordinary driving, the
// scrub radius where an axle steers, and what its struts carry standing and in a hard bend, where points
// and guides are known. What is there already stays. Without bands: the points' own are
// not known well enough.
func Report(ctx context.Context, a *study.Answer) error {
	if !a.Computed() {
		return nil
	}
	var part study.Answer
	for axle := range 2 {
		h := a.Job.Car.Axle[axle].Hardpoints
		if h == nil || h.Corner == nil {
			continue
		}
		scrubs(a, axle, &part)
		if h.Corner.Kind != linkage.Strut {
			continue
		}
		if err := hardBend(ctx, a, axle, &part); err != nil {
			return err
		}
	}
	a.Take(&part)
	return nil
}

// scrubs adds the scrub radius of each build's wheels where they rest.
func scrubs(a *study.Answer, axle int, to *study.Answer) {
	load := a.UsualLoad()
	for _, b := range a.Job.Builds {
		k, err := a.CaseOf(b.ID, load)
		if err != nil {
			continue
		}
		for i := 2 * axle; i < 2*axle+2; i++ {
			corner := cornerOf(a.Job.Car, b, i)
			l, err := linkage.NewCorner(corner)
			if err != nil {
				continue
			}
			f, err := l.Figures(linkage.Parallel, k.State.Travel[i], 0)
			if err != nil || !f.HasSteer || !l.Steers() {
				continue
			}
			value(a, to, "scrub-radius", b, i, f.Scrub,
				figure.Among("y_c", "contact of the tyre left of the middle, by the links' points", "m", f.Contact.Y),
				figure.Among("y_s", "steering axis at the ground, by the links' points", "m", f.Contact.Y-f.Scrub))
		}
	}
}

// hardBend adds side load and bending of each build's struts, standing and in a hard bend.
func hardBend(ctx context.Context, a *study.Answer, axle int, to *study.Answer) error {
	ask := UsualStrutAsk(axle)
	ask.Braking, ask.Points, ask.NoEvents, ask.Each = 0, 0, true, true
	all, err := LoadStruts(ctx, a, ask)
	if err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return nil // nothing is known of the struts; what is said of them stays out
	}
	for n := range all.Builds {
		reportStrut(a, to, &all.Builds[n], 2*axle+all.Builds[n].Side)
	}
	return nil
}

func reportStrut(a *study.Answer, to *study.Answer, one *BuildStrut, i int) {
	for k := range one.Cases {
		c := &one.Cases[k]
		code := map[string]string{StrutStanding: "strut-side-load", StrutCornering: "strut-side-load-in-bend"}[c.Code]
		if code == "" || c.Err != nil {
			continue
		}
		q := c.Moment.Forces.Side
		value(a, to, code, one.Build, i, c.Moment.Forces.Across,
			figure.Among("q_x", "side load forward, by the balance of the carrier", "N", q.X), figure.Among("q_y", "side load to the left", "N", q.Y), figure.Among("q_z", "side load upward", "N", q.Z))
		s := &one.Layout.Sliding
		if c.Code != StrutCornering || s.Diameter <= 0 || c.Moment.Stress <= 0 {
			continue
		}
		d := one.Build.Corner[i].Damper
		outer, bore := figure.From("d", "diameter of the rod", "m", &d.Rod), figure.From("b", "bore of it", "m", &d.Guide.Bore)
		if one.Layout.Inverted {
			outer = figure.From("d", "diameter of the sliding body", "m", &d.Body)
		}
		value(a, to, "strut-bending-stress", one.Build, i, c.Moment.Stress,
			figure.Among("M", "bending moment at the guide", "N m", c.Moment.Moment), outer, bore)
	}
}

// value adds a value of a corner, unless it is there.
func value(a, to *study.Answer, code string, b *car.Build, i int, is float64, terms ...figure.Term) {
	e, load := figure.Must(code), a.UsualLoad()
	if a.Get(code, b.ID, load, i) != nil {
		return
	}
	v := figure.Value{Code: code, Place: figure.Place{Build: b.ID, Load: load, Corner: i, At: e.At}, Tier: figure.Static, Value: is, State: figure.OK}
	if !a.Options.NoWorkings {
		v.Working = a.FoundWorking(&v, given(a.Job.Car, b, i), terms...)
	}
	to.Values = append(to.Values, v)
}

// given are the inputs that a build's strut is solved from beside those of its rest.
func given(c *car.Car, b *car.Build, i int) []*figure.Input {
	return figure.ReadBy(func(d figure.Draw) {
		c.Outward(b, i, d)
		c.Grown(b, i, d)
		if p := b.Corner[i].Damper; p != nil {
			g := &p.Guide
			for _, in := range []*car.Input{&p.Rod, &p.Body, &g.Bore, &g.FromTop, &g.Apart} {
				in.At(d)
			}
		}
	})
}
