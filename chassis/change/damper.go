package change

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
)

// clicks turn the adjuster, within the clicks that were measured.
func (t *Bench) clicks(at site) []*Move {
	i := at.corners[0]
	d := t.build.Corner[i].Damper
	set := &t.build.Setup
	if d == nil || d.ClickMost == 0 || len(d.Curves) == 0 || !set.HasClick[i] {
		return nil
	}
	least, most := d.Curves[0].Click, d.Curves[0].Click
	for _, c := range d.Curves {
		least, most = min(least, c.Click), max(most, c.Click)
	}
	var out []*Move
	add := func(code string, to int) {
		was := set.Click[i]
		m := t.move(at, finding.Clicks, code, "click", float64(to-was), "1", nil)
		m.Path = "builds." + t.build.ID + ".setup.click"
		m.Apply = func(b *car.Build) {
			for _, k := range at.corners {
				b.Setup.Click[k], b.Setup.HasClick[k] = to, true
			}
		}
		out = append(out, m.size("click", float64(was), float64(to), "1").costs(0.05))
	}
	for to := set.Click[i] - 1; to >= least; to-- {
		add("firmer-click", to)
	}
	for to := set.Click[i] + 1; to <= most; to++ {
		add("softer-click", to)
	}
	return out
}

// ToOrder reports whether the dampers at a corner are of a kind that is built to
// order: with clicks, or with a collar of their own.
func ToOrder(ax *car.BuildCorner) bool {
	return ax.Damper != nil && (ax.Damper.ClickMost > 0 || ax.Platform != nil)
}

// dampers are made to order: another open length, both lengths, or other forces,
// within what is believable.
func (t *Bench) dampers(at site) []*Move {
	ax := &t.build.Corner[at.corners[0]]
	d := ax.Damper
	if d == nil {
		return nil
	}
	var out []*Move
	if d.Open.Known() && d.Closed.Known() && d.RodOpen.Known() {
		most := math.Min(MostDamper, mostStroke*(d.Open.Value-d.Closed.Value))
		for n := damperStep; n <= most+1e-9; n += damperStep {
			for _, v := range []struct {
				code            string
				open, rod, shut float64
			}{
				{"less-droop", -n, -n, 0}, // limited inside: nothing else moves
				{"shorter-damper", -n, 0, -n},
				{"longer-stroke", n, n, 0},
			} {
				m := t.move(at, finding.MadeToOrder, v.code, "damper.open", v.open, "m", func(ax *car.BuildCorner) {
					one := *ax.Damper
					one.Open.Value += v.open
					one.RodOpen.Value += v.rod
					one.Closed.Value += v.shut
					ax.Damper = &one
				})
				m.size("damper-open", d.Open.Value, d.Open.Value+v.open, "m")
				if v.shut != 0 {
					m.size("damper-closed", d.Closed.Value, d.Closed.Value+v.shut, "m")
				}
				out = append(out, m.costs(1+10*n))
			}
		}
	}
	if len(d.Curves) > 0 {
		for more := valvingStep; more <= mostValving+1e-9; more += valvingStep {
			for _, by := range []float64{more, -more} {
				code := "stronger-valving"
				if by < 0 {
					code = "softer-valving"
				}
				m := t.move(at, finding.MadeToOrder, code, "damper.curves", by, "1", func(ax *car.BuildCorner) {
					one := *ax.Damper
					one.Scale.Value *= 1 + by
					one.Scale.Half *= 1 + by
					ax.Damper = &one
				})
				out = append(out, m.size("damper-forces", d.Scale.Value, d.Scale.Value*(1+by), "1").costs(1+more))
			}
		}
	}
	return out
}

// listedDampers are the dampers of the job's own list for the same axle, on seats
// of the same kind, with the stops that they come with.
func (t *Bench) listedDampers(at site) []*Move {
	i := at.corners[0]
	own := &t.build.Corner[i]
	if own.Damper == nil || own.Platform != nil {
		return nil
	}
	var out []*Move
	seen := map[*car.DamperSpec]bool{own.Damper: true}
	for _, b := range t.a.Job.Builds {
		ax := &b.Corner[i]
		d := ax.Damper
		if d == nil || seen[d] || ax.Platform != nil || d.Worn || len(d.Curves) == 0 || b.ID == t.a.Job.Car.Weighed.Build || ax.MountsCloser.Value != own.MountsCloser.Value { //nolint:floateq // typed alike
			continue
		}
		seen[d] = true
		m := t.move(at, finding.Damper, "listed-damper", "damper", 0, "1", func(p *car.BuildCorner) {
			p.Damper, p.Stop, p.Packer, p.Friction = d, ax.Stop, ax.Packer, ax.Friction
		})
		m.Choice = d.ID
		out = append(out, m.costs(0.6))
	}
	return out
}

// holes hang an axle's bar in the next stiffer and the next softer of its holes.
func (t *Bench) holes(axle int) []*Move {
	ax := &t.a.Job.Car.Axle[axle]
	used := study.UsedHole(ax, t.build, axle)
	if ax.HoleOf(used) == nil || t.build.Setup.BarsOff {
		return nil
	}
	travel := equilibrium.AxleTravel(&t.a.Cases[0][0].System.Base.Travel, axle)
	stiffness := func(id string) float64 {
		rate, link := ax.BarIn(id, travel, nil)
		return rate * link * link
	}
	now := stiffness(used)
	next := map[string]string{}
	best := map[string]float64{}
	for i := range ax.Holes {
		more := stiffness(ax.Holes[i].ID) - now
		code := "stiffer-bar-hole"
		if more < 0 {
			code = "softer-bar-hole"
		}
		if d := math.Abs(more); d > 1e-6*now && (next[code] == "" || d < math.Abs(best[code])) {
			next[code], best[code] = ax.Holes[i].ID, more
		}
	}
	var out []*Move
	for _, code := range []string{"stiffer-bar-hole", "softer-bar-hole"} {
		id := next[code]
		if id == "" {
			continue
		}
		out = append(out, &Move{
			Kind: finding.Bar, Code: code, Path: "builds." + t.build.ID + ".setup.bar_hole." + car.AxleNames[axle], Axle: axle, Side: figure.NoCorner,
			By: best[code], Unit: "N/m", Choice: id, Slot: "bar" + car.AxleNames[axle], Effort: 0.08,
			Apply: func(b *car.Build) { b.Setup.BarHole[axle] = id },
		})
	}
	return out
}
