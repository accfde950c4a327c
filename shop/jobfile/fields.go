package jobfile

import (
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// Field is one value of a job as it stands in the text.
type Field struct {
	Path  string
	Line  int
	Typed string
	Form  string // value, count, row, text, choice, flag, id or part
	Kind  quantity.Kind
	In    figure.Input // of a value, in SI, with its band; unknown for every other form
	To    figure.Input // firmer end of a range [SI]
	Words []string     // of a choice or flag
	About string       // what the key is for
}

// Fields lists every value of a job in the order of the text, faulty ones too:
// they are what somebody wants to mend. A text that cannot be taken apart has
// none.
func Fields(text []byte) []Field {
	root, fault := shared(text)
	if fault != nil {
		return nil
	}
	l := lister{w: &walker{}}
	l.list(root, jobShape, "", "")
	return l.out
}

// lister lists the values under a node of a shape.
type lister struct {
	w   *walker
	out []Field
}

var formNames = map[form]string{
	value: "value", spread: "value", whole: "count", row: "row", text: "text", choice: "choice", flag: "flag", ident: "id", object: "part",
}

func (l *lister) list(n *node, s *shape, path, about string) {
	switch {
	case s.form == row:
		l.add(n, s, path, about, rowText(n))
	case n.kind == scalar:
		if s.form != dict && s.form != list && s.form != places && (s.form != object || s.name) {
			l.add(n, s, path, about, n.text)
		}
	case s.form == object && n.kind == mapping:
		for _, p := range n.pairs {
			if sub := s.has(p.key); sub != nil {
				l.list(p.value, sub, join(path, p.key), s.about(p.key))
			}
		}
	case s.form == dict && n.kind == mapping:
		for _, p := range n.pairs {
			if strings.HasPrefix(path, "parts.") && s.of.form == object && p.value.kind == mapping && len(p.value.pairs) == 0 {
				// A part that nothing is known of yet: it is there all the same.
				l.add(p.value, s.of, join(path, p.key), about, "")
			}
			l.list(p.value, s.of, join(path, p.key), about)
		}
	case s.form == list && n.kind == sequence:
		for i, item := range n.items {
			l.list(item, s.of, path+"["+strconv.Itoa(i)+"]", about)
		}
	case s.form == places && n.kind == mapping:
		for _, p := range n.pairs {
			if has(s.names, p.key) {
				l.list(p.value, s.of, join(path, p.key), about)
			}
		}
	case s.form == places && n.kind == sequence && s.listed(len(n.items)) != nil:
		items := n.items
		if unit := unitOfLast(items, s.of); unit != "" {
			items = withUnit(items, unit)
		}
		for i, item := range items {
			l.list(item, s.of, join(path, s.listed(len(items))[i]), about)
		}
	}
}

func (s *shape) about(name string) string {
	for _, k := range s.keys {
		if k.name == name {
			return k.about
		}
	}
	return ""
}

func rowText(n *node) string {
	if n.kind != sequence {
		return n.text
	}
	words := make([]string, len(n.items))
	for i, item := range n.items {
		words[i] = item.text
	}
	return strings.Join(words, ", ")
}

func (l *lister) add(n *node, s *shape, path, about, typed string) {
	f := Field{Path: path, Line: n.line, Typed: typed, Form: formNames[s.form], Kind: s.kind, Words: s.words, About: about}
	if s.form == value || s.form == spread {
		e := &entry{shape: s, path: path, line: n.line}
		if n.kind == scalar && l.w.scalar(n.text, e) {
			f.In, f.To = e.in, e.to
		}
	}
	l.out = append(l.out, f)
}
