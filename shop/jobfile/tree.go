package jobfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Bounds on what is read at all: each is far above any real job (the demo car
// has 16 kB and 2,300 tokens) and low enough for a fault within a second.
// Chosen.
const (
	mostBytes  = 2 << 20
	mostTokens = 60_000
	mostDepth  = 40
	mostNodes  = 60_000 // aliases counted as often as they are used
)

type nodeKind uint8

const (
	blank nodeKind = iota
	scalar
	mapping
	sequence
)

// node is a piece of the text, whatever it means.
type node struct {
	kind   nodeKind
	text   string // of a scalar, without quotes
	line   int
	token  *token.Token // of a scalar that stands in the text as it is
	shared bool         // has a name (&) or was reached by one (*)
	pairs  []pair
	items  []*node
}

type pair struct {
	key   string
	line  int
	value *node
}

// about is how a node is called in a fault.
func (n *node) about() string {
	switch n.kind {
	case scalar:
		return "is " + short(n.text)
	case mapping:
		return "is a mapping"
	case sequence:
		return "is a list"
	default:
		return "is empty"
	}
}

// short cuts a typed text for a message and keeps it in one line.
func short(text string) string {
	const most = 60
	text = strings.Map(func(r rune) rune {
		if unseen(r) {
			return utf8.RuneError
		}
		return r
	}, strings.Join(strings.Fields(strings.ToValidUTF8(text, "\uFFFD")), " "))
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + "…"
	}
	if text == "" {
		return `""`
	}
	return text
}

// unseen reports a sign that no screen shows and that a screen may take for an order: a
// control character but for the ends of lines and the tab, or one that turns the direction
// of writing. Printed as it stands it could write over what was printed before.
func unseen(r rune) bool {
	switch {
	case r == '\n' || r == '\r' || r == '\t':
		return false
	case r >= '\u202A' && r <= '\u202E' || r >= '\u2066' && r <= '\u2069':
		return true
	}
	return unicode.IsControl(r)
}

// parse reads the text into nodes. A fault here is the only one: nothing can
// be said about a text that cannot be taken apart.
func parse(text []byte) (root *node, fault *Fault) {
	whole := func(line int, got, want string) (*node, *Fault) {
		return nil, &Fault{Line: line, Got: got, Want: want, Kind: Refuse}
	}
	switch {
	case len(text) > mostBytes:
		return whole(0, fmt.Sprintf("has %d bytes", len(text)), fmt.Sprintf("a job has at most %d", mostBytes))
	case bytes.IndexByte(text, 0) >= 0:
		return whole(0, "is a binary file", "a job is text, in YAML or JSON")
	case !utf8.Valid(text):
		line := 1 + bytes.Count(text[:firstInvalid(text)], []byte("\n"))
		return whole(line, "is not text in UTF-8", "save it as UTF-8")
	}
	// The library is well tested, but a text from outside must never stop the
	// program; what it cannot take is a fault like any other.
	defer func() {
		if recover() != nil {
			root, fault = whole(0, "cannot be taken apart", "a job is YAML or JSON")
		}
	}()
	tokens := lexer.Tokenize(plain(text))
	if fault := tooDeep(tokens); fault != nil {
		return nil, fault
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		line, message := 0, err.Error()
		var syntax *yaml.SyntaxError
		if errors.As(err, &syntax) {
			message = syntax.GetMessage()
			if t := syntax.GetToken(); t != nil && t.Position != nil {
				line = t.Position.Line
			}
		}
		return whole(line, "is not readable here: "+short(message), "a job is YAML or JSON")
	}
	g := grower{names: map[string]*node{}}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if root != nil {
			return whole(doc.Body.GetToken().Position.Line, "holds a second document", "one file is one job")
		}
		root = g.grow(doc.Body, 0)
	}
	switch {
	case g.fault != nil:
		return nil, g.fault
	case root == nil || root.kind == blank:
		return whole(0, "is empty", "it starts with trunnion: "+Version)
	case root.kind != mapping:
		return whole(root.line, root.about(), "a job is a mapping of keys to values; it starts with trunnion: "+Version)
	}
	return root, nil
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(text)
}

