package levelling

import (
	"math"
	"slices"

	"trunnion/chassis/car"
	"trunnion/chassis/scales"
	"trunnion/shop/intake"
)

// Result is all that is known after the rounds.
type Result struct {
	Build    *car.Build
	Load     string
	Target   scales.Target
	Model    *scales.Model // after the rounds
	Gates    []*scales.Gate
	Rounds   []scales.Round
	Forecast []scales.Forecast // of each round, before it was read
	Plan     *scales.Plan      // nil where the readings stop it before
	Stopped  bool              // nothing is to be turned
	Unread   bool              // no reading has passed its gate yet: the car is to be weighed, and nothing is turned before
	Unseen   bool              // a move was left out that is smaller than the readings scatter by
	Suspects []scales.Suspect

	pending [4]float64 // turned since the last round that was learnt [m]
	learnt  []int      // rounds behind the model
}

// Work goes through the rounds: forecast, gate, learn; then plans the next move.
// Turns that are not said, NaN, are those that were asked for; before any round
// none.
//
// A round that its gate stops is not learnt; what was turned before it counts
// for the next one. Is it the last, nothing is to be turned.
func Work(build *car.Build, load string, rig *scales.Rig, target scales.Target, weighings []intake.Weighing) (*Result, error) {
	var friction [4]float64
	for i := range 4 {
		friction[i] = rig.System.Corner[i].Friction
	}
	l := &Result{Build: build, Load: load, Target: target, Model: scales.NewModel(rig, scales.Priors(), scales.Noises(friction))}
	for k := range weighings {
		if err := l.take(&weighings[k]); err != nil {
			return nil, err
		}
	}
	if l.Stopped {
		return l, nil
	}
	plan, err := l.plan()
	if err != nil {
		return nil, err
	}
	l.Plan = plan
	if len(l.Gates) == 0 { // the parts alone say where the car should stand, and a hand is sent nowhere on that
		l.Gates = []*scales.Gate{{Verdict: scales.Caution, Checks: []scales.Check{{Code: "not-read", Verdict: scales.Caution, Corner: -1, Other: -1}}}}
	}
	last := l.Gates[len(l.Gates)-1]
	last.Reach(plan)
	l.Unread = len(l.learnt) == 0 && HasCollars(build)
	l.Stopped = l.Unread || last.Verdict == scales.Stop || len(plan.Refused) > 0
	return l, nil
}

// plan is the next move from what was learnt. One that nobody could see is not
// made.
func (l *Result) plan() (*scales.Plan, error) {
	p, err := l.Model.Plan(l.Target)
	if err != nil {
		return nil, noRest(err)
	}
	if l.Unseen = len(l.learnt) > 0 && p.Unseen(); l.Unseen {
		p.Stay()
	}
	return p, nil
}

// take looks at one round, and learns from it where its gate lets it.
func (l *Result) take(w *intake.Weighing) error {
	turned, err := l.turned(w)
	if err != nil {
		return err
	}
	since := turned // the last round that was learnt
	for i := range 4 {
		since[i] += l.pending[i]
	}
	before := l.Model.Turn(since)
	f, err := before.Forecast(l.Target.Diagonal, [4]float64{})
	if err != nil {
		return noRest(err)
	}
	gate, err := scales.Judge(before, &w.Session, &l.Target)
	if err != nil {
		return noRest(err)
	}
	got := w.Session.Reading()
	l.Gates, l.Forecast = append(l.Gates, gate), append(l.Forecast, f)
	l.Rounds = append(l.Rounds, scales.Round{Turned: turned, Got: got})
	l.Stopped = gate.Verdict == scales.Stop
	if l.Stopped {
		l.pending = since
		return nil
	}
	for i := range 4 {
		if !math.IsNaN(gate.Friction[i]) {
			l.Model.Noise.Friction[i] = gate.Friction[i]
		}
	}
	learnt := append(slices.Clone(l.Model.Rounds), scales.Round{Turned: since, Got: got})
	l.pending, l.learnt = [4]float64{}, append(l.learnt, len(l.Rounds)-1)
	if l.Model, err = l.Model.Learn(learnt); err != nil {
		return noRest(err)
	}
	return nil
}

// turned is how far the collars went before a round [m].
func (l *Result) turned(w *intake.Weighing) (move [4]float64, err error) {
	var asked *[4]float64
	for i := range 4 {
		move[i] = w.Turned[i] * l.Model.Rig.Adjuster[i].Pitch
		if !math.IsNaN(w.Turned[i]) {
			continue
		}
		if asked == nil {
			if asked, err = l.asked(); err != nil {
				return move, err
			}
		}
		move[i] = asked[i]
	}
	return move, nil
}

// asked is how far the collars have to go from where they are counted to stand
// to where they were asked to go; nowhere before any round [m].
func (l *Result) asked() (*[4]float64, error) {
	move := new([4]float64)
	if len(l.learnt) == 0 {
		return move, nil
	}
	p := l.Plan
	if p == nil {
		var err error
		if p, err = l.plan(); err != nil {
			return nil, err
		}
	}
	var g scales.Gate
	if g.Reach(p); g.Verdict == scales.Stop || len(p.Refused) > 0 {
		return move, nil // it was said that nothing is to be turned
	}
	for i := range 4 {
		move[i] = p.Collar[i].Move - l.pending[i]
	}
	return move, nil
}

// Asked is how many turns each collar still has to go to where it was last asked
// to go [-].
func (l *Result) Asked() (turns [4]float64, err error) {
	move, err := l.asked()
	if err != nil {
		return turns, err
	}
	for i := range 4 {
		if pitch := l.Model.Rig.Adjuster[i].Pitch; pitch > 0 {
			turns[i] = move[i] / pitch
		}
	}
	return turns, nil
}

// LastGood is the last round that its gate let through, as an index of Rounds;
// −1: none.
func (l *Result) LastGood() int {
	if len(l.learnt) == 0 {
		return -1
	}
	return l.learnt[len(l.learnt)-1]
}

// NoteLeftOut says that the job holds readings of another load state.
func (l *Result) NoteLeftOut() {
	if last := len(l.Gates) - 1; last >= 0 {
		l.Gates[last].Checks = append(l.Gates[last].Checks, scales.Check{Code: "read-in-another-state", Verdict: scales.Caution, Corner: -1, Other: -1})
	}
}

// FindSuspects looks for slips of hand and wrong figures that would explain the
// readings better than the parts as stated. It takes longer than the move.
func (l *Result) FindSuspects() {
	if l.Plan == nil {
		return
	}
	l.Suspects = l.Model.Suspect()
	for k := range l.Suspects {
		if s := &l.Suspects[k]; s.Round >= 0 {
			s.Round = l.learnt[s.Round]
		}
	}
}

// Reopened lists what a build's next move would open again, for the handover:
// codes that wording.ScalesReopened puts into words.
func (l *Result) Reopened() []string {
	if l.Plan == nil || l.Stopped {
		return nil
	}
	return scales.Reopened(l.Plan)
}

// Opened lists what the moves between the first and the last round that were
// learnt have opened again, for the handover: codes as of Reopened.
func (l *Result) Opened() []string {
	if len(l.learnt) < 2 {
		return nil
	}
	return scales.Opened(&l.Rounds[l.learnt[0]].Got, &l.Rounds[l.LastGood()].Got)
}

// At are the collars' places from their start marks at the last round that was
// learnt, as counted [m].
func (l *Result) At() (at [4]float64) {
	for i := range 4 {
		at[i] = l.Model.Rig.At[i] + l.Model.Moved[i]
	}
	return at
}
