package clicks

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"trunnion/chassis/dyno"
)

// Surface is force over speed and clicks: the curves of a set, and what lies between
// them.
type Surface struct {
	set  *dyno.Set
	axis [][]int // clicks measured on each adjuster, rising
	grid map[dyno.Setting]*dyno.Curve
	full bool         // every crossing of the clicks was measured
	base dyno.Setting // where the ladders cross when it is not full
}

// ErrBeyond is returned for a click outside those measured.
var ErrBeyond = errors.New("outside the clicks measured")

// ErrNoGrid is returned for settings that neither fill a grid nor lie on ladders that
// cross.
var ErrNoGrid = errors.New("the settings measured are neither a grid nor ladders that cross at one setting")

// Of makes the surface of a set.
func Of(s *dyno.Set) (*Surface, error) {
	if len(s.Curves) == 0 {
		return nil, dyno.ErrNoCurve
	}
	f := &Surface{set: s, grid: map[dyno.Setting]*dyno.Curve{}}
	size := 1
	for i := range s.Curves {
		f.grid[s.Curves[i].Setting] = &s.Curves[i]
	}
	for a := range s.Adjusters {
		var clicks []int
		for i := range s.Curves {
			clicks = append(clicks, s.Curves[i].Setting[a])
		}
		slices.Sort(clicks)
		clicks = slices.Compact(clicks)
		f.axis = append(f.axis, clicks)
		size *= len(clicks)
	}
	f.full = size == len(f.grid)
	if f.full {
		return f, nil
	}
	for i := range s.Curves {
		if f.crosses(s.Curves[i].Setting) {
			f.base = s.Curves[i].Setting
			return f, nil
		}
	}
	return nil, ErrNoGrid
}

// crosses reports whether every curve differs from a setting in one adjuster at most,
// and all clicks of each adjuster are met there.
func (f *Surface) crosses(base dyno.Setting) bool {
	for a, clicks := range f.axis {
		for _, click := range clicks {
			at := base
			at[a] = click
			if f.grid[at] == nil {
				return false
			}
		}
	}
	return true
}

// Full reports whether every crossing of the clicks was measured. Where not, what two
// knobs do together is taken as the sum of what each does alone.
func (f *Surface) Full() bool { return f.full }

// Set is what the surface was made of.
func (f *Surface) Set() *dyno.Set { return f.set }

// Range is the hardest and the softest click measured of an adjuster.
func (f *Surface) Range(adjuster int) (hard, soft int) {
	c := f.axis[adjuster]
	return c[0], c[len(c)-1]
}

// Clicks are those measured of an adjuster, from closed to open.
func (f *Surface) Clicks(adjuster int) []int { return f.axis[adjuster] }

// Measured reports a setting that has readings of its own.
func (f *Surface) Measured(at dyno.Setting) bool { return f.grid[at] != nil }

// Curve returns both strokes at a setting. One that was measured is as measured;
// between two clicks measured the force goes in proportion at each speed, and the
// band takes in what the bend of the ladder there leaves open. Its speeds are those of
// the neighbour with fewer clicks, up to the highest that all neighbours reached: it
// rises where they do.
func (f *Surface) Curve(at dyno.Setting) (dyno.Curve, error) {
	for a, clicks := range f.axis {
		if at[a] < clicks[0] || at[a] > clicks[len(clicks)-1] {
			return dyno.Curve{}, fmt.Errorf("click %d of %d to %d: %w", at[a], clicks[0], clicks[len(clicks)-1], ErrBeyond)
		}
	}
	if c := f.grid[at]; c != nil {
		return *c, nil
	}
	out := dyno.Curve{Setting: at, Temperature: math.NaN()}
	for _, stroke := range dyno.Strokes {
		speeds := f.speeds(stroke, at)
		force, half := make([]float64, len(speeds)), make([]float64, len(speeds))
		for i, v := range speeds {
			b := f.between(stroke, v, at)
			force[i], half[i] = b.Value, b.Half
		}
		var err error
		if *out.Of(stroke), err = dyno.NewBranch(speeds, force, half); err != nil {
			return out, err
		}
	}
	return out, nil
}

// At returns the force of a stroke at a speed [m/s] and a setting. outside is true
// past the highest speed measured.
func (f *Surface) At(stroke dyno.Stroke, speed float64, at dyno.Setting) (force dyno.Band, outside bool, err error) {
	c, err := f.Curve(at)
	if err != nil {
		return dyno.Band{Value: math.NaN(), Half: math.NaN()}, false, err
	}
	force, outside = c.Of(stroke).At(speed)
	return force, outside, nil
}

// around are the places in the list of clicks measured on both sides of a click, and
// how far it stands from the first to the second [-].
func around(clicks []int, click int) (lo, hi int, share float64) {
	i, exact := slices.BinarySearch(clicks, click)
	if exact {
		return i, i, 0
	}
	return i - 1, i, float64(click-clicks[i-1]) / float64(clicks[i]-clicks[i-1])
}

