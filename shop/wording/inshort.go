package wording

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/shop/quantity"
)

// InShort is which build answers the owner's own words.
type InShort struct {
	Words  string // of the owner, as far as they are about it
	Load   string // id of the load state they speak of
	Cause  string // what is behind them on the build that the owner has
	Builds []Answering
}

// Answering is what one build says to the owner's words.
type Answering struct {
	Build   string
	Verdict finding.Verdict // of the figure behind the words
	Value   *figure.Value   // where it is worst
	Owners  bool            // it is the build that the owner has
}

// InShort says which build answers the owner's words, in which load, and what the
// others lack.
func (t *Teller) InShort(s *InShort) string {
	if s == nil || len(s.Builds) == 0 {
		return ""
	}
	var yes, only, no []string
	was := s.owners()
	for i := range s.Builds {
		b := &s.Builds[i]
		told := "“" + t.Build(b.Build) + "”: " + t.answering(b.Value, was)
		switch {
		case b.Owners:
		case b.Verdict == finding.Clear || b.Verdict == finding.NoLimit:
			yes = append(yes, told)
		case b.Verdict == finding.Close:
			only = append(only, told)
		default:
			no = append(no, told)
		}
	}
	text := "“" + s.Words + "”: " + s.Cause + t.loaded(s.Load)
	if was != nil {
		text += " (" + t.answering(was, nil) + ")"
	}
	text += "."
	for _, part := range []struct {
		lead string
		list []string
	}{{"It is answered by ", yes}, {"Only just, or not surely, by ", only}, {"Not by ", no}} {
		if part.list != nil {
			text += " " + part.lead + strings.Join(part.list, "; ") + "."
		}
	}
	if yes == nil {
		text += " No build of this job answers it surely."
	}
	return text
}

// AnswerOf is what one build says to the owner's words; empty where nothing was understood.
func (t *Teller) AnswerOf(s *InShort, build string) string {
	if s == nil {
		return ""
	}
	for i := range s.Builds {
		b := &s.Builds[i]
		if b.Build != build {
			continue
		}
		lead := "“" + s.Words + "”: "
		told := t.toOwner(b.Value, s.owners())
		if b.Owners && !missing(b.Value) && t.ForWorkshop(b.Value.Code) {
			told = "" // it would be compared with itself
		}
		if told != "" {
			told = " " + upper(told) + "."
		}
		switch {
		case b.Owners:
			return lead + s.Cause + t.loaded(s.Load) + "." + told
		case b.Verdict == finding.Clear || b.Verdict == finding.NoLimit:
			return lead + "this answers it." + told
		case b.Verdict == finding.Close:
			return lead + "this answers it only just, or not surely." + told
		case b.Verdict == finding.Unknown:
			return lead + "whether this answers it is not known."
		}
		return lead + "this does not answer it." + told
	}
	return ""
}

// toOwner is a figure as an owner reads it: lengths and forces as they are, a frequency or a ratio in per cent of what
// it was.
func (t *Teller) toOwner(v, was *figure.Value) string {
	if missing(v) {
		return "not known"
	}
	if !t.ForWorkshop(v.Code) {
		return t.answering(v, nil)
	}
	if was == nil || was.Code != v.Code || was.Value <= 0 {
		return ""
	}
	where := ""
	if corner := Corner(v.Place.Corner); corner != "" {
		where = ", " + corner
	}
	name := strings.TrimSuffix(Name(v.Code), " ratio")
	switch change := v.Value/was.Value - 1; {
	case change > 0:
		return name + where + ": " + WholePerCent(change) + " more than it was"
	case change < 0:
		return name + where + ": " + WholePerCent(-change) + " less than it was"
	}
	return name + where + ": as it was"
}

// WholePerCent is a share as an owner reads it: without a digit.
func WholePerCent(share float64) string {
	return quantity.Format(share, quantity.Share, quantity.Metric, 0)
}

// ForWorkshop reports whether a figure is a bare ratio or a frequency, which an owner does not read.
func (t *Teller) ForWorkshop(code string) bool {
	label := unitOf(code, siOf(code), t.System).label
	return label == "" || label == "Hz"
}

// Stands says how much higher or lower a build stands than the car as it is, in front and
// at the rear [m]; empty where neither is a word worth.
func (t *Teller) Stands(front, rear float64) string {
	const least = 2e-3 // that is worth a word [m]: chosen
	said := func(by float64, where string) string {
		switch {
		case by >= least:
			return t.length(by) + " higher " + where
		case by <= -least:
			return t.length(-by) + " lower " + where
		}
		return ""
	}
	f, r := said(front, "in front"), said(rear, "at the rear")
	switch {
	case f == "" && r == "":
		return ""
	case f == "" || r == "":
		return "It stands " + f + r + "."
	}
	return "It stands " + f + " and " + r + "."
}

// owners is the figure of the build that the owner has; nil where it is not known.
func (s *InShort) owners() *figure.Value {
	for i := range s.Builds {
		if b := &s.Builds[i]; b.Owners && !missing(b.Value) {
			return b.Value
		}
	}
	return nil
}

// answering is a figure with its name and corner, "bump travel to the stop, rear left: 10.2 mm
// into"; beside one of the same name and corner only "9.6 mm clear".
func (t *Teller) answering(v, beside *figure.Value) string {
	if missing(v) {
		return "not known"
	}
	text := t.side(v.Code, unitOf(v.Code, siOf(v.Code), t.System), v.Value)
	corner := Corner(v.Place.Corner)
	switch {
	case beside == nil || beside.Code != v.Code:
		name := Name(v.Code)
		if corner != "" {
			name += ", " + corner
		}
		return name + ": " + text
	case corner != "" && beside.Place.Corner != v.Place.Corner:
		return text + " at the " + corner
	}
	return text
}
