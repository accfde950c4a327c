package study

import "trunnion/chassis/spread"

// columns holds every number of every draw: one column per build, load state
// and quantity, over the draws.
type columns struct {
	samples, loads int
	table          *spread.Table
	first          *spread.Table // its first draws, enough to tell what explains much of a column from what explains little
	data           []float64     // column after column
	failed         []int         // per build and load state: draws without a rest
}

// firstDraws are looked at to see how much of a column estimates explain. Chosen.
const firstDraws = 256

func (c *columns) of(build, load, quantity int) []float64 {
	k := ((build*c.loads)+load)*perCase + quantity
	return c.data[k*c.samples : (k+1)*c.samples]
}
