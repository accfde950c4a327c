package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Fault says what is wrong with a text, for a program; Got and Want of the
// Error say it to a person.
type Fault string

// The faults a text can have.
const (
	NoText      Fault = "no-text"      // nothing stands there
	TooLong     Fault = "too-long"     // longer than a figure can be
	BadText     Fault = "bad-text"     // not UTF-8, or control characters
	NoNumber    Fault = "no-number"    // no figure where one is due
	Ambiguous   Fault = "ambiguous"    // can be read in two ways
	OutOfReach  Fault = "out-of-reach" // not finite, or far beyond any figure of a car
	NoUnit      Fault = "no-unit"      // a bare number where a unit is due
	WrongKind   Fault = "wrong-kind"   // a unit of another kind
	UnknownUnit Fault = "unknown-unit" // no unit at all
	NotWhole    Fault = "not-whole"    // a broken number where a whole one is due
	BadBand     Fault = "bad-band"     // the part after ± is not a band
	BadRange    Fault = "bad-range"    // a range where a single value is due, or the reverse
	NoKind      Fault = "no-kind"      // the caller asked for a kind that does not exist
)

// Error is a text that is no quantity of the kind that is due. Whoever knows
// the line and the field adds them.
type Error struct {
	Fault Fault
	Text  string // as typed, cut when it is long
	Got   string // what stands there: "mm is a length"
	Want  string // what could: "enter a stiffness, such as 45 N/mm or 257 lbf/in"
}

// Error is Got and Want in one line.
func (e *Error) Error() string { return e.Got + "; " + e.Want }

// due says what is wanted, with examples.
func due(kind Kind) string {
	return "enter " + kind.noun() + ", such as " + kind.about().examples
}

// show quotes a piece of the text and cuts it.
func show(text string) string { return strconv.Quote(cut(text)) }

// cut shortens a text for a message.
func cut(text string) string {
	const most = 40
	if len(text) <= most {
		return text
	}
	end := most
	for end > 0 && !utf8.RuneStart(text[end]) {
		end--
	}
	return text[:end] + "…"
}

// missingUnit is the error of a bare number.
func missingUnit(text, number string, kind Kind) *Error {
	e := &Error{Fault: NoUnit, Text: text, Got: show(number) + " has no unit"}
	if kind == Price {
		e.Want = "enter a price with the three capital letters of its currency, such as 1250 EUR"
		return e
	}
	offers := make([]string, 0, 3)
	for _, u := range kind.about().offer {
		offers = append(offers, number+" "+u)
	}
	e.Want = "enter " + kind.noun() + ": " + either(offers)
	return e
}

func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// spoken are units that are refused on purpose, with the reason.
var spoken = map[string]string{
	"gal":     "a gallon can be US or imperial: write US gal or imp gal",
	"gallon":  "a gallon can be US or imperial: write US gal or imp gal",
	"gallons": "a gallon can be US or imperial: write US gal or imp gal",
	"psia":    "pressures are over the atmosphere here: take 14.7 psi off and write psi",
	"bara":    "pressures are over the atmosphere here: take 1.01 bar off and write bar",
	"bar a":   "pressures are over the atmosphere here: take 1.01 bar off and write bar",
	"mm/flat": "a flat is a part of a turn: give the pitch per whole turn, such as 1.5 mm/turn",
	"in/flat": "a flat is a part of a turn: give the pitch per whole turn, such as 16 turns/in",
}

// wrongUnit is the error of a unit that the kind does not have. The figure
// before it, when there is one, makes the offer concrete.
func wrongUnit(text, unit string, kind Kind, figure float64) *Error {
	if unit == "" {
		return missingUnit(text, "", kind)
	}
	e := &Error{Fault: UnknownUnit, Text: text, Got: show(unit) + " is no unit known here", Want: due(kind)}
	if reason, ok := spoken[strings.ToLower(spell(unit))]; ok {
		e.Got, e.Want = reason, due(kind)
		return e
	}
	if other, ok := kindOf(unit); ok {
		e.Fault = WrongKind
		e.Got = unit + " is " + other.noun()
		if kind == Force && other == Mass {
			e.Want = "enter a force: write kgf or lbf for the weight of a mass, such as 46 kgf or 101 lbf"
		}
		return e
	}
	if near := nearest(unit, kind); near != "" {
		e.Want = "did you mean "
		if !math.IsNaN(figure) {
			e.Want += strconv.FormatFloat(figure, 'g', -1, 64) + " "
		}
		e.Want += near + "? " + due(kind)
	}
	return e
}

// kindOf finds the first kind that has the unit.
func kindOf(unit string) (Kind, bool) {
	for k := range kinds {
		if u, ok := find(unit, Kind(k)); ok && u.label != "" {
			return Kind(k), true
		}
	}
	return 0, false
}

// nearest is the label of the kind's unit that differs by the fewest letters,
// at most two and fewer than half of what was typed; empty when there is none.
func nearest(unit string, kind Kind) string {
	best, label := 3, ""
	typed := []rune(strings.ToLower(spell(unit)))
	for i := range units {
		u := &units[i]
		if u.kind != kind {
			continue
		}
		for _, name := range u.spellings() {
			if d := distance(typed, []rune(strings.ToLower(name))); d < best && 2*d <= len(typed) {
				best, label = d, u.label
			}
		}
	}
	return label
}

// distance is the number of letters to insert, remove or replace to turn a
// into b: V. I. Levenshtein, 1966, by the usual table of two rows.
func distance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, ra := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, rb := range b {
			cost := diagonal
			if ra != rb {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
