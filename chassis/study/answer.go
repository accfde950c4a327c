package study

import (
	"errors"
	"sync"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/numeric"
)

// Job is what is asked: a car, what could be fitted, how it is loaded and what
// it is for.
type Job struct {
	Car    *car.Car
	Builds []*car.Build
	Loads  []car.Load
	Brief  *brief.Brief
	// Stock are parts that the workshop can buy; nothing is computed of them but
	// where a remedy or a plan fits one.
	Stock car.Stock
}

// Options are how the answer is computed. The zero value is not useful; see
// Defaults.
type Options struct {
	Samples    int       // draws behind the bands; 0 leaves bands out
	Seed       uint64    // of the draws
	Workers    int       // goroutines; changes nothing in the answer
	Velocities []float64 // damper speeds at which ratios are given [m/s]
	MainSpeed  float64   // damper speed of the ratio that is judged [m/s]
	Lowering   []float64 // how far the lowering curves go [m]
	NoWorkings bool      // leave workings and curves out: remedies and sliders
	NoModes    bool      // leave the complex modes out
	ModesIn    string    // the one load state that modes are given in; empty: in all
	NoCorners  bool      // leave corners and yaw out
	NoRemedies bool      // for finding: leave remedies out, they are asked for one by one
	NoPlans    bool      // for finding: leave the builds' plans out, where none is shown
}

// Defaults returns the options of an assessment.
func Defaults() Options {
	o := Options{Samples: 2000, Seed: 1, Workers: 2, Velocities: []float64{0.05, 0.13, 0.26}, MainSpeed: 0.13}
	for mm := range 41 {
		o.Lowering = append(o.Lowering, float64(mm)*1e-3)
	}
	return o
}

// Curve is a result along an axis.
type Curve struct {
	Code, Build, Load string
	Corner            int
	Road              string
	Speed             float64 // of the car; 0 when it does not apply [m/s]
	XName, YName      string
	XUnit, YUnit      string
	X, Y              []float64 // [SI unit of XUnit and YUnit]
}

// Warning is something the reader must know about a build or corner.
type Warning struct {
	Code, Build, Load string
	Corner            int
	Value             float64 // the figure behind it, 0 when there is none [SI]
	Unit              string
	Path              string // of the input it is about, if any
}

// Failure is a case without an answer.
type Failure struct {
	Build, Load string
	Err         error
}

// Answer is everything a study found.
type Answer struct {
	Reference string
	Options   Options
	Job       Job
	Values    []figure.Value
	Curves    []Curve
	Warnings  []Warning
	Failures  []Failure

	// Driven is what package drives keeps with the answer, so that the next study
	// from it need not drive again; nil when nothing was driven.
	Driven any

	// Cases are the nominal rest states behind the values.
	Cases   [][]Case
	ready   *setup
	columns *columns // nil without draws
	index   map[key]int
}

// Case is one build in one load state.
type Case struct {
	System equilibrium.System
	State  equilibrium.State
	Err    error
}

// ErrNothing is returned when there is nothing to compute.
var ErrNothing = errors.New("study: a job needs a car, a build and a load state")

// setup is a job made ready: designs, hang-up, numbered inputs.
type setup struct {
	job     Job
	opt     Options
	designs []*corner.Design
	fitted  *corner.Design // the build that was on the car when it was weighed
	hangup  *equilibrium.Hangup
	bends   *bends
	speeds  []float64 // at which yaw is looked at [m/s]
	paths   [2]*cornering.Path
	tops    [2]*numeric.Curve // how far the top of a wheel moves outward over its travel; nil where not known
	others  bool              // a build stands on other tyres or wheels than the car was weighed on
	// brakeShare is the front's share of the braking force, estimated where it was
	// not given. [-]
	brakeShare float64
	banded     []*figure.Input
	givens     *givens
	again      bool // one changed build only: what belongs to the job as a whole was said before

	earlier *Answer // that unchanged builds are taken from; nil for none
	kept    []int   // per build, its place in earlier; −1: computed anew
}

// givens keeps what the solutions of each case were given, so that the workings of a
// case share one list.
type givens struct {
	sync.Mutex
	of map[[2]int][]*figure.Input
}

// everything is the root under which inputs are numbered, in an order that
// never changes.
type everything struct {
	Hangup *equilibrium.Hangup
	Car    *car.Car
	Builds []*car.Build
	Loads  []car.Load
}

// take adds what another answer holds.
func (a *Answer) take(part *Answer) {
	a.Values = append(a.Values, part.Values...)
	a.Curves = append(a.Curves, part.Curves...)
	a.Warnings = append(a.Warnings, part.Warnings...)
	a.Failures = append(a.Failures, part.Failures...)
}

// Take adds what another answer holds, and makes it found.
func (a *Answer) Take(part *Answer) {
	a.take(part)
	a.makeIndex()
}

// Computed reports an answer that was computed here, and not read back from
// somewhere: only that can be asked for more.
func (a *Answer) Computed() bool { return a.ready != nil }

// Get returns the value of a code per corner or, with figure.NoCorner, of the
// whole car; nil when there is none. Of a damping ratio it is the mean of bump
// and rebound at the main speed and the build's own click.
func (a *Answer) Get(code, build, load string, corner int) *figure.Value {
	if i, ok := a.index[key{code, build, load, corner}]; ok {
		return &a.Values[i]
	}
	return nil
}

// makeIndex makes Get quick; the first of several values at one place counts.
func (a *Answer) makeIndex() {
	a.index = make(map[key]int, len(a.Values))
	for i := range a.Values {
		v := &a.Values[i]
		p := &v.Place
		if v.Code == "damping-ratio" && (p.Direction != "mean" || p.Velocity != a.Options.MainSpeed) {
			continue
		}
		k := key{v.Code, p.Build, p.Load, p.Corner}
		if _, taken := a.index[k]; !taken {
			a.index[k] = i
		}
	}
}

// At returns the value of a code at a place, all keys alike; nil when there is
// none.
func (a *Answer) At(code string, p figure.Place) *figure.Value {
	for i := range a.Values {
		if v := &a.Values[i]; v.Code == code && v.Place == p {
			return v
		}
	}
	return nil
}

type key struct {
	code, build, load string
	corner            int
}

// ErrNoCase says that an answer has no such build or load state.
var ErrNoCase = errors.New("study: the answer has no such build or load state")

// Find gives the numbers of a build and a load state in the job; an error where either is not there, or the car has no rest.
func (a *Answer) Find(build, load string) (b, l int, err error) {
	b, l = -1, -1
	for i, one := range a.Job.Builds {
		if one.ID == build {
			b = i
		}
	}
	for i := range a.Job.Loads {
		if a.Job.Loads[i].ID == load {
			l = i
		}
	}
	if b < 0 || l < 0 || a.ready == nil || b >= len(a.Cases) || l >= len(a.Cases[b]) {
		return b, l, ErrNoCase
	}
	return b, l, a.Cases[b][l].Err
}

// CaseOf is the rest of a build in a load state.
func (a *Answer) CaseOf(build, load string) (*Case, error) {
	b, l, err := a.Find(build, load)
	if err != nil {
		return nil, err
	}
	return &a.Cases[b][l], nil
}
