package change

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// springs are other springs at a site, in rates and free lengths as they are
// sold, or of the job's own list.
//
// Their block length is taken as that of the spring they replace: it changes
// with wire and coils, which nobody has chosen yet.
func (t *Bench) springs(at site) []*Move {
	i := at.corners[0]
	ax := &t.build.Corner[i]
	s := ax.Spring
	if s == nil || ax.Helper != nil || !s.Free.Known() || !s.Rate.Known() || len(s.Table) > 0 || s.RateTo.Known() || !(s.Rate.Value > 0) {
		return nil
	}
	m, w := t.corner(i)
	load := m.At(w).SpringLoad
	_, up, step := t.reach(i)
	held := step > 0 || t.build.Setup.WantedHeight[i].Known()
	same := func(rate float64) float64 { return s.Free.Value + load/rate - load/s.Rate.Value } // that holds the height
	var out []*Move
	if !held {
		// Fixed seats: longer at the same rate is what raises it.
		for n := FreeStep; n <= mostRaise+1e-9; n += FreeStep {
			out = append(out, t.spring(at, "longer-spring", s.Rate.Value, s.Free.Value+n, 0, 0).costs(0.25+n))
		}
	}
	for _, rate := range soldRates(s.Rate.Value) {
		code := "firmer-spring"
		if rate < s.Rate.Value {
			code = "softer-longer-spring"
		}
		low := FreeStep * math.Floor(same(rate)/FreeStep+1e-6)
		effort := 0.3 + 0.05*math.Abs(rate-s.Rate.Value)/RateStep
		switch {
		case step > 0:
			// The collar takes up what the length leaves.
			down, _, _ := t.reach(i)
			for _, free := range []float64{low, low + FreeStep} {
				by := toStep(same(rate)-free, step)
				if by <= up+1e-9 && -by <= down+1e-9 {
					out = append(out, t.spring(at, code, rate, free, by, step).costs(effort))
					break
				}
			}
		case held:
			out = append(out, t.spring(at, code, rate, toStep(same(rate), FreeStep), 0, 0).costs(effort))
		default:
			for k := range 3 {
				free := low + float64(k)*FreeStep
				out = append(out, t.spring(at, code, rate, free, 0, 0).costs(effort))
			}
		}
	}
	return append(append(out, t.listed(at, held)...), t.stocked(at, held, same)...)
}

// soldRates are the next rates as sold, firmer ones first.
func soldRates(rate float64) []float64 {
	down, up := nextRates(rate)
	out := []float64{up, up + RateStep, up + 2*RateStep, up + 3*RateStep}
	for _, v := range []float64{down, down - RateStep} {
		if v >= 3*RateStep {
			out = append(out, v)
		}
	}
	return out
}

// RateSold is the rate as sold that is nearest to a wanted one, and on its side of a
// rate that is to be left: common practice, no source. [N/m]
func RateSold(wanted, left float64) float64 {
	down, up := nextRates(left)
	if wanted > left {
		return math.Max(toStep(wanted, RateStep), up)
	}
	return math.Min(toStep(wanted, RateStep), down)
}

// FreeSold is the free length as sold that is nearest to a wanted one: common practice,
// no source. [m]
func FreeSold(wanted float64) float64 { return toStep(wanted, FreeStep) }

// nextRates are the rates as sold below and above one [N/m].
func nextRates(rate float64) (down, up float64) {
	return RateStep * math.Ceil(rate/RateStep-1-1e-6), RateStep * math.Floor(rate/RateStep+1+1e-6)
}

