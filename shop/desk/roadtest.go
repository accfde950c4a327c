package desk

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/roadtest"
	"trunnion/shop/answer"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// LogAsk is a log of a drive, and what it does not say.
type LogAsk struct {
	File    intake.SweepFile  `json:"file" kong:"-"`
	Mapping intake.LogMapping `json:"mapping,omitempty" kong:"-"`
	Low     string            `help:"Damper speed below which time is counted; 25 mm/s without it." json:"low,omitempty" maxLength:"60" placeholder:"SPEED"`
	High    string            `help:"Damper speed above which time is counted; 200 mm/s without it." json:"high,omitempty" maxLength:"60" placeholder:"SPEED"`
}

// LogRead is a log with what it says by itself.
type LogRead struct {
	*intake.Logged
	Marks  roadtest.Marks
	Grades []roadtest.Grade // of the channels, in their order
	Alone  []roadtest.Alone // of the travel channels
}

// RoadTestAsk is a log to be held against the prediction of a build.
type RoadTestAsk struct {
	LogAsk
	Build string   `help:"Build that was driven, by id." json:"build,omitempty" maxLength:"100" placeholder:"ID"`
	Load  string   `help:"Load state that was aboard, by id; the usual one without it." json:"load,omitempty" maxLength:"100" placeholder:"ID"`
	Speed string   `help:"Road speed, where the log has none." json:"speed,omitempty" maxLength:"60" placeholder:"SPEED"`
	Take  []string `help:"Corrections to take, by name: stop-gap-front-left." json:"take,omitempty" maxItems:"20" placeholder:"NAME"`
	Date  string   `help:"Day of the road test, as it is to stand beside what is taken." json:"date,omitempty" maxLength:"60" placeholder:"DATE"`
	Settings
}

// RoadTested is a log beside its prediction.
type RoadTested struct {
	Read        *LogRead
	Job         *jobfile.Job
	Build, Load string
	*roadtest.Outcome
	Corrections []Correction
}

// marks are those that were said.
func (a *LogAsk) marks() (roadtest.Marks, error) {
	m := roadtest.UsualMarks()
	for _, one := range []struct {
		field, text string
		to          *float64
	}{{"low", a.Low, &m.Low}, {"high", a.High, &m.High}} {
		if one.text == "" {
			continue
		}
		v, err := quantity.Parse(one.text, quantity.SpeedDamper)
		if err != nil {
			return m, bad(one.field, "%s: %w", one.text, err)
		}
		*one.to = v.Value
	}
	if !(m.Low > 0 && m.High > m.Low) {
		return m, bad("low", "is above nothing and below high")
	}
	return m, nil
}

// RoadTestRead reads a log, grades its channels and says what they show by themselves.
func (d *Desk) RoadTestRead(ctx context.Context, ask LogAsk) (*LogRead, error) {
	marks, err := ask.marks()
	if err != nil {
		return nil, err
	}
	if ask.File.Name == "" && len(ask.File.Data) == 0 {
		return nil, absent("enter the file of a log")
	}
	done, err := d.patient.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	return readLog(&ask, marks)
}

func readLog(ask *LogAsk, marks roadtest.Marks) (*LogRead, error) {
	got, err := intake.ReadLog(ask.File.Name, bytes.NewReader(ask.File.Data), ask.Mapping)
	if err != nil {
		return nil, absent("%s cannot be read: %w", ask.File.Name, err)
	}
	out := &LogRead{Logged: got, Marks: marks}
	speed := got.Log.Find(roadtest.Speed, -1)
	for i := range got.Log.Channels {
		c := &got.Log.Channels[i]
		out.Grades = append(out.Grades, roadtest.GradeOf(c))
		if c.Role != roadtest.Travel {
			continue
		}
		var moving func(float64) bool
		if speed != nil {
			moving = func(t float64) bool {
				k := int((t - speed.Start) * speed.Rate)
				return k >= 0 && k < len(speed.Values) && speed.Values[k] > 1
			}
		}
		out.Alone = append(out.Alone, roadtest.AloneOf(c, marks, moving))
	}
	return out, nil
}

// testDraws are the draws of a build's inputs behind the bands of what is predicted. Chosen.
const testDraws = 16

