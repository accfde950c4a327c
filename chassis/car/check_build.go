package car

import (
	"math"
)

func (k *checker) build(b *Build) {
	k.payloads(b.Mass)
	for i := range 4 {
		ax, where := &b.Corner[i], b.PlaceOf(i)
		k.within(&ax.Packer, packers)
		k.within(&ax.SeatsCloser, closers)
		k.within(&ax.MountsCloser, closers)
		k.within(&ax.Friction, frictions)
		k.within(&ax.TyreRate, tyreRates)
		if u := &ax.UnsprungMore; u.Known() && math.Abs(u.Value) > 40 {
			k.at(true, u, "kg", say("it is of one wheel and must be less than {}", si(40, "kg")))
		}
		if s := ax.Spring; s != nil {
			if k.once(s) {
				k.spring(s, springRates, springLengths)
			}
		} else {
			k.add(true, where+".spring", 0, say("is missing"), say("neither this build nor the one on the car names a spring"))
		}
		if h := ax.Helper; h != nil && k.once(h) {
			k.spring(h, helperRates, helperLengths)
			if !h.Rate.Known() || !h.Free.Known() {
				k.add(true, where+".helper", 0, say("has no rate or no free length"), say("a helper needs both"))
			}
		}
		if d := ax.Damper; d != nil && k.once(d) {
			k.damper(d)
			k.sense(d, i)
		}
		if s := ax.Stop; s != nil && k.once(s) {
			k.stop(s)
		}
		if m := ax.Mount; m != nil && k.once(m) {
			k.within(&m.Stiffness, mountRates)
			k.within(&m.Rated, mountRatings)
			k.within(&m.Slope, mountSlopes)
		}
		k.rolling(ax)
		k.within(&b.Setup.Pressure[i], tyrePressures)
		if p := ax.Platform; p != nil && k.once(p) {
			k.within(&p.Pitch, pitches)
			for _, in := range []*Input{&p.Up, &p.Down} {
				if in.Known() && (in.Value < 0 || in.Value > 0.2) {
					k.at(true, in, "m", say("it must be 0 to {}, counted from the start mark", si(0.2, "m")))
				}
			}
			k.engagement(p)
		}
		k.room(ax, where)
		k.setting(b, i)
	}
	k.onTheCar(b)
	if r := b.Readings; r != nil {
		for i := range 4 {
			k.within(&r.Load[i], cornerLoads)
			k.within(&r.Height[i], archHeights)
		}
	}
}

// engagement looks at how much thread has to hold.
func (k *checker) engagement(p *PlatformSpec) {
	in, least := &p.Engaged, &p.LeastEngaged
	for _, x := range []*Input{in, least} {
		if x.Known() && (x.Value <= 0 || x.Value > 0.3) {
			k.at(true, x, "m", say("thread in engagement is more than 0 and at most {}", si(0.3, "m")))
			return
		}
	}
	switch {
	case in.Known() && !least.Known():
		k.at(true, in, "m", say("say too how much has to stay, as least_engaged"))
	case least.Known() && !in.Known():
		k.at(true, least, "m", say("say too how much is in engagement at the start mark, as engaged"))
	case in.Known() && least.Value > in.Value:
		k.at(true, in, "m", say("at the start mark already less is in engagement than the {} that have to stay", of(least, "m")))
	case in.Known() && p.Kind != "body":
		k.at(false, in, "m", say("a collar on a body turns on its thread whole; engagement is lost where the body is screwed out of its bracket, of type body"))
	}
}

// room asks whether stop and packer fit on the rod.
func (k *checker) room(ax *BuildCorner, where string) {
	d, s := ax.Damper, ax.Stop
	if d == nil || s == nil || !d.RodOpen.Known() || !s.Length.Known() || s.Length.Typed == "" {
		return
	}
	stack := s.Length.Value + ax.Packer.Value
	switch {
	case d.Open.Known() && d.Closed.Known() && d.Open.Value > d.Closed.Value && stack >= d.Open.Value-d.Closed.Value:
		k.add(true, where+".stop", s.Length.Line, say("is {} long with its packer", si(stack, "m")), say("the stroke is only {}", si(d.Open.Value-d.Closed.Value, "m")))
	case stack >= d.RodOpen.Value:
		k.add(true, where+".stop", s.Length.Line, say("is {} long with its packer", si(stack, "m")), say("only {} of rod show when it is open", of(&d.RodOpen, "m")))
	case len(s.Table) > 0 && d.Open.Known() && d.Closed.Known():
		// Metal before the stop has done its work.
		left := d.RodOpen.Value - (d.Open.Value - d.Closed.Value) // rod showing when closed
		if solid := stack - s.Table[len(s.Table)-1].X; solid < left-0.001 {
			k.add(false, where+".stop", s.Length.Line, say("is {} thick when it is solid", si(solid, "m")), say("the damper closes on metal with {} of rod showing: before the stop is solid", si(left, "m")))
		}
	}
}

