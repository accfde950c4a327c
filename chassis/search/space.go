package search

import (
	"math"

	"trunnion/chassis/car"
	"trunnion/chassis/change"
	"trunnion/chassis/corner"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/part"
	"trunnion/chassis/scales"
	"trunnion/chassis/study"
)

// Spring is a spring that an axle may get at both corners, with or without a helper.
type Spring struct {
	Main, Helper *car.SpringSpec
	// Price is of what has to be bought for both corners: 0 of what the build has, NaN
	// where nobody said; in money. [-]
	Price float64
}

// Stop is a stop that an axle may get at both corners.
type Stop struct {
	Spec  *car.StopSpec
	Price float64 // as a spring's [-]
}

// Damper is a damper that an axle may get at both corners, with the clicks that are tried;
// one that has none is tried once.
type Damper struct {
	Spec     *car.DamperSpec
	Friction *car.Input // at the wheel, of the build that has it; nil: as it is
	Clicks   []int
	Price    float64 // as a spring's [-]
}

// Axle is what may be chosen at an axle, both sides alike. The first of every list is
// what the build has.
type Axle struct {
	Springs []Spring
	Dampers []Damper
	Heights []float64 // how much higher it stands than the build does, at the wheel [m]
	Stops   []Stop
	Packers []float64 // [m]
	Holes   []string  // of the bar
}

// static is how many choices there are without the clicks, which change no rest.
func (x *Axle) static() int {
	return len(x.Springs) * len(x.Dampers) * len(x.Heights) * len(x.Stops) * len(x.Packers) * len(x.Holes)
}

// Clicks are the places that a choice has for its click: as many as the damper with most
// of them needs. A damper with fewer leaves places empty.
func (x *Axle) Clicks() int {
	most := 1
	for k := range x.Dampers {
		most = max(most, len(x.Dampers[k].Clicks))
	}
	return most
}

// places is how many numbers choices have, the empty ones among them.
func (x *Axle) places() int { return x.static() * x.Clicks() }

// clicksOf are those of the damper of a choice at rest.
func (x *Axle) clicksOf(static int) int {
	return len(x.Dampers[x.at(static*x.Clicks()).damper].Clicks)
}

// has reports a number that is a choice.
func (x *Axle) has(n int) bool {
	if n < 0 || n >= x.places() {
		return false
	}
	p := x.at(n)
	return p.click < len(x.Dampers[p.damper].Clicks)
}

// Size is how many choices there are.
func (x *Axle) Size() int {
	clicks := 0
	for k := range x.Dampers {
		clicks += len(x.Dampers[k].Clicks)
	}
	return x.static() / max(1, len(x.Dampers)) * clicks
}

// Space is what may be chosen about a build.
type Space struct {
	Build string // of the answer
	Axle  [2]Axle
}

// Size is how many builds can be made of it.
func (s *Space) Size() float64 { return float64(s.Axle[0].Size()) * float64(s.Axle[1].Size()) }

// pick is one choice at an axle by its places in the lists.
type pick struct{ spring, damper, height, stop, packer, hole, click int }

// at takes a choice apart; the click is the fastest.
func (x *Axle) at(n int) (p pick) {
	take := func(of int) int {
		k := n % of
		n /= of
		return k
	}
	p.click = take(x.Clicks())
	p.hole = take(len(x.Holes))
	p.packer = take(len(x.Packers))
	p.stop = take(len(x.Stops))
	p.height = take(len(x.Heights))
	p.damper = take(len(x.Dampers))
	p.spring = take(len(x.Springs))
	return p
}

// number is the place of a choice.
func (x *Axle) number(p pick) int {
	n := p.spring
	n = n*len(x.Dampers) + p.damper
	n = n*len(x.Heights) + p.height
	n = n*len(x.Stops) + p.stop
	n = n*len(x.Packers) + p.packer
	n = n*len(x.Holes) + p.hole
	return n*x.Clicks() + p.click
}

