package search

import (
	"cmp"
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
)

// May is what a search may change. The zero value changes nothing.
type May struct {
	Springs, Helpers, Dampers, Heights, Stops, Packers, Clicks, Bars bool
	// Lowest and Highest are how much lower and higher than the build does an axle is
	// tried, at the wheel. [m]
	Lowest, Highest float64
}

// Everything may be changed: heights from 20 mm below the build to 10 mm above. Chosen.
func Everything() May {
	return May{Springs: true, Helpers: true, Dampers: true, Heights: true, Stops: true, Packers: true, Clicks: true, Bars: true, Lowest: 20e-3, Highest: 10e-3}
}

// How far parts are looked for: chosen.
const (
	softest, firmest = 0.6, 1.7 // rates, over the build's [-]
	mostSprings      = 40       // of an axle
	mostHelpers      = 2
	mostPackers      = 15e-3 // more than the build has [m]
	mostStops        = 12
	helperShare      = 0.25   // a spring that much softer than the main one can be its helper [-]
	helperLength     = 0.12   // and is no longer [m]
	nearRate         = 0.01   // springs nearer in rate [-]
	nearFree         = 0.5e-3 // and length are one [m]
)

// Offer is what may be chosen about a build: its own parts first, then those of the job's
// other builds that fit it, those that can be bought, and settings in the steps in which
// they are made. Without anything to buy, springs are of rates and lengths as sold.
func Offer(a *study.Answer, build string, may May, shop Shop) (Space, error) {
	n, usual, err := a.Find(build, a.UsualLoad())
	if err != nil {
		return Space{}, err
	}
	b := a.Job.Builds[n]
	out := Space{Build: build}
	for axle := range 2 {
		left := 2 * axle
		c := &b.Corner[left]
		x := Axle{
			Springs: []Spring{{Main: c.Spring, Helper: c.Helper}}, Heights: []float64{0}, Stops: []Stop{{Spec: c.Stop}},
			Packers: []float64{c.Packer.Value}, Holes: []string{b.Setup.BarHole[axle]}, Dampers: []Damper{{Spec: c.Damper, Clicks: []int{b.Setup.Click[left]}}},
		}
		if b.Alike(axle) {
			if may.Springs {
				load := a.Cases[n][usual].System.Corner[left].At(a.Cases[n][usual].State.Travel[left]).SpringLoad
				x.Springs = springs(a, b, axle, load, may, &shop)
			}
			if may.Dampers {
				x.Dampers = dampers(a, n, usual, axle, &shop)
			}
			if may.Stops {
				x.Stops = stops(a, b, axle, &shop)
			}
			if may.Packers && c.Stop != nil {
				x.Packers = packers(c.Packer.Value)
			}
		}
		if may.Heights && turns(b, axle) {
			x.Heights = heights(may)
		}
		if may.Clicks && b.Setup.Click[left] == b.Setup.Click[left+1] && c.Damper == b.Corner[left+1].Damper {
			for k := range x.Dampers {
				x.Dampers[k].Clicks = clicks(x.Dampers[k].Spec, b.Setup.Click[left], b.Setup.HasClick[left], k == 0)
			}
		}
		if may.Bars && !b.Setup.BarsOff {
			ax := &a.Job.Car.Axle[axle]
			x.Holes = []string{study.UsedHole(ax, b, axle)}
			for k := range ax.Holes {
				if id := ax.Holes[k].ID; id != x.Holes[0] {
					x.Holes = append(x.Holes, id)
				}
			}
		}
		out.Axle[axle] = x
	}
	return out, nil
}

// turns reports an axle whose height can be chosen.
func turns(b *car.Build, axle int) bool {
	for i := 2 * axle; i < 2*axle+2; i++ {
		if scales.AdjusterOf(b.Corner[i].Platform).Kind == scales.Fixed && !b.Setup.WantedHeight[i].Known() {
			return false
		}
	}
	return true
}

func heights(may May) []float64 {
	out := []float64{0}
	for n := 1; float64(n)*change.HeightStep <= math.Max(may.Lowest, may.Highest)+1e-9; n++ {
		if h := float64(n) * change.HeightStep; h <= may.Highest+1e-9 {
			out = append(out, h)
		}
		if h := float64(n) * change.HeightStep; h <= may.Lowest+1e-9 {
			out = append(out, -h)
		}
	}
	return out
}

