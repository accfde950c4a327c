package drives

import (
	"context"
	"math"
	"sync"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/route"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// How drives are drawn.
const (
	// speedHeld is the half-width of the 95 % band within which a driver holds the speed of an obstacle, as a share of
	// it: common practice, no source. [-]
	speedHeld = 0.02
	// drawsTogether is how many draws go side by side, so that lanes are full with one build too.
	drawsTogether = 4
	// drawnSeed keeps these draws apart from those of the roads' own chance.
	drawnSeed = 0x5bd1e995
	// leastDrawn is the share of the draws that must have given a figure before they are its band. [-]
	leastDrawn = 0.75
)

// drawnAt is one figure of one road or obstacle and build.
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
	inputs := r.a.InputsDrawn()
	table := spread.NewTable(r.opt.Seed^drawnSeed, n, inputs+2, r.a.Options.Workers)
	chunks := (n + drawsTogether - 1) / drawsTogether
	found := make([]map[drawnAt]float64, n)
	var once sync.Mutex
	var failure error
	err := spread.Each(ctx, chunks, r.a.Options.Workers, func(_, c int) {
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
	for i := range r.out.Values {
		v := &r.out.Values[i]
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
		half := spread.Normal95 * math.Sqrt(math.Max(sum2-mean*sum, 0)/float64(got-1))
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
	one   study.Case
	model *ride.Model
}

// drawChunk drives a few draws and fills what each finds.
func (r *riding) drawChunk(ctx context.Context, table *spread.Table, inputs int, found []map[drawnAt]float64, first int) error {
	loads := map[int]bool{}
	for e := range r.events {
		loads[r.events[e].Load] = true
	}
	cars := map[[3]int]*drawnCar{}
	own := make([][]figure.Variate, len(found))
	for k := range found {
		found[k] = map[drawnAt]float64{}
		all := table.Draw(first + k)
		own[k] = all[inputs:]
		r.drawCars(cars, k, figure.DrawOf(all[:inputs]), loads)
	}
	for e := range r.events {
		if err := r.drawEvent(ctx, e, cars, own, found); err != nil {
			return err
		}
	}
	return nil
}

// drawCars adds the builds in some load states under one draw; a case that does not rest
// under it is left out.
func (r *riding) drawCars(cars map[[3]int]*drawnCar, k int, d figure.Draw, loads map[int]bool) {
	car := r.a.Drawn(d)
	for b := range r.a.Job.Builds {
		if r.keepsDrives(b) {
			continue
		}
		sys, err := car.Build(b)
		if err != nil {
			continue
		}
		sys.Stuck = [4]float64{}
		for l := range loads {
			nominal := &r.a.Cases[b][l]
			if nominal.Err != nil {
				continue
			}
			c := &drawnCar{at: [3]int{k, b, l}, one: study.Case{System: sys}}
			if c.one.State, err = c.one.System.Solve(equilibrium.Of(r.a.Job.Loads[l].Items, d), &nominal.State); err != nil {
				continue
			}
			if c.model, err = ride.Compile(rider(&r.a.Job, &c.one, b, l, d)); err != nil {
				continue
			}
			cars[c.at] = c
		}
	}
}

// drawEvent drives all cars of a chunk over one obstacle.
func (r *riding) drawEvent(ctx context.Context, e int, cars map[[3]int]*drawnCar, own [][]figure.Variate, found []map[drawnAt]float64) error {
	ec := &r.events[e]
	p, err := ec.Lay(ec.Grid(r.eventStep))
	if err != nil {
		return err
	}
	duration := ec.Duration(&p, r.a.Job.Car.Wheelbase.Value)
	var list []*drawnCar
	var models []*ride.Model
	var runs []ride.Run
	var results []*ride.Result
	for k := range own {
		speed := ec.Speed * (1 + speedHeld*own[k][0].Normal95)
		// A flat road lies before the obstacle: moving all of it moves where the edge falls.
		moved := p
		moved.Start += own[k][1].Uniform * 0.5 * speed * r.eventStep
		var way *ride.Course
		for b := range r.a.Job.Builds {
			c := cars[[3]int{k, b, ec.Load}]
			if c == nil {
				continue
			}
			if way == nil {
				if way, err = route.Course(&moved, c.one.System.Behind[2], speed, duration, r.eventStep); err != nil {
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
		took := riding{a: r.a, out: new(study.Answer), opt: r.opt, events: r.events, bare: true}
		took.reportEvent(e, c.at[1], &c.one, c.model, results[k], nil)
		for i := range took.out.Values {
			if v := &took.out.Values[i]; v.State != figure.Unknown {
				found[c.at[0]][drawnAt{v.Code, v.Place}] = v.Value
			}
		}
	}
	return nil
}
