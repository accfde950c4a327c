package jobfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// tree is a job's text with the library's own tree, which knows where braces
// and keys stand.
type tree struct {
	job  []byte
	root ast.Node
}

func open(job []byte) (t *tree, err error) {
	if _, fault := shared(job); fault != nil {
		return nil, &Faults{Name: "job", List: []Fault{*fault}}
	}
	defer func() {
		if recover() != nil {
			t, err = nil, fmt.Errorf("the job cannot be taken apart")
		}
	}()
	file, err := parser.Parse(lexer.Tokenize(plain(job)), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, err
	}
	for _, doc := range file.Docs {
		if doc.Body != nil {
			return &tree{job, doc.Body}, nil
		}
	}
	return nil, fmt.Errorf("the job is empty")
}

// spot is how far a path leads in a text.
type spot struct {
	node     ast.Node                // what stands there; nil where nothing does
	pair     *ast.MappingValueNode   // that holds node
	siblings []*ast.MappingValueNode // the pairs it stands among
	in       ast.Node                // the mapping they are in
	above    string                  // path of that mapping
	rest     string                  // keys that do not stand there yet
}

func pairsOf(n ast.Node) []*ast.MappingValueNode {
	switch v := n.(type) {
	case *ast.MappingNode:
		return v.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{v}
	}
	return nil
}

func (t *tree) find(path string) (spot, error) {
	s := spot{node: t.root, rest: path}
	at := ""
	for s.rest != "" {
		if list, ok := s.node.(*ast.SequenceNode); ok {
			index, after, ok := cutIndex(s.rest)
			if !ok {
				index, after, ok = cutPlace(s.rest, len(list.Values))
			}
			if !ok || index >= len(list.Values) {
				return s, fmt.Errorf("%s: %w", path, errNoValue)
			}
			at = path[:len(path)-len(after)]
			s = spot{node: list.Values[index], rest: after}
			continue
		}
		pairs := pairsOf(s.node)
		if pairs == nil {
			return s, fmt.Errorf("%s: %w", path, errNoValue)
		}
		var next *ast.MappingValueNode
		best := -1
		for _, p := range pairs {
			key := keyText(p)
			after, ok := strings.CutPrefix(s.rest, key)
			if ok && (after == "" || after[0] == '.' || after[0] == '[') && len(key) > best {
				next, best = p, len(key)
			}
		}
		if next == nil {
			s.siblings, s.in, s.above = pairs, s.node, at
			s.node, s.pair = nil, nil
			return s, nil
		}
		s = spot{node: next.Value, pair: next, siblings: pairs, in: s.node, above: at, rest: strings.TrimPrefix(s.rest[best:], ".")}
		at = strings.TrimSuffix(strings.TrimSuffix(path[:len(path)-len(s.rest)], "."), "[")
		switch s.node.(type) {
		case *ast.AnchorNode, *ast.AliasNode:
			if s.rest != "" {
				return s, fmt.Errorf("%s: the value is shared by a name (&); change it there by hand", path)
			}
		}
	}
	return s, nil
}

func keyText(p *ast.MappingValueNode) string {
	if p.Key == nil {
		return ""
	}
	return p.Key.GetToken().Value
}

// offset is the byte at which a token stands.
func (t *tree) offset(at *token.Position) int {
	line := 0
	for range at.Line - 1 {
		next := bytes.IndexByte(t.job[line:], '\n')
		if next < 0 {
			return len(t.job)
		}
		line += next + 1
	}
	if at.Line == 1 {
		line = len(t.job) - len(bytes.TrimPrefix(t.job, []byte("\uFEFF")))
	}
	for range at.Column - 1 {
		if line >= len(t.job) || t.job[line] == '\n' {
			break
		}
		size := 1
		for line+size < len(t.job) && t.job[line+size]&0xC0 == 0x80 {
			size++
		}
		line += size
	}
	return line
}

// bracket returns the token that closes a flow mapping or list, nil for others.
func bracket(n ast.Node) *token.Token {
	switch v := n.(type) {
	case *ast.MappingNode:
		if v.IsFlowStyle {
			return v.End
		}
	case *ast.SequenceNode:
		if v.IsFlowStyle {
			return v.End
		}
	}
	return nil
}

func inFlow(n ast.Node) bool {
	m, ok := n.(*ast.MappingNode)
	return ok && m.IsFlowStyle
}

