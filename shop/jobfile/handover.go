package jobfile

import (
	"time"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// Handover is what is said when a car leaves the workshop. But for the limits it
// is words: the program computes nothing from it.
type Handover struct {
	Line  int
	Build string // id of the build that leaves

	Odometer, Fuel, Ballast string
	Checks                  map[string]Check // by its key, see CheckKeys
	Torques                 []Torque
	Alignment               Alignment
	Tyres                   [2]Tyre // front, rear
	Presets                 []Preset
	Limits                  []Limit
	Normal                  []string // noises and habits that are no fault
	Cautions                []string // the workshop's own
	HeightAbove             string   // never screwed above
	HeightBelow             string   // never screwed below
	Paragraph               string   // to the owner, in plain words

	Recheck, Service Due
	MeasuredBy       string
	SignedBy         string
	Signed           string // date
}

// Check is one thing to be looked at before a car leaves.
type Check struct {
	State          string // done, not-done, not-applicable; empty when nothing was ticked
	By, Date, Note string
}

// Torque is a bolt that was tightened.
type Torque struct{ What, To, By string }

// Alignment is the wheels' angles, in the words of the print of the rack.
type Alignment struct {
	Before, After [2]string // front, rear
	By, Date      string
}

// Tyre is what stands on an axle.
type Tyre struct{ Size, Cold, Hot string }

// Preset is one way to set the car that the owner may choose.
type Preset struct {
	ID, Name  string
	Click     [4]int
	HasClick  [4]bool
	Pressures string
	BarHole   [2]string
	Feel      string // the workshop's own words
	Order     string // which end first, and why
}

// Limit is a rule that the workshop looked up, with where and when.
type Limit struct {
	Figure string       // which figure it asks about, see LimitFigures
	Least  figure.Input // [SI]; unknown when there is none
	Most   figure.Input // [SI]
	Says   string       // the rule, in its own words
	From   string       // which text
	Dated  string       // date of the text
}

// Due is when something is to be done again.
type Due struct{ Date, After, What string }

// CheckKeys are the checks before a car leaves, in the order in which they are
// done.
var CheckKeys = []string{
	"thread_engagement", "lock_rings", "torques", "bushes_at_height", "hoses", "leads", "drive_shafts", "drop_links",
	"steering", "clearance", "wheel_nuts", "alignment", "lamps", "sensors", "test_drive", "initials",
}

// LimitFigures are the figures that a rule may ask about.
var LimitFigures = []string{
	"arch-height", "height-change", "droop-left", "bump-left", "bump-travel-kept", "spring-loose", "ground-clearance", "lamp-slope", "other",
}

var checkShape = anObject(
	must("state", "", oneOf("done", "not-done", "not-applicable")),
	may("by", "who did it", someText),
	may("date", "2026-11-16", someText),
	may("note", "", someText),
)

var dueShape = anObject(
	may("date", "2026-11-16", someText),
	may("after", "distance or hours, in words", someText),
	may("what", "", someText),
)

func checksShape() *shape {
	about := map[string]string{
		"thread_engagement": "threads engaged to the maker's mark, both ends of travel", "lock_rings": "tightened and marked",
		"torques": "all that was loosened, to its torque", "bushes_at_height": "rubber bushes tightened at ride height",
		"hoses": "brake hoses free at full bump, full droop and both locks", "leads": "sensor leads free there too",
		"drive_shafts": "angle and plunge at both ends of travel", "drop_links": "free over the travel",
		"steering": "links and rack free at both locks and both ends of travel", "clearance": "tyre to body, strut and arch at both locks and both ends of travel",
		"wheel_nuts": "to their torque", "alignment": "measured at the final height", "lamps": "headlamp aim at the final height",
		"sensors": "driver-aid sensors, height sensors", "test_drive": "driven, and looked at again", "initials": "who answers for it",
	}
	keys := make([]key, len(CheckKeys))
	for i, name := range CheckKeys {
		keys[i] = may(name, about[name], checkShape)
	}
	return anObject(keys...)
}

var handoverShape = anObject(
	may("build", "id of the build that leaves", anIdent),
	may("odometer", "", someText),
	may("fuel", "", someText),
	may("ballast", "what was in the car on the scales, in words", someText),
	may("checks", "before the car leaves", checksShape()),
	may("torques", "", listOf(anObject(must("what", "", someText), must("to", "", someText), may("by", "", someText)))),
	may("alignment", "", anObject(
		may("before", "", axles(someText)), may("after", "", axles(someText)), may("by", "", someText), may("date", "", someText),
	)),
	may("tyres", "", axles(anObject(may("size", "", someText), may("cold", "pressure", someText), may("hot", "pressure", someText)))),
	may("presets", "ways to set the car that the owner may choose", byID(anObject(
		may("name", "", someText),
		may("click", "counted from closed, of an axle or of a corner; what a corner does not name is its axle's", axlesOrCorners(aCount)),
		may("pressures", "", someText),
		may("bar_hole", "", axles(someText)),
		may("feel", "in the workshop's words", someText),
		may("order", "which end first", someText),
	))),
	may("limits", "rules that were looked up", listOf(anObject(
		must("figure", "that the rule asks about", oneOf(LimitFigures...)),
		may("least", "", someText),
		may("most", "", someText),
		must("says", "in the rule's own words", someText),
		must("from", "which text", someText),
		must("dated", "date of the text", someText),
	))),
	may("normal", "noises and habits that are no fault", listOf(someText)),
	may("cautions", "of the workshop's own", listOf(someText)),
	may("never_above", "thread mark that is never passed upward", someText),
	may("never_below", "thread mark that is never passed downward", someText),
	may("words", "to the owner", someText),
	may("recheck", "heights, lock rings, torques, alignment", dueShape),
	may("service", "", dueShape),
	may("measured_by", "", someText),
	may("signed_by", "", someText),
	may("signed", "2026-11-16", someText),
)

// limitKinds are the quantities of the figures that a rule may ask about.
var limitKinds = map[string]quantity.Kind{
	"arch-height": quantity.Length, "height-change": quantity.Length, "droop-left": quantity.Length, "bump-left": quantity.Length,
	"bump-travel-kept": quantity.Share, "spring-loose": quantity.Length, "ground-clearance": quantity.Length, "lamp-slope": quantity.Share,
}

// handover reads what is said at the handover; nil when nothing is.
func (b *builder) handover(e *entry, builds []*car.Build) *Handover {
	if e == nil {
		return nil
	}
	h := &Handover{
		Line: e.line, Build: e.word("build"), Odometer: e.word("odometer"), Fuel: e.word("fuel"), Ballast: e.word("ballast"),
		Checks: map[string]Check{}, HeightAbove: e.word("never_above"), HeightBelow: e.word("never_below"), Paragraph: e.word("words"),
		Recheck: b.due(e.at("recheck")), Service: b.due(e.at("service")), MeasuredBy: e.word("measured_by"), SignedBy: e.word("signed_by"),
		Signed: b.date(e.at("signed")),
	}
	var ids []string
	for _, one := range builds {
		ids = append(ids, one.ID)
	}
	if at := e.at("build"); at != nil && !has(ids, at.text) {
		b.refuse(at.line, at.path, "is "+short(at.text), "no build has this id; "+suggest(at.text, ids))
	}
	for _, name := range CheckKeys {
		c := e.at("checks").at(name)
		if c == nil {
			continue
		}
		h.Checks[name] = Check{State: c.word("state"), By: c.word("by"), Date: b.date(c.at("date")), Note: c.word("note")}
	}
	for _, t := range e.at("torques").each() {
		h.Torques = append(h.Torques, Torque{What: t.word("what"), To: t.word("to"), By: t.word("by")})
	}
	if a := e.at("alignment"); a != nil {
		h.Alignment = Alignment{By: a.word("by"), Date: b.date(a.at("date"))}
		for i, axle := range axleKeys {
			h.Alignment.Before[i], h.Alignment.After[i] = a.at("before").word(axle), a.at("after").word(axle)
		}
	}
	for i, axle := range axleKeys {
		t := e.at("tyres").at(axle)
		h.Tyres[i] = Tyre{Size: t.word("size"), Cold: t.word("cold"), Hot: t.word("hot")}
	}
	for _, id := range e.at("presets").ids() {
		h.Presets = append(h.Presets, b.preset(id, e.at("presets").at(id)))
	}
	for _, l := range e.at("limits").each() {
		h.Limits = append(h.Limits, b.limit(l))
	}
	for _, n := range e.at("normal").each() {
		h.Normal = append(h.Normal, n.text)
	}
	for _, n := range e.at("cautions").each() {
		h.Cautions = append(h.Cautions, n.text)
	}
	return h
}

func (b *builder) preset(id string, e *entry) Preset {
	p := Preset{ID: id, Name: e.word("name"), Pressures: e.word("pressures"), Feel: e.word("feel"), Order: e.word("order")}
	if p.Name == "" {
		p.Name = id
	}
	p.Click, p.HasClick = clicksOf(e)
	for i, axle := range axleKeys {
		p.BarHole[i] = e.at("bar_hole").word(axle)
	}
	return p
}

// limit reads a rule: its figures are of the kind that it asks about.
func (b *builder) limit(e *entry) Limit {
	l := Limit{Figure: e.word("figure"), Says: e.word("says"), From: e.word("from"), Dated: b.roughDate(e.at("dated"))}
	kind, asked := limitKinds[l.Figure]
	for _, end := range []struct {
		name string
		to   *figure.Input
	}{{"least", &l.Least}, {"most", &l.Most}} {
		at := e.at(end.name)
		if at == nil {
			continue
		}
		if !asked {
			b.refuse(at.line, at.path, "is "+short(at.text), "the program has no figure beside this rule: say it in words, under says")
			continue
		}
		typed, err := quantity.Parse(at.text, kind)
		if err != nil {
			b.refuse(at.line, at.path, "is "+short(at.text), "enter a figure for "+l.Figure+", such as "+kindExample(kind))
			continue
		}
		*end.to = figure.Input{Value: typed.Value, Origin: figure.Chosen, Typed: at.text, Path: at.path, Line: at.line}
	}
	return l
}

func kindExample(kind quantity.Kind) string {
	if kind == quantity.Share {
		return "66 %"
	}
	return "45 mm"
}

func (b *builder) due(e *entry) Due {
	return Due{Date: b.date(e.at("date")), After: e.word("after"), What: e.word("what")}
}

// date reads a day of the calendar as it is written on paper and sorted by
// machines: 2026-11-16.
func (b *builder) date(e *entry) string {
	if e == nil {
		return ""
	}
	day, err := time.Parse(time.DateOnly, e.text)
	if err != nil {
		b.refuse(e.line, e.path, "is "+short(e.text), "a date is written 2026-11-16, and is one of the calendar")
		return ""
	}
	b.sensible(e, day)
	return e.text
}

// roughDate reads a date of which the day, or the month, may be missing; one that is no
// date of the calendar stays as it was typed, and is told.
func (b *builder) roughDate(e *entry) string {
	if e == nil {
		return ""
	}
	for _, layout := range []string{time.DateOnly, "2006-01", "2006"} {
		if day, err := time.Parse(layout, e.text); err == nil {
			b.sensible(e, day)
			return e.text
		}
	}
	b.warn(e.line, e.path, "is "+short(e.text), "a date is written 2026-11-16, 2026-11 or 2026, and is one of the calendar")
	return e.text
}

// sensible tells of a year in which no such job was done.
func (b *builder) sensible(e *entry, day time.Time) {
	if y := day.Year(); y < 1950 || y > 2100 {
		b.warn(e.line, e.path, "is "+short(e.text), "look at the year")
	}
}