// neighbours are the choices that differ from one in one list.
func (x *Axle) neighbours(n int) []int {
	p := x.at(n)
	var out []int
	each := func(of int, set func(q *pick, k int)) {
		for k := range of {
			q := p
			set(&q, k)
			if m := x.number(q); m != n && x.has(m) {
				out = append(out, m)
			}
		}
	}
	each(len(x.Springs), func(q *pick, k int) { q.spring = k })
	each(len(x.Dampers), func(q *pick, k int) {
		if q.damper != k { // its own first click: the other's says nothing of it
			q.damper, q.click = k, 0
		}
	})
	each(len(x.Heights), func(q *pick, k int) { q.height = k })
	each(len(x.Stops), func(q *pick, k int) { q.stop = k })
	each(len(x.Packers), func(q *pick, k int) { q.packer = k })
	each(len(x.Holes), func(q *pick, k int) { q.hole = k })
	each(len(x.Dampers[p.damper].Clicks), func(q *pick, k int) { q.click = k })
	return out
}

// bench makes builds of choices.
type bench struct {
	space   *Space
	base    *car.Build
	springs [2][]stack
	loose   [2]bool // whether the collars of an axle can be turned
	dearest [2]prices
}

// prices are the highest that are known of an axle's parts. [-]
type prices struct{ spring, damper, stop float64 }

// stack is a spring of the list as it stands in the car at the height of the build.
type stack struct {
	collar [2]float64 // how much the collars go up for it, left and right at the seat [m]
	ratio  [2]float64 // seat per wheel travel [-]
	err    error
}

// newBench makes ready what builds are made of: how far each spring moves the collars
// where the height stays.
//
//	Δp = x(F) − x_0(F) − (L − L_0)   x compression under the load F at rest, L free length
func newBench(a *study.Answer, s *Space) (*bench, error) {
	n, usual, err := a.Find(s.Build, a.UsualLoad())
	if err != nil {
		return nil, err
	}
	b := &bench{space: s, base: a.Job.Builds[n]}
	c := &a.Cases[n][usual]
	for axle := range 2 {
		left := 2 * axle
		b.dearest[axle] = s.Axle[axle].dearest()
		b.loose[axle] = scales.AdjusterOf(b.base.Corner[left].Platform).Kind != scales.Fixed && scales.AdjusterOf(b.base.Corner[left+1].Platform).Kind != scales.Fixed
		for k := range s.Axle[axle].Springs {
			one := *b.base
			one.Both(axle, func(p *car.BuildCorner) { s.Axle[axle].Springs[k].fit(p) })
			var st stack
			ds, err := corner.NewDesign(a.Job.Car, &one)
			for side := range 2 {
				i := left + side
				m := &c.System.Corner[i]
				sh := m.At(c.State.Travel[i])
				st.ratio[side] = sh.SpringMotion
				if err == nil {
					is := ds.Corner(i, nil).Spring
					st.collar[side] = lift(&is, &m.Spring, sh.SpringLoad)
				}
			}
			st.err = err
			b.springs[axle] = append(b.springs[axle], st)
		}
	}
	return b, nil
}

func lift(is, was *part.Spring, load float64) float64 {
	return is.Compression(load) - was.Compression(load) - (is.StackFree() - was.StackFree())
}

// dearest are the highest prices that are known.
func (x *Axle) dearest() (p prices) {
	for k := range x.Springs {
		p.spring = dearer(p.spring, x.Springs[k].Price)
	}
	for k := range x.Dampers {
		p.damper = dearer(p.damper, x.Dampers[k].Price)
	}
	for k := range x.Stops {
		p.stop = dearer(p.stop, x.Stops[k].Price)
	}
	return p
}

func dearer(was, price float64) float64 {
	if price > was {
		return price
	}
	return was
}

// dear is what the parts of two choices count as where prices are set against other things:
// a part whose price nobody said as the dearest of its kind.
func (b *bench) dear(choice [2]int) float64 {
	sum := 0.0
	for axle := range 2 {
		x, most := &b.space.Axle[axle], &b.dearest[axle]
		p := x.at(choice[axle])
		sum += or(x.Springs[p.spring].Price, most.spring) + or(x.Dampers[p.damper].Price, most.damper) + or(x.Stops[p.stop].Price, most.stop)
	}
	return sum
}

