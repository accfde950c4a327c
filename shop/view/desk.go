package view

import (
	"context"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Desk puts to the desk what a page asks.
type Desk struct {
	*desk.Desk
	shelf jobfile.Shelf // may be nil
	now   func() time.Time
}

// NewDesk is the desk of a program of this version; the shelf may be nil.
func NewDesk(shelf jobfile.Shelf, version string, now func() time.Time) *Desk {
	d := &Desk{Desk: desk.New(version), shelf: shelf, now: now}
	if shelf != nil {
		d.Buying(shelf)
	}
	return d
}

// Trial is a job as tried, with the edits that were made.
type Trial struct {
	*desk.Trial
	Applied []jobfile.Applied
	Today   time.Time // as it was tried
}

// Look is what of a request is looked at.
func (req *TryRequest) Look() desk.Look {
	l := desk.Look{Load: req.Load, Event: req.Event, Speed: req.Speed}
	if req.Road != nil {
		l.Road, l.RoadSpeed = req.Road.Name, req.Road.Speed
	}
	return l
}

// Edited makes edits on a job's text.
func (d *Desk) Edited(ctx context.Context, text []byte, edits []jobfile.Edit, system quantity.System) *jobfile.Editor {
	ed := &jobfile.Editor{Text: text, System: system, Shelf: d.shelf, Ratios: d.Ratios, Label: wording.Label}
	for _, e := range edits {
		ed.Apply(ctx, e)
	}
	return ed
}

// Edit makes the edits of a request.
func (d *Desk) Edit(ctx context.Context, req *TryRequest, system quantity.System) (desk.Typed, []jobfile.Applied) {
	ed := d.Edited(ctx, []byte(req.Text), req.Edits, system)
	typed := desk.Typed{Text: ed.Text, Faults: ed.Faults}
	if len(req.Edits) > 0 {
		typed.Plain = []byte(req.Text)
	}
	return typed, ed.Applied
}

// Read is a request's job with its edits made, and the units asked for; nil where the
// text has faults that come first.
func (d *Desk) Read(ctx context.Context, req *TryRequest) (*jobfile.Job, quantity.System, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, system, err
	}
	typed, _ := d.Edit(ctx, req, system)
	job, _ := jobfile.ReadBytes(typed.Text, "job.yaml")
	return job, system, nil
}

// TextOf is a request's text with its edits made.
func (d *Desk) TextOf(ctx context.Context, req *TryRequest) []byte {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil
	}
	typed, _ := d.Edit(ctx, req, system)
	return typed.Text
}

// asking is one of the desk's questions about a text that is tried.
type asking func(ctx context.Context, typed desk.Typed, look desk.Look, system quantity.System) (*desk.Trial, error)

// Ask puts a request to one of the desk's questions.
func (d *Desk) Ask(ctx context.Context, req *TryRequest, ask asking) (*Trial, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	typed, applied := d.Edit(ctx, req, system)
	t, err := ask(ctx, typed, req.Look(), system)
	if err != nil {
		return nil, err
	}
	return &Trial{Trial: t, Applied: applied, Today: d.now()}, nil
}

// show makes a trial of a full judgement.
func (d *Desk) show(req *TryRequest, full *desk.Result) (*Trial, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	return &Trial{Trial: d.Show(full, req.Look(), system), Today: d.now()}, nil
}

// Recent is a trial of a job: the one that the page looked at a moment ago, where
// its job is the same, else a new one.
func (d *Desk) Recent(ctx context.Context, req *TryRequest, full *desk.Result) (*Trial, error) {
	return d.Ask(ctx, req, func(ctx context.Context, typed desk.Typed, look desk.Look, system quantity.System) (*desk.Trial, error) {
		return d.Standing(ctx, typed, look, system, full)
	})
}

// Compared tries a job with edits, or shows the full judgement where there is one.
func (d *Desk) Compared(ctx context.Context, req *TryRequest, full *desk.Result) (*Trial, error) {
	if full != nil {
		return d.show(req, full)
	}
	if req.Full {
		return d.Ask(ctx, req, d.Full)
	}
	return d.Ask(ctx, req, d.Try)
}

// Cornered is a trial in which every build goes round a corner, or the full judgement
// where there is one.
func (d *Desk) Cornered(ctx context.Context, req *TryRequest, full *desk.Result) (*Trial, error) {
	if full != nil {
		return d.show(req, full)
	}
	return d.Ask(ctx, req, d.TryCorners)
}

// Opened is a kept trial by its key, in the units asked for.
func (d *Desk) Opened(key, units string) (*Trial, error) {
	t, err := d.Kept(key)
	if err != nil {
		return nil, err
	}
	if units != "" && units != wording.SystemName(t.System) {
		system, err := wording.System(units)
		if err != nil {
			return nil, err
		}
		t = t.As(system)
	}
	return &Trial{Trial: t, Today: d.now()}, nil
}
