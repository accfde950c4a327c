package drives

import (
	"context"
	"math"
	"sync"

	"trunnion/chassis/figure"
	"trunnion/chassis/ride"
	"trunnion/chassis/spread"
	"trunnion/chassis/study"
)

// drawsRoads reports whether roads are driven over draws of the car too: not in a try, and
// not on a road with too few samples for a band.
func (r *riding) drawsRoads() bool {
	return r.opt.Draws >= 2 && r.opt.Samples >= 3 && !r.opt.EventsOnly && !r.opt.Unchecked && r.opt.Only == nil && len(r.roads) > 0
}

// drawRoads drives sample k of every road with draw k of the car, the same draws for all
// builds and roads, and widens the bands of the means by what the draws do:
//
//	δ_k = y_k − x_k,   h_car = t·s(δ),   h = √(h_road² + h_car²)
//
// x_k is the figure of sample k with the car as it stands and y_k with draw k: the road is
// the same, so that its chance is not counted twice, and the pairs cost one drive a sample
// more, at the first step, and not draws times samples. t is Student's for as many draws,
// h_road the half-width of the mean over the samples. A figure of which a quarter of the
// draws came to no end keeps the road's band alone, as does what is set against the
// baseline, sample by sample.
//
// Source: differences by common random numbers, as in any text on simulation; here from
// memory: A. M. Law, Simulation Modeling and Analysis.
func (r *riding) drawRoads(ctx context.Context, results [][]ride.Result, step func()) error {
	n := r.opt.Samples
	table := spread.NewTable(r.opt.Seed^drawnSeed, n, r.a.InputsDrawn(), r.a.Options.Workers)
	loads := map[int]bool{}
	for c := range r.roads {
		loads[r.roads[c].Load] = true
	}
	drawn := make([]map[[3]int]*drawnCar, n)
	if err := spread.Each(ctx, n, r.a.Options.Workers, func(_, k int) {
		drawn[k] = map[[3]int]*drawnCar{}
		r.drawCars(drawn[k], k, figure.DrawOf(table.Draw(k)), loads)
	}); err != nil {
		return err
	}
	moved := make([]map[drawnAt]float64, len(results))
	var once sync.Mutex
	var failure error
	err := spread.Each(ctx, len(results), r.a.Options.Workers, func(_, u int) {
		got, err := r.drawSample(ctx, u, drawn[u%n], results[u])
		if err != nil {
			once.Lock()
			failure = err
			once.Unlock()
		}
		moved[u] = got
		step()
	})
	if err != nil {
		return err
	}
	if failure != nil {
		return failure
	}
	by := map[drawnAt][]float64{}
	for u := range moved {
		for at, d := range moved[u] {
			by[at] = append(by[at], d)
		}
	}
	for i := range r.out.Values {
		v := &r.out.Values[i]
		by := by[drawnAt{v.Code, v.Place}]
		if v.BandOf != figure.OfRuns || float64(len(by)) < leastDrawn*float64(n) {
			continue
		}
		if wide, ok := studentWide(by); ok {
			widen(v, wide)
		}
	}
	return nil
}

// widen adds the half-width that draws of the car give to the band of a mean over samples.
func widen(v *figure.Value, wide float64) {
	road := v.High - v.Value
	half := math.Hypot(road, wide)
	whole := v.Low >= 0
	v.Low, v.High, v.BandOf = v.Value-half, v.Value+half, figure.OfBoth
	if half > 0 {
		v.CarShare = (wide / half) * (wide / half)
	}
	if whole && v.Low < 0 {
		v.Low = 0
	}
}

// drawSample drives all builds of one draw over one sample of one road, and returns by how
// much each figure of it differs from the car as it stands.
func (r *riding) drawSample(ctx context.Context, u int, cars map[[3]int]*drawnCar, nominal []ride.Result) (map[drawnAt]float64, error) {
	rc, at := u/r.opt.Samples, u%r.opt.Samples
	c := &r.roads[rc]
	p, duration, err := r.sample(u)
	if err != nil {
		return nil, err
	}
	var list []*drawnCar
	var models []*ride.Model
	var runs []ride.Run
	var results []*ride.Result
	var run ride.Run
	for b := range r.a.Job.Builds {
		car := cars[[3]int{at, b, c.Load}]
		if car == nil || r.models[[2]int{b, c.Load}] == nil {
			continue
		}
		if run.Course == nil {
			// The wheelbase is the car's own, so one course does for all builds.
			if run, err = r.over(p, c.Speed, duration, car.one.System.Behind[2], r.roadStep); err != nil {
				return nil, err
			}
		}
		list, models, runs, results = append(list, car), append(models, car.model), append(runs, run), append(results, new(ride.Result))
	}
	moved := map[drawnAt]float64{}
	for k, err := range ride.SimulateEach(ctx, r.opt.Lanes, models, runs, results) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue // a draw that leaves the model says nothing
		}
		b := list[k].at[1]
		was := r.figures(rc, b, &r.a.Cases[b][c.Load], r.models[[2]int{b, c.Load}], &nominal[b])
		for at, y := range r.figures(rc, b, &list[k].one, list[k].model, results[k]) {
			if x, ok := was[at]; ok {
				moved[at] = y - x
			}
		}
	}
	return moved, nil
}

// figures are those of one sample of a road and one build, nominal or drawn.
func (r *riding) figures(c, b int, cs *study.Case, m *ride.Model, x *ride.Result) map[drawnAt]float64 {
	took := riding{a: r.a, out: new(study.Answer), opt: r.opt, roads: r.roads, bare: true}
	all := make([]ride.Result, b+1)
	all[b] = *x
	took.reportSamples(c, b, cs, m, [][]ride.Result{all}, [][]error{make([]error, b+1)})
	out := map[drawnAt]float64{}
	for i := range took.out.Values {
		if v := &took.out.Values[i]; v.State != figure.Unknown {
			out[drawnAt{v.Code, v.Place}] = v.Value
		}
	}
	return out
}
