package change

import (
	"math"
	"slices"
	"sort"

	"trunnion/chassis/car"
	"trunnion/chassis/finding"
)

// How springs of a catalogue are chosen for a site.
const (
	mostStocked = 12     // of them are looked at: chosen
	seatRoom    = 1e-3   // inside diameters that far apart fit the same seats: common practice, no source [m]
	unnamed     = 0.1    // what a spring of the catalogue is nearer than one that is only sold: chosen, see Move.Effort
	nearRate    = 0.01   // of a rate, and
	nearFree    = 0.5e-3 // of a length, are the same spring: chosen [m]
)

// stocked are springs at a site that the workshop can buy: of constant rate, within the
// rates that are looked at, on which the car stands as now or up to mostRaise higher, and
// of an inside diameter that fits the seats where both are known. same is the free length
// that holds the height at a rate [m].
func (t *Bench) stocked(at site, held bool, same func(rate float64) float64) []*Move {
	i := at.corners[0]
	own := t.build.Corner[i].Spring
	rates := soldRates(own.Rate.Value)
	down, up, step := t.reach(i)
	var out []*Move
	for _, s := range t.a.Job.Stock.Springs {
		if !plain(s) || s.Rate.Value < slices.Min(rates)-0.5*RateStep || s.Rate.Value > slices.Max(rates)+0.5*RateStep || t.inJob(i, s) || !seats(own, s) {
			continue
		}
		longer := s.Free.Value - same(s.Rate.Value)
		collar := 0.0
		switch {
		case step > 0:
			// The collar takes up what the length leaves.
			if collar = toStep(-longer, step); collar > up+1e-9 || -collar > down+1e-9 {
				continue
			}
		case held && math.Abs(longer) > FreeStep, !held && (longer < -FreeStep || longer > mostRaise):
			continue
		}
		m := t.spring(at, "stocked-spring", s.Rate.Value, s.Free.Value, collar, step)
		m.bought(s, own, at)
		higher := 0.0
		if !held && step == 0 {
			higher = math.Max(0, longer)
		}
		out = append(out, m.costs(math.Max(0.1, 0.3-unnamed+0.05*math.Abs(s.Rate.Value-own.Rate.Value)/RateStep+higher)))
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Effort < out[b].Effort })
	return out[:min(len(out), mostStocked)]
}

// bought makes a move of a spring that of a certain one of a catalogue.
func (m *Move) bought(s, own *car.SpringSpec, at site) {
	m.Kind, m.Choice, m.Part = finding.Spring, s.Called, s
	m.Unsure = !s.Inside.Known() || !own.Inside.Known()
	made := m.Apply
	m.Apply = func(b *car.Build) {
		made(b)
		n := Bought(b.Corner[at.corners[0]].Spring, s)
		at.change(func(ax *car.BuildCorner) { ax.Spring = n })(b)
	}
}

// Bought is a spring of a catalogue as a build gets it in place of its own: with the rate
// and the lengths that the catalogue states, and of the old one what it does not state.
func Bought(own, s *car.SpringSpec) *car.SpringSpec {
	n := *own
	n.Rate = as(n.Rate, s.Rate)
	n.Free = as(n.Free, s.Free)
	if s.Block.Known() && n.Block.Known() {
		n.Block = as(n.Block, s.Block)
	}
	n.Inside, n.Sold = s.Inside, s.Sold
	return &n
}

// as is an input with the value and the band of another; its place in the job and in the
// draws stays.
func as(in, other car.Input) car.Input {
	in.Value, in.Half, in.Shape, in.Origin = other.Value, other.Half, other.Shape, other.Origin
	return in
}

// Fits reports a spring of one rate and a known length that can stand on the seats of
// another, as far as is known.
func Fits(own, s *car.SpringSpec) bool { return plain(s) && seats(own, s) }

// plain reports a spring of one rate and a known length.
func plain(s *car.SpringSpec) bool {
	return s.Rate.Known() && s.Rate.Value > 0 && s.Free.Known() && !s.RateTo.Known() && len(s.Table) == 0
}

// seats reports whether a spring can stand on the seats of another, as far as is known.
func seats(own, s *car.SpringSpec) bool {
	return !own.Inside.Known() || !s.Inside.Known() || math.Abs(own.Inside.Value-s.Inside.Value) <= seatRoom+1e-9
}

// inJob reports whether the job has a spring at a corner, under whatever name.
func (t *Bench) inJob(i int, s *car.SpringSpec) bool {
	return slices.ContainsFunc(t.a.Job.Builds, func(b *car.Build) bool {
		have := b.Corner[i].Spring
		return have != nil && plain(have) && math.Abs(have.Rate.Value-s.Rate.Value) <= nearRate*s.Rate.Value && math.Abs(have.Free.Value-s.Free.Value) <= nearFree
	})
}