func or(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

// fit puts the spring into a corner.
func (s *Spring) fit(p *car.BuildCorner) { p.Spring, p.Helper = s.Main, s.Helper }

// made is what a choice of each axle makes of the build.
type made struct {
	build  *car.Build
	thread float64        // least that is left on a collar's thread, below 0 past its end; NaN without collars [m]
	price  float64        // of what is bought; NaN where a price is not known [-]
	asks   []*change.Move // what is done, for the hours
}

// make makes the build of two choices.
func (b *bench) make(id string, choice [2]int) made {
	one := *b.base
	one.ID = id
	out := made{build: &one, thread: math.NaN()}
	for axle := range 2 {
		x := &b.space.Axle[axle]
		p := x.at(choice[axle])
		out.price += x.Springs[p.spring].Price + x.Dampers[p.damper].Price + x.Stops[p.stop].Price
		if p != (pick{}) {
			b.put(&one, axle, p, &out)
		}
	}
	one.ReadAs(b.base)
	out.thread = b.threadLeft(&one)
	return out
}

// put makes the changes of a choice at an axle.
func (b *bench) put(one *car.Build, axle int, p pick, out *made) {
	x := &b.space.Axle[axle]
	do := func(kind finding.Kind) { out.asks = append(out.asks, &change.Move{Kind: kind, Axle: axle}) }
	d := &x.Dampers[p.damper]
	apart := p.spring != 0 || p.damper != 0 || p.stop != 0 || p.packer != 0
	one.Both(axle, func(c *car.BuildCorner) {
		if p.spring != 0 {
			x.Springs[p.spring].fit(c)
		}
		if p.damper != 0 {
			c.Damper, c.Serial = d.Spec, ""
			if d.Friction != nil {
				c.Friction = *d.Friction
			}
		}
		if p.stop != 0 {
			c.Stop = x.Stops[p.stop].Spec
		}
		if p.packer != 0 {
			c.Packer.Value = x.Packers[p.packer]
			if !c.Packer.Known() {
				c.Packer.Origin = figure.Chosen
			}
		}
		if apart || p.height != 0 {
			c.BushTightened = "rest"
		}
	})
	if p.spring != 0 {
		do(finding.Spring)
	}
	if p.damper != 0 {
		do(finding.Damper)
	}
	if p.stop != 0 || p.packer != 0 {
		do(finding.Stop)
	}
	if b.turn(one, axle, p) {
		do(finding.Raise)
	}
	if p.click != 0 || p.damper != 0 && d.Spec.ClickMost > 0 {
		one.Setup.SetClick(axle, d.Clicks[p.click])
		do(finding.Clicks)
	}
	if p.hole != 0 {
		one.Setup.BarHole[axle] = x.Holes[p.hole]
		do(finding.Bar)
	}
}

// turn sets the collars of an axle for a spring and a height, and says whether anything
// was turned.
func (b *bench) turn(one *car.Build, axle int, p pick) bool {
	higher := b.space.Axle[axle].Heights[p.height]
	st := &b.springs[axle][p.spring]
	left := 2 * axle
	set := &one.Setup
	if set.WantedHeight[left].Known() && set.WantedHeight[left+1].Known() {
		set.WantedHeight[left].Value += higher
		set.WantedHeight[left+1].Value += higher
		return higher != 0 //nolint:floateq // 0 is asked for as such
	}
	if !b.loose[axle] || p.spring == 0 && p.height == 0 {
		return false
	}
	ad := scales.AdjusterOf(one.Corner[left].Platform)
	step := ad.Smallest()
	mean := 0.5 * (st.collar[0] + st.collar[1] + higher*(st.ratio[0]+st.ratio[1]))
	by := step * math.Round(mean/step)
	for i := left; i < left+2; i++ {
		in := &set.Platform[i]
		if ad.Kind == scales.Body {
			in = &set.BodyLength[i]
		}
		if !in.Known() {
			in.Origin = figure.Chosen
		}
		in.Value += by
	}
	return by != 0 //nolint:floateq // whole steps
}

// threadLeft is the least thread that is left at any collar [m].
func (b *bench) threadLeft(one *car.Build) float64 {
	least := math.NaN()
	for i := range 4 {
		ad := scales.AdjusterOf(one.Corner[i].Platform)
		if ad.Kind == scales.Fixed || one.Setup.WantedHeight[i].Known() {
			continue
		}
		at := one.Setup.Platform[i].Value
		if ad.Kind == scales.Body {
			at = one.Setup.BodyLength[i].Value
		}
		low, high := ad.Reach()
		if left := math.Min(at-low, high-at); !(left >= least) {
			least = left
		}
	}
	return least
}

// hours are those of the work that a choice takes [s].
func (m *made) hours() float64 { return change.Hours(m.asks) }
