package levelling

import (
	"math"

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
	Suspects []scales.Suspect
}

// Work goes through the rounds: forecast, gate, learn; then plans the next move.
// Turns that are not said, NaN, are those that were asked for; before any round
// none.
//
// A round that its gate stops is the last that is looked at: what it says is
// not learnt, and nothing is to be turned.
func Work(build *car.Build, load string, rig *scales.Rig, target scales.Target, weighings []intake.Weighing) (*Result, error) {
	var friction [4]float64
	for i := range 4 {
		friction[i] = rig.System.Corner[i].Friction
	}
	l := &Result{Build: build, Load: load, Target: target, Model: scales.NewModel(rig, scales.Priors(), scales.Noises(friction))}
	return l, l.work(weighings)
}

func (l *Result) work(weighings []intake.Weighing) error {
	for k := range weighings {
		w := &weighings[k]
		turned, err := l.turned(w)
		if err != nil {
			return err
		}
		before := l.Model.Turn(turned)
		f, err := before.Forecast(l.Target.Diagonal, [4]float64{})
		if err != nil {
			return noRest(err)
		}
		gate, err := scales.Judge(before, &w.Session, &l.Target)
		if err != nil {
			return noRest(err)
		}
		l.Gates, l.Forecast = append(l.Gates, gate), append(l.Forecast, f)
		l.Rounds = append(l.Rounds, scales.Round{Turned: turned, Got: w.Session.Reading()})
		if gate.Verdict == scales.Stop {
			l.Stopped = true
			return nil
		}
		for i := range 4 {
			if !math.IsNaN(gate.Friction[i]) {
				l.Model.Noise.Friction[i] = gate.Friction[i]
			}
		}
		if l.Model, err = l.Model.Learn(l.Rounds); err != nil {
			return noRest(err)
		}
	}
	plan, err := l.Model.Plan(l.Target)
	if err != nil {
		return noRest(err)
	}
	l.Plan = plan
	if len(l.Gates) == 0 {
		l.Gates = []*scales.Gate{{Verdict: scales.Caution, Checks: []scales.Check{{Code: "not-read", Verdict: scales.Caution, Corner: -1, Other: -1}}}}
	}
	last := l.Gates[len(l.Gates)-1]
	last.Reach(plan)
	l.Stopped = last.Verdict == scales.Stop || len(plan.Refused) > 0
	return nil
}

// turned is how far the collars went before a round [m].
func (l *Result) turned(w *intake.Weighing) (move [4]float64, err error) {
	var asked *scales.Plan
	for i := range 4 {
		turns := w.Turned[i]
		if math.IsNaN(turns) {
			turns = 0
			if len(l.Rounds) > 0 {
				if asked == nil {
					if asked, err = l.Model.Plan(l.Target); err != nil {
						return move, noRest(err)
					}
				}
				if len(asked.Refused) == 0 {
					turns = asked.Collar[i].Turns
				}
			}
		}
		move[i] = turns * l.Model.Rig.Adjuster[car.AxleOf(i)].Pitch
	}
	return move, nil
}

// Accuse looks for slips of hand and wrong figures that would explain the
// readings better than the parts as stated. It takes longer than the move.
func (l *Result) Accuse() {
	if l.Plan != nil {
		l.Suspects = l.Model.Suspect()
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

// At are the collars' places from their start marks, as counted [m].
func (l *Result) At() (at [4]float64) {
	for i := range 4 {
		at[i] = l.Model.Rig.At[i] + l.Model.Moved[i]
	}
	return at
}
