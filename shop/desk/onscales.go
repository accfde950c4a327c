package desk

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
)

// OnScales is a build on the scales with the rounds that were kept of it.
type OnScales struct {
	Job     *jobfile.Job
	Build   *car.Build
	Load    string
	History *levelling.History
	Rounds  map[string]int // that stand, by build

	Target    scales.Target
	Rig       *scales.Rig
	Weighings []intake.Weighing
	Of        []*levelling.Past // of weighings; nil: no round that was kept
	Drafted   bool              // the last weighing is a draft
	Faults    []*levelling.AskError
	Unread    []intake.FieldFault // of the draft

	Result *levelling.Result
	None   error // why there is no result
}

// OnScales puts a build on the scales and works through its rounds: kept are those of
// the job's builds, draft is one that is being typed; nil where none is. A build that
// is not named is the only one with collars, else the first that has; a load state,
// that of the last round, else that of the job's readings, else the usual one. What is
// wanted and cannot be read is listed, and the rest answered.
func (d *Desk) OnScales(job *jobfile.Job, ask LevelAsk, kept map[string][]levelling.Entry, draft *intake.RoundTyped) (*OnScales, error) {
	if job == nil {
		return nil, errNoJob
	}
	st := &OnScales{Job: job, Rounds: map[string]int{}}
	for build, list := range kept {
		st.Rounds[build] = len(levelling.Read(list).Standing())
	}
	var err error
	if st.Build, err = likeliest(job, ask.Build); err != nil {
		return nil, err
	}
	st.History = levelling.Read(kept[st.Build.ID])
	if st.Load = ask.Load; st.Load == "" {
		if st.Load = st.History.Load(); st.Load == "" {
			st.Load = levelling.LoadOf(job, st.Build)
		}
	}
	var step float64
	st.Target, step, st.Faults = ask.read()
	if st.Rig, err = levelling.Stand(job, st.Build, st.Load, st.History.Collars(), step); err != nil {
		return nil, refused(err)
	}
	st.Weighings, st.Of = st.History.Weighings(job, st.Build, st.Load)
	if draft != nil {
		var w intake.Weighing
		w, st.Unread = draft.Weigh()
		if !draft.Empty() {
			st.Weighings, st.Of, st.Drafted = append(st.Weighings, w), append(st.Of, nil), true
		}
	}
	st.Result, st.None = levelling.Work(st.Build, st.Load, st.Rig, st.Target, st.Weighings)
	if _, left := st.History.LeftOut(job, st.Build, st.Load); left && st.Result != nil {
		st.Result.NoteLeftOut()
	}
	return st, nil
}

// likeliest is the build asked for, else the only one with collars, else the first
// that has, else the last.
func likeliest(job *jobfile.Job, id string) (*car.Build, error) {
	build, err := levelling.Find(job, id)
	var ask *levelling.AskError
	switch {
	case err == nil:
		return build, nil
	case errors.As(err, &ask) && id == "" && len(job.Builds) > 0:
		if i := slices.IndexFunc(job.Builds, levelling.HasCollars); i >= 0 {
			return job.Builds[i], nil
		}
		return job.Builds[len(job.Builds)-1], nil
	case len(job.Builds) == 0:
		return nil, refused(errors.New("the job has no build to stand on the scales"))
	}
	return nil, refused(err)
}

// refused is a question about the scales that cannot be answered as it was asked.
func refused(err error) error { return &levelling.AskError{Text: err.Error()} }

// countTurns counts the turns before a new round: as typed, else as they were
// asked for after the round that was on the screen, less what others turned
// since.
func (st *OnScales) countTurns(typed [4]float64, seen string) [4]float64 {
	if st.Result == nil {
		return typed // counted when the job can be answered
	}
	asked, err := st.Result.Asked()
	if err != nil {
		return typed
	}
	if k := slices.IndexFunc(st.Of, func(p *levelling.Past) bool { return p != nil && p.ID == seen }); k >= 0 && k < len(st.Of)-1 {
		then, err := levelling.Work(st.Build, st.Load, st.Rig, st.Target, st.Weighings[:k+1])
		if err != nil {
			return typed
		}
		if asked, err = then.Asked(); err != nil {
			return typed
		}
		for j := k + 1; j < len(st.Result.Rounds); j++ {
			for i := range 4 {
				if pitch := st.Rig.Adjuster[i].Pitch; pitch > 0 {
					asked[i] -= st.Result.Rounds[j].Turned[i] / pitch
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
func (st *OnScales) RoundText(r *intake.RoundTyped, typed [4]float64, seen string) (string, error) {
	return st.History.RoundText(st.Job, st.Build, st.Load, r, st.countTurns(typed, seen), st.Rig.At)
}

// Opened is what the moves so far have opened again, and the day of the last of them.
func (st *OnScales) Opened() (opened []string, day string) {
	if st.Result == nil {
		return nil, ""
	}
	rounds := st.History.Standing()
	if opened = st.Result.Opened(); len(opened) == 0 || len(rounds) == 0 {
		return nil, ""
	}
	return opened, rounds[len(rounds)-1].Taken.Local().Format(time.DateOnly)
}