// neighbours are the settings measured from which one that was not is made.
func (f *Surface) neighbours(at dyno.Setting) []dyno.Setting {
	if !f.full {
		out := []dyno.Setting{f.base}
		for a := range f.axis {
			lo, hi, _ := around(f.axis[a], at[a])
			for _, k := range []int{lo, hi} {
				one := f.base
				one[a] = f.axis[a][k]
				out = append(out, one)
			}
		}
		return out
	}
	out := []dyno.Setting{at}
	for a := range f.axis {
		lo, hi, _ := around(f.axis[a], at[a])
		var next []dyno.Setting
		for _, k := range []int{lo, hi} {
			for _, one := range out {
				one[a] = f.axis[a][k]
				next = append(next, one)
			}
		}
		out = next
	}
	return out
}

// speeds are those at which a curve between clicks is made.
func (f *Surface) speeds(stroke dyno.Stroke, at dyno.Setting) []float64 {
	list := f.neighbours(at)
	top := math.Inf(1)
	for _, one := range list {
		top = math.Min(top, f.grid[one].Of(stroke).Top())
	}
	var out []float64
	for _, v := range f.grid[list[0]].Of(stroke).Speed {
		if v < top {
			out = append(out, v)
		}
	}
	return append(out, top)
}

// between is the force of a stroke at a speed and a setting inside the clicks
// measured.
func (f *Surface) between(stroke dyno.Stroke, speed float64, at dyno.Setting) dyno.Band {
	read := func(s dyno.Setting) dyno.Band {
		b, _ := f.grid[s].Of(stroke).At(speed)
		return b
	}
	if f.full {
		return f.inGrid(read, at, len(f.axis)-1)
	}
	// F = F(base) + Σ (F(base with one knob moved) − F(base))
	base := read(f.base)
	force := base
	moved := 0
	for a := range f.axis {
		if at[a] == f.base[a] {
			continue
		}
		moved++
		one := f.base
		one[a] = at[a]
		b := f.along(one, a, read)
		force.Value += b.Value - base.Value
		force.Half = math.Hypot(force.Half, b.Half)
		if moved > 1 {
			// What two knobs do together was not measured: it may be as much as the smaller.
			force.Half += 0.5 * math.Abs(b.Value-base.Value)
		}
	}
	return force
}

// inGrid interpolates over the first adjusters up to one, the later ones standing.
func (f *Surface) inGrid(read func(dyno.Setting) dyno.Band, at dyno.Setting, adjuster int) dyno.Band {
	if f.grid[at] != nil {
		return read(at)
	}
	for adjuster > 0 && slices.Contains(f.axis[adjuster], at[adjuster]) {
		adjuster--
	}
	return f.along(at, adjuster, func(s dyno.Setting) dyno.Band { return f.inGrid(read, s, adjuster-1) })
}

// along interpolates one adjuster between its clicks measured:
//
//	F = (1 − t)·F_i + t·F_{i+1},  t = (n − n_i)/(n_{i+1} − n_i)
//	e = |F"|·(n − n_i)·(n_{i+1} − n)/2
//
// e is the error of a straight line whose second derivative F" is the larger of those
// read at the two neighbours, doubled where only one of them has two neighbours of its
// own; where none has, the error is taken as half of the step. Source: the remainder of linear interpolation.
func (f *Surface) along(at dyno.Setting, adjuster int, read func(dyno.Setting) dyno.Band) dyno.Band {
	clicks := f.axis[adjuster]
	get := func(k int) dyno.Band {
		s := at
		s[adjuster] = clicks[k]
		return read(s)
	}
	i, j, t := around(clicks, at[adjuster])
	if i == j {
		return get(i)
	}
	a, b := get(i), get(j)
	n, lo, hi := float64(at[adjuster]), float64(clicks[i]), float64(clicks[j])
	bend, known := 0.0, 0
	for k := i; k <= j; k++ {
		if k == 0 || k == len(clicks)-1 {
			continue
		}
		p, q, r := get(k-1), get(k), get(k+1)
		x0, x1, x2 := float64(clicks[k-1]), float64(clicks[k]), float64(clicks[k+1])
		second := 2 * ((r.Value-q.Value)/(x2-x1) - (q.Value-p.Value)/(x1-x0)) / (x2 - x0)
		bend, known = math.Max(bend, math.Abs(second)), known+1
	}
	err := 0.5 * bend * (n - lo) * (hi - n)
	switch known {
	case 1:
		err *= 2 // next to an end of the ladder, where it may bend more: chosen
	case 0:
		err = 0.5 * math.Abs(b.Value-a.Value)
	}
	return dyno.Band{Value: (1-t)*a.Value + t*b.Value, Half: (1-t)*a.Half + t*b.Half + err}
}
