package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// Line is one line of a working.
type Line struct {
	Depth    int
	Symbol   string // of a term; empty for an equation or a note
	Figure   string // in the reader's units
	Name     string // of a term in words
	Origin   string // of a term: "maker's, line 67, typed 25 N/mm"
	Equation string // of a head
	Source   string // of a head
	Note     string
}

// Working is a working as lines, the workings of its terms indented below
// them. A working that was already shown is not repeated. code is that of the
// value, and says what a pure number or a count along a road is shown as.
func (t *Teller) Working(code string, w *figure.Working) []Line {
	b := &workingLines{t: t, code: code, seen: map[string]bool{}}
	b.add(w, 0)
	return b.lines
}

type workingLines struct {
	t     *Teller
	code  string
	seen  map[string]bool // workings and notes that were said
	lines []Line
}

func (b *workingLines) add(w *figure.Working, depth int) {
	if w == nil {
		return
	}
	code := ""
	if depth == 0 || w.Unit == "1/m" {
		code = b.code
	}
	b.seen[content(w)] = true
	b.lines = append(b.lines, Line{Depth: depth, Equation: Equation(w), Figure: b.t.precise(code, w.Unit, w.Result), Source: Source(w.Source)})
	for i := range w.Terms {
		term := &w.Terms[i]
		name := term.Name
		b.lines = append(b.lines, Line{
			Depth: depth + 1, Symbol: term.Symbol, Figure: b.t.precise(termCode(b.code, term.Unit), term.Unit, term.Value),
			Name: name, Origin: b.t.origin(term),
		})
		// The terms of a balance are those of the whole car: each is followed on its own.
		whole := depth > 0 && w.Solves != "" && len(w.Given) > 0
		if term.Working != nil && !whole && !b.seen[content(term.Working)] && depth < 8 {
			b.add(term.Working, depth+2)
		}
	}
	for _, note := range []string{w.Note, Given(w)} {
		if note != "" && !b.seen[note] {
			b.seen[note] = true
			b.lines = append(b.lines, Line{Depth: depth + 1, Note: note})
		}
	}
}

// content is a working by what it says: two that say the same are one.
func content(w *figure.Working) string {
	key := w.Law + " " + w.Equation
	for i := range w.Terms {
		t := &w.Terms[i]
		key += " " + t.Symbol + strconv.FormatFloat(t.Value, 'g', -1, 64) + t.Path
	}
	return key
}

// Equation is the equation of a working as it is read: one that was solved says for
// which symbol.
func Equation(w *figure.Working) string {
	if w.Solves == "" {
		return w.Equation
	}
	return w.Equation + ", solved for " + w.Solves
}

// Given says how much of the job a solution was given; empty for what was not solved.
func Given(w *figure.Working) string {
	switch n := len(w.Given); n {
	case 0:
		return ""
	case 1:
		return "The solution was given one input of the job, " + w.Given[0].Path + "."
	default:
		return "The solution was given " + strconv.Itoa(n) + " inputs of the job."
	}
}

// termCode hands on a value's code to its terms only where the SI unit alone
// would be taken for something else: events along a road.
func termCode(code, unit string) string {
	if unit == "1/m" && code == "stop-hits" {
		return code
	}
	return ""
}

// precise is a figure with a decimal or two more than elsewhere: a working is
// followed with a calculator.
func (t *Teller) precise(code, si string, v float64) string {
	if math.IsNaN(v) {
		return "not known"
	}
	u := unitOf(code, si, t.System)
	digits := u.digits
	if _, known := kinds[si]; known || si == "m/s^1.75" {
		digits++
		if si == "1" || si == "rad" {
			digits += 2
		}
	}
	return u.with(u.number(v, digits))
}

// origin says where a term comes from.
func (t *Teller) origin(term *figure.Term) string {
	parts := []string{Origin(term.Origin)}
	if term.Origin == figure.Constant && term.Path != "" {
		parts[0] = term.Path // its publication
	}
	if term.Line > 0 {
		parts = append(parts, "line "+strconv.Itoa(term.Line))
	}
	if term.Typed != "" && t.speaks(term.Typed, term.Unit) {
		parts = append(parts, "typed “"+term.Typed+"”")
	}
	return strings.Join(parts, ", ")
}

// speaks reports whether a typed text is in the unit that the reader is shown.
func (t *Teller) speaks(typed, si string) bool {
	kind, ok := kinds[si]
	if !ok {
		return false
	}
	label := quantity.Units(kind, t.System)
	if label == "" {
		return true
	}
	return strings.Contains(strings.ToLower(typed), strings.ToLower(label))
}

// Origin is an origin in words.
func Origin(o figure.Origin) string {
	switch o {
	case figure.Measured, figure.Estimated, figure.Computed, figure.Chosen, figure.Solved, figure.Constant:
		return string(o)
	case figure.Makers:
		return "maker's"
	case "":
		return "not given, taken as it stands"
	}
	return string(o)
}

// Source is where a method comes from, in words.
func Source(s string) string {
	if s == "own derivation" {
		return "derived here"
	}
	return s
}
