package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
	"sync"
	"sync/atomic"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/screening"
	"trunnion/chassis/spread"
)

// RideOptions are how the brief's roads and events are driven.
type RideOptions struct {
	Samples    int       // of each road: the band comes from them
	Duration   float64   // of each sample [s]
	Settle     float64   // run in before counting [s]
	StopForces []float64 // above which a hit counts [N]
	Tolerance  float64   // on the change by halving the step [-]
	Seed       uint64
	EventsOnly bool // leave the roads to the screening tier
	Unchecked  bool // leave out the second run at half the step: for a try
	// Draws is how often each obstacle is driven with another draw of the car, for the bands of its figures; less than 2
	// gives none. The drive of one place alone, and a try, have none.
	Draws int
	Lanes ride.Lanes // in which those are driven side by side
	// MountSlope is the slope of the line on which what goes through the upper
	// mounts is compared; 0 leaves that out. [-]
	MountSlope float64
	// ScreenIn, where given, is the one load state that is screened beside each
	// road's own.
	ScreenIn string
	// Profile, where given, is driven in place of the brief's roads, at these
	// speeds and in this load state, once and over its whole length.
	Profile     *road.Profile
	ProfileName string
	Speeds      []float64 // [m/s]
	Load        string
	// Only, where given, drives nothing but the road and speed, or the event, of
	// one value's place, and screens nothing.
	Only *figure.Place
}

// EventDraws is how often an assessment drives each obstacle with another draw of the car: with 16 draws a half-width is
// known to a fifth (one standard deviation). Chosen.
const EventDraws = 16

// RideDefaults are the options of an assessment: four samples of 15 s, and each obstacle over draws of the car. The lanes are
// those of 64 bits, which print the same as one car alone.
func RideDefaults() RideOptions {
	return RideOptions{Samples: 4, Duration: 17, Settle: 2, StopForces: []float64{1000, 2000}, Tolerance: 0.01, Seed: 1, MountSlope: MountSlope, Draws: EventDraws, Lanes: ride.Four}
}

// Ride drives every build over the brief's roads and events in time, and
// estimates the load states the brief does not name from the spectrum. All
// builds meet the very same roads. progress may be nil; it is called from
// several goroutines.
func (a *Answer) Ride(ctx context.Context, opt RideOptions, progress func(done, total int)) error {
	s := a.ready
	if s == nil {
		return errors.New("study: an answer that was not computed here cannot be driven")
	}
	// An answer that held on to the one before would hold on to all of them.
	defer func() { s.earlier, s.kept = nil, nil }()
	roads, err := s.roadCases(opt.Only)
	if opt.Profile != nil {
		opt.Samples = 1
		roads, err = s.profileCases(&opt)
	}
	if err != nil {
		return err
	}
	events, err := s.eventCases(opt.Only)
	if err != nil {
		return err
	}
	a.Ridden = opt
	r := &riding{a: a, s: s, opt: opt, roads: roads, events: events, models: make(map[[2]int]*ride.Model), faults: make(map[[2]int]error)}
	r.compile()
	a.steps = [2]float64{r.roadStep, r.eventStep}
	if len(r.models) == 0 {
		return nil // no case has a rest to drive from; the failures say why
	}
	if err := r.drive(ctx, progress); err != nil {
		return err
	}
	a.makeIndex()
	return nil
}

type riding struct {
	a      *Answer
	s      *setup
	opt    RideOptions
	roads  []roadCase
	events []eventCase
	models map[[2]int]*ride.Model // by build and load state
	faults map[[2]int]error
	// The steps are the shortest that any build asks for, so that all meet the
	// same heights.
	roadStep, eventStep float64        // [s]
	counted             [][][4]float64 // per road unit and build, what went through the mounts [N^MountSlope]
	bare                bool           // values without workings
}

