package finding

import (
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// candidates lists what could be changed about a finding. Sizes are chosen
// from the figures: as much as the margin and half its band ask for, rounded
// up to what can be bought or cut.
func candidates(a *study.Answer, f *Finding, b *car.Build) []change {
	return placed(b, f.Value.Place.Corner, partChanges(a, f, b))
}

// placed puts changes of the parts of a corner where they are made: at both sides
// where both have the part that is changed, else at that side alone.
func placed(b *car.Build, corner int, list []change) []change {
	axle := car.AxleOf(corner)
	l, r := &b.Corner[2*axle], &b.Corner[2*axle+1]
	for i := range list {
		c := &list[i]
		apply := c.apply
		part, _, _ := strings.Cut(c.path, ".")
		same := map[string]bool{
			"spring": l.Spring == r.Spring && l.Helper == r.Helper, "helper": l.Spring == r.Spring && l.Helper == r.Helper,
			"damper": l.Damper == r.Damper, "stop": l.Stop == r.Stop, "packer": l.Stop == r.Stop && l.Packer == r.Packer,
		}[part]
		where := "builds." + b.ID + "." + car.AxleNames[axle] + "."
		c.apply, c.axle, c.side = nil, axle, figure.NoCorner
		if same {
			c.whole = func(b *car.Build) { b.Both(axle, apply) }
		} else {
			where += car.SideNames[corner&1] + "."
			c.side = corner
			c.whole = func(b *car.Build) { apply(&b.Corner[corner]) }
		}
		c.path = where + c.path
	}
	return list
}

// partChanges are changes of the parts at a finding's corner, with the rest of
// their path.
func partChanges(a *study.Answer, f *Finding, b *car.Build) []change {
	p := f.Value.Place
	axle := car.AxleOf(p.Corner)
	short := shortfall(f)
	c := &a.Cases[indexOf(a, p.Build)][loadOf(a, p.Load)]
	m := &c.System.Corner[p.Corner]
	_, rd, _ := m.DamperTravel.At(c.State.Travel[p.Corner])
	ax := &b.Corner[p.Corner]
	switch f.Code {
	case "rests-on-bump-stop", "stop-firm-too-soon", "stop-carries-load", "catches-less-than-before", "hits-stops-hard", "stop-blow":
		lacking := short * rd
		if f.Code != "rests-on-bump-stop" && f.Code != "stop-firm-too-soon" {
			// The verdict is not in millimetres: ask for what takes the stop out
			// of the static load, or for a fifth of its length.
			lacking = 0.2 * m.Stop.Length
			if gap := a.Get("travel-to-stop", p.Build, p.Load, p.Corner); gap != nil && gap.Value < 0 {
				lacking = math.Max(lacking, (-gap.Value+0.5*(gap.High-gap.Low))*rd)
			}
		}
		n := roundUp(lacking, 5e-3)
		return append(append(shorterStop(ax, n), shorterDamper(ax, n)...), firmerSpring(m, ax, c.State.Travel[p.Corner])...)
	case "spring-loose-at-droop":
		_, rs, _ := m.SpringTravel.At(c.State.Travel[p.Corner])
		list := lessDroop(ax, roundUp(short*rd/rs, 5e-3))
		list = append(list, helper(ax, math.Max(0, f.Value.Value)+5e-3)...)
		return append(list, softerLonger(m, ax, c.State.Travel[p.Corner])...)
	case "tyre-meets-arch-first", "coils-touch-first":
		return packer(ax, roundUp(short*rd, 2e-3))
	case "limit-met-first":
		for _, l := range a.Job.Car.Axle[axle].Limits {
			if l.Name == p.Mode && l.Droop {
				return lessDroop(ax, roundUp(short*rd, 5e-3))
			}
		}
		return packer(ax, roundUp(short*rd, 2e-3))
	case "damping-low":
		return moreDamping(ax, f)
	case "droop-short":
		return longerDamper(ax, roundUp(short*rd, 5e-3))
	}
	return nil
}

func indexOf(a *study.Answer, build string) int {
	for i, b := range a.Job.Builds {
		if b.ID == build {
			return i
		}
	}
	return 0
}

func loadOf(a *study.Answer, load string) int {
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == load {
			return i
		}
	}
	return 0
}

// shortfall is how far a value has to move for its band to clear the limit.
func shortfall(f *Finding) float64 {
	v := f.Value
	if f.Limit.Upper {
		end := v.Value
		if v.HasBand {
			end = v.High
		}
		return math.Max(0, end-f.Limit.Value)
	}
	end := v.Value
	if v.HasBand {
		end = v.Low
	}
	return math.Max(0, f.Limit.Value-end)
}

func roundUp(v, step float64) float64 { return step * math.Max(1, math.Ceil(v/step-1e-9)) }

// shorterStop shortens the stop, its curve squeezed in proportion: foam of one
// kind carries the same force at the same share of its length.
func shorterStop(ax *car.BuildCorner, n float64) []change {
	s := ax.Stop
	if s == nil {
		return nil
	}
	n = math.Min(n, math.Floor(0.5*s.Length.Value/5e-3)*5e-3) // not less than half a stop
	if n <= 0 {
		return nil
	}
	return []change{{path: "stop.length", code: "shorter-stop", by: -n, unit: "m", apply: func(ax *car.BuildCorner) {
		cut := *ax.Stop
		share := (cut.Length.Value - n) / cut.Length.Value
		cut.Length.Value -= n
		cut.Table = make([]car.Point, len(s.Table))
		for i, p := range s.Table {
			cut.Table[i] = car.Point{X: p.X * share, F: p.F}
		}
		ax.Stop = &cut
	}}}
}

