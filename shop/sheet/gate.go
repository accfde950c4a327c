package sheet

import (
	"slices"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/wording"
)

// checkWords are the checks before a car leaves and the caution at each: the
// usual ones of the trade, common practice, no source.
var checkWords = map[string][2]string{
	"thread_engagement": {"Threads engaged to the maker's mark", "Past the mark, or without one: do not drive it. A body screwed too far out comes apart."},
	"lock_rings":        {"Lock rings tight and marked", "A loose ring lets the car sink on one side."},
	"torques":           {"Everything loosened is at its torque", "From the maker's manual; new nuts where it asks for them."},
	"bushes_at_height":  {"Rubber bushes tightened at ride height", "Tightened hanging they hold the car up, and tear."},
	"hoses":             {"Brake hoses free", "At full bump, full droop and both locks; a stretched hose is a lost brake."},
	"leads":             {"Sensor leads free", "At full bump, full droop and both locks."},
	"drive_shafts":      {"Drive shafts: angle and plunge", "At full droop and full bump, both sides."},
	"drop_links":        {"Drop links free over the travel", "They must not go over centre or touch the shaft."},
	"steering":          {"Steering free at both locks", "With the wheel at both ends of its travel."},
	"clearance":         {"Tyre clear of body, strut and arch", "At both ends of travel and both locks, full as well as empty."},
	"wheel_nuts":        {"Wheel nuts at their torque", "Again after 50 to 100 km (30 to 60 miles): common practice, no source."},
	"alignment":         {"Alignment at the final height", "Every later change of height calls for it again."},
	"lamps":             {"Headlamp aim at the final height", "By whoever may set it where the car is used."},
	"sensors":           {"Driver-aid and height sensors", "Checked or calibrated by somebody equipped for it; until then note which do not work."},
	"test_drive":        {"Road test, then checked again", "Travel markers, lock rings and heights after the drive."},
	"initials":          {"Initials and date", "Of the person responsible for the work."},
}

var stateWords = map[string]string{"done": "done", "not-done": "NOT DONE", "not-applicable": "not applicable", "open": "open"}

// checks lists everything that is looked at before a car leaves; what is open or
// not done keeps the sheet a draft.
func (m *maker) checks() []Check {
	list := make([]Check, 0, len(jobfile.CheckKeys))
	for _, key := range jobfile.CheckKeys {
		got := m.hand.Checks[key]
		c := Check{Key: key, What: checkWords[key][0], Caution: checkWords[key][1], State: got.State, By: got.By, Date: got.Date, Note: got.Note}
		if c.State == "" {
			c.State = "open"
		}
		c.Shown = stateWords[c.State]
		if why := lackOf(&c, m.openedAgain(key), m.Moved); why != "" {
			m.missCheck(why)
		}
		list = append(list, c)
	}
	return list
}

// lackOf is why a line of the final checks keeps a sheet a draft; empty where it does not. Moved is the day of the last
// move on the scales, where that has opened the line again.
func lackOf(c *Check, opened bool, moved string) string {
	what := wording.Lower(c.What)
	switch {
	case c.State == "open":
		return what + ": open"
	case c.State == "not-done":
		return what + ": not done"
	case c.State == "done" && (c.By == "" || c.Date == ""):
		return what + ": who did it and when is not entered"
	case c.State == "done" && opened && c.Date < moved:
		return what + ": done " + c.Date + ", but the collars were moved again " + moved
	}
	return ""
}

// Unchecked counts the final checks that are left as far as the job says; none before its handover is begun.
func Unchecked(job *jobfile.Job) int {
	if job.Handover == nil {
		return 0
	}
	n := 0
	for _, key := range jobfile.CheckKeys {
		got := job.Handover.Checks[key]
		c := Check{State: or(got.State, "open"), By: got.By, Date: got.Date}
		if lackOf(&c, false, "") != "" {
			n++
		}
	}
	return n
}

// checkOf are the checks that a move on the scales opens again.
var checkOf = map[string]string{
	"bushes": "bushes_at_height", "alignment": "alignment", "lamps": "lamps", "sensors": "sensors", "stop-gap": "clearance",
}