// compile makes the ride models of all cases that are driven.
func (r *riding) compile() {
	r.roadStep, r.eventStep = math.Inf(1), math.Inf(1)
	for b := range r.s.designs {
		for l := range r.s.job.Loads {
			k := [2]int{b, l}
			c := &r.a.Cases[b][l]
			if c.Err != nil {
				r.faults[k] = c.Err
				continue
			}
			m, err := ride.Compile(r.s.rider(c, b, l, nil))
			if err != nil {
				r.faults[k] = err
				continue
			}
			r.models[k] = m
			r.roadStep = math.Min(r.roadStep, m.StepFor(false))
			r.eventStep = math.Min(r.eventStep, m.StepFor(true))
		}
	}
}

// drive runs all roads and events and puts their values into the answer in an
// order that does not depend on the workers.
func (r *riding) drive(ctx context.Context, progress func(done, total int)) error {
	units := len(r.events)
	if !r.opt.EventsOnly {
		units += len(r.roads) * r.opt.Samples
	}
	results := make([][]ride.Result, units) // per unit, one a build
	errs := make([][]error, units)
	var done atomic.Int64
	var once sync.Mutex
	var failure error
	roadUnits := units - len(r.events)
	r.counted = make([][][4]float64, roadUnits)
	err := spread.Each(ctx, units, r.s.opt.Workers, func(_, u int) {
		var err error
		if u < roadUnits {
			results[u], errs[u], err = r.driveRoad(ctx, u)
		} else {
			results[u], errs[u], err = r.driveEvent(ctx, u-roadUnits)
		}
		if err != nil {
			once.Lock()
			failure = errors.Join(failure, err)
			once.Unlock()
		}
		if progress != nil {
			progress(int(done.Add(1)), units)
		}
	})
	if err != nil {
		return err
	}
	if failure != nil {
		return failure
	}
	if !r.opt.EventsOnly {
		for c := range r.roads {
			for b := range r.s.designs {
				if r.keepsDrives(b) {
					continue
				}
				r.reportRoad(c, b, results[c*r.opt.Samples:(c+1)*r.opt.Samples], errs[c*r.opt.Samples:(c+1)*r.opt.Samples])
			}
		}
	}
	if r.opt.Only == nil {
		if err := r.screen(ctx); err != nil {
			return err
		}
	}
	for e := range r.events {
		for b := range r.s.designs {
			if r.keepsDrives(b) {
				continue
			}
			u := roadUnits + e
			m := r.models[[2]int{b, r.events[e].load}]
			r.reportEvent(e, b, &r.a.Cases[b][r.events[e].load], m, &results[u][b], errs[u][b])
		}
	}
	if !r.opt.Unchecked && r.opt.Only == nil {
		if err := r.drawEvents(ctx); err != nil {
			return err
		}
	}
	r.keepDrives()
	r.reportMounts()
	return nil
}

// driveRoad drives all builds over one sample of one road.
func (r *riding) driveRoad(ctx context.Context, u int) ([]ride.Result, []error, error) {
	c := &r.roads[u/r.opt.Samples]
	wheelbase := r.s.job.Car.Wheelbase.Value
	duration := r.opt.Duration
	if c.measured != nil {
		from, to := c.measured.Extent()
		duration = (to - from) / c.speed
	}
	p, err := c.tracks(u%r.opt.Samples, r.opt.Seed, c.speed*duration+wheelbase+10)
	if err != nil {
		return nil, nil, err
	}
	way, err := course(&p, wheelbase, c.speed, duration, r.roadStep/2)
	if err != nil {
		return nil, nil, err
	}
	run := ride.Run{
		Course: way, Duration: duration, Settle: math.Min(r.opt.Settle, duration/4), StopForces: r.opt.StopForces, Step: r.roadStep, DamperBounds: damperBounds,
	}
	if r.opt.MountSlope > 0 {
		r.counted[u] = make([][4]float64, len(r.s.designs))
	}
	return r.runAll(ctx, c.load, run, r.counted[u])
}

func (r *riding) driveEvent(ctx context.Context, e int) ([]ride.Result, []error, error) {
	c := &r.events[e]
	wheelbase := r.s.job.Car.Wheelbase.Value
	way, finer, duration, err := c.courses(wheelbase, r.eventStep, !r.opt.Unchecked)
	if err != nil {
		return nil, nil, err
	}
	return r.runAll(ctx, c.load, ride.Run{Course: way, Finer: finer, Duration: duration, StopForces: r.opt.StopForces, Step: r.eventStep, Event: true}, nil)
}

