package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// What a try costs is chosen so that it answers while the hand still moves: few
// draws, events in time at one step, one load state screened. The full
// judgement follows and replaces it.
const (
	tryDraws   = 120
	viewsKept  = 8 // tries whose workings can still be opened: each holds some megabytes
	answerKept = 2 // answers that the next try takes over unchanged builds from
)

// catalogue is where a desk finds the part or preset that an edit names.
type catalogue interface {
	Part(ctx context.Context, kind, slug string) (store.Part, error)
	Preset(ctx context.Context, slug string) (store.Preset, error)
}

// desk computes tries and keeps the last ones, so that their workings can be
// opened.
type desk struct {
	parts   catalogue // may be nil
	version string
	now     func() time.Time
	busy    chan struct{} // one token a study at a time

	mu      sync.Mutex
	views   map[string]*sight
	order   []string // of views, oldest first
	answers []*study.Answer
}

func newDesk(parts catalogue, version string, now func() time.Time) *desk {
	return &desk{parts: parts, version: version, now: now, busy: make(chan struct{}, max(1, runtime.NumCPU()/2)), views: map[string]*sight{}}
}

// sight is a job as tried, with all that a view of it is made of.
type sight struct {
	desk     *desk
	key      string
	request  TryRequest
	system   quantity.System
	text     []byte
	job      *jobfile.Job
	faults   []jobfile.Fault
	applied  []Applied
	answer   *study.Answer
	findings []finding.Finding
	teller   *wording.Teller
	load     string
	full     bool

	values  map[string]*figure.Value // by id
	mending sync.Mutex               // of findings' remedies
	mended  map[int]bool
}

// Attempt tries a job with edits.
func (d *desk) Attempt(ctx context.Context, req TryRequest) (*View, error) {
	start := d.now()
	s, err := d.sight(ctx, req, nil)
	if err != nil {
		return nil, err
	}
	v, err := s.view(ctx)
	if err != nil {
		return nil, err
	}
	v.Ms = int(d.now().Sub(start).Milliseconds())
	return v, nil
}

