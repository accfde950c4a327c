package finding

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// cornerRule returns the rule of a corner by its code; nil for other rules.
func cornerRule(code string) *Rule {
	for i := range cornerRules {
		if cornerRules[i].Code == code {
			return &cornerRules[i]
		}
	}
	return nil
}

// cornerCandidates lists what could be changed about a finding of a corner. Yaw
// straight ahead hangs on tyres and weight alone: nothing here changes it.
func cornerCandidates(a *study.Answer, f *Finding, b *car.Build) []change {
	switch f.Code {
	case "meets-stop-in-corner":
		return laterStop(a, f, b)
	case "less-understeer-than-before":
		var out []change
		out = append(out, holes(a, b, car.Front, true)...)
		out = append(out, holes(a, b, car.Rear, false)...)
		out = append(out, axleSpring(a, f, b, car.Front, "firmer-front-spring", 1.2)...)
		return append(out, axleSpring(a, f, b, car.Rear, "softer-rear-spring", 0.85)...)
	}
	return nil
}

// laterStop lets a bend's outer wheel meet its stop later: more room, or less
// roll.
func laterStop(a *study.Answer, f *Finding, b *car.Build) []change {
	p := f.Value.Place
	axle := car.AxleOf(p.Corner)
	c := &a.Cases[indexOf(a, p.Build)][loadOf(a, p.Load)]
	m, w := &c.System.Corner[p.Corner], c.State.Travel[p.Corner]
	_, rd, _ := m.DamperTravel.At(w)
	_, rs, _ := m.SpringTravel.At(w)
	ax := &b.Corner[p.Corner]
	lacking := lackingTravel(a, f)
	if !(lacking > 0) {
		return nil
	}
	n := roundUp(lacking*rd, 5e-3)
	out := append(shorterStop(ax, n), shorterDamper(ax, n)...)
	out = placed(b, p.Corner, append(out, firmerSpring(m, ax, w)...))
	out = append(out, raise(b, axle, roundUp(lacking, 5e-3), rs)...)
	out = append(out, holes(a, b, axle, true)...)
	for i := range out {
		out[i].axle = axle
	}
	return out
}

// lackingTravel is how much farther into bump the wheel would have to go before
// its stop for the finding to be clear: its way to the stop, carried on to the
// limit with half the band [m].
func lackingTravel(a *study.Answer, f *Finding) float64 {
	p, v := f.Value.Place, f.Value
	gap := a.Get("travel-to-stop", p.Build, p.Load, p.Corner)
	bend, err := a.Cornering(p.Build, p.Load)
	if gap == nil || gap.State == figure.Unknown || err != nil {
		return math.NaN()
	}
	target := f.Limit.Value
	if v.HasBand {
		target += math.Max(0, v.Value-v.Low)
	}
	const little = 0.05 * equilibrium.Gravity
	if v.Value > little && gap.Value > 0 {
		return gap.Value * (target/v.Value - 1)
	}
	// In the stop already, or nearly: by the roll of a car clear of it.
	gradient, _, _, err := bend.RollGradient()
	if err != nil {
		return math.NaN()
	}
	return -gap.Value + target*gradient*0.5*a.Job.Car.Track[car.AxleOf(p.Corner)].Value
}

// raise lets an axle stand higher: by its wanted height, or with its spring seats
// nearer to each other.
func raise(b *car.Build, axle int, n, spring float64) []change {
	left := 2 * axle
	if b.Setup.WantedHeight[left].Known() || b.Setup.WantedHeight[left+1].Known() {
		return []change{{path: "builds." + b.ID + ".setup.heights", code: "raise-" + car.AxleNames[axle], by: n, unit: "m", side: figure.NoCorner, whole: func(b *car.Build) {
			for i := left; i < left+2; i++ {
				if b.Setup.WantedHeight[i].Known() {
					b.Setup.WantedHeight[i].Value += n
				}
			}
		}}}
	}
	return []change{{path: "builds." + b.ID + "." + car.AxleNames[axle] + ".seats_closer", code: "raise-" + car.AxleNames[axle], by: n, unit: "m", side: figure.NoCorner, whole: func(b *car.Build) {
		b.Both(axle, func(p *car.BuildCorner) {
			in := &p.SeatsCloser
			if !in.Known() {
				in.Origin = figure.Chosen
			}
			in.Value += n * spring
		})
	}}}
}

// holes hangs an axle's bar in the next stiffer or softer of its holes.
func holes(a *study.Answer, b *car.Build, axle int, stiffer bool) []change {
	ax := &a.Job.Car.Axle[axle]
	used := study.UsedHole(ax, b, axle)
	if ax.HoleOf(used) == nil || b.Setup.BarsOff {
		return nil
	}
	travel := equilibrium.AxleTravel(&a.Cases[0][0].System.Base.Travel, axle)
	at := func(id string) float64 {
		rate, link := ax.BarIn(id, travel, nil)
		return rate * link * link
	}
	now, best, id := at(used), math.Inf(1), ""
	for i := range ax.Holes {
		more := at(ax.Holes[i].ID) - now
		if !stiffer {
			more = -more
		}
		if more > 1e-6*now && more < best {
			best, id = more, ax.Holes[i].ID
		}
	}
	if id == "" {
		return nil
	}
	code := "stiffer-bar-hole"
	if !stiffer {
		code, best = "softer-bar-hole", -best
	}
	return []change{{
		path: "builds." + b.ID + ".setup.bar_hole." + car.AxleNames[axle], code: code, by: best, unit: "N/m", choice: id, axle: axle, side: figure.NoCorner,
		whole: func(b *car.Build) { b.Setup.BarHole[axle] = id },
	}}
}

// axleSpring changes the spring of one axle at its height, for a finding of the
// whole car.
func axleSpring(a *study.Answer, f *Finding, b *car.Build, axle int, code string, factor float64) []change {
	c := &a.Cases[indexOf(a, f.Value.Place.Build)][loadOf(a, f.Value.Place.Load)]
	of := func(i int) []change {
		return springs(&c.System.Corner[i], &b.Corner[i], c.State.Travel[i], code, factor)
	}
	l := 2 * axle
	left, right := of(l), of(l+1)
	if len(left) == 0 || len(right) == 0 {
		return nil
	}
	list := placed(b, l, of(l))
	if one := &list[0]; one.side != figure.NoCorner { // each side has its own spring: both are changed
		one.side, one.path = figure.NoCorner, "builds."+b.ID+"."+car.AxleNames[axle]+"."+left[0].path
		one.whole = func(b *car.Build) {
			left[0].apply(&b.Corner[l])
			right[0].apply(&b.Corner[l+1])
		}
	}
	return list
}
