package scales

import (
	"errors"
	"math"
	"slices"
	"time"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// Session is a build on the scales with what was kept and what is asked.
type Session struct {
	settings Settings // with what was left empty filled in
	system   quantity.System
	teller   *wording.Teller
	text     []byte
	job      *jobfile.Job
	build    *car.Build
	load     string
	history  *levelling.History
	rounds   map[string]int // that stand, by build

	target    scales.Target
	rig       *scales.Rig
	weighings []intake.Weighing
	of        []*levelling.Past // of weighings; nil: no round that was kept
	drafted   bool              // the last weighing is a draft
	faults    []intake.FieldFault

	result *levelling.Result
	none   error // why there is no result
}

// Stand puts a build of a job on the scales and works through its rounds; all are
// the rounds of the job's builds, as they were kept.
func Stand(text []byte, all []store.Round, settings Settings, draft *intake.RoundTyped) (*Session, error) {
	st := &Session{settings: settings, text: text, rounds: map[string]int{}}
	var err error
	if st.system, err = wording.System(settings.Units); err != nil {
		return nil, refused(err)
	}
	st.settings.Units = wording.SystemName(st.system)
	st.teller = wording.New(nil, st.system)
	var faults []jobfile.Fault
	if st.job, faults = jobfile.ReadBytes(text, "job.yaml"); st.job == nil {
		return nil, jobfile.AsError("job", faults)
	}
	entries := map[string][]levelling.Entry{}
	for _, k := range all {
		entries[k.Build] = append(entries[k.Build], levelling.Entry{ID: k.ID, Number: k.Number, Taken: k.Taken, Saved: k.Saved, Who: k.Who, Text: k.Text})
	}
	for build, list := range entries {
		st.rounds[build] = len(levelling.Read(list).Standing())
	}
	if err := st.choose(); err != nil {
		return nil, err
	}
	st.history = levelling.Read(entries[st.build.ID])
	if st.load = settings.Load; st.load == "" {
		if st.load = st.history.Load(); st.load == "" {
			st.load = levelling.LoadOf(st.job, st.build)
		}
	}
	st.settings.Load = st.load
	if err := st.ask(); err != nil {
		return nil, err
	}
	st.weighings, st.of = st.history.Weighings(st.job, st.build, st.load)
	if draft != nil {
		w, faults := draft.Weigh()
		st.faults = append(st.faults, faults...)
		if !draft.Empty() {
			st.weighings, st.of, st.drafted = append(st.weighings, w), append(st.of, nil), true
		}
	}
	st.result, st.none = levelling.Work(st.build, st.load, st.rig, st.target, st.weighings)
	if _, left := st.history.LeftOut(st.job, st.build, st.load); left && st.result != nil {
		st.result.NoteLeftOut()
	}
	return st, nil
}

// choose finds the build: the one asked for, else the only one with collars,
// else the first that has.
func (st *Session) choose() error {
	var ask *levelling.AskError
	build, err := levelling.Find(st.job, st.settings.Build)
	switch {
	case err == nil:
		st.build = build
	case errors.As(err, &ask) && st.settings.Build == "" && len(st.job.Builds) > 0:
		st.build = st.job.Builds[len(st.job.Builds)-1]
		if i := slices.IndexFunc(st.job.Builds, levelling.HasCollars); i >= 0 {
			st.build = st.job.Builds[i]
		}
	case len(st.job.Builds) == 0:
		return refused(errors.New("the job has no build to stand on the scales"))
	default:
		return refused(err)
	}
	st.settings.Build = st.build.ID
	return nil
}

// refused is a question about the scales that cannot be answered as it was asked.
func refused(err error) error { return &levelling.AskError{Text: err.Error()} }

// countTurns counts the turns before a new round: as typed, else as they were
// asked for after the round that was on the screen, less what others turned
// since.
func (st *Session) countTurns(typed [4]float64, seen string) [4]float64 {
	if st.result == nil {
		return typed // counted when the job can be answered
	}
	asked, err := st.result.Asked()
	if err != nil {
		return typed
	}
	if k := slices.IndexFunc(st.of, func(p *levelling.Past) bool { return p != nil && p.ID == seen }); k >= 0 && k < len(st.of)-1 {
		then, err := levelling.Work(st.build, st.load, st.rig, st.target, st.weighings[:k+1])
		if err != nil {
			return typed
		}
		if asked, err = then.Asked(); err != nil {
			return typed
		}
		for j := k + 1; j < len(st.result.Rounds); j++ {
			for i := range 4 {
				if pitch := st.rig.Adjuster[i].Pitch; pitch > 0 {
					asked[i] -= st.result.Rounds[j].Turned[i] / pitch
				}
			}
		}
	}
	for i := range 4 {
		if math.IsNaN(typed[i]) {
			typed[i] = asked[i]
		}
	}
	return typed
}

// RoundText is a round to be kept, with the turns that were made before it: as typed,
// else as they were asked for.
func (st *Session) RoundText(r *intake.RoundTyped, typed [4]float64, seen string) (string, error) {
	return st.history.RoundText(st.job, st.build, st.load, r, st.countTurns(typed, seen), st.rig.At)
}

// Opened is what the moves so far have opened again, and the day of the last of them.
func (st *Session) Opened() (opened []string, day string) {
	if st.result == nil {
		return nil, ""
	}
	rounds := st.history.Standing()
	if opened = st.result.Opened(); len(opened) == 0 || len(rounds) == 0 {
		return nil, ""
	}
	return opened, rounds[len(rounds)-1].Taken.Local().Format(time.DateOnly)
}

// numberOf is the number under which a round of the result is shown.
func (st *Session) numberOf(k int) int {
	switch {
	case k >= 0 && k < len(st.of) && st.of[k] != nil:
		return st.of[k].Number
	case k > 0 || st.drafted && k == len(st.of)-1:
		return len(st.history.Rounds) + 1
	}
	return 0 // what the job held before
}

// last is what was read last, and what the model has after it; of a car that was
// not read what the parts lead to.
func (st *Session) last() (got scales.Reading, band scales.Forecast, read bool) {
	l := st.result
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
