package levelling

import (
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/wording"
)

// Says is what to do now, in a sentence.
func (l *Result) Says(t *wording.Teller) string {
	if l.Stopped {
		if g := l.Gates[len(l.Gates)-1]; g.Verdict == scales.Stop {
			for k := range g.Checks {
				if g.Checks[k].Verdict == scales.Stop {
					return "Turn nothing. " + t.ScalesCheck(&g.Checks[k])
				}
			}
		}
		if len(l.Plan.Refused) > 0 {
			return "Turn nothing. " + t.ScalesRefusal(&l.Plan.Refused[0])
		}
	}
	p := l.Plan
	switch {
	case !HasCollars(l.Build) && len(l.Rounds) == 0:
		return "Weigh it: nothing can be turned on this build, and its readings narrow what is predicted of it."
	case !HasCollars(l.Build):
		return "Nothing can be turned on this build; keep its readings, and its predictions are narrower."
	case l.Unseen:
		return "Leave the collars: every wish is met, and what a turn could still change is less than one reading scatters by. Connect the bars, then alignment."
	case !p.Turn && p.Met:
		return "Leave the collars: every wish is met. Connect the bars, then alignment."
	case !p.Turn && len(p.Missed) > 0:
		return "No turn brings it nearer. " + t.ScalesMissed(&p.Missed[0], p)
	case !p.Turn:
		return "Leave the collars: no turn brings it nearer."
	}
	var each []string
	for i := range 4 {
		if c := &p.Collar[i]; c.Turns != 0 {
			way := "up"
			if c.Move < 0 {
				way = "down"
			}
			each = append(each, wording.Corner(i)+" "+wording.TurnsBy(c.Turns, c.Step)+" "+way)
		}
	}
	text := "Turn " + strings.Join(each, ", ") + "; then roll it on, bounce it and read again."
	switch {
	case len(l.Rounds) == 0:
		text = "Weigh it first. From the parts alone: " + strings.ToLower(text[:1]) + text[1:]
	case p.Met:
		text = "Every wish is met, and it may stay as it stands. To come nearer: " + strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
