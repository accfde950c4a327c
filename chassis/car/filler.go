package car

import "trunnion/chassis/figure"

// Filled is an input that was missing and for which an estimate stands in.
type Filled struct {
	Path  string // where it would have been given
	Basis string // why this value and band
	Input *Input // nil when a whole table was filled
}

type filler struct {
	car    *Car
	fitted *Build
	list   []Filled
}

// put fills an input that is not known. half is a 95 % half-width.
func (f *filler) put(in *Input, path string, value, half float64, basis string) {
	if in.Known() {
		return
	}
	*in = Input{Value: value, Half: half, Shape: figure.Normal95, Origin: figure.Estimated, Path: path, Basis: basis}
	if half == 0 {
		in.Shape = figure.Exact
	}
	f.list = append(f.list, Filled{Path: path, Basis: basis, Input: in})
}

// standardGravity: 3rd General Conference on Weights and Measures, 1901. [m/s2]
const standardGravity = 9.80665

// partPath is where a part was described: under parts, or in its place, which
// is then its id.
func partPath(drawer, id string) string {
	for _, r := range id {
		if r == '.' {
			return id
		}
	}
	return "parts." + drawer + "." + id
}
