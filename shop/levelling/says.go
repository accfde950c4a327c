package levelling

import (
	"strings"

	"trunnion/chassis/scales"
	"trunnion/shop/wording"
)

// Now is the one thing to do now, where nothing is to be turned: what is read from a
// distance in place of turns. It is empty where there are turns, or nothing to do.
func (l *Result) Now() string {
	switch {
	case l.Unread:
		return "Weigh the car"
	case !l.Stopped:
		return ""
	}
	c := l.reason()
	switch {
	case c == nil:
		return "Turn nothing"
	case c.Code == "readings-missing":
		return "Weigh the car"
	case c.Other >= 0:
		return "Read " + wording.Corner(c.Corner) + " and " + wording.Corner(c.Other) + " again"
	case c.Corner >= 0 && (c.Doubt() || c.Code == "units-mixed"):
		return "Read " + wording.Corner(c.Corner) + " again"
	case c.Doubt() || c.Code == "units-other" || c.Code == "total-shown":
		return "Read all four again"
	}
	return "Turn nothing"
}

// reason is the check that stops the last readings: one that names a corner before one
// that doubts the whole car; nil where none does.
func (l *Result) reason() *scales.Check {
	checks := l.Gates[len(l.Gates)-1].Checks
	var first *scales.Check
	for k := range checks {
		c := &checks[k]
		if c.Verdict != scales.Stop {
			continue
		}
		if c.Corner >= 0 && c.Doubt() {
			return c
		}
		if first == nil {
			first = c
		}
	}
	return first
}

// Says is what to do now, in a sentence.
func (l *Result) Says(t *wording.Teller) string {
	if l.Stopped {
		if c := l.reason(); c != nil {
			return "Turn nothing. " + t.ScalesCheck(c)
		}
		if len(l.Plan.Refused) > 0 {
			return "Turn nothing. " + t.ScalesRefusal(&l.Plan.Refused[0])
		}
	}
	p := l.Plan
	switch {
	case l.Unread:
		return "Weigh the car: enter four loads and four heights. No turn is shown before a reading has passed."
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
	if p.Met {
		text = "Every target is met; the collars may stay. To come nearer: " + strings.ToLower(text[:1]) + text[1:]
	}
	return text
}