// turn waits until a study may begin; done lets the next one in.
func (d *desk) turn(ctx context.Context) (done func(), err error) {
	select {
	case d.busy <- struct{}{}:
		return func() { <-d.busy }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// textOf is a request's text with its edits made.
func (d *desk) textOf(ctx context.Context, req *TryRequest) []byte {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil
	}
	ed := &editor{desk: d, text: []byte(req.Text), system: system}
	for _, e := range req.Edits {
		ed.apply(ctx, e)
	}
	return ed.text
}

// full shows a full judgement.
func (d *desk) full(ctx context.Context, req TryRequest, full *judged) (*View, error) {
	start := d.now()
	s, err := d.sight(ctx, req, full)
	if err != nil {
		return nil, err
	}
	v, err := s.view(ctx)
	if v != nil {
		v.Ms = int(d.now().Sub(start).Milliseconds())
	}
	return v, err
}

// in is the same sight in other units.
func (s *sight) in(units string) (*sight, error) {
	if units == "" || units == wording.SystemName(s.system) {
		return s, nil
	}
	system, err := wording.System(units)
	if err != nil {
		return nil, err
	}
	return &sight{
		desk: s.desk, key: s.key, request: s.request, system: system, text: s.text, job: s.job, faults: s.faults, applied: s.applied, answer: s.answer,
		findings: slices.Clone(s.findings), teller: wording.New(s.answer, system), load: s.load, full: s.full, mended: map[int]bool{},
	}, nil
}

func systemOf(units string) (quantity.System, error) { return wording.System(units) }

// judged is a full judgement that a view is made of instead of a try.
type judged struct {
	answer   *study.Answer
	findings []finding.Finding
	job      *jobfile.Job
	faults   []jobfile.Fault
}

// sight reads, changes and studies a job.
func (d *desk) sight(ctx context.Context, req TryRequest, full *judged) (*sight, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	s := &sight{desk: d, request: req, system: system, full: full != nil, mended: map[int]bool{}}
	if full != nil {
		s.text, s.job, s.faults, s.answer, s.findings = full.job.Text, full.job, full.faults, full.answer, slices.Clone(full.findings)
	} else if err := s.study(ctx); err != nil {
		return nil, err
	}
	s.key = s.keyOf()
	s.teller = wording.New(s.answer, system)
	d.keep(s)
	return s, nil
}

// study changes the job as the edits say and answers it.
func (s *sight) study(ctx context.Context) error {
	d := s.desk
	ed := &editor{desk: d, text: []byte(s.request.Text), system: s.system}
	for _, e := range s.request.Edits {
		ed.apply(ctx, e)
	}
	s.text, s.applied = ed.text, ed.applied
	s.job, s.faults = jobfile.ReadBytes(s.text, "job.yaml")
	if s.job == nil {
		// What was last good is shown behind the faults: the job without the
		// edits, where that can be answered.
		if job, _ := jobfile.ReadBytes([]byte(s.request.Text), "job.yaml"); job != nil && len(s.request.Edits) > 0 {
			s.job = job
		}
	}
	s.faults = append(s.faults, ed.faults...)
	if s.job == nil {
		return nil
	}
	asked, fault := askedBrief(s.job.Brief, s.request)
	if fault != nil {
		s.faults = append(s.faults, *fault)
	}
	s.load = s.loadAsked()
	job := study.Job{Car: s.job.Car, Builds: s.job.Builds, Loads: s.job.Loads, Brief: &asked}
	opt := study.Defaults()
	opt.Samples, opt.Workers = tryDraws, runtime.NumCPU()
	// Bends take as long as all the rest: they come with the full judgement.
	opt.NoWorkings, opt.NoRemedies, opt.NoCorners, opt.ModesIn = true, true, true, s.load
	ride := study.RideDefaults()
	ride.EventsOnly, ride.Unchecked, ride.ScreenIn = true, true, s.load
	done, err := d.turn(ctx)
	if err != nil {
		return err
	}
	defer done()
	a, err := study.Rerun(ctx, d.earlier(s.job), job, opt)
	if err != nil {
		return s.noAnswer(ctx, err)
	}
	if err := a.Ride(ctx, ride, nil); err != nil {
		return s.noAnswer(ctx, err)
	}
	findings, err := finding.Judge(ctx, a)
	if err != nil {
		return s.noAnswer(ctx, err)
	}
	s.answer, s.findings = a, findings
	d.remember(a)
	return nil
}

// noAnswer makes a fault of a study that gives no answer; a request that was
// given up stays an error.
func (s *sight) noAnswer(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	s.faults = append(s.faults, jobfile.Fault{Got: "has no answer: " + strings.TrimPrefix(err.Error(), "study: "), Kind: jobfile.Refuse})
	return nil
}

// loadAsked is the load state that is shown: the one asked for, else the usual
// one.
func (s *sight) loadAsked() string {
	for i := range s.job.Loads {
		if s.job.Loads[i].ID == s.request.Load {
			return s.request.Load
		}
	}
	if s.job.Brief.UsualLoad != "" {
		return s.job.Brief.UsualLoad
	}
	if len(s.job.Loads) > 0 {
		return s.job.Loads[0].ID
	}
	return ""
}

// askedBrief is the brief with the road, or the speed of an obstacle, that is
// looked at and not in it.
func askedBrief(b brief.Brief, req TryRequest) (brief.Brief, *jobfile.Fault) {
	bad := func(path, got string) *jobfile.Fault {
		return &jobfile.Fault{Path: path, Got: "is " + got, Want: "a speed is due, such as 60 km/h", Kind: jobfile.Warn}
	}
	speed := func(typed string) (figure.Input, bool) {
		t, err := quantity.Parse(typed, quantity.SpeedRoad)
		return figure.Input{Value: t.Value, Origin: figure.Chosen, Typed: typed}, err == nil && t.Value >= 0.5 && t.Value <= 100
	}
	if r := req.Road; r != nil && r.Name != "" {
		v, ok := speed(r.Speed)
		if !ok {
			return b, bad("road.speed", r.Speed)
		}
		roads := slices.Clone(b.Roads)
		for i := range roads {
			if roads[i].Name != r.Name {
				continue
			}
			if !slices.ContainsFunc(roads[i].Speeds, func(in figure.Input) bool { return near(in.Value, v.Value) }) {
				roads[i].Speeds = append(slices.Clone(roads[i].Speeds), v)
			}
			b.Roads = roads
			return b, nil
		}
	}
	if req.Event != nil && req.Speed != "" {
		v, ok := speed(req.Speed)
		if !ok {
			return b, bad("speed", req.Speed)
		}
		if *req.Event < len(b.Events) && !near(b.Events[*req.Event].Speed.Value, v.Value) {
			b.Events = slices.Clone(b.Events)
			v.Path, v.Line = b.Events[*req.Event].Speed.Path, b.Events[*req.Event].Speed.Line
			b.Events[*req.Event].Speed = v
		}
	}
	return b, nil
}

func near(a, b float64) bool { d := a - b; return d < 0.02 && d > -0.02 }

// keyOf is a fingerprint of what a sight was made from.
func (s *sight) keyOf() string {
	h := sha256.New()
	request := s.request
	request.Text = "" // stands below with its edits made
	if asked, err := json.Marshal(request); err == nil {
		h.Write(asked)
	}
	h.Write([]byte(fmt.Sprint(s.desk.version, s.full)))
	h.Write(s.text)
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// keep keeps a sight and forgets the oldest.
func (d *desk) keep(s *sight) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, there := d.views[s.key]; there {
		d.order = slices.DeleteFunc(d.order, func(k string) bool { return k == s.key })
	}
	d.views[s.key] = s
	d.order = append(d.order, s.key)
	for len(d.order) > viewsKept {
		delete(d.views, d.order[0])
		d.order = d.order[1:]
	}
}

// errForgotten says that a view is no longer kept: the page tries again.
var errForgotten = errors.New("this view is no longer kept")

func (d *desk) seen(key string) (*sight, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := d.views[key]
	if s == nil {
		return nil, errForgotten
	}
	return s, nil
}

// remember keeps an answer for the next try, the newest first.
func (d *desk) remember(a *study.Answer) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.answers = slices.Insert(d.answers, 0, a)
	if len(d.answers) > answerKept {
		d.answers = d.answers[:answerKept]
	}
}

// earlier is the newest answer for what looks like the same car.
func (d *desk) earlier(job *jobfile.Job) *study.Answer {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, a := range d.answers {
		c := a.Job.Car
		if c.Name == job.Car.Name && c.Weighed.Build == job.Car.Weighed.Build && len(a.Job.Loads) == len(job.Loads) && c.Wheelbase.Value == job.Car.Wheelbase.Value {
			return a
		}
	}
	return nil
}

// finding returns a finding with its remedies, which are worked out when they
// are first asked for.
func (s *sight) finding(ctx context.Context, k int) (*finding.Finding, error) {
	f := &s.findings[k]
	s.mending.Lock()
	defer s.mending.Unlock()
	if !s.mended[k] && (f.Verdict == finding.Over || f.Verdict == finding.Close) {
		if err := finding.Mend(ctx, s.answer, f); err != nil {
			return nil, err
		}
	}
	s.mended[k] = true
	return f, nil
}
