package study

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/corner"
	"trunnion/chassis/cornering"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
)

// Job is what is asked: a car, what could be fitted, how it is loaded and what
// it is for.
type Job struct {
	Car    *car.Car
	Builds []*car.Build
	Loads  []car.Load
	Brief  *brief.Brief
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

	Ridden RideOptions // how the roads were driven; Samples is 0 when they were not
	steps  [2]float64  // of the drives, on roads and over events [s]

	// Cases are the nominal rest states behind the values.
	Cases   [][]Case
	ready   *setup
	columns *columns // nil without draws
	index   map[key]int
	mounts  map[mountKey][][4]float64 // of the drives, per sample [N^MountSlope]
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

func prepare(job Job, opt Options) (*setup, error) {
	if job.Car == nil || len(job.Builds) == 0 || len(job.Loads) == 0 {
		return nil, ErrNothing
	}
	s := &setup{job: job, opt: opt, hangup: equilibrium.NewHangup(), givens: &givens{}}
	for _, b := range job.Builds {
		ds, err := corner.NewDesign(job.Car, b)
		if err != nil {
			return nil, err
		}
		s.designs = append(s.designs, ds)
		if b.ID == job.Car.Weighed.Build {
			s.fitted = ds
		}
	}
	if s.fitted == nil {
		return nil, fmt.Errorf("study: the build that was weighed, %q, is not among the builds", job.Car.Weighed.Build)
	}
	s.banded = figure.Number(&everything{s.hangup, job.Car, job.Builds, job.Loads}, car.Twins(job.Builds))
	s.bends, s.speeds = bendsOf(job.Car, opt.Samples, opt.Seed, opt.Workers), s.speedsOf()
	s.paths = pathsOf(job.Car)
	s.brakeShare = SupportOf(job.Car, car.Front).BrakeShare
	return s, nil
}

// Run answers the job. It numbers the job's inputs for its draws, so one job serves
// one study at a time.
func Run(ctx context.Context, job Job, opt Options) (*Answer, error) {
	return Rerun(ctx, nil, job, opt)
}

// Rerun answers the job as Run does, to the bit, and takes over from an earlier
// answer what the job has not changed: a build whose parts, car, loads and
// draws are the same. The earlier answer may be nil, and is only read.
func Rerun(ctx context.Context, earlier *Answer, job Job, opt Options) (*Answer, error) {
	s, err := prepare(job, opt)
	if err != nil {
		return nil, err
	}
	s.keep(earlier)
	a := &Answer{Options: opt, Job: job}
	if job.Brief != nil {
		a.Reference = job.Brief.Reference
	}
	if a.Reference == "" {
		a.Reference = job.Car.Weighed.Build
	}
	base := equilibrium.Calibrate(s.fitted, s.hangup, nil)
	a.Cases = s.solveAll(&base, a)
	cols, err := s.sample(ctx, a.Cases)
	if err != nil {
		return nil, err
	}
	a.ready, a.columns = s, cols
	s.report(a, &base)
	a.makeIndex()
	return a, nil
}

// solveAll finds the nominal rest of every build in every load state.
func (s *setup) solveAll(base *equilibrium.Baseline, a *Answer) [][]Case {
	cases := make([][]Case, len(s.designs))
	for b, ds := range s.designs {
		cases[b] = make([]Case, len(s.job.Loads))
		sys, err := equilibrium.NewSystem(ds, base, s.hangup, nil)
		for l := range s.job.Loads {
			c := &cases[b][l]
			c.System, c.Err = sys, err
			if err == nil {
				c.State, c.Err = c.System.Solve(equilibrium.Of(s.job.Loads[l].Items, nil), nil)
			}
			if c.Err != nil {
				a.Failures = append(a.Failures, Failure{Build: ds.Build.ID, Load: s.job.Loads[l].ID, Err: c.Err})
			}
		}
	}
	return cases
}
