package jobfile

import (
	"regexp"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
)

// PartKey is a key of a part whose value stands in one cell of a list: a figure, a word
// or a text, but no table and nothing made of several keys.
type PartKey struct {
	Name   string // "rate"
	About  string
	Figure bool          // a number with a unit, of Kind
	Kind   quantity.Kind // of a figure
	Read   bool          // a figure that has a band by where it is from: measured, a maker's, estimated
	Words  []string      // what it may be, where it is one of some words
}

// PartKeys are those of a section of parts, "springs", in their order; nil where there is
// no such section.
func PartKeys(section string) []PartKey {
	s := jobShape.has("parts").has(section)
	if s == nil {
		return nil
	}
	var out []PartKey
	for _, k := range s.of.keys {
		one := PartKey{Name: k.name, About: k.about, Kind: k.shape.kind, Words: k.shape.words}
		switch k.shape.form {
		case value, spread, whole:
			one.Figure, one.Read = true, k.shape.bands != nil
		case text, choice, flag:
		case row, ident, object, dict, list, places:
			continue
		}
		out = append(out, one)
	}
	return out
}

// PartFaults are those of a part as it would stand in a job, under the path of the part:
// "rate".
func PartFaults(section, slug, text string) []Fault {
	const head = "parts"
	root, fault := parse([]byte(head + ": {" + section + ": {" + slug + ": " + text + "}}"))
	if fault != nil {
		return []Fault{*fault}
	}
	w := &walker{}
	if top := w.walk(root, stockShape, ""); top != nil && !w.refused() {
		b := newBuilder(w, top.at(head))
		b.allParts()
		w.problems(car.CheckParts(one(b.springs), one(b.dampers), one(b.stops)), top)
	}
	out := slices.Clone(w.faults)
	for i := range out {
		out[i].Path = strings.TrimPrefix(strings.TrimPrefix(out[i].Path, head+"."+section+"."+slug), ".")
	}
	return out
}

// one lists what a shelf of one part holds.
func one[P any](shelf map[string]*P) []*P {
	var out []*P
	for _, p := range shelf {
		if p != nil {
			out = append(out, p)
		}
	}
	return out
}

// Pieces are the keys of a part with what stands behind each, in its order, on one line.
func Pieces(part string) (keys []string, texts map[string]string, err error) {
	line, err := OnOneLine(part)
	if err != nil {
		return nil, nil, err
	}
	doc := []byte("part: " + line)
	root, fault := parse(doc)
	if fault != nil {
		return nil, nil, &Faults{Name: "part", List: []Fault{*fault}}
	}
	texts = map[string]string{}
	for _, f := range root.pairs {
		for _, k := range f.value.pairs {
			piece, err := Piece(doc, "part."+k.key)
			if err != nil {
				return nil, nil, err
			}
			keys, texts[k.key] = append(keys, k.key), piece
		}
	}
	return keys, texts, nil
}

// PlacedPart is a part's text of its keys in the schema's order.
func PlacedPart(section string, texts map[string]string) string {
	s := jobShape.has("parts").has(section)
	var out []string
	for _, k := range s.of.keys {
		if t, ok := texts[k.name]; ok {
			out = append(out, k.name+": "+t)
		}
	}
	return "{" + strings.Join(out, ", ") + "}"
}

var noID = regexp.MustCompile(`[^a-z0-9]+`)

// mostNamed is how long an id is made of a name: shorter than an id may be, so that a copy
// has room behind it. Chosen.
const mostNamed = 60

// IDFrom is an id made of a name; "n" where nothing of the name can stand in one.
func IDFrom(name string) string {
	id := strings.Trim(noID.ReplaceAllString(strings.ToLower(name), "-"), "-")
	if id == "" || id[0] >= '0' && id[0] <= '9' {
		id = "n-" + id // figures alone would be read as a number
	}
	return strings.Trim(id[:min(len(id), mostNamed)], "-")
}
