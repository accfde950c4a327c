package spread

import (
	"context"
	"math"
	"math/rand/v2"
	"sync"

	"trunnion/chassis/figure"
)

// Table is a Latin hypercube: in every dimension each of n equal slices of
// probability is drawn from exactly once.
//
// Source: M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979) 239.
type Table struct {
	Samples, Dims int
	draws         []figure.Variate // sample after sample

	once  sync.Once
	z, zz []float64 // sums of the scores and of their squares, by dimension
}

// NewTable draws the table on a number of goroutines. A dimension's column depends
// on the seed and its own number alone, so that adding an input changes no other
// input's draws, and the number of workers nothing.
func NewTable(seed uint64, samples, dims, workers int) *Table {
	t := &Table{Samples: samples, Dims: dims, draws: make([]figure.Variate, samples*dims)}
	orders := make([][]int, max(1, workers))
	// It cannot fail: nothing cancels it, and a column takes a fraction of a millisecond.
	_ = Each(context.Background(), dims, workers, func(worker, d int) {
		order := orders[worker]
		if order == nil {
			order = make([]int, samples)
			orders[worker] = order
		}
		rng := rand.New(rand.NewPCG(seed, uint64(d)+1))
		for i := range order {
			order[i] = i
		}
		rng.Shuffle(samples, func(a, b int) { order[a], order[b] = order[b], order[a] })
		for k := range samples {
			u := (float64(order[k]) + rng.Float64()) / float64(samples)
			// u may round to 0 only with probability 2⁻⁵³; keep it inside.
			u = math.Min(math.Max(u, 1e-12), 1-1e-12)
			t.draws[k*dims+d] = figure.Variate{Normal95: math.Sqrt2 * math.Erfinv(2*u-1) / Normal95, Uniform: 2*u - 1}
		}
	})
	return t
}

// Normal95 is how many standard deviations hold 95 % of a normal distribution. [-]
const Normal95 = 1.959963984540054

// Draw returns draw k: one variate per dimension.
func (t *Table) Draw(k int) []figure.Variate { return t.draws[k*t.Dims : (k+1)*t.Dims : (k+1)*t.Dims] }

// First returns the table cut to its first draws; it shares their memory.
func (t *Table) First(n int) *Table {
	if n >= t.Samples {
		return t
	}
	return &Table{Samples: n, Dims: t.Dims, draws: t.draws[:n*t.Dims]}
}