// shorterDamper takes a damper shorter open and closed, with the same stop:
// the gap grows by what droop loses.
func shorterDamper(ax *car.BuildCorner, n float64) []change {
	if ax.Damper == nil || !ax.Damper.Open.Known() {
		return nil
	}
	return []change{{path: "damper.open", code: "shorter-damper", by: -n, unit: "m", apply: func(ax *car.BuildCorner) {
		d := *ax.Damper
		d.Open.Value -= n
		d.Closed.Value -= n
		ax.Damper = &d
	}}}
}

func longerDamper(ax *car.BuildCorner, n float64) []change {
	if ax.Damper == nil || !ax.Damper.Open.Known() {
		return nil
	}
	return []change{{path: "damper.open", code: "longer-stroke", by: n, unit: "m", apply: func(ax *car.BuildCorner) {
		d := *ax.Damper
		d.Open.Value += n
		d.RodOpen.Value += n
		ax.Damper = &d
	}}}
}

// lessDroop limits the damper's open length inside, which moves nothing else.
func lessDroop(ax *car.BuildCorner, n float64) []change {
	if ax.Damper == nil || !ax.Damper.Open.Known() {
		return nil
	}
	return []change{{path: "damper.open", code: "less-droop", by: -n, unit: "m", apply: func(ax *car.BuildCorner) {
		d := *ax.Damper
		d.Open.Value -= n
		d.RodOpen.Value -= n
		ax.Damper = &d
	}}}
}

// helper stacks a soft spring that fills the looseness and is flat at ride
// height; the main spring gives up the helper's block height.
func helper(ax *car.BuildCorner, travel float64) []change {
	if ax.Spring == nil || ax.Helper != nil || !ax.Spring.Free.Known() {
		return nil
	}
	const (
		rate  = 4e3   // soft enough to be flat well below the lowest load: common practice, no source [N/m]
		block = 10e-3 // common practice, no source [m]
	)
	travel = roundUp(travel, 5e-3)
	return []change{{path: "helper.travel", code: "helper", by: travel, unit: "m", apply: func(ax *car.BuildCorner) {
		given := figure.Input{Origin: figure.Chosen}
		h := &car.SpringSpec{ID: "helper", Rate: given, Free: given, Block: given, Scale: given}
		h.Rate.Value, h.Free.Value, h.Block.Value, h.Scale.Value = rate, block+travel, block, 1
		s := *ax.Spring
		s.Free.Value -= block
		ax.Helper, ax.Spring = h, &s
	}}}
}

// firmerSpring raises the rate in steps a hand can feel, the length chosen so
// that the car stays at its height: compression is load over rate whatever the
// length.
func firmerSpring(m *corner.Model, ax *car.BuildCorner, w float64) []change {
	return springs(m, ax, w, "firmer-spring", 1.2)
}

func softerLonger(m *corner.Model, ax *car.BuildCorner, w float64) []change {
	return springs(m, ax, w, "softer-longer-spring", 0.85)
}

func springs(m *corner.Model, ax *car.BuildCorner, w float64, code string, factor float64) []change {
	s := ax.Spring
	if s == nil || !s.Free.Known() || len(s.Table) > 0 || s.RateTo.Known() || ax.Helper != nil {
		return nil
	}
	load := m.At(w).SpringLoad
	more := roundUp(math.Abs(factor-1)*s.Rate.Value, 1e3)
	if factor < 1 {
		more = -more
	}
	rate := s.Rate.Value + more
	longer := load/rate - load/s.Rate.Value
	return []change{{path: "spring.rate", code: code, by: more, unit: "N/m", apply: func(ax *car.BuildCorner) {
		n := *s
		n.Rate.Value = rate
		n.Rate.Half = s.Rate.Half * rate / s.Rate.Value
		n.Free.Value += longer
		ax.Spring = &n
	}}}
}

func packer(ax *car.BuildCorner, n float64) []change {
	if ax.Stop == nil {
		return nil
	}
	return []change{{path: "packer", code: "packer", by: n, unit: "m", apply: func(ax *car.BuildCorner) {
		ax.Packer.Value += n
		if !ax.Packer.Known() {
			ax.Packer.Origin = figure.Chosen
		}
	}}}
}

// moreDamping asks for a firmer click where there is one, else for stronger
// valving.
func moreDamping(ax *car.BuildCorner, f *Finding) []change {
	d := ax.Damper
	if d == nil || len(d.Curves) == 0 {
		return nil
	}
	want := 1.0
	if f.Value.Value > 0 {
		want = 1.15 * f.Limit.Value / f.Value.Value
		if f.Value.HasBand && f.Value.Low > 0 {
			want = f.Limit.Value / f.Value.Low
		}
	}
	more := math.Ceil((want-1)*20) / 20
	return []change{{path: "damper.curves", code: "stronger-valving", by: more, unit: "1", apply: func(ax *car.BuildCorner) {
		n := *d
		n.Scale.Value *= 1 + more
		n.Scale.Half *= 1 + more
		ax.Damper = &n
	}}}
}