func (k *checker) setting(b *Build, i int) {
	ax, set := &b.Corner[i], &b.Setup
	where := "builds." + b.ID + ".setup"
	if d := ax.Damper; d != nil {
		click := float64(set.Click[i])
		path := where + ".click." + AxleNames[AxleOf(i)]
		if l := i &^ 1; set.Click[l] != set.Click[l+1] || set.HasClick[l] != set.HasClick[l+1] {
			path = where + ".click." + pathCorners[i]
		}
		switch {
		case set.HasClick[i] && d.ClickMost == 0 && len(d.Curves) > 0:
			k.add(true, path, 0, say("is {}", si(click, "-")), say("the damper of this build has no clicks"))
		case set.HasClick[i] && set.Click[i] > d.ClickMost:
			k.add(true, path, 0, say("is {}", si(click, "-")), say("it must be 0 (closed) to {}", si(float64(d.ClickMost), "-")))
		case !set.HasClick[i] && d.ClickMost > 0 && len(d.Curves) > 1:
			k.add(true, path, 0, say("is missing"), say("this damper has clicks: say which one is set, counted from closed"))
		}
	}
	p, body, h := &set.Platform[i], &set.BodyLength[i], &set.WantedHeight[i]
	k.within(h, archHeights)
	if body.Known() && math.Abs(body.Value) > 0.15 {
		k.at(true, body, "m", say("it must be {} at most", si(0.15, "m")))
	}
	if ax.Platform == nil {
		for _, in := range []*Input{p, body, h} {
			if in.Known() && in.Typed != "" {
				k.at(true, in, "m", say("this axle has no platform in this build: nothing there can be set"))
			}
		}
		return
	}
	if !p.Known() {
		return
	}
	up, down := &ax.Platform.Up, &ax.Platform.Down
	if up.Known() && p.Value > up.Value+1e-9 {
		k.at(true, p, "m", say("the platform goes up by {} at most", of(up, "m")))
	}
	if down.Known() && -p.Value > down.Value+1e-9 {
		k.at(true, p, "m", say("the platform goes down by {} at most", of(down, "m")))
	}
	if math.Abs(p.Value) > 0.2 {
		k.at(true, p, "m", say("no platform goes that far"))
	}
}

// onTheCar compares lengths on the car with the parts that were fitted.
func (k *checker) onTheCar(b *Build) {
	if b != k.fitted {
		return
	}
	w := &k.car.Weighed
	for i := range 4 {
		ax := &b.Corner[i]
		if s, l := ax.Spring, &w.SpringLength[i]; s != nil && l.Known() {
			switch {
			case l.Value <= 0:
				k.at(true, l, "m", say("it must be more than 0"))
			case s.Free.Known() && l.Value > s.Free.Value:
				k.at(false, l, "m", say("the free length is {}: the spring would be loose in a car that stands", of(&s.Free, "m")))
			case s.Block.Known() && l.Value < s.Block.Value:
				k.at(true, l, "m", say("its coils touch at {}", of(&s.Block, "m")))
			}
		}
		d := ax.Damper
		if d == nil {
			continue
		}
		l, rod := &w.DamperLength[i], &w.RodShowing[i]
		if l.Known() && l.Typed != "" {
			switch {
			case d.Open.Known() && l.Value > d.Open.Value+0.002:
				k.at(true, l, "m", say("the damper is {} when fully open", of(&d.Open, "m")))
			case d.Closed.Known() && l.Value < d.Closed.Value-0.002:
				k.at(true, l, "m", say("the damper is {} when closed", of(&d.Closed, "m")))
			}
		}
		if !rod.Known() {
			continue
		}
		switch {
		case rod.Value < 0:
			k.at(true, rod, "m", say("less than nothing cannot show"))
			continue
		case d.RodOpen.Known() && rod.Value > d.RodOpen.Value+0.002:
			k.at(true, rod, "m", say("{} show when it is fully open", of(&d.RodOpen, "m")))
			continue
		}
		if l.Known() && l.Typed != "" && d.Open.Known() && d.RodOpen.Known() && d.RodOpen.Typed != "" {
			byLength := d.RodOpen.Value - (d.Open.Value - l.Value)
			if math.Abs(byLength-rod.Value) > 0.003 {
				k.at(false, rod, "m", say("by the length between the mounts it should be {}: one of damper length, rod showing, open and rod showing open is off", si(byLength, "m")))
			}
		}
		if s := ax.Stop; s != nil && s.Length.Typed != "" {
			if gap := rod.Value - s.Length.Value - ax.Packer.Value; gap < 0 {
				k.at(false, rod, "m", say("the stop is {} long: the car was weighed resting on it", of(&s.Length, "m")))
			}
		}
	}
}

