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
		return "This build has no collars. Weigh it: its readings narrow the predictions."
	case !HasCollars(l.Build):
		return "This build has no collars. Its readings are kept and narrow the predictions."
	case l.Unseen:
		return "Leave the collars: every target is met, and a further turn would change less than the scatter of one reading. Connect the bars, then set the alignment."
	case !p.Turn && p.Met:
		return "Leave the collars: every target is met. Connect the bars, then set the alignment."
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
	text := "Turn " + strings.Join(each, ", ") + "; then roll the car on, bounce it and read again."
	switch {
	case len(l.Rounds) == 0:
		text = "Weigh it first. From the parts alone: " + strings.ToLower(text[:1]) + text[1:]
	case p.Met:
		text = "Every target is met; the collars may stay. To come nearer: " + strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
