package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/uptrace/bun"
)

// The kinds of notes.
const (
	ChangeNote   = "change"    // something was turned, clicked or swapped
	ComeBackNote = "come-back" // the car came back
	RecheckNote  = "recheck"   // what the check after the first kilometres found
	ServiceNote  = "service"   // hours a damper ran, or what was done to it
	RemarkNote   = "remark"    // anything else worth keeping
)

// NoteKinds are the kinds in the order they are offered.
var NoteKinds = []string{ChangeNote, ComeBackNote, RecheckNote, ServiceNote, RemarkNote}

// Steps are the steps of a job that a come-back is counted by, in their order.
var Steps = []string{
	"first-call", "inspection", "measuring", "targets", "specification", "damper-build", "bench-check", "fitting", "spring-out",
	"settling", "scales", "alignment", "road-test", "handover", "recheck", "track-side", "service", "not-known",
}

// The things that are done to a damper.
const (
	RanHours  = "ran"       // it was driven: Hours and Km are added to its life
	GasCheck  = "gas-check" // the gas was looked at
	Serviced  = "service"   // oil, seals and gas: its hours count from 0 again
	Rebuilt   = "rebuild"   // taken apart wholly: both counts start from 0 again
	Inspected = "inspected" // looked over after a crash, a flight or a rough road
)

var serviceWork = []string{RanHours, GasCheck, Serviced, Rebuilt, Inspected}

// Note is something that was written down about a job. Nothing of it is changed
// later: a wrong one is followed by a right one. One of the five bodies is set,
// the one of its kind; Text is always allowed.
type Note struct {
	ID       string // made when it is empty; a note that comes twice with one id is kept once
	Job      string
	Kind     string // one of NoteKinds
	Revision int    // of the job that it is about; 0 on saving means the newest
	Taken    time.Time
	Saved    time.Time // given by the store
	Who      string
	NoteBody
}

// NoteBody is what a note says, as it is kept.
type NoteBody struct {
	Text     string    `json:"text,omitempty"` // in the writer's own words
	Change   *Changed  `json:"change,omitempty"`
	ComeBack *ComeBack `json:"come_back,omitempty"`
	Recheck  *Recheck  `json:"recheck,omitempty"`
	Service  *Service  `json:"service,omitempty"`
}

// Changed is one change on the car: one thing, from what to what.
type Changed struct {
	What    string `json:"what"`              // a path of the job, builds.kit.setup.click.rear, or words
	From    string `json:"from,omitempty"`    // as typed
	To      string `json:"to"`                // as typed
	Reason  string `json:"reason,omitempty"`  // why it was tried
	Words   string `json:"words,omitempty"`   // what the owner or driver said after it
	Where   string `json:"where,omitempty"`   // lap, stage or road
	Verdict string `json:"verdict,omitempty"` // keep, revert, or empty while open
}

// ComeBack is a car that came back.
type ComeBack struct {
	Cause string `json:"cause"`          // found, in words or as a cause of the symptom rules
	Step  string `json:"step"`           // of the job that would have caught it: one of Steps
	Part  string `json:"part,omitempty"` // id of a part of the job, or words
	Cost  string `json:"cost,omitempty"` // with its currency: 120 EUR
	Hours string `json:"hours,omitempty"`
}

// Recheck is the check after the first weeks.
type Recheck struct {
	Km      float64    `json:"km,omitempty"`     // since the handover [km]
	Heights [4]string  `json:"heights,omitzero"` // hub to arch, front left first, as typed
	Loads   [4]string  `json:"loads,omitzero"`   // at the tyres, as typed
	Build   string     `json:"build,omitempty"`  // that was on the car
	Found   string     `json:"found,omitempty"`  // rub marks, lock rings, travel marker
	Next    *RecheckAt `json:"next,omitempty"`   // when to come again; nil: no more
}

// RecheckAt is when a car is due.
type RecheckAt struct {
	Date string  `json:"date,omitempty"` // 2026-12-01
	Km   float64 `json:"km,omitempty"`   // since the handover [km]
}

