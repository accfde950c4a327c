package jobfile

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Set changes one value of a job and leaves every other byte as it was:
// comments, blanks, order, line ends. The path is as a fault prints it:
// "builds.kit.front.seats_closer", "loads.driver.items[0].mass".
//
// The value replaces what was typed, in quotes where it could not stand
// without. Set does not judge it: read the result for that. It fails when
// nothing stands at the path, when more than one value stands there, or when
// the value is shared by a name (&), so that a change would be felt elsewhere.
func Set(job []byte, path, value string) ([]byte, error) {
	root, fault := shared(job)
	if fault != nil {
		return nil, &Faults{Name: "job", List: []Fault{*fault}}
	}
	n, err := find(root, path)
	if err != nil {
		return nil, err
	}
	start, end, err := extent(job, n, path)
	if err != nil {
		return nil, err
	}
	quoted, err := asScalar(value, job[start], jsonAt(job))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	out := make([]byte, 0, len(job)+len(quoted))
	out = append(append(append(out, job[:start]...), quoted...), job[end:]...)
	// The proof: taken apart again, the two texts differ in this one value.
	after, fault := shared(out)
	if fault != nil {
		return nil, fmt.Errorf("%s cannot be changed to %s here: the job would no longer be readable", path, short(value))
	}
	if now, err := find(after, path); err != nil || now.text != value {
		return nil, fmt.Errorf("%s cannot be changed to %s here: it would be read as something else", path, short(value))
	}
	if at := differ(without(root, path), without(after, path), ""); at != "" {
		return nil, fmt.Errorf("%s cannot be changed to %s here: %s would change with it", path, short(value), at)
	}
	return out, nil
}

var errNoValue = errors.New("no single value stands there")