// preload compares what the old spring carries at its measured length with
// what the scales say it must. A quarter off is more than sag and tolerance.
//
//	F = k·(free − length) against (g·(L − m_u))/r, r = ds/dw
func (k *checker) preload() {
	if k.fitted == nil {
		return
	}
	w := &k.car.Weighed
	for _, corners := range k.fitted.groups() {
		a, ax := AxleOf(corners[0]), &k.fitted.Corner[corners[0]]
		axle := &k.car.Axle[a]
		s := ax.Spring
		if s == nil || len(s.Table) > 0 || s.RateTo.Known() || ax.Helper != nil || s.Rate.Typed == "" || !s.Free.Known() ||
			!axle.Spring.Known() || k.resting(corners) {
			continue
		}
		var carried, due float64
		for _, i := range corners {
			if !w.SpringLength[i].Known() || !w.Load[i].Known() {
				return
			}
			at := k.car.ZeroHeight[a].Value - w.Height[i].Value
			r := axle.SpringOf(i & 1).Ratio(at)
			if r < ratios.least || r > ratios.most {
				return // the table is at fault, and said so
			}
			damper := axle.DamperOf(i & 1).plain()
			x, rd, _ := damper.At(at)
			gas := 0.0
			if d := ax.Damper; d != nil { // the same on both sides of a group
				law := d.GasOn(w.DamperLength[i].Value+x, 0, nil)
				if d.ReadOpen() && !w.DamperLength[i].Known() {
					law = d.gas(nil)
				}
				push, _ := law.At(x)
				gas = push * math.Max(0, rd)
			}
			carried += s.Rate.Value * (s.Free.Value - w.SpringLength[i].Value)
			due += (standardGravity*(w.Load[i].Value-k.car.Unsprung[a].Value) - gas) / r
		}
		if carried <= 0 || due <= 0 {
			continue
		}
		ratio := due / carried
		if math.Abs(ratio-1) <= 0.25 {
			continue
		}
		got := say("is {}: at the length measured it carries {}", of(&s.Rate, "N/m"), si(carried/float64(len(corners)), "N"))
		want := "the scales ask for {}; look at rate, free length and spring length"
		refuse, slip := false, none
		switch {
		case math.Abs(ratio/9.80665-1) < 0.2:
			want, refuse, slip = "the scales ask for {}, 9.8 times as much", true, KilogramForce
		case math.Abs(ratio*175.127/1000-1) < 0.2 || math.Abs(ratio/0.175127-1) < 0.2:
			want, refuse, slip = "the scales ask for {}", true, ImperialRate
		case math.Abs(ratio*9.80665-1) < 0.2:
			want, refuse = "the scales ask for {}, a tenth of it: was the rate multiplied twice?", true
		}
		k.add(refuse, s.Rate.Path, s.Rate.Line, got, say(want, si(due/float64(len(corners)), "N")))
		k.slip(slip)
	}
}

// resting reports corners of which one was weighed on its stop, where the spring
// need not carry the load.
func (k *checker) resting(corners []int) bool {
	for _, i := range corners {
		ax := &k.fitted.Corner[i]
		rod := &k.car.Weighed.RodShowing[i]
		if ax.Stop != nil && rod.Known() && rod.Value < ax.Stop.Length.Value+ax.Packer.Value {
			return true
		}
	}
	return false
}
