package dyno

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Surface is force over speed and clicks: the curves of a set, and what lies between
// them. It never goes past the clicks measured.
type Surface struct {
	set  *Set
	axis [][]int // clicks measured on each adjuster, rising
	grid map[Setting]*Curve
	full bool    // every crossing of the clicks was measured
	base Setting // where the ladders cross when it is not full
}

// ErrBeyond is returned for a click outside those measured.
var ErrBeyond = errors.New("outside the clicks measured")

// ErrNoGrid is returned for settings that neither fill a grid nor lie on ladders that
// cross.
var ErrNoGrid = errors.New("the settings measured are neither a grid nor ladders that cross at one setting")

// Surface makes the surface of a set.
func (s *Set) Surface() (*Surface, error) {
	f := &Surface{set: s, grid: map[Setting]*Curve{}}
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
	if len(s.Curves) == 0 {
		return nil, ErrNoCurve
	}
	f.full = size == len(f.grid)
	if f.full {
		return f, nil
	}
	for _, c := range s.Curves {
		if f.crosses(c.Setting) {
			f.base = c.Setting
			return f, nil
		}
	}
	return nil, ErrNoGrid
}

// crosses reports whether every curve differs from a setting in one adjuster at most,
// and all clicks of each adjuster are met there.
func (f *Surface) crosses(base Setting) bool {
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

// Range is the hardest and the softest click measured of an adjuster.
func (f *Surface) Range(adjuster int) (hard, soft int) {
	c := f.axis[adjuster]
	return c[0], c[len(c)-1]
}

// Clicks are those measured of an adjuster.
func (f *Surface) Clicks(adjuster int) []int { return f.axis[adjuster] }

// At returns the force of a stroke at a speed [m/s] and a setting. Between two clicks
// measured it goes in proportion, as the job file's tables do, and the band takes in
// what the bend of the ladder there leaves open. outside is true past the highest
// speed measured.
func (f *Surface) At(stroke Stroke, speed float64, at Setting) (force Band, outside bool, err error) {
	for a, clicks := range f.axis {
		if at[a] < clicks[0] || at[a] > clicks[len(clicks)-1] {
			return Band{math.NaN(), math.NaN()}, false, fmt.Errorf("click %d of %d to %d: %w", at[a], clicks[0], clicks[len(clicks)-1], ErrBeyond)
		}
	}
	if c := f.grid[at]; c != nil {
		force, outside = c.Of(stroke).At(speed)
		return force, outside, nil
	}
	if f.full {
		force, outside = f.inGrid(stroke, speed, at, len(f.axis)-1)
		return force, outside, nil
	}
	// F = F(base) + Σ (F(base with one knob moved) − F(base))
	base, outside := f.grid[f.base].Of(stroke).At(speed)
	force = base
	moved := 0
	for a := range f.axis {
		if at[a] == f.base[a] {
			continue
		}
		moved++
		one := f.base
		one[a] = at[a]
		b, past := f.along(stroke, speed, one, a, func(s Setting) (Band, bool) { return f.grid[s].Of(stroke).At(speed) })
		outside = outside || past
		force.Value += b.Value - base.Value
		force.Half = math.Hypot(force.Half, b.Half)
		if moved > 1 {
			// What two knobs do together was not measured: it may be as much as the smaller.
			force.Half += 0.5 * math.Abs(b.Value-base.Value)
		}
	}
	return force, outside, nil
}

// inGrid interpolates over the first adjusters up to one, the later ones standing.
func (f *Surface) inGrid(stroke Stroke, speed float64, at Setting, adjuster int) (Band, bool) {
	if c := f.grid[at]; c != nil {
		return c.Of(stroke).At(speed)
	}
	for adjuster > 0 && slices.Contains(f.axis[adjuster], at[adjuster]) {
		adjuster--
	}
	return f.along(stroke, speed, at, adjuster, func(s Setting) (Band, bool) { return f.inGrid(stroke, speed, s, adjuster-1) })
}

// along interpolates one adjuster between its clicks measured:
//
//	F = F_i + (n − n_i)/(n_{i+1} − n_i)·(F_{i+1} − F_i)
//	e = |F''|·(n − n_i)·(n_{i+1} − n)/2
//
// e is the error of a straight line whose second derivative F" is the larger of those
// read at the two neighbours, doubled where only one of them has two neighbours of its
// own; where none has, the error is taken as half of the step. Source: the remainder of linear interpolation.
func (f *Surface) along(_ Stroke, _ float64, at Setting, adjuster int, read func(Setting) (Band, bool)) (Band, bool) {
	clicks := f.axis[adjuster]
	get := func(k int) (Band, bool) {
		s := at
		s[adjuster] = clicks[k]
		return read(s)
	}
	i, exact := slices.BinarySearch(clicks, at[adjuster])
	if exact {
		return get(i)
	}
	i--
	a, past := get(i)
	b, past2 := get(i + 1)
	n, lo, hi := float64(at[adjuster]), float64(clicks[i]), float64(clicks[i+1])
	t := (n - lo) / (hi - lo)
	bend, known := 0.0, 0
	for k := i; k <= i+1; k++ {
		if k == 0 || k == len(clicks)-1 {
			continue
		}
		p, _ := get(k - 1)
		q, _ := get(k)
		r, _ := get(k + 1)
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
	return Band{a.Value + t*(b.Value-a.Value), (1-t)*a.Half + t*b.Half + err}, past || past2
}

// Held is a click held out of its ladder and predicted by the others.
type Held struct {
	Setting Setting
	Stroke  Stroke
	Speed   float64 // where it is furthest off for its band [m/s]
	Off     float64 // predicted less measured [N]
	Share   float64 // of the measured force [-]
	Band    float64 // half-width of prediction and reading [N]
	Within  bool    // at every speed
}

// HoldOut predicts every click inside a ladder without its own readings.
func (s *Set) HoldOut() []Held {
	var out []Held
	for a := range s.Adjusters {
		for _, l := range s.Ladders() {
			if l.Adjuster != a {
				continue
			}
			for k := 1; k < len(l.Curves)-1; k++ {
				out = append(out, l.without(s, k)...)
			}
		}
	}
	return out
}

func (l *Ladder) without(s *Set, k int) []Held {
	rest := Set{Adjusters: s.Adjusters}
	for i, c := range l.Curves {
		if i != k {
			rest.Curves = append(rest.Curves, *c)
		}
	}
	f, err := rest.Surface()
	if err != nil {
		return nil
	}
	var out []Held
	for _, stroke := range Strokes {
		worst := Held{Setting: l.Curves[k].Setting, Stroke: stroke, Within: true}
		b := l.Curves[k].Of(stroke)
		for i, v := range b.Speed {
			got, _, err := f.At(stroke, v, l.Curves[k].Setting)
			if err != nil {
				continue
			}
			off, half := got.Value-b.Force[i], math.Hypot(got.Half, b.Half[i])
			if worst.Band == 0 || math.Abs(off)*worst.Band > math.Abs(worst.Off)*half {
				worst.Speed, worst.Off, worst.Share, worst.Band = v, off, off/b.Force[i], half
			}
			worst.Within = worst.Within && math.Abs(off) <= half
		}
		out = append(out, worst)
	}
	return out
}