// Service is a damper's life: hours run, or work done.
type Service struct {
	Serial string  `json:"serial"`          // as stamped, or what it is called
	Work   string  `json:"work"`            // ran, gas-check, service, rebuild, inspected
	Use    string  `json:"use,omitempty"`   // road, circuit, rally: how the interval is chosen
	Hours  float64 `json:"hours,omitempty"` // run since the last note [h]
	Km     float64 `json:"km,omitempty"`    // driven since the last note [km]
	Gas    string  `json:"gas,omitempty"`   // as read: 18 bar
	Found  string  `json:"found,omitempty"`
}

// AddNote keeps a note. A note that comes twice is kept once.
func (s *Store) AddNote(ctx context.Context, n Note) (Note, error) {
	if n.ID == "" {
		n.ID = NewID()
	}
	if err := wantNote(&n); err != nil {
		return Note{}, err
	}
	text, err := json.Marshal(n.NoteBody)
	if err != nil {
		return Note{}, &Refused{"the note", "cannot be written down", "numbers must be finite"}
	}
	row := noteRow{ID: n.ID, JobID: n.Job, Kind: n.Kind, Revision: n.Revision, Who: n.Who, Text: string(text)}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		var newest []int
		if err := tx.NewRaw(`SELECT revision FROM jobs WHERE id = ?`, n.Job).Scan(ctx, &newest); err != nil {
			return err
		}
		switch {
		case len(newest) == 0:
			return &NotFound{"job", n.Job}
		case n.Revision > newest[0]:
			return &NotFound{"revision of this job", itoa(n.Revision)}
		case n.Revision == 0:
			row.Revision = newest[0]
		}
		row.SavedAt = s.kept(0)
		row.TakenAt = row.SavedAt
		if !n.Taken.IsZero() {
			row.TakenAt = n.Taken.UnixMicro()
		}
		_, err := tx.NewInsert().Model(&row).Exec(ctx)
		return err
	})
	if isUnique(err) {
		var there noteRow
		if err := s.db.NewSelect().Model(&there).Where("id = ?", n.ID).Scan(ctx); err != nil {
			return Note{}, s.trouble(err)
		}
		if there.JobID == n.Job && there.Kind == n.Kind && there.Text == row.Text {
			return there.note()
		}
		return Note{}, &Refused{"the note's id", "is taken by another note", "make another"}
	}
	if err != nil {
		return Note{}, err
	}
	return row.note()
}

// wantNote refuses a note that says nothing, or the wrong thing for its kind.
func wantNote(n *Note) error {
	line := func(field, text string) error { return wantLine(field, text, mostWhy) }
	err := errors.Join(wantID("the note's id", n.ID), wantID("the job's id", n.Job), wantName("who", n.Who), wantLong("the note", n.Text))
	if !slices.Contains(NoteKinds, n.Kind) {
		return errors.Join(err, &Refused{"the kind of note", "is " + quoted(n.Kind), "it is one of " + strings.Join(NoteKinds, ", ")})
	}
	if n.Revision < 0 {
		err = errors.Join(err, &Refused{"the revision", "is less than 0", "0 means the newest"})
	}
	set := map[string]bool{ChangeNote: n.Change != nil, ComeBackNote: n.ComeBack != nil, RecheckNote: n.Recheck != nil, ServiceNote: n.Service != nil}
	for kind, is := range set {
		if is != (kind == n.Kind) {
			return errors.Join(err, &Refused{"a note of the kind " + n.Kind, "holds the wrong body, or none", "it holds that of its kind and no other"})
		}
	}
	switch n.Kind {
	case ChangeNote:
		c := n.Change
		err = errors.Join(err, wantName("what was changed", c.What), line("from", c.From), line("to", c.To), line("the reason", c.Reason),
			line("the words", c.Words), line("the lap or road", c.Where), among("the verdict", c.Verdict, []string{"", "keep", "revert"}))
		if c.From == "" && c.To == "" {
			err = errors.Join(err, &Refused{"the change", "says neither from nor to", "enter one of them"})
		}
	case ComeBackNote:
		c := n.ComeBack
		err = errors.Join(err, wantName("the cause", c.Cause), among("the step", c.Step, Steps), line("the part", c.Part), line("the cost", c.Cost), line("the hours", c.Hours))
	case RecheckNote:
		r := n.Recheck
		err = errors.Join(err, atLeast0("the kilometres", r.Km), line("what was found", r.Found), line("the build", r.Build))
		for i := range 4 {
			err = errors.Join(err, line("a height", r.Heights[i]), line("a load", r.Loads[i]))
		}
		if r.Next != nil {
			err = errors.Join(err, wantDate("the next date", r.Next.Date), atLeast0("the next kilometres", r.Next.Km))
		}
	case ServiceNote:
		v := n.Service
		err = errors.Join(err, wantName("the damper's serial number", v.Serial), among("the work", v.Work, serviceWork), line("the use", v.Use),
			atLeast0("the hours", v.Hours), atLeast0("the kilometres", v.Km), line("the gas", v.Gas), line("what was found", v.Found))
	case RemarkNote:
		if strings.TrimSpace(n.Text) == "" {
			err = errors.Join(err, &Refused{"the remark", "is empty", "enter a text"})
		}
	}
	return err
}