// RoadTest holds a log against the prediction of a build, and offers the corrections
// that it speaks for, each with the edits that would take it.
func (d *Desk) RoadTest(ctx context.Context, job *jobfile.Job, ask RoadTestAsk) (*RoadTested, error) {
	s := &ask.Settings
	marks, err := ask.marks()
	if err := cmp.Or(err, s.check(), known(job, nil, []string{ask.Load})); err != nil {
		return nil, err
	}
	out := &RoadTested{Job: job, Load: LoadOf(job, ask.Load), Build: ask.Build}
	if out.Build == "" {
		if out.Build, err = testedBuild(job); err != nil {
			return nil, err
		}
	}
	if err := known(job, []string{out.Build}, nil); err != nil {
		return nil, err
	}
	speed := 0.0
	if ask.Speed != "" {
		v, err := quantity.Parse(ask.Speed, quantity.SpeedRoad)
		if err != nil {
			return nil, bad("speed", "%s: %w", ask.Speed, err)
		}
		speed = v.Value
	}
	if out.Read, err = readLog(&ask.LogAsk, marks); err != nil {
		return nil, err
	}
	switch {
	case len(out.Read.Questions) > 0:
		return nil, absent("the log does not say all: read it first and answer what is asked")
	case len(out.Read.Faults) > 0:
		f := out.Read.Faults[0]
		return nil, absent("the log %s; %s", f.Got, f.Want)
	}
	q := &asked{job: job, opt: s.options(0), study: studied(job)}
	q.study.Builds = onlyWeighedAnd(job, out.Build)
	q.opt.Lowering = nil
	q.opt.NoWorkings, q.opt.NoRemedies, q.opt.NoPlans, q.opt.NoModes, q.opt.NoCorners = true, true, true, true, true
	r, err := d.answer(ctx, q)
	if err != nil {
		return nil, err
	}
	var b roadtest.Build
	if b.Car, b.Drawn, err = drives.Cars(r.Answer, out.Build, out.Load, q.opt.Seed, testDraws); err != nil {
		return nil, absent("build %q has no rest with %q aboard, from which to predict: %w", out.Build, out.Load, err)
	}
	done, err := d.patient.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	out.Outcome, err = roadtest.Compare(ctx, &out.Read.Log, &b, speed, marks, s.Progress)
	switch {
	case errors.Is(err, roadtest.ErrNoSpeed):
		return nil, bad("speed", "is needed: %w", err)
	case err != nil && ctx.Err() == nil:
		return nil, absent("%w", err)
	case err != nil:
		return nil, err
	}
	for i := range out.Offers {
		out.Corrections = append(out.Corrections, correction(job, out.Build, &out.Offers[i], ask.Date))
	}
	return out, nil
}

// testedBuild is the build that was driven where nobody says: the only one, or the only
// one beside that weighed.
func testedBuild(job *jobfile.Job) (string, error) {
	var ids, others []string
	for _, b := range job.Builds {
		ids = append(ids, b.ID)
		if b.ID != job.Car.Weighed.Build {
			others = append(others, b.ID)
		}
	}
	switch {
	case len(ids) == 1:
		return ids[0], nil
	case len(others) == 1:
		return others[0], nil
	}
	return "", bad("build", "is needed: which was driven, %s?", strings.Join(ids, ", "))
}

// Outside are the figures outside their bands, the furthest first.
func (r *RoadTested) Outside() []roadtest.Figure {
	var out []roadtest.Figure
	for _, f := range r.Figures {
		if f.Outside {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b roadtest.Figure) int { return cmp.Compare(miss(&b), miss(&a)) })
	return out
}

// miss is how far a figure is from its prediction, in half-widths of its band.
func miss(f *roadtest.Figure) float64 {
	half := max(f.High-f.Predicted, 1e-12)
	return max(f.Measured-f.Predicted, f.Predicted-f.Measured) / half
}

// Document is what was read, for programs.
func (r *LogRead) Document(program string) *answer.Log {
	out := answer.NewLog(program)
	for _, q := range r.Questions {
		out.Questions = append(out.Questions, answer.LogQuestion(q))
	}
	for _, a := range r.Assumptions {
		out.Assumptions = append(out.Assumptions, answer.SweepAssumption(a))
	}
	for _, f := range r.Faults {
		out.Faults = append(out.Faults, answer.SweepFault(f))
	}
	for i := range r.Log.Channels {
		out.Channel(&r.Log.Channels[i], &r.Grades[i])
	}
	for i := range r.Alone {
		out.Alone(&r.Alone[i], r.Marks)
	}
	for _, e := range r.Log.Events {
		out.Events = append(out.Events, answer.LogEvent{Time: e.Time, Text: e.Text})
	}
	return out
}

// Document is the comparison, for programs.
func (r *RoadTested) Document(program string) *answer.RoadTest {
	out := answer.NewRoadTest(program, r.Job.SHA256, r.Build, r.Load, r.Outcome)
	for i := range r.Corrections {
		c := &r.Corrections[i]
		out.Corrections = append(out.Corrections, answer.NewCorrection(c.Name, c.Offer, c.Edits, c.Unable))
	}
	return out
}

// taken are the corrections that are asked for, by name.
func (r *RoadTested) taken(names []string) ([]*Correction, error) {
	var out []*Correction
	var have []string
	for i := range r.Corrections {
		have = append(have, r.Corrections[i].Name)
	}
	for _, name := range names {
		i := slices.Index(have, name)
		switch {
		case i < 0 && len(have) == 0:
			return nil, bad("take", "%q: the log speaks for no correction", name)
		case i < 0:
			return nil, bad("take", "%q is none of %s", name, strings.Join(have, ", "))
		case r.Corrections[i].Unable != "":
			return nil, bad("take", "%q cannot be typed into this job: %s", name, r.Corrections[i].Unable)
		}
		out = append(out, &r.Corrections[i])
	}
	return out, nil
}
