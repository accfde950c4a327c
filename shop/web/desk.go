package web

import (
	"context"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// tries put what a page asks to the desk, and make of it what the page shows.
type tries struct {
	*desk.Desk
	shelf jobfile.Shelf // may be nil
	now   func() time.Time
}

func newTries(shelf jobfile.Shelf, version string, now func() time.Time) *tries {
	return &tries{Desk: desk.New(version), shelf: shelf, now: now}
}

// trial is a job as tried, with the edits that were made.
type trial struct {
	*desk.Trial
	tries   *tries
	applied []Applied
}

// look is what of a request is looked at.
func (req *TryRequest) look() desk.Look {
	l := desk.Look{Load: req.Load, Event: req.Event, Speed: req.Speed}
	if req.Road != nil {
		l.Road, l.RoadSpeed = req.Road.Name, req.Road.Speed
	}
	return l
}

// edited makes edits on a job's text.
func (d *tries) edited(ctx context.Context, text []byte, edits []Edit, system quantity.System) *jobfile.Editor {
	ed := &jobfile.Editor{Text: text, System: system, Shelf: d.shelf, Ratios: d.Ratios, Label: wording.Label}
	for _, e := range edits {
		ed.Apply(ctx, e)
	}
	return ed
}

// edit makes the edits of a request.
func (d *tries) edit(ctx context.Context, req *TryRequest, system quantity.System) (desk.Typed, []Applied) {
	ed := d.edited(ctx, []byte(req.Text), req.Edits, system)
	typed := desk.Typed{Text: ed.Text, Faults: ed.Faults}
	if len(req.Edits) > 0 {
		typed.Plain = []byte(req.Text)
	}
	return typed, ed.Applied
}

// textOf is a request's text with its edits made.
func (d *tries) textOf(ctx context.Context, req *TryRequest) []byte {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil
	}
	typed, _ := d.edit(ctx, req, system)
	return typed.Text
}

// asking is one of the desk's questions about a text that is tried.
type asking func(ctx context.Context, typed desk.Typed, look desk.Look, system quantity.System) (*desk.Trial, error)

// try puts a request to one of the desk's questions.
func (d *tries) try(ctx context.Context, req *TryRequest, ask asking) (*trial, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	typed, applied := d.edit(ctx, req, system)
	t, err := ask(ctx, typed, req.look(), system)
	if err != nil {
		return nil, err
	}
	return &trial{Trial: t, tries: d, applied: applied}, nil
}

// show makes a trial of a full judgement.
func (d *tries) show(req *TryRequest, full *desk.Result) (*trial, error) {
	system, err := wording.System(req.Units)
	if err != nil {
		return nil, err
	}
	return &trial{Trial: d.Show(full, req.look(), system), tries: d}, nil
}

// standing is a trial of a job: the one that the page looked at a moment ago, where
// its job is the same, else a new one.
func (d *tries) standing(ctx context.Context, req *TryRequest, full *desk.Result) (*trial, error) {
	return d.try(ctx, req, func(ctx context.Context, typed desk.Typed, look desk.Look, system quantity.System) (*desk.Trial, error) {
		return d.Standing(ctx, typed, look, system, full)
	})
}

// view tries a job with edits, or shows the full judgement where there is one.
func (d *tries) view(ctx context.Context, req TryRequest, full *desk.Result) (*View, error) {
	start := d.now()
	var t *trial
	var err error
	if full != nil {
		t, err = d.show(&req, full)
	} else {
		t, err = d.try(ctx, &req, d.Try)
	}
	if err != nil {
		return nil, err
	}
	v, err := t.view(ctx)
	if v != nil {
		v.Ms = int(d.now().Sub(start).Milliseconds())
	}
	return v, err
}

// opened is a kept trial by its key, in the units asked for.
func (d *tries) opened(key, units string) (*trial, error) {
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
	return &trial{Trial: t, tries: d}, nil
}
