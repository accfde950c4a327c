package intake

import (
	"errors"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// PartsMapping is what is known of a list of parts beside its file: a maker's price list,
// or the catalogue as it was written out. The zero mapping knows nothing but that it is
// springs.
type PartsMapping struct {
	Source   string            `json:"source,omitempty" maxLength:"300" doc:"whose list it is: it stands with every part"`
	Kind     string            `json:"kind,omitempty" maxLength:"40" doc:"of all parts in it: spring, damper, stop, mount, platform, tyre, wheel; spring where nothing is said"`
	Decimal  string            `json:"decimal,omitempty" maxLength:"10" doc:"point or comma"`
	Columns  map[string]string `json:"columns,omitempty" doc:"what a column holds, by its heading or its number: a key of the part such as rate, or number, name, stock, ignore"`
	Units    map[string]string `json:"units,omitempty" doc:"unit by key where the list names none"`
	Currency string            `json:"currency,omitempty" maxLength:"3" doc:"of the prices where the list names none"`
}

// PartKinds are the kinds of part that a list can hold, as a catalogue calls them.
var PartKinds = []string{"spring", "damper", "stop", "mount", "platform", "tyre", "wheel"}

// What a column of a list of parts can hold beside a key of the part.
const (
	columnNumber = "number" // of the maker: what the part is called in a job is made of it
	columnName   = "name"
	columnStock  = "stock"
)

// PartRoles are all that a column of a list of a kind can hold.
func PartRoles(kind string) []string {
	out := []string{columnNumber, columnName, columnStock}
	for _, k := range jobfile.PartKeys(kind + "s") {
		out = append(out, k.Name)
	}
	return append(out, roleIgnored)
}

// ListedPart is one row of a list, as a part of a catalogue.
type ListedPart struct {
	Line  int
	Slug  string
	Name  string
	Stock string
	Text  string // as it stands in a job behind its id
}

// PartsList is what a list of parts says. Where Questions stand nothing else is told.
type PartsList struct {
	Kind        string
	Parts       []ListedPart
	Assumptions []SweepAssumption
	Questions   []SweepQuestion
	Faults      []SweepFault
}

// Bounds of a list.
const (
	mostListBytes = 8 << 20
	mostListParts = 2000 // as many as a job's section takes
	mostListed    = 40   // faults that are told
)

// partReader reads one list.
type partReader struct {
	file    SweepFile
	m       PartsMapping
	keys    map[string]jobfile.PartKey
	columns []partColumn
	comma   bool // the decimal sign of the figures
	out     *PartsList
	slugs   map[string]int // line by slug
	left    int            // faults that are not told
}

// partColumn is one column: what it holds, and the unit its heading names.
type partColumn struct {
	heading, role, unit string
}

func (r *partReader) fault(line int, got, want string) {
	if len(r.out.Faults) >= mostListed {
		r.left++
		return
	}
	r.out.Faults = append(r.out.Faults, SweepFault{File: r.file.Name, Line: line, Got: got, Want: want})
}

func (r *partReader) assumed(code, about, value string, line int) {
	r.out.Assumptions = append(r.out.Assumptions, SweepAssumption{Code: code, About: about, Value: value, File: r.file.Name, Line: line})
}

func (r *partReader) ask(code, about, seen string, line int, choices ...string) {
	r.out.Questions = append(r.out.Questions, SweepQuestion{Code: code, About: about, File: r.file.Name, Line: line, Choices: choices, Seen: cutShort(seen)})
}

// mend is what to do about a cell that cannot be read.
func (r *partReader) mend(key string, err error) string {
	var one *quantity.Error
	if errors.As(err, &one) {
		return one.Want
	}
	return err.Error() + ": write it as " + r.example(key)
}

// example is how a value of a key is written.
func (r *partReader) example(key string) string {
	k := r.keys[key]
	switch {
	case k.Words != nil:
		return "one of " + strings.Join(k.Words, ", ")
	case !k.Figure:
		return "words"
	case k.Kind == quantity.Price:
		return "85 EUR"
	case k.Kind == quantity.Count:
		return "a whole number"
	}
	return "a figure, such as " + strings.TrimSpace("60 "+quantity.Units(k.Kind, quantity.Metric))
}
