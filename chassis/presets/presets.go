package presets

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
)

// Ask is what is looked for.
type Ask struct {
	Build   string
	Seed    uint64
	Workers int
}

// Setting is a click of each axle, counted from closed; −1 where an axle has none.
type Setting [2]int

// Figures are what a setting gives over the roads of a purpose and the obstacles.
type Figures struct {
	Seat   float64 // root mean square of the floor's weighted acceleration over the roads [m/s2]
	Tyre   float64 // load variation of the worst tyre, mean over the roads [-]
	Bounce float64 // left one cycle after the worst obstacle, in the load states of the roads [-]
}

// Preset is what was found for one purpose.
type Preset struct {
	Purpose *Purpose
	Ways    []Way
	Setting Setting
	Is      Figures
	AsSet   Figures // at the build's own clicks
	Soft    Figures // both axles full soft
	Hard    Figures // both axles full hard
	// AsGood are the least and the most clicks of each axle among settings whose score is
	// within 1 %, which is what a road's sample decides by chance.
	AsGood [2][2]int
	Tried  []Tried // every setting that was driven to its end
}

// Tried is what one setting gives.
type Tried struct {
	Setting Setting
	Figures
}

// Found are the presets of a build.
type Found struct {
	Build   *car.Build
	AsSet   Setting
	Presets []Preset
	Wanted  []Wanted // one a load state
	Driven  int      // settings that were driven
	Hump    bool     // the brief has no obstacle: a usual hump stands for it
}

// ErrNoClicks is returned for a build without an adjuster that was measured at two
// clicks.
var ErrNoClicks = errors.New("no damper of the build has clicks with curves")

// How settings are driven. Chosen: all meet the same samples of each road, and the ratio
// of two cars on one sample of 10 s scatters by 0.7 %; what lies between two of eight
// settings of an axle is decided by that.
const (
	mostClicks = 8    // settings of an axle that are driven
	samples    = 2    // of each road
	roadTime   = 12   // [s]
	settle     = 2    // [s]
	alike      = 0.01 // of a score [-]
)

// Find drives every setting within the clicks measured.
func Find(ctx context.Context, job study.Job, ask Ask, progress func(done, total int)) (*Found, error) {
	if job.Brief == nil {
		job.Brief = &brief.Brief{}
	}
	var b *car.Build
	for _, one := range job.Builds {
		if one.ID == ask.Build {
			b = one
		}
	}
	if b == nil {
		return nil, fmt.Errorf("presets: no build is called %q", ask.Build)
	}
	ladder := [2][]int{clicksOf(b, car.Front), clicksOf(b, car.Rear)}
	if len(ladder[0]) < 2 && len(ladder[1]) < 2 {
		return nil, ErrNoClicks
	}
	f := &Found{Build: b, AsSet: Setting{set(b, car.Front), set(b, car.Rear)}}
	ways := make([][]Way, len(Purposes))
	var all []Way
	for i := range Purposes {
		ways[i] = Purposes[i].ways(&job)
		all = append(all, ways[i]...)
	}
	events := obstacles(&job, all)
	f.Hump = len(job.Brief.Events) == 0
	var tries []Setting
	for _, front := range ladder[0] {
		for _, rear := range ladder[1] {
			tries = append(tries, Setting{front, rear})
		}
	}
	at := map[Setting]int{}
	for i, s := range tries {
		at[s] = i
	}
	if _, there := at[f.AsSet]; !there {
		at[f.AsSet] = len(tries)
		tries = append(tries, f.AsSet)
	}
	f.Driven = len(tries)
	run, err := drive(ctx, job, b, tries, roads(all), events, ask, progress)
	if err != nil {
		return nil, err
	}
	soft := Setting{ladder[0][len(ladder[0])-1], ladder[1][len(ladder[1])-1]}
	hard := Setting{ladder[0][0], ladder[1][0]}
	for i := range Purposes {
		p := Preset{Purpose: &Purposes[i], Ways: ways[i]}
		figures := make([]Figures, len(tries))
		for k := range tries {
			if figures[k] = run.figures(k, p.Ways); figures[k].known() {
				p.Tried = append(p.Tried, Tried{tries[k], figures[k]})
			}
		}
		best := p.choose(tries, figures)
		if best < 0 {
			continue // no setting came to its end on these roads
		}
		p.Setting, p.Is, p.AsSet, p.Soft, p.Hard = tries[best], figures[best], figures[at[f.AsSet]], figures[at[soft]], figures[at[hard]]
		f.Presets = append(f.Presets, p)
	}
	if len(f.Presets) == 0 {
		return nil, fmt.Errorf("presets: %w", run.failure())
	}
	f.Wanted, err = wanted(ctx, job, b, ladder, ask)
	return f, err
}

// choose returns the setting of the least score, and keeps the range of those as good;
// −1 where none was driven to its end.
func (p *Preset) choose(tries []Setting, figures []Figures) int {
	seat, tyre := math.Inf(1), math.Inf(1)
	for _, g := range figures {
		if g.known() {
			seat, tyre = math.Min(seat, g.Seat), math.Min(tyre, g.Tyre)
		}
	}
	score := func(g *Figures) float64 {
		return p.Purpose.Seat*g.Seat/seat + p.Purpose.Tyre*g.Tyre/tyre + p.Purpose.Body*g.Bounce
	}
	best := -1
	for k := range figures {
		if figures[k].known() && (best < 0 || score(&figures[k]) < score(&figures[best])) {
			best = k
		}
	}
	if best < 0 {
		return best
	}
	p.AsGood = [2][2]int{{tries[best][0], tries[best][0]}, {tries[best][1], tries[best][1]}}
	for k := range figures {
		if figures[k].known() && score(&figures[k]) <= (1+alike)*score(&figures[best]) {
			for axle := range 2 {
				p.AsGood[axle][0] = min(p.AsGood[axle][0], tries[k][axle])
				p.AsGood[axle][1] = max(p.AsGood[axle][1], tries[k][axle])
			}
		}
	}
	return best
}