// openedAgain reports whether a move on the scales has opened a check again.
func (m *maker) openedAgain(key string) bool {
	return slices.ContainsFunc(m.Opened, func(code string) bool { return checkOf[code] == key })
}

// opened says what the moves on the scales have opened again.
func (m *maker) opened() Part {
	if len(m.Opened) == 0 {
		return Part{}
	}
	var list []string
	for _, code := range m.Opened {
		list = append(list, wording.Lower(strings.TrimSuffix(wording.ScalesReopened(code), ".")))
	}
	return Part{Words: "The collars were last moved " + m.Moved + ". To be done again: " + strings.Join(list, "; ") + "."}
}

func (m *maker) torques() Part {
	if len(m.hand.Torques) == 0 {
		return Part{}
	}
	t := &Table{Columns: []string{"Tightened", "to", "by"}}
	for _, one := range m.hand.Torques {
		t.Rows = append(t.Rows, []string{one.What, one.To, one.By})
	}
	return Part{Table: t}
}

func (m *maker) normal() Part {
	if len(m.hand.Normal) == 0 {
		return Part{}
	}
	return Part{List: append(append([]string{}, m.hand.Normal...), "Not normal: a knock that grows, a wheel that sits lower than it did, oil on a damper, a tyre that rubs. Then come back at once; do not wait for the date.")}
}

func (m *maker) bounds() Part {
	var list []string
	if m.hand.HeightAbove != "" {
		list = append(list, "Never higher than "+m.hand.HeightAbove+".")
	}
	if m.hand.HeightBelow != "" {
		list = append(list, "Never lower than "+m.hand.HeightBelow+".")
	}
	has := func(of func(i int) bool) bool { return of(0) || of(1) || of(2) || of(3) }
	if has(func(i int) bool { return m.build.Corner[i].Platform != nil }) {
		list = append(list, "After a change of height, do again: "+reopened()+".")
	}
	if has(func(i int) bool { return m.build.Setup.HasClick[i] }) {
		alike := ", both sides of an axle alike"
		if !m.clicksAlike() {
			alike = ""
		}
		list = append(list, "Turn clicks by hand only"+alike+". Close and open them fully every few months, so that they stay free.")
	}
	return Part{List: list}
}

// reopened is what every change of height calls for again, in words.
func reopened() string {
	var list []string
	for _, code := range []string{"bushes", "alignment", "lamps", "sensors", "stop-gap"} {
		what, _, _ := strings.Cut(wording.ScalesReopened(code), ":")
		list = append(list, wording.Lower(strings.TrimSuffix(what, ".")))
	}
	return strings.Join(list, ", ")
}

func (m *maker) again() Part {
	var pairs []Pair
	add := func(label string, d jobfile.Due, usual string) {
		text := d.Date
		if d.After != "" {
			if text != "" {
				text += " or after "
			}
			text += d.After
		}
		if text == "" {
			m.miss("no date for the " + label)
			text = "no date agreed"
		}
		pairs = append(pairs, Pair{label, text + ": " + or(d.What, usual)})
	}
	add("follow-up", m.hand.Recheck, "heights, lock rings, torques, alignment, rub marks, travel marker")
	add("service", m.hand.Service, "oil, seals and gas of the dampers, measured before and after")
	return Part{Pairs: pairs}
}

func (m *maker) cautions() []string {
	return append(append([]string{}, m.hand.Cautions...), wording.Cautions()...)
}

func (m *maker) signed() Part {
	line := func(label, name, date string) string {
		if name == "" {
			return label
		}
		if date != "" {
			name += ", " + date
		}
		return label + ": " + name
	}
	measured := or(m.hand.MeasuredBy, m.Job.Info.By)
	if measured == "" {
		m.miss("who measured is not entered")
	}
	if m.hand.SignedBy == "" || m.hand.Signed == "" {
		m.miss("it is not signed and dated")
	}
	return Part{Sign: []string{line("Measured by", measured, ""), line("For the workshop", m.hand.SignedBy, m.hand.Signed), "Received by the owner"}}
}
