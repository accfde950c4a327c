package jobfile

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// Put sets the value at a path: it replaces what stands there, or adds the key,
// and the mappings above it where they are missing. Every other byte stays. It
// does not judge the value: read the result for that.
func Put(job []byte, path, value string) ([]byte, error) {
	if out, err := Set(job, path, value); err == nil {
		return out, nil
	}
	quoted, err := asScalar(value, 0, jsonAt(job))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return Insert(job, path, string(quoted))
}

// Insert puts a piece of a job at a path, in place of what stands there: a part
// or a build written on one line, in braces. At the index after the last of a
// list it becomes the list's next item.
func Insert(job []byte, path, piece string) ([]byte, error) {
	out, err := place(job, path, piece)
	if list, index, ok := lastItem(path); ok && err != nil {
		return addItem(job, path, list, index, piece)
	}
	return out, err
}

// Remove takes the key at a path, or the item of a list, out of a job, with what
// stands behind it.
func Remove(job []byte, path string) ([]byte, error) {
	if list, index, ok := lastItem(path); ok {
		return removeItem(job, path, list, index)
	}
	t, err := open(job)
	if err != nil {
		return nil, err
	}
	at, err := t.find(path)
	if err != nil {
		return nil, err
	}
	if at.rest != "" || at.pair == nil {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	if len(at.siblings) == 1 && at.above != "" {
		return Remove(job, at.above)
	}
	start, end, err := t.cut(at)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return t.proved(path, splice(job, start, end, ""), at, "")
}

// Piece returns what stands behind a path, on one line in braces, as Insert
// takes it. Names (&, *) are written out.
func Piece(job []byte, path string) (string, error) {
	root, fault := shared(job)
	if fault != nil {
		return "", &Faults{Name: "job", List: []Fault{*fault}}
	}
	n := root
	for rest := path; rest != ""; {
		next, after := step(n, rest)
		if next == nil {
			return "", fmt.Errorf("%s: %w", path, errNoValue)
		}
		n, rest = next, after
	}
	return flow(n), nil
}

// flow writes a node on one line.
func flow(n *node) string {
	switch n.kind {
	case mapping:
		list := make([]string, len(n.pairs))
		for i, p := range n.pairs {
			list[i] = scalarText(p.key) + ": " + flow(p.value)
		}
		return "{" + strings.Join(list, ", ") + "}"
	case sequence:
		list := make([]string, len(n.items))
		for i, item := range n.items {
			list[i] = flow(item)
		}
		return "[" + strings.Join(list, ", ") + "]"
	case blank:
		return "null"
	default:
		return scalarText(n.text)
	}
}

// removeItem takes an item out of a list; the last one takes the list with it.
func removeItem(job []byte, path, list string, index int) ([]byte, error) {
	t, err := open(job)
	if err != nil {
		return nil, err
	}
	s, err := t.find(list)
	if err != nil {
		return nil, err
	}
	seq, ok := s.node.(*ast.SequenceNode)
	if s.rest != "" || !ok || index >= len(seq.Values) {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	if len(seq.Values) == 1 {
		return Remove(job, list)
	}
	fail := fmt.Errorf("%s: the list is written in a way that cannot be changed in place", path)
	var start, end int
	if seq.IsFlowStyle {
		// From this item to the next, or from the comma before the last.
		at := make([]int, 2)
		for k, item := range []int{index, index + 1} {
			if item == len(seq.Values) {
				at[k] = t.closing(seq.End)
				continue
			}
			if at[k], _, err = t.extent(spot{node: seq.Values[item], rest: ""}); err != nil {
				return nil, fail
			}
		}
		start, end = at[0], at[1]
		if index+1 == len(seq.Values) {
			if start = bytes.LastIndexByte(job[:start], ','); start < 0 {
				return nil, fail
			}
		}
	} else {
		var dash int
		if start, end, dash = t.itemLines(seq.Values[index]); dash < 0 {
			return nil, fail
		}
	}
	return itemProved(job, splice(job, start, end, ""), path, list, index, false)
}
