package roadtest

import (
	"context"
	"math"
	"runtime"
	"sync"
)

// How the build is driven over the recovered road. Chosen.
const (
	mostDrawn  = 12
	leastShare = 0.004 // of time: less between two shares is nothing [-]
)

// Compare holds a log against the prediction of its build: the road is taken out of the
// log with all that the log says of the car, and the build as entered is driven over it.
//
//	low, high = predicted ∓ √( (1.96·s)² + (refit − measured)² )
//
// s is over draws of the build's inputs; the second part is what taking the road out
// costs: the build with everything that was found, driven over the road, misses the log
// by so much.
func Compare(ctx context.Context, l *Log, b *Build, speed float64, marks Marks, progress func(done, total int)) (*Outcome, error) {
	total := 20
	tell := func(k int) {
		if progress != nil {
			progress(k, total)
		}
	}
	fit, err := FitTo(ctx, l, b, speed, func(done, of int) { tell(8 * done / of) })
	if err != nil {
		return nil, err
	}
	out := &Outcome{Fit: fit, Wrong: fit.Wrong}
	if len(fit.Estimates) == 0 {
		return out, nil // a channel is not what it is said to be: nothing rests on it
	}
	roads := make([]laid, len(fit.pieces))
	for k, p := range fit.pieces {
		left, right, mean := fit.tracks(p)
		roads[k] = laid{p: p, left: left, right: right, mean: mean}
		for i := range 4 {
			roads[k].noise[i] = noiseOf(p.raw[i], p.logged)
		}
		from, to := roads[k].inner()
		out.Distance += mean * float64(to-from) / p.rate
		out.Stretches = append(out.Stretches, roads[k].stretch())
	}
	logged := measured(roads)
	var is, as, re [4]map[Code]float64
	seen := fit.shift.gap // from the log's own zero
	for i := range seen {
		seen[i] -= fit.shift.zero[i]
	}
	is, out.Strikes = tallied(fit.legs, logged, seen, out.Distance, marks)
	nominal, err := overRoads(ctx, b.Car, roads)
	if err != nil {
		return nil, err
	}
	as, out.Expected = tallied(fit.legs, nominal, [4]float64{}, out.Distance, marks)
	refit, err := overRoads(ctx, shifted(b.Car, &fit.shift), roads)
	if err != nil {
		return nil, err
	}
	re, _ = tallied(fit.legs, refit, fit.shift.gap, out.Distance, marks)
	tell(10)
	var squares [4]map[Code]float64
	for i := range squares {
		squares[i] = map[Code]float64{}
	}
	drawn := 0
	for _, got := range overDrawn(ctx, b, roads, out.Distance, marks, func(done int) { tell(10 + 6*done/mostDrawn) }) {
		if got == nil {
			continue // a draw that leaves the model says nothing
		}
		for i := range 4 {
			for _, c := range Codes {
				d := got[i][c] - as[i][c]
				squares[i][c] += d * d
			}
		}
		drawn++
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	for i := range 4 {
		for _, c := range Codes {
			f := Figure{Code: c, Corner: i, Measured: is[i][c], Predicted: as[i][c], Refit: re[i][c]}
			half := 0.0
			if drawn > 1 {
				half = 1.96 * math.Sqrt(squares[i][c]/float64(drawn))
			}
			half = math.Max(math.Hypot(half, f.Refit-f.Measured), leastOf(c, out.Distance))
			f.Low, f.High = f.Predicted-half, f.Predicted+half
			if c != MeanTravel {
				f.Low = math.Max(f.Low, 0)
			}
			f.Outside = f.Measured < f.Low || f.Measured > f.High
			out.Figures = append(out.Figures, f)
		}
	}
	out.zeros()
	out.draw(logged, nominal)
	for i := range 4 {
		g := GradeOf(l.Find(Travel, i))
		out.Floor[i] = g.Floor
	}
	if w := fit.otherBuild(); w != nil {
		out.Wrong = append(out.Wrong, *w)
		tell(total)
		return out, nil // nothing is corrected towards another car
	}
	if err := out.explain(ctx, b, roads, marks, tell); err != nil {
		return nil, err
	}
	tell(total)
	return out, nil
}

// overDrawn are the figures of the drawn cars over the roads, on all cores; nil for one
// that leaves the model.
func overDrawn(ctx context.Context, b *Build, roads []laid, distance float64, marks Marks, tell func(done int)) []*[4]map[Code]float64 {
	out := make([]*[4]map[Code]float64, min(len(b.Drawn), mostDrawn))
	turns := make(chan int)
	var all sync.WaitGroup
	var lock sync.Mutex
	done := 0
	for range min(runtime.GOMAXPROCS(0), len(out)) {
		all.Go(func() {
			for k := range turns {
				if ctx.Err() != nil {
					continue
				}
				if way, err := overRoads(ctx, b.Drawn[k], roads); err == nil {
					var legs [4]leg
					for i := range 4 {
						legs[i] = newLeg(&b.Drawn[k].Corners[i], b.Drawn[k].Rest[i])
					}
					got, _ := tallied(&legs, way, [4]float64{}, distance, marks)
					out[k] = &got
				}
				lock.Lock()
				done++
				tell(done)
				lock.Unlock()
			}
		})
	}
	for k := range out {
		turns <- k
	}
	close(turns)
	all.Wait()
	return out
}

// leastOf is the least half-width of a figure's band: finer nothing is said. Chosen.
func leastOf(c Code, distance float64) float64 {
	switch c {
	case BumpUsed, ReboundUsed, MeanTravel:
		return 1e-3
	case Below, AboveBump, AboveReb:
		return leastShare
	case Strikes, TopOuts:
		return 1.5 / math.Max(distance, 1) // one contact more or less
	case StopPeak:
		return 50
	case BodyRate:
		return 0.05
	case Speeds:
	}
	return 5e-3
}

// draw makes the histograms.
func (o *Outcome) draw(logged, nominal [][4]watched) {
	for i := range 4 {
		for k, list := range [][][4]watched{logged, nominal} {
			var travel, speed []float64
			for p := range list {
				travel = append(travel, list[p][i].travel...)
				speed = append(speed, list[p][i].speed...)
			}
			o.Travel[i][k] = histogram(travel, -0.15, 0.15, 1e-3)
			o.Velocity[i][k] = histogram(speed, -0.6, 0.6, 5e-3)
		}
	}
}