func (g *Figures) known() bool { return !math.IsNaN(g.Seat) && !math.IsNaN(g.Tyre) }

// set is an axle's click; −1 where it has none.
func set(b *car.Build, axle int) int {
	if i := 2 * axle; b.Setup.HasClick[i] {
		return b.Setup.Click[i]
	}
	return -1
}

// clicksOf are the clicks of an axle that are tried, from closed to open, within those
// measured on both of its sides; one where it cannot be set.
func clicksOf(b *car.Build, axle int) []int {
	least, most := math.MinInt, math.MaxInt
	for i := 2 * axle; i < 2*axle+2; i++ {
		d := b.Corner[i].Damper
		if d == nil || d.ClickMost == 0 || len(d.Curves) < 2 || !b.Setup.HasClick[i] {
			return []int{set(b, axle)}
		}
		hard, soft := math.MaxInt, math.MinInt
		for _, c := range d.Curves {
			hard, soft = min(hard, c.Click), max(soft, c.Click)
		}
		least, most = max(least, hard), min(most, soft)
	}
	if least >= most {
		return []int{set(b, axle)}
	}
	n := min(most-least+1, mostClicks)
	out := make([]int, n)
	for k := range out {
		out[k] = least + (k*(most-least)+(n-1)/2)/(n-1)
	}
	return out
}

// driven are the values of all settings, by build.
type driven struct {
	a      *study.Answer
	values []map[figure.Place]map[string]float64 // by setting; the place without corner and floor
}

// drive puts settings through the study and over roads and obstacles.
func drive(ctx context.Context, job study.Job, b *car.Build, tries []Setting, over []brief.Road, events []brief.Event, ask Ask, progress func(done, total int)) (*driven, error) {
	own := *job.Brief
	own.Roads, own.Events = over, events
	one := study.Job{Car: job.Car, Loads: job.Loads, Brief: &own}
	for _, k := range job.Builds {
		if k.ID == job.Car.Weighed.Build {
			one.Builds = append(one.Builds, k)
		}
	}
	first := len(one.Builds)
	for k, s := range tries {
		c := *b
		c.ID = fmt.Sprintf("%s at %d", b.ID, k)
		for axle, n := range s {
			if n >= 0 {
				c.Setup.SetClick(axle, n)
			}
		}
		one.Builds = append(one.Builds, &c)
	}
	opt := study.Defaults()
	opt.Samples, opt.Seed, opt.Workers, opt.Velocities, opt.Lowering = 0, ask.Seed, ask.Workers, []float64{opt.MainSpeed}, nil
	opt.NoWorkings, opt.NoModes, opt.NoCorners, opt.NoRemedies, opt.NoPlans = true, true, true, true, true
	a, err := study.Run(ctx, one, opt)
	if err != nil {
		return nil, err
	}
	how := drives.Options{Samples: samples, Duration: roadTime, Settle: settle, Seed: ask.Seed, Unchecked: true, ScreenIn: study.UsualLoad(&own, job.Loads)}
	if err := drives.Ride(ctx, a, how, progress); err != nil {
		return nil, err
	}
	out := &driven{a: a, values: make([]map[figure.Place]map[string]float64, len(tries))}
	at := map[string]int{}
	for k := range tries {
		at[one.Builds[first+k].ID] = k
		out.values[k] = map[figure.Place]map[string]float64{}
	}
	for i := range a.Values {
		v := &a.Values[i]
		k, ours := at[v.Place.Build]
		if !ours || v.Tier != figure.Time {
			continue
		}
		p := figure.Place{Road: v.Place.Road, Event: v.Place.Event, Speed: v.Place.Speed, Load: v.Place.Load}
		code := v.Code
		if code == "floor-acceleration" && v.Place.At != drives.FloorDriver {
			continue
		}
		into := out.values[k][p]
		if into == nil {
			into = map[string]float64{}
			out.values[k][p] = into
		}
		worst, there := into[code] // of the wheels, or of the axles
		if x := v.Value; v.State != figure.Unknown && (!there || x > worst) {
			into[code] = x
		}
	}
	return out, nil
}

// figures are what one setting gives over some ways; NaN where it did not come to its
// end.
func (d *driven) figures(setting int, ways []Way) Figures {
	var f Figures
	n := float64(len(ways))
	for _, w := range ways {
		v := d.values[setting][figure.Place{Road: w.Road, Speed: w.Speed, Load: w.Load}]
		seat, ok := v["floor-acceleration"]
		tyre, ok2 := v["tyre-load-variation"]
		if !ok || !ok2 {
			return Figures{math.NaN(), math.NaN(), math.NaN()}
		}
		f.Seat += seat * seat / n
		f.Tyre += tyre / n
	}
	f.Seat = math.Sqrt(f.Seat)
	for p, v := range d.values[setting] {
		if p.Event != "" && slices.ContainsFunc(ways, func(w Way) bool { return w.Load == p.Load }) {
			f.Bounce = math.Max(f.Bounce, v["bounce-left"])
		}
	}
	return f
}

// failure is why nothing was driven.
func (d *driven) failure() error {
	for _, f := range d.a.Failures {
		if f.Err != nil {
			return f.Err
		}
	}
	return errors.New("no setting came to its end on the roads")
}
