package jobfile

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// lastItem cuts the index off a path that ends with one: brief.roads[2] is item 2
// of brief.roads.
func lastItem(path string) (list string, index int, ok bool) {
	open := strings.LastIndexByte(path, '[')
	if open <= 0 {
		return "", 0, false
	}
	index, rest, ok := cutIndex(path[open:])
	return path[:open], index, ok && rest == ""
}

// addItem puts a piece behind the last item of a list, or makes the list with it.
// The index has to be the next one: a list has no gaps.
func addItem(job []byte, path, list string, index int, piece string) ([]byte, error) {
	t, err := open(job)
	if err != nil {
		return nil, err
	}
	s, err := t.find(list)
	if err != nil {
		return nil, err
	}
	none := s.rest != ""
	if !none {
		_, none = s.node.(*ast.NullNode)
	}
	if none && index == 0 {
		return place(job, list, "["+piece+"]")
	}
	seq, ok := s.node.(*ast.SequenceNode)
	if none || !ok || index != len(seq.Values) {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	var out []byte
	if seq.IsFlowStyle {
		at := t.closing(seq.End)
		for at > 0 && bytes.IndexByte([]byte(" \n\r\t"), job[at-1]) >= 0 {
			at--
		}
		if index > 0 && job[at-1] != ',' {
			piece = ", " + piece
		}
		out = splice(job, at, at, piece)
	} else {
		start, end, dash := t.itemLines(seq.Values[index-1])
		if dash < 0 {
			return nil, fmt.Errorf("%s: the list is written in a way that cannot be changed in place", path)
		}
		line := strings.Repeat(" ", dash-start) + "- " + piece + "\n"
		if end > 0 && job[end-1] != '\n' {
			line = "\n" + strings.TrimSuffix(line, "\n")
		}
		out = splice(job, end, end, line)
	}
	return itemProved(job, out, path, list, index, true)
}

// itemLines returns the bytes of the lines that an item of a block list fills,
// and where its dash stands; dash is negative where none begins its line.
func (t *tree) itemLines(item ast.Node) (start, end, dash int) {
	first := item.GetToken().Position
	if pairs := pairsOf(item); !inFlow(item) && len(pairs) > 0 {
		first = pairs[0].Key.GetToken().Position
	}
	start = t.offset(first)
	for start > 0 && t.job[start-1] != '\n' {
		start--
	}
	indent := indentOf(t.job[start:])
	dash = start + indent
	if dash >= len(t.job) || t.job[dash] != '-' {
		return 0, 0, -1
	}
	end = next(t.job, start)
	for at := end; at < len(t.job); at = next(t.job, at) {
		line := t.job[at:next(t.job, at)]
		trimmed := bytes.TrimSpace(line)
		deep := indentOf(line)
		if len(trimmed) == 0 || trimmed[0] == '#' && deep <= indent {
			continue
		}
		if deep <= indent {
			break
		}
		end = next(t.job, at)
	}
	return start, end, dash
}

// itemProved takes a changed text apart again: the two may differ by that one
// item alone.
func itemProved(job, out []byte, path, list string, index int, added bool) ([]byte, error) {
	before, fault := shared(job)
	if fault != nil {
		return nil, &Faults{Name: "job", List: []Fault{*fault}}
	}
	after, fault := shared(out)
	if fault != nil {
		return nil, fmt.Errorf("%s cannot be changed here: the job would no longer be readable", path)
	}
	longer, shorter := before, after
	if added {
		longer, shorter = after, before
	}
	cut, ok := withoutItem(longer, list, index)
	if at := differ(cut, shorter, ""); !ok || at != "" {
		return nil, fmt.Errorf("%s cannot be changed here: %s would change with it", path, at)
	}
	return out, nil
}

// withoutItem is a tree but for one item of a list.
func withoutItem(n *node, list string, index int) (*node, bool) {
	out := *n
	if list == "" {
		if n.kind != sequence || index >= len(n.items) {
			return n, false
		}
		out.items = append(append([]*node{}, n.items[:index]...), n.items[index+1:]...)
		return &out, true
	}
	next, rest := step(n, list)
	if next == nil {
		return n, false
	}
	cut, ok := withoutItem(next, rest, index)
	out.pairs, out.items = append([]pair{}, n.pairs...), append([]*node{}, n.items...)
	for i := range out.pairs {
		if out.pairs[i].value == next {
			out.pairs[i].value = cut
		}
	}
	for i := range out.items {
		if out.items[i] == next {
			out.items[i] = cut
		}
	}
	return &out, ok
}