// plain returns the text as the library wants it: without a byte order mark,
// and JSON without tabs between its words, in which JSON is freer than YAML.
// Nothing else moves, so that lines stay.
func plain(text []byte) string {
	text = bytes.TrimPrefix(text, []byte("\uFEFF"))
	if trimmed := bytes.TrimLeft(text, " \t\r\n"); len(trimmed) > 0 && trimmed[0] == '{' && bytes.IndexByte(text, '\t') >= 0 && json.Valid(text) {
		// A tab inside a string of valid JSON is written \t.
		text = bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	return string(text)
}

// tooDeep refuses what would make the parser recurse or crawl.
func tooDeep(tokens token.Tokens) *Fault {
	if len(tokens) > mostTokens {
		return &Fault{Got: fmt.Sprintf("has more than %d words and signs", mostTokens), Want: "a job is far smaller", Kind: Refuse}
	}
	depth, line, chain := 0, 0, 0
	for _, t := range tokens {
		if t.Position.Line != line {
			line, chain = t.Position.Line, 0
		}
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		case token.SequenceEntryType, token.MappingKeyType:
			chain++
		case token.TagType:
			return &Fault{Line: line, Got: "has a tag, " + short(t.Value), Want: "a job has none; put the text in quotes", Kind: Refuse}
		default:
		}
		if depth > mostDepth || chain > mostDepth {
			return nested(line)
		}
	}
	return nil
}

func nested(line int) *Fault {
	return &Fault{Line: line, Got: fmt.Sprintf("is nested more than %d deep", mostDepth), Want: "a job is not", Kind: Refuse}
}

// grower makes nodes of the library's tree.
type grower struct {
	names map[string]*node
	count int
	fault *Fault
}

func (g *grower) stop(line int, got, want string) *node {
	if g.fault == nil {
		g.fault = &Fault{Line: line, Got: got, Want: want, Kind: Refuse}
	}
	return &node{line: line}
}

func (g *grower) grow(from ast.Node, depth int) *node {
	if from == nil || g.fault != nil {
		return &node{}
	}
	at := from.GetToken()
	n := &node{kind: scalar, line: at.Position.Line, text: at.Value, token: at}
	if g.count++; g.count > mostNodes {
		return g.stop(n.line, "unfolds into too many values", "names (&) and their uses (*) multiply here; write it out")
	}
	if depth > mostDepth {
		g.fault = nested(n.line)
		return n
	}
	switch v := from.(type) {
	case *ast.MappingNode:
		n.kind, n.text, n.token = mapping, "", nil
		for _, value := range v.Values {
			g.pair(n, value, depth)
		}
	case *ast.MappingValueNode:
		n.kind, n.text, n.token = mapping, "", nil
		g.pair(n, v, depth)
	case *ast.SequenceNode:
		n.kind, n.text, n.token = sequence, "", nil
		for _, value := range v.Values {
			n.items = append(n.items, g.grow(value, depth+1))
		}
	case *ast.AnchorNode:
		named := g.grow(v.Value, depth)
		named.shared = true
		if v.Name != nil {
			g.names[v.Name.GetToken().Value] = named
		}
		return named
	case *ast.AliasNode:
		name := v.Value.GetToken().Value
		named, ok := g.names[name]
		if !ok {
			return g.stop(n.line, "uses *"+short(name)+" before it stands anywhere as &"+short(name), "name a value before using it")
		}
		g.spend(named)
		return named
	case *ast.LiteralNode:
		n.text, n.token = v.Value.Value, nil
	case *ast.NullNode:
		n.kind, n.text = blank, ""
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
	default:
		return g.stop(n.line, "has "+short(at.Value)+", which a job does not use", "write plain keys and values")
	}
	if n.kind == scalar && strings.ContainsFunc(n.text, unseen) {
		return g.stop(n.line, "has a sign that no screen shows, in "+short(n.text), "leave it out")
	}
	return n
}

// spend counts what an alias brings in again.
func (g *grower) spend(n *node) {
	if g.count++; g.count > mostNodes {
		g.stop(n.line, "unfolds into too many values", "names (&) and their uses (*) multiply here; write it out")
		return
	}
	for _, p := range n.pairs {
		g.spend(p.value)
		if g.fault != nil {
			return
		}
	}
	for _, item := range n.items {
		g.spend(item)
		if g.fault != nil {
			return
		}
	}
}

func (g *grower) pair(n *node, from *ast.MappingValueNode, depth int) {
	var key ast.Node = from.Key
	if long, ok := key.(*ast.MappingKeyNode); ok {
		key = long.Value
	}
	if key == nil {
		g.stop(n.line, "has a key without a name", "write a name and a colon")
		return
	}
	at := key.GetToken()
	switch key.(type) {
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode:
	default:
		g.stop(at.Position.Line, "has "+short(at.Value)+" in place of a key's name", "write a name and a colon; merge keys (<<) are not read, {use: name} is")
		return
	}
	if strings.ContainsFunc(at.Value, unseen) {
		g.stop(at.Position.Line, "has a sign that no screen shows, in the key "+short(at.Value), "leave it out")
		return
	}
	n.pairs = append(n.pairs, pair{key: at.Value, line: at.Position.Line, value: g.grow(from.Value, depth+1)})
	if last := n.pairs[len(n.pairs)-1].value; last.line == 0 {
		last.line = at.Position.Line
	}
}
