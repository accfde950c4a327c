package store

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Bounds on what is taken apart, as those of the reader of jobs. Chosen.
const (
	mostTokens = 60_000
	mostDepth  = 40
	mostNodes  = 60_000 // aliases counted as often as they are used
)

// outline is a text taken apart, whatever it means: a job that is not finished
// must be found again too, so that what the store looks for is read from the
// text itself and not from an answer to it.
type outline struct {
	word  string // of a scalar; empty for a mapping or list
	keys  []string
	under map[string]*outline // mapping
	items []*outline          // list
}

// at follows keys; nil when nothing stands there.
func (o *outline) at(keys ...string) *outline {
	for _, key := range keys {
		if o == nil {
			return nil
		}
		o = o.under[key]
	}
	return o
}

// text is the word behind keys, empty when there is none.
func (o *outline) text(keys ...string) string {
	if o = o.at(keys...); o == nil {
		return ""
	}
	return o.word
}

// each calls f for every place of the text, a mapping before what is in it.
func (o *outline) each(path string, f func(path, key string, o *outline)) {
	if o == nil {
		return
	}
	for _, key := range o.keys {
		f(path, key, o.under[key])
		o.under[key].each(path+key+".", f)
	}
	for i, item := range o.items {
		item.each(fmt.Sprintf("%s%d.", path, i), f)
	}
}

// readOutline takes a text apart. An error is a *Refused with the line.
func readOutline(field string, text []byte) (top *outline, err error) {
	if err := wantText(field, text); err != nil {
		return nil, err
	}
	refuse := func(line int, got, want string) error {
		if line > 0 {
			got = fmt.Sprintf("line %d %s", line, got)
		}
		return &Refused{field, got, want}
	}
	// A text from outside must never stop the program.
	defer func() {
		if recover() != nil {
			top, err = nil, refuse(0, "cannot be taken apart", "it is written in YAML or JSON")
		}
	}()
	tokens := lexer.Tokenize(strings.TrimPrefix(string(text), "\uFEFF"))
	if line := beyond(tokens); line != 0 {
		return nil, refuse(line, "is nested too deep, or the text has too many words", "it is far smaller")
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
		return nil, refuse(line, "is not readable: "+cut(oneLine(message), 100), "it is written in YAML or JSON")
	}
	g := sketcher{names: map[string]*outline{}}
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if top != nil {
			return nil, refuse(doc.Body.GetToken().Position.Line, "begins a second document", "one text is one document")
		}
		top = g.sketch(doc.Body, 0)
	}
	switch {
	case g.over:
		return nil, refuse(0, "unfolds into too many values", "write out what has a name (&)")
	case top == nil || top.under == nil:
		return nil, refuse(0, "is no mapping of keys to values", "it begins with a key and a colon")
	}
	return top, nil
}

// beyond returns the line of what would make the parser recurse or crawl.
func beyond(tokens token.Tokens) int {
	depth, line, chain := 0, 0, 0
	for i, t := range tokens {
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
		default:
		}
		if depth > mostDepth || chain > mostDepth || i > mostTokens {
			return max(line, 1)
		}
	}
	return 0
}

// sketcher makes an outline of the library's tree.
type sketcher struct {
	names map[string]*outline
	count int
	over  bool
}

func (g *sketcher) sketch(from ast.Node, depth int) *outline {
	o := &outline{}
	if g.count++; from == nil || g.over || g.count > mostNodes || depth > mostDepth {
		g.over = g.over || g.count > mostNodes || depth > mostDepth
		return o
	}
	switch v := from.(type) {
	case *ast.MappingNode:
		o.under = make(map[string]*outline, len(v.Values))
		for _, value := range v.Values {
			g.pair(o, value, depth)
		}
	case *ast.MappingValueNode:
		o.under = map[string]*outline{}
		g.pair(o, v, depth)
	case *ast.SequenceNode:
		for _, value := range v.Values {
			o.items = append(o.items, g.sketch(value, depth+1))
		}
	case *ast.AnchorNode:
		named := g.sketch(v.Value, depth)
		if v.Name != nil {
			g.names[v.Name.GetToken().Value] = named
		}
		return named
	case *ast.AliasNode:
		if named := g.names[v.Value.GetToken().Value]; named != nil {
			g.spend(named)
			return named
		}
	case *ast.TagNode:
		return g.sketch(v.Value, depth+1)
	case *ast.LiteralNode:
		o.word = v.Value.Value
	case *ast.NullNode:
	default:
		if t := from.GetToken(); t != nil {
			o.word = t.Value
		}
	}
	return o
}

func (g *sketcher) pair(o *outline, from *ast.MappingValueNode, depth int) {
	var key ast.Node = from.Key
	if long, ok := key.(*ast.MappingKeyNode); ok {
		key = long.Value
	}
	if key == nil {
		return
	}
	name := key.GetToken().Value
	if _, twice := o.under[name]; !twice {
		o.keys = append(o.keys, name)
	}
	o.under[name] = g.sketch(from.Value, depth+1)
}

// spend counts what an alias brings in again.
func (g *sketcher) spend(o *outline) {
	if g.count++; g.count > mostNodes {
		g.over = true
	}
	for _, key := range o.keys {
		if g.over {
			return
		}
		g.spend(o.under[key])
	}
	for _, item := range o.items {
		if g.over {
			return
		}
		g.spend(item)
	}
}
