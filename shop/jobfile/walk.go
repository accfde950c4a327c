package jobfile

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// entry is a node that was found to have the shape of its place, with what it
// says in SI. Methods of a nil entry say that nothing stands there.
type entry struct {
	shape  *shape
	path   string
	line   int
	names  []string // object, dict: the keys in their order
	under  map[string]*entry
	items  []*entry // list
	text   string   // text, choice, ident, price
	in, to figure.Input
	count  int
	yes    bool
	row    []float64 // [SI]
	used   bool      // somebody asked for it: a test looks that no key is read and forgotten
}

// at returns what stands behind a key, nil when nothing does.
func (e *entry) at(name string) *entry {
	if e == nil {
		return nil
	}
	if e.shape.form == object && e.shape.has(name) == nil {
		panic("jobfile: " + name + " is not in the table of keys")
	}
	got := e.under[name]
	if got != nil {
		got.used = true
	}
	return got
}

func (e *entry) input(name string) figure.Input {
	if e = e.at(name); e == nil {
		return figure.Input{}
	}
	return e.in
}

func (e *entry) word(name string) string {
	if e = e.at(name); e == nil {
		return ""
	}
	return e.text
}

func (e *entry) is(name string) bool {
	e = e.at(name)
	return e != nil && e.yes
}

// each is the entries of a list.
func (e *entry) each() []*entry {
	if e == nil {
		return nil
	}
	return e.items
}

// ids is the keys of a dict, in their order.
func (e *entry) ids() []string {
	if e == nil {
		return nil
	}
	return e.names
}

// mostFaults is how many faults are kept: a text with more has one cause. Chosen.
const mostFaults = 200

// walker compares nodes with shapes and keeps the faults.
type walker struct {
	faults []Fault
	cut    bool
}

func (w *walker) add(f Fault) {
	if len(w.faults) >= mostFaults {
		w.cut = true
		return
	}
	w.faults = append(w.faults, f)
}

func (w *walker) refuse(line int, path, got, want string) {
	w.add(Fault{Line: line, Path: path, Got: got, Want: want, Kind: Refuse})
}

