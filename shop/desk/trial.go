package desk

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"trunnion/chassis/brief"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/remedy"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Typed is the text of a job as it is tried.
type Typed struct {
	Text   []byte          // with its edits made
	Plain  []byte          // without them; nil where there are none
	Faults []jobfile.Fault // of edits that could not be made
}

// kinds of trial, which set keys apart.
const (
	quick    = ""
	corners  = "corner-"
	symptoms = "symptom-"
)

// Try answers a job as fast as a hand moves: few draws, obstacles in time at one
// step, one load state screened, no corners. Full replaces it; where Full has
// answered already, this is its answer.
func (d *Desk) Try(ctx context.Context, typed Typed, look Look, system quantity.System) (*Trial, error) {
	return d.trial(ctx, quick, typed, look, system, func(t *Trial) (*asked, error) {
		q := d.fullAsked(t, look)
		if d.held(q.as) != nil {
			return q, nil
		}
		t.Full = false
		s := Settings{}
		q = &asked{job: t.Job, brief: q.brief, opt: s.options(TryDraws), earlier: d.earlier(t.Job, false)}
		// Corners take as long as all the rest: they come with the full answer.
		q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoCorners, q.opt.ModesIn = true, true, true, t.Load
		ride := s.drive()
		ride.EventsOnly, ride.Unchecked, ride.ScreenIn = true, true, t.Load
		q.drive = &ride
		return q, nil
	})
}

// Full answers a job as the command does, figure by figure, with workings and
// remedies left until they are opened.
func (d *Desk) Full(ctx context.Context, typed Typed, look Look, system quantity.System) (*Trial, error) {
	return d.trial(ctx, quick, typed, look, system, func(t *Trial) (*asked, error) { return d.fullAsked(t, look), nil })
}

// fullAsked is the full answer of a trial: with every draw of the command and its
// seed, every road driven, all load states.
func (d *Desk) fullAsked(t *Trial, look Look) *asked {
	b, fault := askedBrief(t.Job.Brief, &look)
	if fault != nil {
		t.Faults = append(t.Faults, *fault)
	}
	t.Full = true
	s := Settings{}
	q := &asked{job: t.Job, brief: &b, opt: s.options(Draws), earlier: d.earlier(t.Job, true), full: true}
	q.opt.NoWorkings, q.opt.NoRemedies = true, true
	ride := s.drive()
	q.drive = &ride
	look.Load = "" // all are answered
	q.as = d.keyOf("full-", t.Job.Text, &look, true)
	return q
}

// TryCorners answers how a job's builds corner, without roads.
func (d *Desk) TryCorners(ctx context.Context, typed Typed, look Look, system quantity.System) (*Trial, error) {
	return d.trial(ctx, corners, typed, look, system, func(t *Trial) (*asked, error) {
		if q := d.fullAsked(t, look); d.held(q.as) != nil {
			return q, nil
		}
		t.Full = false
		return cornerAsked(t.Job, t.Load, &Settings{}, TryDraws), nil
	})
}

// TrySymptom answers what a symptom is looked up in: corners and short drives. What
// is looked at decides nothing here, and the last ones are kept: an owner says
// more than one thing.
func (d *Desk) TrySymptom(ctx context.Context, typed Typed, look Look, system quantity.System) (*Trial, error) {
	key := d.keyOf(symptoms, typed.Text, &Look{}, true)
	if kept, err := d.Kept(key); err == nil {
		d.keep(kept)
		t := kept.As(system)
		t.Load = LoadOf(t.Job, look.Load)
		return t, nil
	}
	t, err := d.trial(ctx, symptoms, typed, Look{}, system, func(t *Trial) (*asked, error) {
		return symptomAsked(t.Job, &Settings{}), nil
	})
	if err == nil && t.Job != nil {
		t = t.As(system)
		t.Load = LoadOf(t.Job, look.Load)
	}
	return t, err
}

// Show makes a trial of a full judgement.
func (d *Desk) Show(full *Result, look Look, system quantity.System) *Trial {
	t := &Trial{Result: *full, Look: look, Text: full.Job.Text, System: system, Full: true, Load: LoadOf(full.Job, look.Load), mended: map[int]bool{}}
	t.Findings = slices.Clone(full.Findings)
	t.Teller = wording.New(t.Answer, system)
	t.Key = d.keyOf(quick, t.Text, &look, true)
	d.keep(t)
	return t
}