// runAll drives all builds. counted, where given, gets what goes through each
// build's upper mounts.
func (r *riding) runAll(ctx context.Context, load int, run ride.Run, counted [][4]float64) ([]ride.Result, []error, error) {
	n := len(r.s.designs)
	results, errs := make([]ride.Result, n), make([]error, n)
	for b := range n {
		if r.keepsDrives(b) {
			continue
		}
		k := [2]int{b, load}
		m := r.models[k]
		if m == nil {
			errs[b] = r.faults[k]
			continue
		}
		var mounts *mountCount
		if counted != nil {
			mounts = r.newMountCount(m, b, &run)
		}
		if r.opt.Unchecked {
			errs[b] = m.Simulate(ctx, run, &results[b])
		} else {
			errs[b] = m.SimulateChecked(ctx, run, r.opt.Tolerance, &results[b])
		}
		if mounts != nil {
			counted[b] = mounts.close()
		}
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
	}
	return results, errs, nil
}

// How the runs of a ride value were computed.
const (
	rideMethod      = "Each run by time simulation of seven degrees of freedom; ISO 8608 road, ISO 2631-1:1997 weighting."
	screeningMethod = "By stochastic linearisation of seven degrees of freedom; ISO 8608 road, ISO 2631-1:1997 weighting."
)

// add puts one value with its working into the answer.
func (r *riding) add(code string, p figure.Place, tier figure.Tier, samples []float64, notes []string, state figure.State, reason string) {
	v := figure.Value{Code: code, Place: p, Tier: tier, State: state, Reason: reason, Warnings: notes}
	if v.Place.At == "" {
		e := figure.Must(code)
		v.Place.At = e.At
	}
	if state == figure.Unknown {
		v.Value = math.NaN()
		r.a.Values = append(r.a.Values, v)
		return
	}
	mean, half, ok := studentHalf(samples)
	v.Value = mean
	if ok {
		v.Low, v.High, v.HasBand, v.BandOf = mean-half, mean+half, true, figure.OfRuns
		if mean >= 0 && v.Low < 0 {
			v.Low = 0
		}
	}
	if !r.s.opt.NoWorkings && !r.bare {
		v.Working = meanWorking(code, samples, tier, r.s.given(p.Build, p.Load))
	}
	r.a.Values = append(r.a.Values, v)
}

// meanWorking shows a ride value as the mean of its runs, with what the runs were
// given.
func meanWorking(code string, samples []float64, tier figure.Tier, given []*figure.Input) *figure.Working {
	e := figure.Must(code)
	terms := make([]figure.Term, 0, len(samples))
	for k, x := range samples {
		terms = append(terms, figure.Among("x_"+strconv.Itoa(k+1), "of one run: "+figure.OfRun(code), e.Unit, x))
	}
	w := e.Law().Of(terms...)
	w.Given, w.Note = given, rideMethod
	if tier == figure.Screening {
		w.Note = screeningMethod
	}
	return w
}

// roadQuantities are what a road run says about a corner.
var roadQuantities = []struct {
	code string
	of   func(c *ride.CornerResult) float64
}{
	{"tyre-load-variation", func(c *ride.CornerResult) float64 { return c.LoadVariation }},
	{"tyre-light-share", func(c *ride.CornerResult) float64 { return c.LowLoad }},
	{"stop-force-peak", func(c *ride.CornerResult) float64 { return c.StopPeak }},
	{"stop-time-share", func(c *ride.CornerResult) float64 { return c.StopTime }},
	{"travel-peak-bump", func(c *ride.CornerResult) float64 { return c.TravelMax }},
	{"travel-peak-droop", func(c *ride.CornerResult) float64 { return c.TravelMin }},
	{"damper-power", func(c *ride.CornerResult) float64 { return c.Power }},
	{"mean-sink", func(c *ride.CornerResult) float64 { return c.TravelMean }},
}