// mostNote is how many letters the text of a note has at most. Chosen.
const mostNote = 10_000

func wantLong(field, text string) error {
	if err := wantText(field, []byte(text)); err != nil {
		return err
	}
	if n := len([]rune(text)); n > mostNote {
		return &Refused{field, "has " + itoa(n) + " letters", "at most " + itoa(mostNote) + " are kept"}
	}
	return nil
}

func among(field, text string, words []string) error {
	if slices.Contains(words, text) {
		return nil
	}
	return &Refused{field, "is " + quoted(text), "it is one of " + strings.TrimPrefix(strings.Join(words, ", "), ", ")}
}

// mostLife bounds hours and kilometres: more is a slip of the pen. Chosen.
const mostLife = 10e6

func atLeast0(field string, v float64) error {
	if v >= 0 && v <= mostLife {
		return nil
	}
	return &Refused{field, "are not between 0 and ten million", "look for a slip of the pen"}
}

func (r *noteRow) note() (Note, error) {
	n := Note{ID: r.ID, Job: r.JobID, Kind: r.Kind, Revision: r.Revision, Taken: at(r.TakenAt), Saved: at(r.SavedAt), Who: r.Who}
	// A newer program may have written more: what is not known here is left out.
	if err := json.NewDecoder(bytes.NewReader([]byte(r.Text))).Decode(&n.NoteBody); err != nil {
		return Note{}, &Trouble{Kind: Damaged, Where: "note " + r.ID, Got: "is not as it was saved", Err: err}
	}
	return n, nil
}

// NoteQuery asks for notes. Empty fields ask nothing.
type NoteQuery struct {
	Job   string
	Kind  string
	Limit int // the newest so many; 0 means all
}

// FindNotes returns the notes that fit, in the order in which they were saved: a
// clock that was set back does not turn it round.
func (s *Store) FindNotes(ctx context.Context, q NoteQuery) ([]Note, error) {
	var rows []noteRow
	sel := s.db.NewSelect().Model(&rows)
	if q.Job != "" {
		sel = sel.Where("job_id = ?", q.Job)
	}
	if q.Kind != "" {
		sel = sel.Where("kind = ?", q.Kind)
	}
	sel = sel.OrderExpr("saved_at DESC, id DESC")
	if q.Limit > 0 {
		sel = sel.Limit(int64(q.Limit))
	}
	if err := sel.Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	slices.Reverse(rows)
	out := make([]Note, len(rows))
	for i := range rows {
		var err error
		if out[i], err = rows[i].note(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

type noteRow struct {
	bun.BaseModel `bun:"table:notes,alias:n"`

	ID       string `bun:"id,pk"`
	JobID    string `bun:"job_id"`
	Kind     string `bun:"kind"`
	Revision int    `bun:"revision"`
	TakenAt  int64  `bun:"taken_at"`
	SavedAt  int64  `bun:"saved_at"`
	Who      string `bun:"who"`
	Text     string `bun:"text"`
}