// keyStart is where the key of a pair begins, with its quote.
func (t *tree) keyStart(p *ast.MappingValueNode) int {
	at := t.offset(p.Key.GetToken().Position)
	for at < len(t.job) && (t.job[at] == ' ' || t.job[at] == '\t') {
		at++
	}
	return at
}

// lines returns the bytes of the lines that a pair of a block mapping fills: to
// the next line that is not indented deeper, comments and blanks before it left
// out.
func (t *tree) lines(p *ast.MappingValueNode) (start, end int) {
	start = t.keyStart(p)
	for start > 0 && t.job[start-1] != '\n' {
		start--
	}
	indent := indentOf(t.job[start:])
	end = next(t.job, start)
	for at := end; at < len(t.job); at = next(t.job, at) {
		line := t.job[at:next(t.job, at)]
		trimmed := bytes.TrimSpace(line)
		deep := indentOf(line)
		switch {
		case len(trimmed) == 0 || trimmed[0] == '#' && deep <= indent:
			continue
		case deep > indent || deep == indent && bytes.HasPrefix(trimmed, []byte("- ")):
			end = next(t.job, at)
			continue
		}
		break
	}
	return start, end
}

func next(job []byte, at int) int {
	n := bytes.IndexByte(job[at:], '\n')
	if n < 0 {
		return len(job)
	}
	return at + n + 1
}

func indentOf(line []byte) int { return len(line) - len(bytes.TrimLeft(line, " ")) }

// extent is the bytes of a value.
func (t *tree) extent(s spot) (start, end int, err error) {
	fail := fmt.Errorf("the value is written in a way that cannot be changed in place")
	at := s.node.GetToken()
	if close := bracket(s.node); close != nil {
		start = t.offset(at.Position)
		for start < len(t.job) && t.job[start] != '{' && t.job[start] != '[' {
			start++
		}
		return start, t.closing(close) + 1, nil
	}
	switch v := s.node.(type) {
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode:
		return extent(t.job, &node{text: v.GetToken().Value, token: v.GetToken()}, "the value")
	case *ast.AliasNode:
		start = t.offset(at.Position)
		for start < len(t.job) && t.job[start] != '*' {
			start++
		}
		end = start
		for end < len(t.job) && !bytes.ContainsRune([]byte(" ,}]\r\n"), rune(t.job[end])) {
			end++
		}
		return start, end, nil
	}
	if s.pair == nil || inFlow(s.in) {
		return 0, 0, fail
	}
	// A block below its key: all behind the colon.
	first, last := t.lines(s.pair)
	colon := t.keyStart(s.pair) + len(keyText(s.pair))
	for colon < last && t.job[colon] != ':' {
		colon++
	}
	if colon >= last || first > colon {
		return 0, 0, fail
	}
	end = last
	for end > colon+1 && (t.job[end-1] == '\n' || t.job[end-1] == '\r' || t.job[end-1] == ' ') {
		end--
	}
	return colon + 1, end, nil
}

// closing is the byte of a bracket that closes.
func (t *tree) closing(at *token.Token) int {
	k := t.offset(at.Position)
	for k < len(t.job) && t.job[k] != '}' && t.job[k] != ']' {
		k++
	}
	return k
}

// cut is the bytes of a pair with what separates it from its neighbours.
func (t *tree) cut(s spot) (start, end int, err error) {
	if !inFlow(s.in) {
		start, end = t.lines(s.pair)
		if from := t.keyStart(s.pair); bytes.TrimSpace(t.job[start:from]) != nil && len(bytes.TrimSpace(t.job[start:from])) > 0 {
			return 0, 0, fmt.Errorf("the key does not begin its line")
		}
		return start, end, nil
	}
	start = t.keyStart(s.pair)
	k := slices.Index(s.siblings, s.pair)
	if k+1 < len(s.siblings) {
		return start, t.keyStart(s.siblings[k+1]), nil
	}
	end = t.closing(bracket(s.in))
	if k > 0 {
		if comma := bytes.LastIndexByte(t.job[:start], ','); comma >= 0 {
			start = comma
		}
	}
	return start, end, nil
}

func splice(job []byte, start, end int, with string) []byte {
	return slices.Concat(job[:start], []byte(with), job[end:])
}

// top is the first key that is new.
func top(path, rest string) string {
	first, _, _ := strings.Cut(rest, ".")
	return path[:len(path)-len(rest)] + first
}