// reportRoad turns the samples of one road and build into values.
func (r *riding) reportRoad(c, b int, results [][]ride.Result, errs [][]error) {
	rc := &r.roads[c]
	p := r.s.roadPlace(b, rc.load)
	p.Road, p.Speed = rc.name, rc.speed
	for k := range results {
		if err := errs[k][b]; err != nil {
			r.a.Failures = append(r.a.Failures, Failure{Build: p.Build, Load: p.Load, Err: fmt.Errorf("%s: %w", rc.name, err)})
			r.add("floor-acceleration", p, figure.Time, nil, nil, figure.Unknown, "the run did not come to its end")
			return
		}
	}
	of := func(get func(*ride.Result) float64) []float64 {
		out := make([]float64, len(results))
		for k := range results {
			out[k] = get(&results[k][b])
		}
		return out
	}
	notes := runNotes(of)
	for k, f := range results[0][b].Floor {
		q := p
		q.At = f.Name
		r.add("floor-acceleration", q, figure.Time, of(func(x *ride.Result) float64 { return x.Floor[k].Comfort.RMS }), notes, figure.OK, "")
		r.add("vibration-dose", q, figure.Time, of(func(x *ride.Result) float64 { return x.Floor[k].Comfort.VDV }), notes, figure.OK, "")
	}
	for i := range 4 {
		q := p
		q.Corner = i
		state, reason := figure.OK, ""
		for _, x := range of(func(x *ride.Result) float64 { return x.Corners[i].Outside }) {
			if x > 0 {
				state, reason = figure.Outside, "the stop was driven past the end of its table"
			}
		}
		for _, quantity := range roadQuantities {
			s, why := figure.OK, ""
			if quantity.code == "stop-force-peak" || quantity.code == "travel-peak-bump" {
				s, why = state, reason
			}
			r.add(quantity.code, q, figure.Time, of(func(x *ride.Result) float64 { return quantity.of(&x.Corners[i]) }), notes, s, why)
		}
		for h := range results[0][b].Corners[i].StopHits {
			q.Threshold = results[0][b].Corners[i].StopHits[h].Force
			r.add("stop-hits", q, figure.Time, of(func(x *ride.Result) float64 { return x.Corners[i].StopHits[h].PerMetre }), notes, figure.OK, "")
		}
		for k := range results[0][b].Corners[i].DamperShares {
			sq := withoutForce(q)
			sq.Mode = speedRange(k, len(results[0][b].Corners[i].DamperShares))
			r.add("damper-speed-share", sq, figure.Time, of(func(x *ride.Result) float64 { return x.Corners[i].DamperShares[k] }), notes, figure.OK, "")
		}
		r.add("damper-travel-used", withoutForce(q), figure.Time, of(func(x *ride.Result) float64 {
			return used(&r.a.Cases[b][rc.load], r.models[[2]int{b, rc.load}], i, x.Corners[i].TravelMax)
		}), notes, state, reason)
		r.distribution(p, i, &results[0][b])
	}
}

// damperBounds are the damper speeds between low, mid and high. No standard
// fixes them: common practice, no source. [m/s]
var damperBounds = []float64{0.05, 0.15}

// speedRange names one of the ranges between the bounds.
func speedRange(k, n int) string {
	switch {
	case k == 0:
		return "low"
	case k == n-1:
		return "high"
	}
	return "mid"
}

// withoutForce is a place without a threshold.
func withoutForce(p figure.Place) figure.Place {
	p.Threshold = 0
	return p
}

// used is the damper travel to a wheel travel from where the drive starts.
func used(c *Case, driven *ride.Model, i int, deepest float64) float64 {
	m := &c.System.Corner[i]
	top, _, _ := m.DamperTravel.At(deepest)
	rest, _, _ := m.DamperTravel.At(driven.Rest().Travel[i])
	return top - rest
}