// spring is another spring, with the collar moved by so much.
func (t *Bench) spring(at site, code string, rate, free, collar, step float64) *Move {
	s := t.build.Corner[at.corners[0]].Spring
	n := *s
	n.ID = s.ID
	n.Rate.Value, n.Rate.Half = rate, s.Rate.Half*rate/s.Rate.Value
	free = toStep(free, 1e-4)
	n.Free.Value, n.Free.Half = free, s.Free.Half*free/s.Free.Value
	by, unit := rate-s.Rate.Value, "N/m"
	kind, path := finding.Spring, "spring.rate"
	if code == "longer-spring" {
		by, unit, kind, path = free-s.Free.Value, "m", finding.Raise, "spring.free"
	}
	m := t.move(at, kind, code, path, by, unit, func(ax *car.BuildCorner) { ax.Spring = &n })
	m.Slot = "spring" + car.AxleNames[at.axle] + string(rune('0'+len(at.corners)+at.corners[0]))
	m.size("spring-rate", s.Rate.Value, rate, "N/m").size("spring-free", s.Free.Value, free, "m")
	if collar != 0 {
		parts := m.Apply
		for _, i := range at.corners {
			was := t.build.Setup.Platform[i].Value
			m.Sizes = append(m.Sizes, finding.Size{Code: "collar", Was: was, Is: was + collar, Unit: "m", Corner: i})
			if p := t.build.Corner[i].Platform; p != nil && p.Pitch.Known() {
				m.Sizes = append(m.Sizes, finding.Size{Code: "turns", Was: step / p.Pitch.Value, Is: collar / p.Pitch.Value, Unit: "1", Corner: i})
			}
		}
		m.Apply = func(b *car.Build) {
			parts(b)
			for _, i := range at.corners {
				turn(&b.Setup.Platform[i], collar)
			}
		}
	}
	return m
}

// listed are the springs of the job's own list for the same axle, on seats of the
// same kind.
func (t *Bench) listed(at site, held bool) []*Move {
	if held {
		return nil // another car's height is its collar's: lengths as sold say more
	}
	i := at.corners[0]
	own := &t.build.Corner[i]
	var out []*Move
	seen := map[*car.SpringSpec]bool{own.Spring: true}
	for _, b := range t.a.Job.Builds {
		ax := &b.Corner[i]
		s := ax.Spring
		if s == nil || seen[s] || ax.Helper != nil || ax.Platform != nil || !s.Free.Known() || !s.Rate.Known() ||
			ax.SeatsCloser.Value != own.SeatsCloser.Value { //nolint:floateq // typed alike
			continue
		}
		seen[s] = true
		m := t.move(at, finding.Spring, "listed-spring", "spring", s.Rate.Value-own.Spring.Rate.Value, "N/m", func(ax *car.BuildCorner) { ax.Spring = s })
		m.Part = s
		m.Choice, m.Slot = s.ID, "spring"+car.AxleNames[at.axle]+string(rune('0'+len(at.corners)+i))
		m.size("spring-rate", own.Spring.Rate.Value, s.Rate.Value, "N/m").size("spring-free", own.Spring.Free.Value, s.Free.Value, "m")
		out = append(out, m.costs(0.3))
	}
	return out
}

// A helper's rate is soft enough to be flat well below the lowest load, and its
// block height is that of a main spring one length shorter: common practice, no
// source.
const (
	helperRate  = 4e3   // [N/m]
	helperBlock = 10e-3 // [m]
)

// helpers stack a soft spring that is flat at ride height; the main spring is one
// length shorter.
func (t *Bench) helpers(at site) []*Move {
	ax := &t.build.Corner[at.corners[0]]
	if ax.Spring == nil || ax.Helper != nil || !ax.Spring.Free.Known() {
		return nil
	}
	var out []*Move
	for n := 2 * helperStep; n <= mostHelper+1e-9; n += helperStep {
		travel := n
		m := t.move(at, finding.Helper, "helper", "helper.travel", travel, "m", func(ax *car.BuildCorner) {
			given := figure.Input{Origin: figure.Chosen}
			h := &car.SpringSpec{ID: "helper", Rate: given, Free: given, Block: given, Scale: given}
			h.Rate.Value, h.Free.Value, h.Block.Value, h.Scale.Value = helperRate, helperBlock+travel, helperBlock, 1
			s := *ax.Spring
			s.Free.Value -= helperBlock
			ax.Helper, ax.Spring = h, &s
		})
		m.size("helper-travel", 0, travel, "m").size("spring-free", ax.Spring.Free.Value, ax.Spring.Free.Value-helperBlock, "m")
		out = append(out, m.costs(0.35+2*travel))
	}
	return out
}