func (w *walker) warn(line int, path, got, want string) {
	w.add(Fault{Line: line, Path: path, Got: got, Want: want, Kind: Warn})
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// walk returns the entry of a node, nil when it is not of the shape; the
// faults say why.
func (w *walker) walk(n *node, s *shape, path string) *entry {
	e := &entry{shape: s, path: path, line: n.line}
	if n.kind == blank {
		w.refuse(n.line, path, "is empty", w.due(s))
		return nil
	}
	ok := true
	switch s.form {
	case object:
		ok = w.object(n, e)
	case dict:
		ok = w.dict(n, e)
	case places:
		ok = w.places(n, e)
	case list:
		if n.kind != sequence {
			w.refuse(n.line, path, n.about(), w.due(s))
			return nil
		}
		if w.tooMany(len(n.items), n.line, e) {
			return nil
		}
		for i, item := range n.items {
			if got := w.walk(item, s.of, path+"["+strconv.Itoa(i)+"]"); got != nil {
				e.items = append(e.items, got)
			}
		}
	case row:
		ok = w.row(n, e)
	case value, spread, whole, text, choice, flag, ident:
		if n.kind != scalar {
			w.refuse(n.line, path, n.about(), w.due(s))
			return nil
		}
		ok = w.scalar(n.text, e)
	}
	if !ok {
		return nil
	}
	return e
}

// due says what a place wants.
func (w *walker) due(s *shape) string {
	switch s.form {
	case value, spread, whole:
		if s.band {
			return "enter a band, such as ± 0.5 mm"
		}
		return "enter a value with its unit: " + s.example()
	case row:
		return "enter a list of numbers, the unit behind the last: " + s.example()
	case text:
		return "enter words"
	case choice, flag:
		return "it must be " + orList(s.words)
	case ident:
		return "enter the id of something in the job"
	case list:
		return "enter a list"
	case places:
		return "enter one each for " + strings.Join(s.names, ", ") + ", by name or as a list in this order"
	case dict:
		return "enter ids with a colon, and under each its keys"
	default:
		return "enter keys, such as " + s.keys[min(len(s.keys)-1, 1)].name
	}
}

// example is a value as it may be typed.
func (s *shape) example() string {
	_, err := quantity.Parse("", s.kind)
	var fault *quantity.Error
	if errors.As(err, &fault) {
		if _, example, ok := strings.Cut(fault.Want, "such as "); ok {
			return example
		}
	}
	return s.kind.String()
}

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

func (w *walker) object(n *node, e *entry) bool {
	s := e.shape
	if s.name && n.kind == scalar {
		e.text = n.text
		if !slug(n.text) {
			w.refuse(n.line, e.path, n.about(), "enter the id of a part, or its keys in braces")
			return false
		}
		return true
	}
	if n.kind != mapping {
		w.refuse(n.line, e.path, n.about(), w.due(s))
		return false
	}
	seen := w.pairs(n, e)
	for _, p := range n.pairs {
		if seen[p.key] != p.value {
			continue // a duplicate; the fault is written
		}
		at := join(e.path, p.key)
		sub := s.has(p.key)
		if sub == nil {
			names := make([]string, len(s.keys))
			for i, k := range s.keys {
				names[i] = k.name
			}
			w.refuse(p.line, at, "is not a key of this format", suggest(p.key, names))
			continue
		}
		if got := w.walk(p.value, sub, at); got != nil {
			e.put(p.key, got)
		}
	}
	for _, k := range s.keys {
		if k.need && seen[k.name] == nil && !(s.name && seen["use"] != nil) {
			w.refuse(n.line, join(e.path, k.name), "is missing", w.due(k.shape))
		}
	}
	return true
}

// pairs finds duplicate keys and returns the first value of each.
func (w *walker) pairs(n *node, e *entry) map[string]*node {
	seen := make(map[string]*node, len(n.pairs))
	lines := make(map[string]int, len(n.pairs))
	for _, p := range n.pairs {
		if _, twice := seen[p.key]; twice {
			w.refuse(p.line, join(e.path, short(p.key)), "stands twice", fmt.Sprintf("the first is in line %d; keep one", lines[p.key]))
			continue
		}
		seen[p.key], lines[p.key] = p.value, p.line
	}
	return seen
}

func (e *entry) put(name string, got *entry) {
	if e.under == nil {
		e.under = map[string]*entry{}
	}
	e.under[name] = got
	e.names = append(e.names, name)
}

// mostID is the most letters of an id: they stand in paths and in tables. Chosen.
const mostID = 80

// slug reports an id: letters, digits and hyphens, so that it can stand in a
// path.
func slug(s string) bool { return len(s) <= mostID && slugLetters(s) }

// slugLetters is slug whatever the length.
func slugLetters(s string) bool {
	if s == "" || s[0] == '-' {
		return false
	}
	return strings.IndexFunc(s, func(r rune) bool {
		return r != '-' && r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') && (r < 'A' || r > 'Z')
	}) < 0
}

func (w *walker) dict(n *node, e *entry) bool {
	if n.kind != mapping {
		w.refuse(n.line, e.path, n.about(), w.due(e.shape))
		return false
	}
	if w.tooMany(len(n.pairs), n.line, e) {
		return false
	}
	seen := w.pairs(n, e)
	words := e.shape.of.form == value // uses have names in words, parts and builds have ids
	for _, p := range n.pairs {
		if seen[p.key] != p.value {
			continue
		}
		if !slug(p.key) && !words {
			got, want := "is no id", "an id has letters, digits and hyphens only, such as rear-48"
			if slugLetters(p.key) {
				got = fmt.Sprintf("has %d letters", len(p.key))
				want = fmt.Sprintf("an id has %d letters at most; a longer text belongs into its name", mostID)
			}
			w.refuse(p.line, join(e.path, short(p.key)), got, want)
			continue
		}
		if got := w.walk(p.value, e.shape.of, join(e.path, p.key)); got != nil {
			e.put(p.key, got)
		}
	}
	return true
}

// tooMany refuses what has more entries than a job may have, before any of them is looked
// at.
func (w *walker) tooMany(n, line int, e *entry) bool {
	most := e.shape.most
	if n <= most {
		return false
	}
	w.refuse(line, e.path, fmt.Sprintf("has %d entries", n), fmt.Sprintf("a job has %d there at most: split it into several", most))
	return true
}

func (w *walker) places(n *node, e *entry) bool {
	s := e.shape
	switch n.kind {
	case sequence:
		names := s.listed(len(n.items))
		if names == nil {
			w.refuse(n.line, e.path, fmt.Sprintf("has %d entries", len(n.items)), w.due(s))
			return false
		}
		items := n.items
		if unit := unitOfLast(items, s.of); unit != "" {
			items = withUnit(items, unit)
		}
		for i, item := range items {
			if got := w.walk(item, s.of, join(e.path, names[i])); got != nil {
				e.put(names[i], got)
			}
		}
	case mapping:
		seen := w.pairs(n, e)
		for _, p := range n.pairs {
			if seen[p.key] != p.value {
				continue
			}
			if !has(s.names, p.key) {
				w.refuse(p.line, join(e.path, p.key), "is not a key of this format", suggest(p.key, s.names))
				continue
			}
			if got := w.walk(p.value, s.of, join(e.path, p.key)); got != nil {
				e.put(p.key, got)
			}
		}
	default:
		w.refuse(n.line, e.path, n.about(), w.due(s))
		return false
	}
	return true
}

// unitOfLast finds a unit that stands once, behind the last of a list.
func unitOfLast(items []*node, s *shape) string {
	last := items[len(items)-1]
	if s.form != value || last.kind != scalar {
		return ""
	}
	if _, err := quantity.Parse(last.text, s.kind); err != nil {
		return ""
	}
	return strings.TrimLeft(last.text, "+-−0123456789., ")
}

func withUnit(items []*node, unit string) []*node {
	out := make([]*node, len(items))
	for i, item := range items {
		out[i] = item
		if item.kind == scalar && bare(item.text) {
			with := *item
			with.text += " " + unit
			out[i] = &with
		}
	}
	return out
}

// mostRow is the longest table that is read. Chosen.
const mostRow = 2000

func (w *walker) row(n *node, e *entry) bool {
	var items []string
	switch n.kind {
	case scalar:
		items = splitRow(n.text)
	case sequence:
		for i, item := range n.items {
			if item.kind != scalar {
				w.refuse(item.line, fmt.Sprintf("%s[%d]", e.path, i), item.about(), "enter a number")
				return false
			}
			items = append(items, item.text)
		}
	default:
		w.refuse(n.line, e.path, n.about(), w.due(e.shape))
		return false
	}
	if len(items) < e.shape.least || len(items) > mostRow {
		w.refuse(n.line, e.path, fmt.Sprintf("has %d numbers", len(items)), fmt.Sprintf("it must have %d to %d", e.shape.least, mostRow))
		return false
	}
	got, at, err := e.shape.row(items)
	if err != nil {
		w.quantity(n.line, fmt.Sprintf("%s[%d]", e.path, at), items[at], err)
		return false
	}
	e.row = got
	return true
}

// quantity writes down what a figure's text is not.
func (w *walker) quantity(line int, path, typed string, err error) {
	got, want := "is "+short(typed), err.Error()
	var fault *quantity.Error
	if errors.As(err, &fault) {
		got, want = got+": "+fault.Got, fault.Want
	}
	w.refuse(line, path, got, want)
}

func (w *walker) scalar(typed string, e *entry) bool {
	s := e.shape
	var err error
	switch s.form {
	case value:
		switch {
		case s.kind == quantity.Price:
			_, err = quantity.Parse(typed, s.kind)
			e.text = typed
		case s.band:
			e.in, err = s.bandAlone(typed)
		default:
			e.in, err = s.number(typed)
		}
	case spread:
		e.in, e.to, err = s.numbers(typed)
	case whole:
		var t quantity.Typed
		if t, err = quantity.Parse(typed, s.kind); err == nil {
			if t.Value < 0 || t.Value > 1000 {
				w.refuse(e.line, e.path, "is "+short(typed), "it must be 0 to 1000")
				return false
			}
			e.count = int(t.Value)
		}
	case choice:
		e.text = typed
		if !has(s.words, typed) {
			w.refuse(e.line, e.path, "is "+short(typed), w.due(s))
			return false
		}
	case flag:
		switch strings.ToLower(typed) {
		case s.words[0], "true":
			e.yes = true
		case s.words[1], "false":
		default:
			w.refuse(e.line, e.path, "is "+short(typed), w.due(s))
			return false
		}
	case ident:
		e.text = typed
		if !slug(typed) {
			w.refuse(e.line, e.path, "is "+short(typed), w.due(s))
			return false
		}
	default:
		e.text = typed
	}
	if err != nil {
		w.quantity(e.line, e.path, typed, err)
		return false
	}
	for _, in := range []*figure.Input{&e.in, &e.to} {
		if in.Known() {
			in.Path, in.Line = e.path, e.line
		}
	}
	return true
}

// suggest offers the nearest of the words that could stand there.
func suggest(typed string, words []string) string {
	best, near := len(typed)/2+1, ""
	for _, word := range words {
		if d := distance(typed, word); d < best {
			best, near = d, word
		}
	}
	if near != "" {
		return "did you mean " + near + "?"
	}
	const most = 12
	if len(words) > most {
		return "keys here are " + strings.Join(words[:most], ", ") + " and " + strconv.Itoa(len(words)-most) + " more"
	}
	return "keys here are " + strings.Join(words, ", ")
}

// distance counts the letters to insert, remove or replace, or neighbours to
// swap: the restricted distance of F. J. Damerau, 1964. Long words are not
// compared.
func distance(a, b string) int {
	const most = 40
	if len(a) > most || len(b) > most {
		return most
	}
	var d [most + 1][most + 1]int
	for i := 0; i <= len(a); i++ {
		d[i][0] = i
	}
	for j := 0; j <= len(b); j++ {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}