// runNotes are the doubts of the runs behind a value.
func runNotes(of func(func(*ride.Result) float64) []float64) []string {
	worst := 0.0
	for _, x := range of(func(x *ride.Result) float64 { return x.Check.Worst() }) {
		worst = math.Max(worst, x)
	}
	if worst > 0.02 {
		return []string{"step-not-settled"}
	}
	return nil
}

// distribution keeps how a wheel's travel is spread over a road, for the
// travel strips: travel over the share of the time below it.
func (r *riding) distribution(p figure.Place, i int, x *ride.Result) {
	c := Curve{
		Code: "travel-distribution", Build: p.Build, Load: p.Load, Corner: i, Road: p.Road, Speed: p.Speed,
		XName: "share of time below", YName: "wheel travel", XUnit: "1", YUnit: "m",
	}
	for _, share := range []float64{0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999} {
		c.X, c.Y = append(c.X, share), append(c.Y, x.Corners[i].TravelAt(share))
	}
	r.a.Curves = append(r.a.Curves, c)
}

// reportEvent turns one obstacle and build into values.
func (r *riding) reportEvent(e, b int, cs *Case, m *ride.Model, x *ride.Result, err error) {
	ec := &r.events[e]
	p := r.s.roadPlace(b, ec.load)
	p.Event, p.Speed = ec.name, ec.speed
	if err != nil {
		r.a.Failures = append(r.a.Failures, Failure{Build: p.Build, Load: p.Load, Err: fmt.Errorf("%s: %w", ec.name, err)})
		r.add("body-acceleration-peak", p, figure.Time, nil, nil, figure.Unknown, "the run did not come to its end")
		return
	}
	notes := runNotes(func(get func(*ride.Result) float64) []float64 { return []float64{get(x)} })
	one := func(v float64) []float64 { return []float64{v} }
	r.add("body-acceleration-peak", p, figure.Time, one(x.Event.Acceleration), notes, figure.OK, "")
	for axle, name := range [2]string{"front", "rear"} {
		q := p
		q.Mode = name
		d := &x.Event.Decay[axle]
		if !d.Excited {
			const hardly = "this obstacle hardly moves the body over that axle"
			r.add("settling-time", q, figure.Time, nil, notes, figure.Unknown, hardly)
			r.add("bounce-left", q, figure.Time, nil, notes, figure.Unknown, hardly)
			continue
		}
		if d.Settling < 0 {
			r.add("settling-time", q, figure.Time, nil, notes, figure.Unknown, "the body had not settled at the end of the run")
		} else {
			r.add("settling-time", q, figure.Time, one(d.Settling), notes, figure.OK, "")
		}
		r.add("bounce-left", q, figure.Time, one(d.Second), notes, figure.OK, "")
	}
	r.reportFlight(p, x, notes)
	for i := range 4 {
		q := p
		q.Corner = i
		c := &x.Corners[i]
		state, reason := stopState(c)
		r.add("stop-force-peak", q, figure.Time, one(c.StopPeak), notes, state, reason)
		r.add("travel-peak-bump", q, figure.Time, one(c.TravelMax), notes, state, reason)
		r.add("travel-peak-droop", q, figure.Time, one(c.TravelMin), notes, figure.OK, "")
		r.add("damper-travel-used", q, figure.Time, one(used(cs, m, i, c.TravelMax)), notes, state, reason)
		r.add("tyre-light-share", q, figure.Time, one(c.LowLoad), notes, figure.OK, "")
		r.add("top-out-speed", q, figure.Time, one(c.TopOutSpeed), notes, figure.OK, "")
	}
}

// reportFlight turns what left the ground into values; how high and how hard it
// lands only where it flew.
func (r *riding) reportFlight(p figure.Place, x *ride.Result, notes []string) {
	add := func(code string, p figure.Place, v float64, state figure.State, reason string) {
		r.add(code, p, figure.Time, []float64{v}, notes, state, reason)
	}
	f := &x.Event.Flight
	add("flight-time", p, f.Time, figure.OK, "")
	if f.Time > 0 {
		add("flight-height", p, f.Height, figure.OK, "")
	}
	for i := range 4 {
		p.Corner = i
		add("wheel-off-time", p, f.Off[i], figure.OK, "")
		if f.Time > 0 {
			state, reason := stopState(&x.Corners[i])
			add("landing-load", p, f.Load[i], state, reason)
			add("landing-stop-force", p, f.Stop[i], state, reason)
		}
	}
}