// find follows a path. Names of keys may hold dots only where no shorter name
// fits.
func find(root *node, path string) (*node, error) {
	n, rest := root, path
	for rest != "" {
		if n.shared {
			return nil, fmt.Errorf("%s: the value is shared by a name (&); change it there by hand", path)
		}
		if index, after, ok := cutIndex(rest); ok {
			if n.kind != sequence || index >= len(n.items) {
				return nil, fmt.Errorf("%s: %w", path, errNoValue)
			}
			n, rest = n.items[index], after
			continue
		}
		if at, after, ok := cutPlace(rest, len(n.items)); ok && n.kind == sequence {
			n, rest = n.items[at], after
			continue
		}
		next := (*node)(nil)
		best := -1
		for _, p := range n.pairs {
			after, ok := strings.CutPrefix(rest, p.key)
			if ok && (after == "" || after[0] == '.' || after[0] == '[') && len(p.key) > best {
				next, best = p.value, len(p.key)
			}
		}
		if next == nil {
			return nil, fmt.Errorf("%s: %w", path, errNoValue)
		}
		n, rest = next, strings.TrimPrefix(rest[best:], ".")
	}
	if n.shared {
		return nil, fmt.Errorf("%s: the value is shared by a name (&); change it there by hand", path)
	}
	if n.kind != scalar || n.token == nil {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	return n, nil
}

// cutPlace takes the name of a corner or axle off the front of a path that
// leads into a list of four or two.
func cutPlace(path string, entries int) (index int, rest string, ok bool) {
	for _, names := range [][]string{cornerKeys, axleKeys} {
		for i, name := range names {
			after, found := strings.CutPrefix(path, name)
			if found && len(names) == entries && (after == "" || after[0] == '.') {
				return i, strings.TrimPrefix(after, "."), true
			}
		}
	}
	return 0, path, false
}

// cutIndex takes "[3]" off the front of a path.
func cutIndex(path string) (index int, rest string, ok bool) {
	if !strings.HasPrefix(path, "[") {
		return 0, path, false
	}
	inside, rest, ok := strings.Cut(path[1:], "]")
	if !ok {
		return 0, path, false
	}
	index, err := strconv.Atoi(inside)
	if err != nil || index < 0 {
		return 0, path, false
	}
	return index, strings.TrimPrefix(rest, "."), true
}

// extent finds the bytes of a scalar as it was typed, with its quotes.
func extent(job []byte, n *node, path string) (start, end int, err error) {
	fail := fmt.Errorf("%s: the value is written in a way that cannot be changed in place", path)
	at := n.token.Position
	line := 0
	for range at.Line - 1 {
		next := bytes.IndexByte(job[line:], '\n')
		if next < 0 {
			return 0, 0, fail
		}
		line += next + 1
	}
	if at.Line == 1 {
		line = len(job) - len(bytes.TrimPrefix(job, []byte("\uFEFF")))
	}
	// The library counts columns in letters, some of its versions from the
	// blank before a quoted text: look for the value from there on.
	start = line
	for range at.Column - 1 {
		if start >= len(job) || job[start] == '\n' {
			return 0, 0, fail
		}
		_, size := utf8.DecodeRune(job[start:])
		start += size
	}
	for start < len(job) && (job[start] == ' ' || job[start] == '\t') {
		start++
	}
	if start >= len(job) {
		return 0, 0, fail
	}
	switch quote := job[start]; quote {
	case '"', '\'':
		end = start + 1
		for end < len(job) {
			switch {
			case quote == '"' && job[end] == '\\':
				end++
			case job[end] == quote && quote == '\'' && end+1 < len(job) && job[end+1] == quote:
				end++
			case job[end] == quote:
				return start, end + 1, nil
			}
			end++
		}
		return 0, 0, fail
	default:
		if !bytes.HasPrefix(job[start:], []byte(n.text)) {
			return 0, 0, fail // folded over lines
		}
		return start, start + len(n.text), nil
	}
}

func jsonAt(job []byte) bool {
	trimmed := bytes.TrimLeft(job, "\uFEFF \t\r\n")
	return len(trimmed) > 0 && trimmed[0] == '{'
}

// asScalar writes a value so that it is read back as it is: quoted as the one
// before was, or when it has to be.
func asScalar(value string, before byte, inJSON bool) ([]byte, error) {
	if !utf8.ValidString(value) || strings.ContainsFunc(value, func(r rune) bool {
		return r < ' ' || r == 0x7f || r == 0x85 || r == 0x2028 || r == 0x2029 || r == 0xFEFF
	}) {
		return nil, errors.New("a value is one line of text")
	}
	switch {
	case before == '"' || inJSON:
		return []byte(`"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`), nil
	case before == '\'' || !unquoted(value):
		return []byte("'" + strings.ReplaceAll(value, "'", "''") + "'"), nil
	}
	return []byte(value), nil
}

// unquoted reports a text that YAML reads as itself without quotes, in braces
// too.
func unquoted(value string) bool {
	if value == "" || value != strings.TrimSpace(value) || strings.ContainsAny(value, "#:,[]{}&*!|>%@`\"'?\\") && !plainPercent(value) {
		return false
	}
	if value[0] == '-' && (len(value) == 1 || value[1] == ' ') {
		return false
	}
	return value != "~" && !strings.EqualFold(value, "null") && value != "---" && value != "..." && value[0] != '=' && value != "<<"
}

// plainPercent reports the one sign of those above that stands in many values:
// a percent sign that is not in front.
func plainPercent(value string) bool {
	return value[0] != '%' && !strings.ContainsAny(value, "#:,[]{}&*!|>@`\"'?\\")
}

// differ returns where two texts say different things, empty when nowhere.
func differ(a, b *node, path string) string {
	here := path
	if here == "" {
		here = "the job"
	}
	if a.kind != b.kind || a.text != b.text || len(a.pairs) != len(b.pairs) || len(a.items) != len(b.items) {
		return here
	}
	for i := range a.pairs {
		if a.pairs[i].key != b.pairs[i].key {
			return here
		}
		if at := differ(a.pairs[i].value, b.pairs[i].value, join(path, a.pairs[i].key)); at != "" {
			return at
		}
	}
	for i := range a.items {
		if at := differ(a.items[i], b.items[i], path+"["+strconv.Itoa(i)+"]"); at != "" {
			return at
		}
	}
	return ""
}
