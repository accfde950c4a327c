package desk

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"

	"trunnion/chassis/axles"
	"trunnion/chassis/brief"
	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/symptom"
	"trunnion/shop/wording"
)

const (
	trialsKept  = 8 // whose workings can still be opened: each holds some megabytes
	answersKept = 2 // of each sort, that the next one takes over unchanged builds from
	resultsKept = 4 // full ones: undone, looked at in another load state, printed
)

// Desk answers questions, a few at a time, and keeps the last trials so that their
// workings can be opened.
type Desk struct {
	version string
	busy    *lane
	patient *lane // of full answers: quick ones never wait for them

	searching *lane // of searches, which take longest

	stock stock // what can be bought

	mu      sync.Mutex
	trials  map[string]*Trial
	order   []string           // of trials, oldest first
	answers [2][]*study.Answer // quick ones, full ones; the newest first
	results map[string]*Result
	recent  []string // of results, oldest first
}

// New makes a desk of a program's version.
func New(version string) *Desk {
	return &Desk{version: version, busy: newLane(max(1, runtime.NumCPU()/2)), patient: newLane(1), searching: newLane(1), trials: map[string]*Trial{}, results: map[string]*Result{}}
}

// Buying makes remedies, plans and searches choose parts from a catalogue, where it has one
// that fits.
func (d *Desk) Buying(from Stock) {
	d.stock.mu.Lock()
	defer d.stock.mu.Unlock()
	d.stock.from = from
}

// standardSymptoms is the program's own table of what owners say.
var standardSymptoms = sync.OnceValues(func() (*symptom.Rules, error) { return symptom.Standard() })

// errNoJob is returned for a job that could not be read.
var errNoJob = errors.New("the job cannot be read")

// asked is a job as it is put to the study.
type asked struct {
	job     *jobfile.Job
	brief   *brief.Brief // in place of the job's; nil: the job's
	study   study.Job    // set where builds or loads differ from the job's
	opt     study.Options
	drive   *drives.Options // nil: nothing is driven
	drives  *drives.Driven  // taken over in place of driving; nil: none
	shown   func(done, total int)
	earlier *study.Answer
	// strict makes a drive that fails an error.
	strict bool
	// full is worked out beside the quick ones, which do not wait for it.
	full bool
	// as names the result as long as it is kept; empty: it is not kept.
	as string
}

// studied is a job as the study takes it.
func studied(job *jobfile.Job) study.Job {
	return study.Job{Car: job.Car, Builds: job.Builds, Loads: job.Loads, Brief: &job.Brief}
}

// answer runs the study, drives and judges: the only place where that is done.
func (d *Desk) answer(ctx context.Context, q *asked) (*Result, error) {
	if q.job == nil {
		return nil, errNoJob
	}
	lane := d.busy
	if q.full {
		lane = d.patient
	}
	done, err := lane.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	stocked, err := d.stock.read(ctx)
	if err != nil {
		return nil, err
	}
	if r := d.held(q.as); r != nil {
		return r, nil
	}
	job := q.study
	if job.Car == nil {
		job = studied(q.job)
	}
	if q.brief != nil {
		job.Brief = q.brief
	}
	job.Stock = stocked
	a, err := study.Rerun(ctx, q.earlier, job, q.opt)
	if err != nil {
		return nil, err
	}
	out := &Result{Job: q.job, Answer: a}
	switch {
	case q.drives != nil:
		drives.Adopt(a, *q.drives)
	case q.drive != nil:
		if err := drives.Ride(ctx, a, *q.drive, q.shown); err != nil {
			if ctx.Err() != nil || q.strict {
				return nil, err
			}
			// The rest stands without the drives; that they are missing is said.
			out.NotDriven = err
			a.Warnings = append(a.Warnings, study.Warning{Code: "roads-not-driven", Corner: figure.NoCorner, Path: "brief"})
		}
	}
	if err := axles.Report(ctx, a); err != nil {
		return nil, err
	}
	out.Findings = finding.Judge(a)
	if q.job.Info.Words != "" {
		rules, err := standardSymptoms()
		if err != nil {
			return nil, err
		}
		out.InShort = rules.InShort(a, wording.New(a, 0), q.job.Info.Words)
	}
	if out.Plans, err = remedy.Judge(ctx, a, out.Findings); err != nil {
		return nil, err
	}
	d.hold(q.as, out)
	return out, nil
}

// held is the result that is kept under a name; nil where none is. A result is
// shared and only read. It is another one with another catalogue.
func (d *Desk) held(name string) *Result {
	if name == "" {
		return nil
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.results[name+d.stock.now()]
}

// hold keeps a result and forgets the oldest.
func (d *Desk) hold(name string, r *Result) {
	if name == "" {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	name += d.stock.now()
	d.results[name] = r
	d.recent = append(slices.DeleteFunc(d.recent, func(k string) bool { return k == name }), name)
	for len(d.recent) > resultsKept {
		delete(d.results, d.recent[0])
		d.recent = d.recent[1:]
	}
}

// LoadOf is the load state that a question is about: the one asked for, else the
// usual one.
func LoadOf(job *jobfile.Job, load string) string {
	for i := range job.Loads {
		if job.Loads[i].ID == load {
			return load
		}
	}
	return study.UsualLoad(&job.Brief, job.Loads)
}