// trial reads and answers a job. A job that cannot be read, or has no answer, is a
// trial with faults.
func (d *Desk) trial(ctx context.Context, kind string, typed Typed, look Look, system quantity.System, ask func(*Trial) (*asked, error)) (*Trial, error) {
	t := &Trial{kind: kind, Look: look, Text: typed.Text, System: system, Full: kind == symptoms, mended: map[int]bool{}}
	t.Job, t.Faults = jobfile.ReadBytes(t.Text, "job.yaml")
	answerable := t.Job != nil
	if !answerable && typed.Plain != nil && kind == quick {
		// What was last good is shown behind the faults: the job without its edits.
		t.Job, _ = jobfile.ReadBytes(typed.Plain, "job.yaml")
	}
	t.Faults = append(t.Faults, typed.Faults...)
	if t.Job != nil {
		t.Load = LoadOf(t.Job, look.Load)
		q, err := ask(t)
		if err != nil {
			return nil, err
		}
		r, err := d.answer(ctx, q)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			t.Faults = append(t.Faults, jobfile.Fault{Got: "has no answer: " + strings.TrimPrefix(err.Error(), "study: "), Kind: jobfile.Refuse})
		default:
			t.Answer, t.Findings, t.NotDriven, t.InShort = r.Answer, slices.Clone(r.Findings), r.NotDriven, r.InShort
			if kind == quick {
				d.remember(r.Answer, t.Full)
			}
		}
	}
	t.Key = d.keyOf(kind, t.Text, &look, t.Full)
	t.Teller = wording.New(t.Answer, system)
	if kind != symptoms || t.Answer != nil {
		d.keep(t)
	}
	return t, nil
}

// As is the same trial in other units.
func (t *Trial) As(system quantity.System) *Trial {
	return &Trial{
		Result: Result{Job: t.Job, Faults: slices.Clone(t.Faults), Answer: t.Answer, Findings: slices.Clone(t.Findings), NotDriven: t.NotDriven, InShort: t.InShort},
		Key:    t.Key, Look: t.Look, Text: t.Text, System: system, Teller: wording.New(t.Answer, system), Load: t.Load, Full: t.Full, kind: t.kind, mended: map[int]bool{},
	}
}

// Standing is a trial of a job: the one kept of the same text, where it has an
// answer and obstacles at the brief's own speeds, else a new one. full, where
// given, is the judgement to show.
func (d *Desk) Standing(ctx context.Context, typed Typed, look Look, system quantity.System, full *Result) (*Trial, error) {
	t := d.of(typed.Text, full != nil)
	if t == nil {
		if full != nil {
			t = d.Show(full, look, system)
		} else {
			var err error
			if t, err = d.Try(ctx, typed, look, system); err != nil {
				return nil, err
			}
		}
	}
	// A trial is shared: its own load state and units are left as they are.
	t = t.As(system)
	t.Look = look
	if t.Job != nil {
		t.Load = LoadOf(t.Job, look.Load)
	}
	return t, nil
}

// of finds a kept trial of a job's text; with full only that of a full judgement.
func (d *Desk) of(text []byte, full bool) *Trial {
	d.mu.Lock()
	defer d.mu.Unlock()
	var found *Trial
	for _, key := range slices.Backward(d.order) {
		t := d.trials[key]
		if t.kind != quick || t.Answer == nil || t.Look.Speed != "" || !bytes.Equal(t.Text, text) {
			continue
		}
		if t.Full {
			return t
		}
		if found == nil && !full {
			found = t
		}
	}
	return found
}

// InBrief reports whether what is looked at is in a job's brief as it stands.
func InBrief(job *jobfile.Job, look Look) bool {
	b := &job.Brief
	got, fault := askedBrief(*b, &look)
	if fault != nil {
		return false
	}
	for i := range got.Roads {
		if len(got.Roads[i].Speeds) != len(b.Roads[i].Speeds) {
			return false
		}
	}
	for i := range got.Events {
		if got.Events[i].Speed.Typed != b.Events[i].Speed.Typed {
			return false
		}
	}
	return true
}

// askedBrief is the brief with the road, or the speed of an obstacle, that is
// looked at and not in it.
func askedBrief(b brief.Brief, look *Look) (brief.Brief, *jobfile.Fault) {
	bad := func(path, got string) *jobfile.Fault {
		return &jobfile.Fault{Path: path, Got: "is " + got, Want: "enter a speed, such as 60 km/h", Kind: jobfile.Warn}
	}
	speed := func(typed string) (figure.Input, bool) {
		t, err := quantity.Parse(typed, quantity.SpeedRoad)
		return figure.Input{Value: t.Value, Origin: figure.Chosen, Typed: typed}, err == nil && t.Value >= 0.5 && t.Value <= 100
	}
	if look.Road != "" {
		v, ok := speed(look.RoadSpeed)
		if !ok {
			return b, bad("road.speed", look.RoadSpeed)
		}
		roads := slices.Clone(b.Roads)
		for i := range roads {
			if roads[i].Name != look.Road {
				continue
			}
			if !slices.ContainsFunc(roads[i].Speeds, func(in figure.Input) bool { return SameSpeed(in.Value, v.Value) }) {
				roads[i].Speeds = append(slices.Clone(roads[i].Speeds), v)
			}
			b.Roads = roads
			return b, nil
		}
	}
	if look.Event != nil && look.Speed != "" {
		v, ok := speed(look.Speed)
		if !ok {
			return b, bad("speed", look.Speed)
		}
		if *look.Event < len(b.Events) && !SameSpeed(b.Events[*look.Event].Speed.Value, v.Value) {
			b.Events = slices.Clone(b.Events)
			v.Path, v.Line = b.Events[*look.Event].Speed.Path, b.Events[*look.Event].Speed.Line
			b.Events[*look.Event].Speed = v
		}
	}
	return b, nil
}