// stopState says whether a stop stayed within its table.
func stopState(c *ride.CornerResult) (figure.State, string) {
	if c.Outside > 0 {
		return figure.Outside, "the stop was driven past the end of its table"
	}
	return figure.OK, ""
}

// screen estimates from the spectrum what was not driven in time.
func (r *riding) screen(ctx context.Context) error {
	driven := make(map[string]bool)
	if !r.opt.EventsOnly {
		for _, c := range r.roads {
			driven[fmt.Sprint(c.name, c.speed, c.load)] = true
		}
	}
	type estimate struct {
		place figure.Place
		model *ride.Model
		grid  *screening.Grid
		rest  [4]float64 // wheel travel [m]
	}
	var list []estimate
	seen := make(map[string]bool)
	for _, c := range r.roads {
		if k := fmt.Sprint(c.name, c.speed); seen[k] || c.measured != nil {
			continue
		} else {
			seen[k] = true
		}
		grid, err := screening.NewGrid(screening.Road{
			Spectrum: c.spectrum, Speed: c.speed, Wheelbase: r.s.job.Car.Wheelbase.Value,
			Track: 0.5 * (r.s.job.Car.Track[0].Value + r.s.job.Car.Track[1].Value), Contact: ContactLength,
		})
		if err != nil {
			continue
		}
		for b := range r.s.designs {
			for l := range r.s.job.Loads {
				if r.opt.ScreenIn != "" && r.s.job.Loads[l].ID != r.opt.ScreenIn && l != c.load || r.keepsDrives(b) {
					continue
				}
				if m := r.models[[2]int{b, l}]; m != nil && !driven[fmt.Sprint(c.name, c.speed, l)] {
					p := r.s.roadPlace(b, l)
					p.Road, p.Speed = c.name, c.speed
					list = append(list, estimate{p, m, grid, m.Rest().Travel})
				}
			}
		}
	}
	parts := make([]Answer, len(list))
	err := spread.Each(ctx, len(list), r.s.opt.Workers, func(_, k int) {
		own := *r
		own.a = &parts[k]
		own.reportScreened(list[k].place, list[k].model, list[k].grid, list[k].rest)
	})
	for k := range parts {
		r.a.take(&parts[k])
	}
	return err
}

func (r *riding) reportScreened(p figure.Place, m *ride.Model, grid *screening.Grid, rest [4]float64) {
	x, err := screening.Solve(m, grid)
	if err != nil {
		r.add("floor-acceleration", p, figure.Screening, nil, nil, figure.Unknown, withheld(err))
		return
	}
	one := func(v float64) []float64 { return []float64{v} }
	for k := range x.Floor {
		q := p
		q.At = x.Floor[k].Name
		r.add("floor-acceleration", q, figure.Screening, one(x.Floor[k].Weighted), nil, figure.OK, "")
	}
	for i := range 4 {
		q := p
		q.Corner = i
		r.add("tyre-load-variation", q, figure.Screening, one(x.Corners[i].LoadVariation), nil, figure.OK, "")
		r.add("damper-power", q, figure.Screening, one(x.Corners[i].Power), nil, figure.OK, "")
		r.add("mean-sink", q, figure.Screening, one(x.Corners[i].TravelMean), nil, figure.OK, "")
		r.normalTravel(p, i, &x.Corners[i], rest[i])
	}
}

