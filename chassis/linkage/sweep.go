package linkage

import (
	"errors"
	"math"
	"slices"
)

// Curves are figures over wheel travel.
type Curves struct {
	Points []Figures
	// Low and High say where the linkage ends in droop and bump, when it does so
	// within the range asked for.
	Low, High *LockError
}

// Sweep solves the linkage over wheel travels, rising, in a mode and at a rack
// travel [m]. Where it locks, the points past the lock are left out and Low or
// High says where and what.
func (l *Linkage) Sweep(mode Mode, travels []float64, rack float64) (Curves, error) {
	var out Curves
	for i, w := range travels {
		if math.IsNaN(w) || math.IsInf(w, 0) || i > 0 && w <= travels[i-1] {
			return out, errors.New("linkage: wheel travels must be numbers and rise")
		}
	}
	if rack != 0 && !l.steers {
		return out, &FaultError{[]Fault{{Code: NothingSteered, Points: []string{"rods"}}}}
	}
	home, err := l.at([2]float64{}, rack)
	if err != nil {
		return out, err
	}
	d := mode.direction()
	// From travel 0 outward, so that every point starts from a neighbour.
	first := len(travels)
	for i, w := range travels {
		if w >= 0 {
			first = i
			break
		}
	}
	out.Points = make([]Figures, 0, len(travels))
	at := home
	for i := first - 1; i >= 0; i-- {
		at, err = l.reach(&at, [2]float64{d[0] * travels[i], d[1] * travels[i]}, rack)
		if !errors.As(err, &out.Low) && err != nil {
			return out, err
		}
		if err != nil {
			break
		}
		out.Points = append(out.Points, l.read(&at, mode))
	}
	slices.Reverse(out.Points)
	at = home
	for _, w := range travels[first:] {
		at, err = l.reach(&at, [2]float64{d[0] * w, d[1] * w}, rack)
		if !errors.As(err, &out.High) && err != nil {
			return out, err
		}
		if err != nil {
			break
		}
		out.Points = append(out.Points, l.read(&at, mode))
	}
	return out, nil
}

// Travels returns n wheel travels evenly from low to high [m].
func Travels(low, high float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = low + (high-low)*float64(i)/float64(max(n-1, 1))
	}
	return out
}

// Rows gives wheel, spring and damper travel [m], a motion table as one is
// measured, without the points at which spring or damper is not known.
func (c *Curves) Rows() (wheel, spring, damper []float64) {
	for i := range c.Points {
		p := &c.Points[i]
		if !p.Spring.Known || !p.Damper.Known {
			continue
		}
		wheel, spring, damper = append(wheel, p.Travel), append(spring, p.Spring.Travel), append(damper, p.Damper.Travel)
	}
	return wheel, spring, damper
}

// Locked finds the travel at which the linkage locks or runs out between 0 and
// an end [m]; the error is nil when it does not.
func (l *Linkage) Locked(mode Mode, end, rack float64) *LockError {
	d := mode.direction()
	home, err := l.at([2]float64{}, rack)
	if err == nil {
		_, err = l.reach(&home, [2]float64{d[0] * end, d[1] * end}, rack)
	}
	var lock *LockError
	errors.As(err, &lock)
	return lock
}

// Disagreement is where a measured table and the hardpoints differ.
type Disagreement struct {
	Travel   float64 // of the wheel [m]
	Measured float64 // travel of the part [m]
	Computed float64 // of the part, from the points [m]
}

// Disagree compares the readings of a motion table with the linkage. of picks
// the part; readings past a lock are given with a Computed that is not a number.
func (l *Linkage) Disagree(wheel, part []float64, of func(*Figures) Motion) []Disagreement {
	out := make([]Disagreement, 0, len(wheel))
	for i, w := range wheel {
		d := Disagreement{Travel: w, Measured: part[i], Computed: math.NaN()}
		if f, err := l.Figures(Parallel, w, 0); err == nil {
			if m := of(&f); m.Known {
				d.Computed = m.Travel
			}
		}
		out = append(out, d)
	}
	return out
}