// SameSpeed reports whether two speeds [m/s] are one to a driver.
func SameSpeed(a, b float64) bool { return math.Abs(a-b) < 0.02 }

// keyOf is a fingerprint of what a trial is made from.
func (d *Desk) keyOf(kind string, text []byte, look *Look, full bool) string {
	h := sha256.New()
	event := -1
	if look.Event != nil {
		event = *look.Event
	}
	_, _ = fmt.Fprintf(h, "%q %q %q %d %q %q %t\n", look.Load, look.Road, look.RoadSpeed, event, look.Speed, d.version, full)
	h.Write(text)
	return kind + hex.EncodeToString(h.Sum(nil)[:12])
}

// keep keeps a trial and forgets the oldest.
func (d *Desk) keep(t *Trial) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, there := d.trials[t.Key]; there {
		d.order = slices.DeleteFunc(d.order, func(k string) bool { return k == t.Key })
	}
	d.trials[t.Key] = t
	d.order = append(d.order, t.Key)
	for len(d.order) > trialsKept {
		delete(d.trials, d.order[0])
		d.order = d.order[1:]
	}
}

// ErrNotKept says that a trial is no longer kept: the page tries again.
var ErrNotKept = errors.New("this view is no longer kept")

// Kept is the trial of a key.
func (d *Desk) Kept(key string) (*Trial, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	t := d.trials[key]
	if t == nil {
		return nil, ErrNotKept
	}
	return t, nil
}

// sortOf is where answers of a sort are kept.
func sortOf(full bool) int {
	if full {
		return 1
	}
	return 0
}

// remember keeps an answer for the next of its sort, the newest first.
func (d *Desk) remember(a *study.Answer, full bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	list := &d.answers[sortOf(full)]
	if len(*list) > 0 && (*list)[0] == a {
		return // a result that was kept
	}
	*list = slices.Insert(*list, 0, a)
	if len(*list) > answersKept {
		*list = (*list)[:answersKept]
	}
}

// earlier is the newest answer of a sort for what looks like the same car.
func (d *Desk) earlier(job *jobfile.Job, full bool) *study.Answer {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, a := range d.answers[sortOf(full)] {
		c := a.Job.Car
		if c.Name == job.Car.Name && c.Weighed.Build == job.Car.Weighed.Build && len(a.Job.Loads) == len(job.Loads) && c.Wheelbase.Value == job.Car.Wheelbase.Value {
			return a
		}
	}
	return nil
}

// Finding returns a finding with its remedies, which are worked out when they are
// first asked for.
func (t *Trial) Finding(ctx context.Context, k int) (*finding.Finding, error) {
	f := &t.Findings[k]
	t.mending.Lock()
	defer t.mending.Unlock()
	if !t.mended[k] && (f.Verdict == finding.Over || f.Verdict == finding.Close) {
		if err := remedy.Mend(ctx, t.Answer, f); err != nil {
			return nil, err
		}
	}
	t.mended[k] = true
	return f, nil
}

// Value finds a value by its id.
func (t *Trial) Value(id string) *figure.Value {
	t.mending.Lock()
	defer t.mending.Unlock()
	if t.values == nil && t.Answer != nil {
		t.values = make(map[string]*figure.Value, len(t.Answer.Values))
		for i := range t.Answer.Values {
			v := &t.Answer.Values[i]
			if id := ValueID(v); t.values[id] == nil {
				t.values[id] = v
			}
		}
	}
	return t.values[id]
}

// ValueID names a value for good: its code and place.
func ValueID(v *figure.Value) string {
	p := &v.Place
	corner := "car"
	if p.Corner >= 0 && p.Corner < len(figure.CornerNames) {
		corner = figure.CornerNames[p.Corner]
	}
	words := []string{v.Code, p.Build, p.Load, corner}
	if v.Tier == figure.Screening {
		words = append(words, "screening")
	}
	for _, w := range []string{p.Road, p.Event, p.Mode, p.Direction} {
		if w != "" {
			words = append(words, w)
		}
	}
	if p.At == "rear-floor" || v.Code == "floor-acceleration" || v.Code == "vibration-dose" {
		words = append(words, p.At)
	}
	if p.HasClick {
		words = append(words, "click-"+strconv.Itoa(p.Click))
	}
	for _, x := range []float64{p.Speed, p.Velocity, p.Threshold} {
		if x != 0 {
			words = append(words, strconv.FormatFloat(x, 'g', 5, 64))
		}
	}
	return strings.Join(words, "~")
}