// normalTravel keeps how a wheel's travel is spread over a road that was
// screened: normal, as the estimate takes it to be.
func (r *riding) normalTravel(p figure.Place, i int, x *screening.Corner, rest float64) {
	if !(x.Travel > 0) {
		return
	}
	c := Curve{
		Code: "travel-distribution", Build: p.Build, Load: p.Load, Corner: i, Road: p.Road, Speed: p.Speed,
		XName: "share of time below", YName: "wheel travel", XUnit: "1", YUnit: "m",
	}
	for z := -3.0; z <= 3; z += 0.25 {
		c.X, c.Y = append(c.X, 0.5*math.Erfc(-z/math.Sqrt2)), append(c.Y, rest+x.TravelMean+z*x.Travel)
	}
	r.a.Curves = append(r.a.Curves, c)
}

// withheld says in a word why the spectrum gives no answer.
func withheld(err error) string {
	var w *screening.WithheldError
	if !errors.As(err, &w) || len(w.Reasons) == 0 {
		return "the spectrum gives no answer here"
	}
	switch w.Reasons[0].Cause {
	case screening.StopShare, screening.Contact:
		return "withheld: the stop takes part too much for a spectrum; drive it in time"
	case screening.Lift:
		return "withheld: a tyre leaves the ground too often for a spectrum; drive it in time"
	case screening.Stuck:
		return "withheld: friction holds the damper most of the time"
	case screening.NotConverged, screening.NotFinite:
	}
	return "withheld: the estimate does not settle"
}

// What is drawn for an obstacle beside the inputs of the job.
const (
	// speedHeld is the half-width of the 95 % band within which a driver holds the speed of an obstacle, as a share of
	// it: common practice, no source. [-]
	speedHeld = 0.02
	// drawsTogether is how many draws go side by side, so that lanes are full with one build too.
	drawsTogether = 4
	// leastDrawn is the share of the draws that must have given a figure before they are its band. [-]
	leastDrawn = 0.75
)

// drawnAt is one figure of one obstacle and build.
type drawnAt struct {
	code  string
	place figure.Place
}

// drawEvents drives every obstacle over draws of the car and of the drive, the same draws for all builds, and puts the
// bands beside the nominal figures:
//
//	low, high = nominal ± 1.96·s,   s the standard deviation over the draws
//
// Drawn are the inputs of the job (readings, parts, friction, stop curves, tyres), the speed, and where within a step the
// obstacle's edge falls. Friction holds no wheel: the drive shakes it loose.
//
// Source: simulation by draws as for every other band; the half-width by the deviation, because a few draws know it better
// than they know the ends.
func (r *riding) drawEvents(ctx context.Context) error {
	n := r.opt.Draws
	if n < 2 || len(r.events) == 0 {
		return nil
	}
	// The last two dimensions are the drive's own.
	inputs := len(r.s.banded)
	table := spread.NewTable(r.opt.Seed^0x5bd1e995, n, inputs+2, r.s.opt.Workers)
	chunks := (n + drawsTogether - 1) / drawsTogether
	found := make([]map[drawnAt]float64, n)
	var once sync.Mutex
	var failure error
	err := spread.Each(ctx, chunks, r.s.opt.Workers, func(_, c int) {
		from := c * drawsTogether
		if err := r.drawChunk(ctx, table, inputs, found[from:min(from+drawsTogether, n)], from); err != nil {
			once.Lock()
			failure = err
			once.Unlock()
		}
	})
	if err != nil {
		return err
	}
	if failure != nil {
		return failure
	}
	for i := range r.a.Values {
		v := &r.a.Values[i]
		if v.Place.Event == "" || v.HasBand || v.State == figure.Unknown {
			continue
		}
		var sum, sum2 float64
		got := 0
		for k := range found {
			if x, ok := found[k][drawnAt{v.Code, v.Place}]; ok {
				got++
				sum += x - v.Value
				sum2 += (x - v.Value) * (x - v.Value)
			}
		}
		if float64(got) < leastDrawn*float64(n) {
			continue
		}
		mean := sum / float64(got)
		half := 1.959964 * math.Sqrt(math.Max(sum2-mean*sum, 0)/float64(got-1))
		v.Low, v.High, v.HasBand, v.BandOf = v.Value-half, v.Value+half, true, figure.OfDraws
		if v.Value >= 0 && v.Low < 0 && neverNegative(found, v) {
			v.Low = 0
		}
	}
	return nil
}

