package scales

import (
	"trunnion/chassis/scales"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// Session is a build on the scales as a page shows it.
type Session struct {
	*desk.OnScales
	settings Settings // with what was left empty filled in
	system   quantity.System
	teller   *wording.Teller
	faults   []intake.FieldFault
	draft    *intake.RoundTyped // being typed; nil: none
}

// Stand asks the desk about a build of a job on the scales; all are the rounds of the
// job's builds, as they were kept.
func Stand(d *desk.Desk, text []byte, all []store.Round, settings Settings, draft *intake.RoundTyped) (*Session, error) {
	st := &Session{settings: settings, draft: draft}
	var err error
	if st.system, err = wording.System(settings.Units); err != nil {
		return nil, &levelling.AskError{Text: err.Error()}
	}
	st.settings.Units = wording.SystemName(st.system)
	st.teller = wording.New(nil, st.system)
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		return nil, jobfile.AsError("job", faults)
	}
	kept := map[string][]levelling.Entry{}
	for i := range all {
		kept[all[i].Build] = append(kept[all[i].Build], EntryOf(&all[i]))
	}
	ask, flats := st.asked()
	if st.OnScales, err = d.OnScales(job, ask, kept, draft); err != nil {
		return nil, err
	}
	st.settings.Build, st.settings.Load = st.Build.ID, st.Load
	st.listFaults(flats)
	st.fill()
	return st, nil
}

// EntryOf is a round as it was kept, for a session on the scales.
func EntryOf(r *store.Round) levelling.Entry {
	return levelling.Entry{ID: r.ID, Number: r.Number, Taken: r.Taken, Saved: r.Saved, Who: r.Who, Text: r.Text}
}

// numberOf is the number under which a round of the result is shown.
func (st *Session) numberOf(k int) int {
	switch {
	case k >= 0 && k < len(st.Of) && st.Of[k] != nil:
		return st.Of[k].Number
	case k > 0 || st.Drafted && k == len(st.Of)-1:
		return len(st.History.Rounds) + 1
	}
	return 0 // what the job held before
}

// last is what was read last, and what the model has after it; of a car that was
// not read what the parts lead to.
func (st *Session) last() (got scales.Reading, band scales.Forecast, read bool) {
	l := st.Result
	if n := len(l.Rounds); n > 0 {
		got, read = l.Rounds[n-1].Got, true
	}
	switch {
	case l.Plan != nil && read:
		band = l.Plan.Scatter
	case l.Plan != nil:
		band = l.Plan.Now
	case read:
		band = l.Forecast[len(l.Forecast)-1]
	}
	if !read {
		for i := range 4 {
			got.Load[i], got.Height[i] = band.Load[i].Value, band.Height[i].Value
		}
	}
	return got, band, read
}
