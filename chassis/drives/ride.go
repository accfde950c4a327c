package drives

import (
	"context"
	"errors"
	"math"
	"sync"
	"sync/atomic"

	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/route"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// Options are how the brief's roads and events are driven.
type Options struct {
	Samples    int       // of each road: the band comes from them; the first is driven again at half the step
	Duration   float64   // of each sample [s]
	Settle     float64   // run in before counting [s]
	StopForces []float64 // from which a hit counts; nil: those of the brief, or by the car's weight [N]
	Tolerance  float64   // on the change by halving the step [-]
	Seed       uint64
	EventsOnly bool // leave the roads to the screening tier
	Unchecked  bool // leave out the second run at half the step: for a try
	// Draws is how often each obstacle is driven with another draw of the car, for the bands of its figures; less than 2
	// gives none. Every sample of a road is then driven with a draw of its own too. The drive of one place alone, and a
	// try, have none.
	Draws  int
	Lanes  ride.Lanes // in which those are driven side by side
	Mounts bool       // count what goes through the upper mounts
	// ScreenIn, where given, is the one load state that is screened beside each
	// road's own.
	ScreenIn string
	// Profile, where given, is driven in place of the brief's roads, at these
	// speeds and in this load state, once and over its whole length.
	Profile     *road.Profile
	ProfileName string
	Speeds      []float64 // [m/s]
	Load        string
	// Only, where given, drives nothing but the roads and speeds, and the events, of
	// these places, and screens nothing.
	Only []figure.Place
}

// EventDraws is how often an assessment drives each obstacle with another draw of the car: with 16 draws a half-width is
// known to a fifth (one standard deviation). Chosen.
const EventDraws = 16

// Defaults are the options of an assessment: four samples of 15 s, and each obstacle over draws of the car. The lanes are
// those of 64 bits, which print the same as one car alone.
func Defaults() Options {
	return Options{Samples: 4, Duration: 17, Settle: 2, Tolerance: 0.01, Seed: 1, Mounts: true, Draws: EventDraws, Lanes: ride.Four}
}

// Ride drives every build over the brief's roads and events in time, and
// estimates the load states the brief does not name from the spectrum. All
// builds meet the very same roads. progress may be nil; it is called from
// several goroutines.
func Ride(ctx context.Context, a *study.Answer, opt Options, progress func(done, total int)) error {
	return RideLaid(ctx, a, opt, new(route.Laid), progress)
}

// RideLaid drives over roads of which some may have been laid before, for an answer to
// the same job.
func RideLaid(ctx context.Context, a *study.Answer, opt Options, lay *route.Laid, progress func(done, total int)) error {
	if !a.Computed() {
		return errNotComputed
	}
	defer a.Forget()
	roads, err := route.Roads(&a.Job, opt.Only)
	if opt.Profile != nil {
		opt.Samples = 1
		roads, err = route.Over(&a.Job, opt.Profile, opt.ProfileName, opt.Speeds, opt.Load)
	}
	if err != nil {
		return err
	}
	events, err := route.Obstacles(&a.Job, opt.Only)
	if err != nil {
		return err
	}
	if opt.StopForces == nil {
		opt.StopForces = a.StopForces()
	}
	r := &riding{a: a, out: new(study.Answer), opt: opt, roads: roads, events: events, models: make(map[[2]int]*ride.Model), faults: make(map[[2]int]error), laid: lay}
	r.compile()
	r.kept = &kept{options: opt, steps: [2]float64{r.roadStep, r.eventStep}}
	a.Driven = r.kept
	if len(r.models) == 0 {
		return nil // no case has a rest to drive from; the failures say why
	}
	if err := r.drive(ctx, progress); err != nil {
		return err
	}
	a.Take(r.out)
	return nil
}

// errNotComputed is returned for an answer that was read back from somewhere.
var errNotComputed = errors.New("drives: an answer that was not computed here cannot be driven")

type riding struct {
	a      *study.Answer // that is driven: only read
	out    *study.Answer // what is found
	kept   *kept
	opt    Options
	roads  []route.Road
	events []route.Obstacle
	models map[[2]int]*ride.Model // by build and load state
	faults map[[2]int]error
	// The steps are the shortest that any build asks for, so that all meet the
	// same heights.
	roadStep, eventStep float64      // [s]
	counted             [][]mountWay // per road unit and build
	bare                bool         // values without workings
	laid                *route.Laid
}

// compile makes the ride models of all cases that are driven or screened.
func (r *riding) compile() {
	r.roadStep, r.eventStep = math.Inf(1), math.Inf(1)
	loads := map[int]bool{}
	for i := range r.roads {
		loads[r.roads[i].Load] = true
	}
	for i := range r.events {
		loads[r.events[i].Load] = true
	}
	for b := range r.a.Job.Builds {
		for l := range r.a.Job.Loads {
			if r.opt.Only != nil && !loads[l] {
				continue
			}
			k := [2]int{b, l}
			c := &r.a.Cases[b][l]
			if c.Err != nil {
				r.faults[k] = c.Err
				continue
			}
			m, err := ride.Compile(rider(&r.a.Job, c, b, l, nil))
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
	roadUnits := 0
	if !r.opt.EventsOnly {
		roadUnits = len(r.roads) * r.opt.Samples
	}
	units, whole := roadUnits+len(r.events), roadUnits+len(r.events)
	if r.drawsRoads() {
		whole += roadUnits
	}
	results := make([][]ride.Result, units) // per unit, one a build
	errs := make([][]error, units)
	var done atomic.Int64
	var once sync.Mutex
	var failure error
	step := func() {
		if progress != nil {
			progress(int(done.Add(1)), whole)
		}
	}
	r.counted = make([][]mountWay, roadUnits)
	unit := func(u int) {
		var err error
		if u < roadUnits {
			// The step is the model's, the speed's and the spectrum's: what holds for
			// the first sample of a road holds for the others.
			var first []ride.Result
			if k := u % r.opt.Samples; k > 0 {
				first = results[u-k]
			}
			results[u], errs[u], err = r.driveRoad(ctx, u, first)
		} else {
			results[u], errs[u], err = r.driveEvent(ctx, u-roadUnits)
		}
		if err != nil {
			once.Lock()
			failure = errors.Join(failure, err)
			once.Unlock()
		}
		step()
	}
	var early, late []int
	for u := range units {
		if u < roadUnits && u%r.opt.Samples > 0 {
			late = append(late, u)
		} else {
			early = append(early, u)
		}
	}
	var err error
	for _, list := range [][]int{early, late} {
		if err == nil && failure == nil {
			err = spread.Each(ctx, len(list), r.a.Options.Workers, func(_, k int) { unit(list[k]) })
		}
	}
	if err != nil {
		return err
	}
	if failure != nil {
		return failure
	}
	if !r.opt.EventsOnly {
		for c := range r.roads {
			for b := range r.a.Job.Builds {
				if r.keepsDrives(b) {
					continue
				}
				r.reportRoad(c, b, results[c*r.opt.Samples:(c+1)*r.opt.Samples], errs[c*r.opt.Samples:(c+1)*r.opt.Samples])
			}
		}
	}
	if r.drawsRoads() {
		if err := r.drawRoads(ctx, results[:roadUnits], step); err != nil {
			return err
		}
	}
	if r.opt.Only == nil {
		if err := r.screen(ctx); err != nil {
			return err
		}
	}
	for e := range r.events {
		for b := range r.a.Job.Builds {
			if r.keepsDrives(b) {
				continue
			}
			u := roadUnits + e
			m := r.models[[2]int{b, r.events[e].Load}]
			r.reportEvent(e, b, &r.a.Cases[b][r.events[e].Load], m, &results[u][b], errs[u][b])
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

// driveRoad drives all builds over one sample of one road; first is how they went over
// the road's first, nil for that itself.
func (r *riding) driveRoad(ctx context.Context, u int, first []ride.Result) ([]ride.Result, []error, error) {
	c := &r.roads[u/r.opt.Samples]
	p, duration, err := r.sample(u)
	if err != nil {
		return nil, nil, err
	}
	run, err := r.over(p, c.Speed, duration, r.a.Job.Car.Wheelbase.Value, r.roadStep/2)
	if err != nil {
		return nil, nil, err
	}
	if r.opt.Mounts {
		r.counted[u] = make([]mountWay, len(r.a.Job.Builds))
	}
	return r.runAll(ctx, c.Load, run, r.counted[u], first)
}

// sample lays one sample of one road, and says how long it is driven [s].
func (r *riding) sample(u int) (*road.Profile, float64, error) {
	c := &r.roads[u/r.opt.Samples]
	duration := r.opt.Duration
	if c.Measured != nil {
		from, to := c.Measured.Extent()
		duration = (to - from) / c.Speed
	}
	p, err := r.laid.Sample(c, u%r.opt.Samples, r.opt.Seed, c.Speed*duration+r.a.Job.Car.Wheelbase.Value+10)
	return p, duration, err
}

// over is the run of a car over a laid road, whose heights stand a grid of time apart [s].
func (r *riding) over(p *road.Profile, speed, duration, wheelbase, grid float64) (ride.Run, error) {
	way, err := route.Course(p, wheelbase, speed, duration, grid)
	return ride.Run{
		Course: way, Duration: duration, Settle: math.Min(r.opt.Settle, duration/4), StopForces: r.opt.StopForces, Step: r.roadStep, DamperBounds: damperBounds,
	}, err
}

func (r *riding) driveEvent(ctx context.Context, e int) ([]ride.Result, []error, error) {
	c := &r.events[e]
	wheelbase := r.a.Job.Car.Wheelbase.Value
	way, finer, duration, err := c.Courses(wheelbase, r.eventStep, !r.opt.Unchecked)
	if err != nil {
		return nil, nil, err
	}
	return r.runAll(ctx, c.Load, ride.Run{Course: way, Finer: finer, Duration: duration, StopForces: r.opt.StopForces, Step: r.eventStep, Event: true}, nil, nil)
}

// runAll drives all builds, each at half the step too but where first, how it went over
// another stretch, found the step short enough. counted, where given, gets what goes
// through each build's upper mounts.
func (r *riding) runAll(ctx context.Context, load int, run ride.Run, counted []mountWay, first []ride.Result) ([]ride.Result, []error, error) {
	n := len(r.a.Job.Builds)
	results, errs := make([]ride.Result, n), make([]error, n)
	if r.opt.Unchecked && n > 1 && !r.opt.Mounts {
		r.runTogether(ctx, load, &run, results, errs)
		return results, errs, ctx.Err()
	}
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
		once := r.opt.Unchecked || first != nil && first[b].Check.Halvings == 0 && first[b].Check.Worst() > 0 && first[b].Check.Worst() <= r.opt.Tolerance
		var mounts *mountCount
		if counted != nil {
			mounts = r.newMountCount(m, b, &run, once)
		}
		if once {
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

// runTogether drives all builds of a try side by side, in lanes where there are any.
func (r *riding) runTogether(ctx context.Context, load int, run *ride.Run, results []ride.Result, errs []error) {
	var models []*ride.Model
	var at []int
	for b := range r.a.Job.Builds {
		switch m := r.models[[2]int{b, load}]; {
		case r.keepsDrives(b):
		case m == nil:
			errs[b] = r.faults[[2]int{b, load}]
		default:
			models, at = append(models, m), append(at, b)
		}
	}
	runs, into := make([]ride.Run, len(models)), make([]*ride.Result, len(models))
	for k := range models {
		runs[k], into[k] = *run, &results[at[k]]
	}
	for k, err := range ride.SimulateEach(ctx, r.opt.Lanes, models, runs, into) {
		errs[at[k]] = err
	}
}
