package dyno

import (
	"errors"
	"fmt"
	"math"
)

// MostAdjusters is how many knobs one damper may have.
const MostAdjusters = 4

// Setting is where each adjuster stood, in clicks counted from closed, in the order
// of the set's adjusters; those it does not have are 0.
type Setting [MostAdjusters]int

// Acts says which stroke a knob is for.
type Acts string

// What a knob is for. A single knob acts on both strokes.
const (
	OnBoth    Acts = "both"
	OnBump    Acts = "bump"
	OnRebound Acts = "rebound"
)

// Adjuster is one knob.
type Adjuster struct {
	Acts   Acts
	Clicks int // from closed to open; 0: not known
}

// Run is one test at one setting. Bump is positive in position, velocity and force:
// the damper is being shortened, or pushes against that.
type Run struct {
	Setting     Setting
	Temperature float64 // of the skin; NaN: not known [K]
	Frequency   float64 // of the crank, where the file says it; 0: not known [Hz]
	From        string  // where it was read, for messages

	// A loop, a slow run or a gas run: samples in the order they were taken.
	Position []float64 // [m]
	Velocity []float64 // [m/s]
	Force    []float64 // [N]
	Time     []float64 // nil: not known [s]

	// A peak table or an averaged curve, both branches positive in Velocity.
	Rows []Row

	Slow bool // moved so slowly that only gas and friction are felt
	Gas  bool // held still at each position: gas alone
}

// Row is both forces at one speed, bump positive in both: rebound force is negative
// where the damper resists.
type Row struct {
	Velocity      float64 // [m/s]
	Bump, Rebound float64 // NaN: not measured [N]
}

// Band is a figure and the half-width of its 95 % range.
type Band struct {
	Value, Half float64 // [SI]
}

// Errors of a run.
var (
	ErrEmpty   = errors.New("no readings")
	ErrNumber  = errors.New("a reading that is not a number")
	ErrBranch  = errors.New("one stroke only")
	ErrDriving = errors.New("the damper gives energy")
)

// RunError says which run cannot be used and why.
type RunError struct {
	From string
	Err  error
}

func (e *RunError) Error() string { return e.From + ": " + e.Err.Error() }

func (e *RunError) Unwrap() error { return e.Err }

// leastSamples is how many readings a loop must have for a branch to be averaged.
// Chosen: ten readings to a quarter of a turn.
const leastSamples = 40

// check says whether a run can be used at all.
func (r *Run) check() error {
	fail := func(err error) error { return &RunError{r.From, err} }
	if len(r.Rows) > 0 {
		for _, row := range r.Rows {
			if !(row.Velocity >= 0) || math.IsInf(row.Velocity, 0) || math.IsInf(row.Bump, 0) || math.IsInf(row.Rebound, 0) {
				return fail(ErrNumber)
			}
		}
		return nil
	}
	n := len(r.Force)
	if n == 0 {
		return fail(ErrEmpty)
	}
	if len(r.Position) != n || !r.Gas && len(r.Velocity) != n || r.Time != nil && len(r.Time) != n {
		return fail(fmt.Errorf("%w: columns of different length", ErrEmpty))
	}
	for _, list := range [][]float64{r.Position, r.Velocity, r.Force, r.Time} {
		for _, v := range list {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fail(ErrNumber)
			}
		}
	}
	if r.Gas || r.Slow {
		return nil
	}
	if n < leastSamples {
		return fail(fmt.Errorf("%w: %d readings of a loop, at least %d are needed", ErrEmpty, n, leastSamples))
	}
	up, down := extremes(r.Velocity)
	if !(up > 0) || !(down < 0) || up < -0.2*down || -down < 0.2*up {
		return fail(ErrBranch)
	}
	return nil
}

// extremes are the highest and the lowest of a list.
func extremes(list []float64) (high, low float64) {
	high, low = math.Inf(-1), math.Inf(1)
	for _, v := range list {
		high, low = math.Max(high, v), math.Min(low, v)
	}
	return high, low
}
