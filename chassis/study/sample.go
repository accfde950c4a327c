package study

import (
	"context"
	"math"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/spread"
)

// sample repeats the whole study over the draws: every draw changes the
// readings and the parts, calibrates the car anew, and solves every build in
// every load state with the same errors, so that differences between builds
// are tighter than the builds themselves.
func (s *setup) sample(ctx context.Context, nominal [][]Case) (*columns, error) {
	if s.opt.Samples <= 0 {
		return nil, nil
	}
	return s.sampleWith(ctx, nominal, spread.NewTable(s.opt.Seed, s.opt.Samples, len(s.banded), s.opt.Workers))
}

func (s *setup) sampleWith(ctx context.Context, nominal [][]Case, table *spread.Table) (*columns, error) {
	n := table.Samples
	c := &columns{samples: n, loads: len(s.job.Loads), table: table, first: table.First(firstDraws)}
	c.data = make([]float64, len(s.designs)*c.loads*perCase*n)
	failed := make([][]bool, len(s.designs)*c.loads)
	for i := range failed {
		failed[i] = make([]bool, n)
	}
	err := spread.Each(ctx, n, s.opt.Workers, func(_, k int) {
		s.one(c, nominal, k, failed)
	})
	if err != nil {
		return nil, err
	}
	s.keepColumns(c)
	c.failed = make([]int, len(failed))
	for i := range failed {
		for _, f := range failed[i] {
			if f {
				c.failed[i]++
			}
		}
		if b := i / c.loads; s.keeps(b) {
			c.failed[i] = s.earlier.columns.failed[s.kept[b]*c.loads+i%c.loads]
		}
	}
	return c, nil
}

// one computes draw k.
func (s *setup) one(c *columns, nominal [][]Case, k int, failed [][]bool) {
	d := figure.DrawOf(c.table.Draw(k))
	base := equilibrium.Calibrate(s.fitted, s.hangup, d)
	var zero [2]float64
	for a := range 2 {
		zero[a] = s.job.Car.ZeroHeight[a].At(d)
	}
	var numbers [perCase]float64
	for b, ds := range s.designs {
		if s.keeps(b) {
			continue
		}
		arch := s.arches(ds.Build, d)
		sys, err := equilibrium.NewSystem(ds, &base, s.hangup, d)
		for l := range s.job.Loads {
			ok := err == nil && nominal[b][l].Err == nil
			if ok {
				var st equilibrium.State
				var e error
				guess := nominal[b][l].State
				st, e = sys.Solve(equilibrium.Of(s.job.Loads[l].Items, d), &guess)
				ok = e == nil
				if ok {
					s.measure(&sys, &st, &arch, &zero, numbers[:])
				}
			}
			if !ok {
				failed[b*c.loads+l][k] = true
				for q := range numbers {
					numbers[q] = math.NaN()
				}
			}
			at := (b*c.loads+l)*perCase*c.samples + k
			for q := range numbers {
				c.data[at+q*c.samples] = numbers[q]
			}
		}
	}
}
