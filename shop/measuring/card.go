package measuring

import (
	"strings"
	"sync"

	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Group is a piece of the work: the car moves once from one to the next.
type Group struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty" doc:"what a hand has to know before it begins"`
}

// Card is what one tool reads at one time.
type Card struct {
	ID      string     `json:"id"`
	Page    string     `json:"page" enum:"brief,car,parts,builds,handover" doc:"the page that has its fields"`
	Group   string     `json:"group"`
	Title   string     `json:"title"`
	Tool    string     `json:"tool,omitempty"`
	Minutes int        `json:"minutes,omitempty" doc:"for all of it; common practice, no source"`
	Stands  string     `json:"stands,omitempty" doc:"how the car stands"`
	How     string     `json:"how,omitempty" doc:"from what to what"`
	For     string     `json:"for,omitempty" doc:"what it is for"`
	Watch   string     `json:"watch,omitempty" doc:"what goes wrong"`
	Drawing string     `json:"drawing,omitempty"`
	Fields  []Field    `json:"fields"`
	Tables  [][]string `json:"tables,omitempty" doc:"fields that are the columns of one table"`
}

// Field is one place of the job file at which a value is typed.
type Field struct {
	Path     string   `json:"path" doc:"with * for an id and [] for an entry of a list"`
	Label    string   `json:"label"`
	Form     string   `json:"form" enum:"value,range,band,count,row,text,choice,flag,id,part"`
	Unit     string   `json:"unit,omitempty" doc:"in which a bare number is read"`
	Choices  []string `json:"choices,omitempty"`
	Least    int      `json:"least,omitempty" doc:"fewest numbers of a row"`
	About    string   `json:"about,omitempty"`
	Section  string   `json:"section,omitempty" doc:"of a part: where its kind stands under parts"`
	Required bool     `json:"required,omitempty" doc:"what it stands in cannot be read without it"`
}

// entry is a row of the table: a card and the keys that stand on it. In a key's path
// {corner} stands for each of the four, {axle} for both, {side} for either side.
type entry struct {
	Card
	keys   []label
	tables [][]string
	time   string // the path whose time of measuring is the card's; that of its first key without it
}

// label is a key and what it is called on its card.
type label struct{ path, label string }

var (
	corners = []string{"front_left", "front_right", "rear_left", "rear_right"}
	axles   = []string{"front", "rear"}
	sides   = []string{"left", "right"}
)

// spelled writes out the places that a path of the table stands for, with what each adds
// to a label.
func spelled(path string) (paths, adds []string) {
	for _, one := range []struct {
		mark  string
		names []string
	}{{"{corner}", corners}, {"{axle}", axles}, {"{side}", sides}} {
		if !strings.Contains(path, one.mark) {
			continue
		}
		for _, name := range one.names {
			more, with := spelled(strings.Replace(path, one.mark, name, 1))
			for i := range more {
				paths = append(paths, more[i])
				adds = append(adds, strings.TrimSpace(strings.ReplaceAll(name, "_", " ")+" "+with[i]))
			}
		}
		return paths, adds
	}
	return []string{path}, []string{""}
}

// placesByPath are the keys of the job file.
var placesByPath = sync.OnceValue(func() map[string]jobfile.Place {
	out := map[string]jobfile.Place{}
	for _, p := range jobfile.Places() {
		out[p.Path] = p
	}
	return out
})

// field is the field of a key; false where the job file has no such key.
func field(path, label string, system quantity.System) (Field, bool) {
	p, ok := placesByPath()[path]
	if !ok {
		return Field{}, false
	}
	f := Field{Path: path, Label: upper(label), Form: p.Form, Choices: p.Words, Least: p.Least, About: p.About, Required: p.Need, Section: p.Section}
	switch p.Form {
	case "value", "range", "band", "row":
		if p.Kind != quantity.Price {
			f.Unit = quantity.Units(p.Kind, system)
		}
	}
	return f, true
}

func upper(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// Cards returns every card with the fields that the job file has keys for, in the order
// of work, units in a system. A key that no card names stands on the last card of what
// it belongs to, under its own name: a key that is added to the job file has a field at
// once, and a test asks for its place in the table.
func Cards(system quantity.System) []Card {
	cards, _ := cardsOf(system)
	return cards
}

// cardsOf returns the cards, and the keys that the table does not name.
func cardsOf(system quantity.System) (cards []Card, unnamed []string) {
	seen := map[string]bool{}
	for i := range table {
		e := &table[i]
		c := e.Card
		c.Fields = []Field{}
		for _, k := range e.keys {
			paths, adds := spelled(k.path)
			for j, path := range paths {
				seen[path] = true
				name := strings.Trim(k.label+", "+adds[j], ", ")
				if f, ok := field(path, name, system); ok {
					c.Fields = append(c.Fields, f)
				}
			}
		}
		for _, columns := range e.tables {
			var set [][]string
			for k, column := range columns {
				paths, _ := spelled(column)
				for j, path := range paths {
					if k == 0 {
						set = append(set, nil)
					}
					set[j] = append(set[j], path)
				}
			}
			c.Tables = append(c.Tables, set...)
		}
		if c.Minutes == 0 && c.Tool != "" && len(c.Fields) > 0 {
			at := e.time
			if at == "" {
				at = c.Fields[0].Path
			}
			c.Minutes = int(study.Effort(at)/quantity.Minute + 0.5)
		}
		cards = append(cards, c)
	}
	for _, p := range jobfile.Places() {
		if seen[p.Path] || elsewhere(p.Path) != "" {
			continue
		}
		unnamed = append(unnamed, p.Path)
		words := strings.Split(p.Path, ".")
		f, _ := field(p.Path, strings.ReplaceAll(words[len(words)-1], "_", " "), system)
		for i := len(cards) - 1; i >= 0; i-- {
			if c := &cards[i]; strings.HasPrefix(p.Path, fallback[c.ID]) && fallback[c.ID] != "" {
				c.Fields = append(c.Fields, f)
				break
			}
		}
	}
	return cards, unnamed
}

// elsewhere says why a key has no field of its own; empty where it has to have one.
func elsewhere(path string) string {
	for _, r := range reasons {
		if path == r.path || strings.HasPrefix(path, strings.TrimSuffix(r.path, "*")) && strings.HasSuffix(r.path, "*") {
			return r.why
		}
	}
	return ""
}

// PlaceOf is the card on which a path of a job is typed, and the field; false where none
// is. An id or an index of the path stands for * and [].
func PlaceOf(cards []Card, path string) (*Card, *Field, bool) {
	pattern := Pattern(path)
	for i := range cards {
		for k := range cards[i].Fields {
			if Matches(cards[i].Fields[k].Path, pattern) {
				return &cards[i], &cards[i].Fields[k], true
			}
		}
	}
	return nil, nil, false
}

// Pattern writes the indices of a path as [].
func Pattern(path string) string {
	var b strings.Builder
	for path != "" {
		open := strings.IndexByte(path, '[')
		shut := strings.IndexByte(path, ']')
		if open < 0 || shut < open {
			b.WriteString(path)
			break
		}
		b.WriteString(path[:open] + "[]")
		path = path[shut+1:]
	}
	return b.String()
}

// Matches reports whether a path is one that a field's path stands for.
func Matches(field, path string) bool {
	a, b := strings.Split(field, "."), strings.Split(path, ".")
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != "*" && a[i] != b[i] {
			return false
		}
	}
	return true
}