// without is a tree but for what stands at a path.
func without(n *node, path string) *node {
	if path == "" || n == nil {
		return &node{}
	}
	out := *n
	next, rest := step(n, path)
	if next == nil {
		return n
	}
	out.pairs, out.items = nil, nil
	for _, p := range n.pairs {
		if p.value != next {
			out.pairs = append(out.pairs, p)
		} else if rest != "" {
			out.pairs = append(out.pairs, pair{p.key, p.line, without(next, rest)})
		}
	}
	for _, item := range n.items {
		switch {
		case item != next:
			out.items = append(out.items, item)
		case rest != "":
			out.items = append(out.items, without(item, rest))
		default:
			out.items = append(out.items, &node{})
		}
	}
	return &out
}

// step follows the first key or index of a path.
func step(n *node, path string) (next *node, rest string) {
	if index, after, ok := cutIndex(path); ok {
		if n.kind != sequence || index >= len(n.items) {
			return nil, path
		}
		return n.items[index], after
	}
	if at, after, ok := cutPlace(path, len(n.items)); ok && n.kind == sequence {
		return n.items[at], after
	}
	best := -1
	for _, p := range n.pairs {
		after, ok := strings.CutPrefix(path, p.key)
		if ok && (after == "" || after[0] == '.' || after[0] == '[') && len(p.key) > best {
			next, best = p.value, len(p.key)
		}
	}
	if next == nil {
		return nil, path
	}
	return next, strings.TrimPrefix(path[best:], ".")
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

// place puts text at a path, whatever stands there.
func place(job []byte, path, text string) ([]byte, error) {
	t, err := open(job)
	if err != nil {
		return nil, err
	}
	s, err := t.find(path)
	if err != nil {
		return nil, err
	}
	if s.rest == "" {
		start, end, err := t.extent(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		if start > 0 && t.job[start-1] == ':' {
			text = " " + text
		}
		return t.proved(path, splice(job, start, end, text), s, text)
	}
	keys := strings.Split(s.rest, ".")
	quote := func(key string) string {
		if jsonAt(job) {
			return strconv.Quote(key)
		}
		return scalarText(key)
	}
	for k := len(keys) - 1; k > 0; k-- {
		text = "{" + quote(keys[k]) + ": " + text + "}"
	}
	if strings.ContainsAny(keys[0], "[]") {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	text = quote(keys[0]) + ": " + text
	if inFlow(s.in) {
		at := t.closing(bracket(s.in))
		for at > 0 && (job[at-1] == ' ' || job[at-1] == '\n' || job[at-1] == '\r' || job[at-1] == '\t') {
			at--
		}
		if len(s.siblings) > 0 {
			text = ", " + text
		}
		return t.proved(path, splice(job, at, at, text), s, text)
	}
	if len(s.siblings) == 0 {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	last := s.siblings[len(s.siblings)-1]
	start, end := t.lines(last)
	// Pairs of a list's item begin behind its dash.
	indent := strings.Repeat(" ", t.keyStart(last)-start)
	line := indent + text + "\n"
	if end > 0 && job[end-1] != '\n' {
		line = "\n" + strings.TrimSuffix(line, "\n")
	}
	return t.proved(path, splice(job, end, end, line), s, text)
}

var errNoValue = errors.New("no single value stands there")

// proved takes a changed text apart again: the two may differ under the path
// alone.
func (t *tree) proved(path string, out []byte, s spot, text string) ([]byte, error) {
	before, fault := shared(t.job)
	if fault != nil {
		return nil, &Faults{Name: "job", List: []Fault{*fault}}
	}
	after, fault := shared(out)
	if fault != nil {
		return nil, fmt.Errorf("%s cannot be changed to %s here: the job would no longer be readable", path, short(text))
	}
	a, b := without(before, path), without(after, path)
	if s.rest != "" {
		a, b = without(before, top(path, s.rest)), without(after, top(path, s.rest))
	}
	if at := differ(a, b, ""); at != "" {
		return nil, fmt.Errorf("%s cannot be changed to %s here: %s would change with it", path, short(text), at)
	}
	return out, nil
}

func scalarText(text string) string {
	out, err := asScalar(strings.Join(strings.Fields(text), " "), 0, false)
	if err != nil {
		return "''"
	}
	return string(out)
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