// neverNegative says that no draw of a figure is below nothing.
func neverNegative(found []map[drawnAt]float64, v *figure.Value) bool {
	for k := range found {
		if found[k][drawnAt{v.Code, v.Place}] < 0 {
			return false
		}
	}
	return true
}

// drawnCar is one build in one load state under one draw.
type drawnCar struct {
	at    [3]int // draw of the chunk, build, load state
	one   Case
	model *ride.Model
}

// drawChunk drives a few draws and fills what each finds.
func (r *riding) drawChunk(ctx context.Context, table *spread.Table, inputs int, found []map[drawnAt]float64, first int) error {
	s := r.s
	loads := map[int]bool{}
	for e := range r.events {
		loads[r.events[e].load] = true
	}
	cars := map[[3]int]*drawnCar{}
	own := make([][]figure.Variate, len(found))
	for k := range found {
		found[k] = map[drawnAt]float64{}
		all := table.Draw(first + k)
		own[k] = all[inputs:]
		d := figure.DrawOf(all[:inputs])
		base := equilibrium.Calibrate(s.fitted, s.hangup, d)
		for b, ds := range s.designs {
			if r.keepsDrives(b) {
				continue
			}
			sys, err := equilibrium.NewSystem(ds, &base, s.hangup, d)
			if err != nil {
				continue
			}
			sys.Stuck = [4]float64{}
			for l := range loads {
				nominal := &r.a.Cases[b][l]
				if nominal.Err != nil {
					continue
				}
				c := &drawnCar{at: [3]int{k, b, l}, one: Case{System: sys}}
				if c.one.State, err = c.one.System.Solve(equilibrium.Of(s.job.Loads[l].Items, d), &nominal.State); err != nil {
					continue
				}
				if c.model, err = ride.Compile(s.rider(&c.one, b, l, d)); err != nil {
					continue
				}
				cars[c.at] = c
			}
		}
	}
	for e := range r.events {
		if err := r.drawEvent(ctx, e, cars, own, found); err != nil {
			return err
		}
	}
	return nil
}

// drawEvent drives all cars of a chunk over one obstacle.
func (r *riding) drawEvent(ctx context.Context, e int, cars map[[3]int]*drawnCar, own [][]figure.Variate, found []map[drawnAt]float64) error {
	ec := &r.events[e]
	p, err := ec.laid(ec.grid(r.eventStep))
	if err != nil {
		return err
	}
	duration := ec.duration(&p, r.s.job.Car.Wheelbase.Value)
	var list []*drawnCar
	var models []*ride.Model
	var runs []ride.Run
	var results []*ride.Result
	for k := range own {
		speed := ec.speed * (1 + speedHeld*own[k][0].Normal95)
		// A flat road lies before the obstacle: moving all of it moves where the edge falls.
		moved := p
		moved.Start += own[k][1].Uniform * 0.5 * speed * r.eventStep
		var way *ride.Course
		for b := range r.s.designs {
			c := cars[[3]int{k, b, ec.load}]
			if c == nil {
				continue
			}
			if way == nil {
				if way, err = course(&moved, c.one.System.Behind[2], speed, duration, r.eventStep); err != nil {
					return err
				}
			}
			list, models = append(list, c), append(models, c.model)
			runs = append(runs, ride.Run{Course: way, Duration: duration, StopForces: r.opt.StopForces, Step: r.eventStep, Event: true})
			results = append(results, new(ride.Result))
		}
	}
	for k, err := range ride.SimulateEach(ctx, r.opt.Lanes, models, runs, results) {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			continue // a draw that leaves the model says nothing
		}
		c := list[k]
		took := riding{a: new(Answer), s: r.s, opt: r.opt, events: r.events, bare: true}
		took.reportEvent(e, c.at[1], &c.one, c.model, results[k], nil)
		for i := range took.a.Values {
			if v := &took.a.Values[i]; v.State != figure.Unknown {
				found[c.at[0]][drawnAt{v.Code, v.Place}] = v.Value
			}
		}
	}
	return nil
}
