package jobfile

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/figure"
)

// Difference is one value that two texts of a job do not have alike, as it was
// typed on each side; empty where nothing stands.
type Difference struct {
	Path string `json:"path"`
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
}

// Differ lists what changed from one text of a job to another, value by value: in
// the order of the later text, then what it no longer has. Two values are the
// same when they are typed the same, blanks apart, or are the same in SI with the
// same band and origin. An item of a list is told by its place in the list, of a
// list of things with a name by the name.
//
// A text that cannot be taken apart has no values: everything then came or went.
func Differ(before, after []byte) []Difference {
	old, now := valuesOf(before), valuesOf(after)
	var out []Difference
	for _, path := range now.order {
		was, there := old.at[path]
		to := now.at[path]
		switch {
		case !there:
			out = append(out, Difference{Path: path, To: typed(to)})
		case !sameField(was, to):
			out = append(out, Difference{Path: path, From: typed(was), To: typed(to)})
		}
	}
	for _, path := range old.order {
		if _, there := now.at[path]; !there {
			out = append(out, Difference{Path: path, From: typed(old.at[path])})
		}
	}
	return out
}

// Dispute is a value that one of two texts of a job no longer has as both started
// from, as it was typed in each; empty where nothing stands.
type Dispute struct {
	Path               string
	Base, Mine, Theirs string
	Same               bool // both changed it alike
}

// Disputes lists the values in which one of two texts or the other differs from what
// both started from, in the order of that text, then of mine, then of theirs.
func Disputes(base, mine, theirs []byte) []Dispute {
	b, m, t := valuesOf(base), valuesOf(mine), valuesOf(theirs)
	alike := func(x, y *Field) bool {
		if x == nil || y == nil {
			return x == y
		}
		return sameField(x, y)
	}
	shown := func(f *Field) string {
		if f == nil {
			return ""
		}
		return typed(f)
	}
	seen := map[string]bool{}
	var out []Dispute
	for _, list := range [][]string{b.order, m.order, t.order} {
		for _, path := range list {
			was, my, their := b.at[path], m.at[path], t.at[path]
			if seen[path] || alike(was, my) && alike(was, their) {
				continue
			}
			seen[path] = true
			out = append(out, Dispute{Path: path, Base: shown(was), Mine: shown(my), Theirs: shown(their), Same: alike(my, their)})
		}
	}
	return out
}

type values struct {
	order []string
	at    map[string]*Field
}

func valuesOf(text []byte) values {
	list := Fields(text)
	v := values{order: make([]string, 0, len(list)), at: make(map[string]*Field, len(list))}
	for i := range list {
		f := &list[i]
		if _, twice := v.at[f.Path]; twice {
			continue
		}
		v.order = append(v.order, f.Path)
		v.at[f.Path] = f
	}
	return v
}

// typed is a value on one line.
func typed(f *Field) string { return strings.Join(strings.Fields(f.Typed), " ") }

func sameField(a, b *Field) bool {
	if sameTyped(a.Typed, b.Typed) {
		return true
	}
	near := func(x, y figure.Input) bool {
		close := func(p, q float64) bool { return math.Abs(p-q) <= 1e-9*max(math.Abs(p), math.Abs(q)) }
		return close(x.Value, y.Value) && close(x.Half, y.Half) && x.Shape == y.Shape && x.Origin == y.Origin
	}
	return a.In.Known() && b.In.Known() && near(a.In, b.In) && near(a.To, b.To)
}

// sameTyped compares two texts word by word, numbers by their value.
func sameTyped(a, b string) bool {
	x := strings.Fields(strings.ReplaceAll(a, ",", " , "))
	y := strings.Fields(strings.ReplaceAll(b, ",", " , "))
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i] == y[i] {
			continue
		}
		n, errN := strconv.ParseFloat(x[i], 64)
		m, errM := strconv.ParseFloat(y[i], 64)
		if errN != nil || errM != nil || n != m {
			return false
		}
	}
	return true
}

// PutBack makes the edits of one text of a job that give it the values of another
// at the paths asked for, and leaves every other byte as it is. what reports the
// paths that are wanted; nil wants all. It returns the text and what it changed.
//
// It does not judge the result: read it for that.
func PutBack(now, then []byte, want func(path string) bool) ([]byte, []Difference, error) {
	var done []Difference
	// What goes is taken from the end of its list first, so that no place moves.
	list := Differ(now, then)
	for i := range list {
		d := list[i]
		if want != nil && !want(d.Path) {
			continue
		}
		if d.To == "" && d.From != "" {
			continue
		}
		out, err := bring(now, then, d.Path, d.To)
		if err != nil {
			return nil, nil, err
		}
		now, done = out, append(done, d)
	}
	for i := len(list) - 1; i >= 0; i-- {
		d := list[i]
		if d.To != "" || d.From == "" || want != nil && !want(d.Path) {
			continue
		}
		if _, err := Piece(now, d.Path); err != nil {
			continue // gone with what stood above it
		}
		if _, err := Piece(then, d.Path); err == nil {
			continue // a name there, spelled out here: what stands there was brought
		}
		out, err := Remove(now, d.Path)
		if err != nil {
			return nil, nil, err
		}
		now, done = out, append(done, d)
	}
	return now, done, nil
}

// bring puts at a path what stands there in another text.
func bring(now, then []byte, path, value string) ([]byte, error) {
	if out, err := Put(now, path, value); err == nil && len(Differ(out, now)) <= 1 {
		if piece, err := Piece(out, path); err == nil {
			if want, err := Piece(then, path); err == nil && want == piece {
				return out, nil
			}
		}
	}
	piece, err := Piece(then, path)
	if err != nil {
		return nil, err
	}
	// Where one side has a part by its name and the other spelled out, what stands
	// above the path is brought whole.
	out, err := Insert(now, path, piece)
	for err != nil {
		cut := strings.LastIndexAny(path, ".[")
		if cut <= 0 {
			return nil, err
		}
		path = path[:cut]
		if piece, err = Piece(then, path); err != nil {
			return nil, err
		}
		out, err = Insert(now, path, piece)
	}
	return out, nil
}