func packers(own float64) []float64 {
	out := []float64{own}
	for p := 0.0; p <= own+mostPackers+1e-9; p += change.PackerStep {
		if math.Abs(p-own) > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// stops are the build's, those of the job's other builds at the axle, its own cut, and
// those that can be bought; of more than are looked at, those nearest in length.
func stops(a *study.Answer, b *car.Build, axle int, shop *Shop) []Stop {
	own := b.Corner[2*axle].Stop
	out := []Stop{{Spec: own}}
	if own == nil {
		return out
	}
	has := func(s *car.StopSpec) bool {
		return slices.ContainsFunc(out, func(o Stop) bool { return o.Spec == s })
	}
	for _, o := range a.Job.Builds {
		if s := o.Corner[2*axle].Stop; s != nil && !has(s) {
			out = append(out, Stop{Spec: s, Price: shop.pair(&s.Sold)})
		}
	}
	out = append(out, Stop{Spec: change.Cut(own, change.StopStep)})
	var buy []Stop
	for _, s := range shop.Stops {
		if s.Length.Known() && (len(s.Table) > 0 || s.Kind != "") {
			// What its maker does not say is estimated as it is of a stop that is fitted.
			spec := *s
			car.FillStop(&spec)
			buy = append(buy, Stop{&spec, shop.pair(&s.Sold)})
		}
	}
	off := func(s *Stop) float64 { return math.Abs(s.Spec.Length.Value - own.Length.Value) }
	slices.SortStableFunc(buy, func(x, y Stop) int { return cmp.Compare(off(&x), off(&y)) })
	return append(out, buy[:min(len(buy), mostStops)]...)
}

// springs are the build's own, those of other builds on seats of the same kind, and those
// that can be bought; of more than are looked at, those nearest to holding the height.
func springs(a *study.Answer, b *car.Build, axle int, load float64, may May, shop *Shop) []Spring {
	c := &b.Corner[2*axle]
	own := c.Spring
	out := []Spring{{Main: own, Helper: c.Helper}}
	if own == nil || !own.Rate.Known() || !own.Free.Known() || own.RateTo.Known() || len(own.Table) > 0 {
		return out
	}
	fixed := !turns(b, axle)
	good := func(s *car.SpringSpec) bool {
		if s == nil || !change.Fits(own, s) || s.Rate.Value < softest*own.Rate.Value || s.Rate.Value > firmest*own.Rate.Value {
			return false
		}
		longer := s.Free.Value - load/s.Rate.Value - own.Free.Value + load/own.Rate.Value
		if fixed && (longer < -may.Lowest-1e-9 || longer > may.Highest+1e-9) {
			return false
		}
		return !slices.ContainsFunc(out, func(o Spring) bool {
			return math.Abs(o.Main.Rate.Value-s.Rate.Value) <= nearRate*s.Rate.Value && math.Abs(o.Main.Free.Value-s.Free.Value) <= nearFree
		})
	}
	for _, o := range a.Job.Builds {
		if p := &o.Corner[2*axle]; p.Spring != nil && p.Helper == nil && turns(o, axle) == !fixed && p.SeatsCloser.Value == c.SeatsCloser.Value && good(p.Spring) { //nolint:floateq // typed alike
			out = append(out, Spring{Main: p.Spring, Price: shop.pair(&p.Spring.Sold)})
		}
	}
	var buy []Spring
	if len(shop.Springs) == 0 {
		for _, s := range sold(own, load, fixed) {
			if good(s) {
				buy = append(buy, Spring{Main: s, Price: math.NaN()})
			}
		}
	}
	for _, s := range shop.Springs {
		if good(s) {
			buy = append(buy, Spring{Main: change.Bought(own, s), Price: shop.pair(&s.Sold)})
		}
	}
	holds := func(s *Spring) float64 {
		return math.Abs(s.Main.Free.Value - load/s.Main.Rate.Value - own.Free.Value + load/own.Rate.Value)
	}
	slices.SortStableFunc(buy, func(x, y Spring) int { return cmp.Compare(holds(&x), holds(&y)) })
	buy = buy[:min(len(buy), mostSprings)]
	out = append(out, buy...)
	if may.Helpers && c.Helper == nil {
		out = append(out, helped(own, buy, shop)...)
	}
	return out
}

// sold are springs of rates and lengths as they are sold, about the height of the build.
func sold(own *car.SpringSpec, load float64, fixed bool) []*car.SpringSpec {
	var out []*car.SpringSpec
	lengths := []float64{0, change.FreeStep}
	if fixed {
		lengths = []float64{-change.FreeStep, 0, change.FreeStep}
	}
	for rate := change.RateStep * math.Ceil(softest*own.Rate.Value/change.RateStep); rate <= firmest*own.Rate.Value; rate += change.RateStep {
		low := change.FreeStep * math.Floor((own.Free.Value+load/rate-load/own.Rate.Value)/change.FreeStep+1e-6)
		for _, more := range lengths {
			s := *own
			s.Rate.Value, s.Rate.Half = rate, own.Rate.Half*rate/own.Rate.Value
			s.Free.Value, s.Free.Half = low+more, own.Free.Half*(low+more)/own.Free.Value
			out = append(out, &s)
		}
	}
	return out
}

// helped are main springs with a helper of the catalogue on them.
func helped(own *car.SpringSpec, buy []Spring, shop *Shop) []Spring {
	var out []Spring
	n := 0
	for _, h := range shop.Springs {
		if n == mostHelpers || !change.Fits(own, h) || !h.Block.Known() || h.Rate.Value > helperShare*own.Rate.Value || h.Free.Value > helperLength {
			continue
		}
		n++
		for _, m := range buy[:min(len(buy), mostSprings/4)] {
			out = append(out, Spring{Main: m.Main, Helper: h, Price: m.Price + shop.pair(&h.Sold)})
		}
	}
	return out
}
