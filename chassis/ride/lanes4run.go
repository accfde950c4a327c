//go:build goexperiment.simd && amd64

package ride

import (
	"context"
	"math"
	"sync"

	"trunnion/chassis/comfort"
)

var convoys4 = sync.Pool{New: func() any { return new(convoy4) }}

// drive4 drives a group and returns what has to be driven again alone: a lane that left the model, for the error's sake.
// Where there are fewer cars than lanes the last one fills the rest.
func drive4(ctx context.Context, of kind, list []int, models []*Model, runs []Run, results []*Result, errs []error) (again []int) {
	g := convoys4.Get().(*convoy4)
	defer convoys4.Put(g)
	var run [width4]*Run
	var res [width4]*Result
	var spare Result
	var feeds [width4]feed
	h := of.step
	together := true
	for l := range run {
		k := list[min(l, len(list)-1)]
		g.models[l], run[l], res[l] = models[k], &runs[k], results[k]
		if l >= len(list) {
			res[l] = &spare
		}
		if res[l].scratch == nil {
			res[l].scratch = new(scratch)
		}
		s := res[l].scratch
		models[k].begin(s, run[l], res[l])
		feeds[l] = feed{
			left: run[l].Left, right: run[l].Right, course: run[l].Course, speed: run[l].Speed, step: h,
			wheelbase: models[k].car.Wheelbase, fade: run[l].Settle, line: s.line, rows: s.rows, first: math.MaxInt / 2,
		}
		if c := run[l].Course; c != nil {
			feeds[l].stride = int(math.Round(h / c.step))
		}
		together = together && run[l].Course != nil && run[l].Course == run[0].Course && run[l].Settle == run[0].Settle
	}
	fail := func(err error) []int {
		for _, k := range list {
			errs[k] = err
		}
		return nil
	}
	ok, err := g.ready4(h)
	if err != nil {
		return fail(err)
	}
	if !ok {
		return list
	}
	g.begin4(h)
	g.beginTally4(&run, &res)
	var rows [width4][][4]float64
	var lost [width4]bool
	n, measured := 0, 0
	for blocks := 0; n < of.steps; blocks++ {
		if blocks%32 == 0 {
			if err := ctx.Err(); err != nil {
				return fail(err)
			}
		}
		count := min(laneSteps, of.steps-n)
		if n < of.skip {
			count = min(count, of.skip-n)
		}
		for l := range feeds {
			if l == 0 || !together {
				rows[l] = feeds[l].at(n, count)
			} else {
				rows[l] = rows[0]
			}
		}
		if n == 0 && run[0].Settle == 0 {
			for l := range rows {
				for _, z := range rows[l][0] {
					lost[l] = lost[l] || !(math.Abs(z) <= 0.001) // Simulate says what is wrong
				}
			}
		}
		g.lay4(&rows, count, together)
		g.advance4(count)
		for l := range lost {
			lost[l] = lost[l] || g.lost4(l)
		}
		for i := range g.ledger {
			g.ledger[i].balance4(&g.block, i, h)
		}
		for k := range g.floors {
			g.floors[k].add4(&g.block)
		}
		if n >= of.skip {
			for i := range g.tally {
				g.tally[i].add4(g, i, &run, &res)
			}
			var sum, sum2, none row4
			sums4(g.block.bodyZ[:count], &none, &sum, &sum2)
			clearUpper4()
			for l := range sum {
				g.sink[l] -= float64(sum[l])
			}
		}
		if of.event {
			for l := range list {
				g.look4(l, res[l].scratch, rows[l], h)
			}
		}
		n += count
		if n == of.skip {
			measured = n
			for k := range g.floors {
				g.floors[k].begin4()
			}
			for l := range res {
				for i := range g.ledger {
					res[l].Corners[i].StopLost, res[l].Corners[i].Power = g.ledger[i].stops[l], g.ledger[i].heat[l]
				}
			}
		}
	}
	for l, k := range list {
		if lost[l] {
			again = append(again, k)
			continue
		}
		errs[k] = g.end4(l, run[l], res[l], rows[l], n-measured)
		s := res[l].scratch
		s.rows, s.line = feeds[l].rows, feeds[l].line
	}
	return again
}

// lay4 puts the heights of a block side by side.
func (g *convoy4) lay4(rows *[width4][][4]float64, count int, together bool) {
	for i := range g.block.road {
		to := g.block.road[i][:count]
		if together {
			for n := range to {
				fill4(&to[n], rows[0][n][i])
			}
			continue
		}
		for l := range rows {
			from := rows[l]
			for n := range to {
				to[n][l] = num4(from[n][i])
			}
		}
	}
}

// lost4 says whether a lane has left the model: see scratch.lost.
func (g *convoy4) lost4(l int) bool {
	b := &g.block
	last := b.n - 1
	for i := range b.travel {
		if !(math.Abs(float64(b.travel[i][last][l])) < 0.75) || !(math.Abs(float64(b.load[i][last][l])) <= math.MaxFloat32) {
			return true
		}
	}
	for _, f := range []*freedom4{&g.body.z, &g.body.p, &g.body.r} {
		if q := float64(f.q[l]); math.IsNaN(q) || math.Abs(q) > 10 {
			return true
		}
	}
	return false
}

// look4 hands one lane of a block to what follows the body and the tyres over an obstacle.
func (g *convoy4) look4(l int, s *scratch, road [][4]float64, h float64) {
	from, to := &g.block, &s.block
	to.n, to.touched = from.n, from.touched
	for n := range from.n {
		to.bodyZ[n], to.bodyP[n], to.bodyR[n] = float64(from.bodyZ[n][l]), float64(from.bodyP[n][l]), float64(from.bodyR[n][l])
	}
	for i := range from.load {
		for n := range from.n {
			to.load[i][n], to.travel[i][n] = float64(from.load[i][n][l]), float64(from.travel[i][n][l])
		}
		if from.touched[i] {
			for n := range from.n {
				to.stop[i][n] = float64(from.stop[i][n][l])
			}
		}
	}
	s.keep(g.models[l], road[:from.n])
	s.air.follow(g.models[l], to, road[:from.n], h)
}

// end4 turns one lane into a result.
func (g *convoy4) end4(l int, run *Run, res *Result, road [][4]float64, measured int) error {
	m, s := g.models[l], res.scratch
	at := func(f *freedom4) coordinate {
		return coordinate{float64(f.q[l]), float64(f.v[l]), float64(f.a1[l]), float64(f.a2[l])}
	}
	s.state = state{body: [3]coordinate{at(&g.body.z), at(&g.body.p), at(&g.body.r)}}
	last := g.block.n - 1
	s.state.road = [2][4]float64{road[last], road[max(last-1, 0)]}
	s.account = account{}
	for i := range g.corner {
		c, d := &g.corner[i], &g.ledger[i]
		s.state.wheel[i] = coordinate{float64(c.q[l]), float64(c.v[l]), float64(c.a1[l]), float64(c.a2[l])}
		s.state.stop[i], s.state.mount[i] = g.stops[l][i], float64(c.squeeze[l])
		s.account.road += d.work[l]
		s.account.through += d.through[l]
		s.account.corner[i].stops, s.account.corner[i].heat = d.stops[l], d.heat[l]
		s.tally[i] = *g.tally[i].close4(l)
	}
	res.Sink = g.sink[l]
	return m.end(s, run, res, measured, func(k int) (comfort.Summary, error) { return g.floors[k].result4(l) }, func(code WarningCode, corner int, v float64) {
		res.Warnings = append(res.Warnings, Warning{code, corner, v})
	})
}
