package proof

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trunnion/shop/jobfile"
)

// node is a piece of a job's text: an object with its keys in their order, a
// list, or a word.
type node struct {
	keys  []string
	under map[string]*node
	list  []*node
	text  string
}

func asJSON(t testing.TB, text []byte) []byte {
	t.Helper()
	data, err := jobfile.AsJSON(text, "job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// decode reads JSON and keeps the order of its keys.
func decode(t testing.TB, data []byte) *node {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	n, err := next(d)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func next(d *json.Decoder) (*node, error) {
	token, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch v := token.(type) {
	case json.Delim:
		n := &node{}
		if v == '[' {
			n.list = []*node{}
			for d.More() {
				one, err := next(d)
				if err != nil {
					return nil, err
				}
				n.list = append(n.list, one)
			}
		} else {
			n.under = map[string]*node{}
			for d.More() {
				key, err := d.Token()
				if err != nil {
					return nil, err
				}
				one, err := next(d)
				if err != nil {
					return nil, err
				}
				n.put(key.(string), one)
			}
		}
		_, err := d.Token()
		return n, err
	case string:
		return &node{text: v}, nil
	case json.Number:
		return &node{text: v.String()}, nil
	case bool:
		return &node{text: strconv.FormatBool(v)}, nil
	}
	return &node{}, nil
}

func (n *node) at(key string) *node {
	if n == nil {
		return nil
	}
	return n.under[key]
}

func (n *node) put(key string, one *node) {
	if _, there := n.under[key]; !there {
		n.keys = append(n.keys, key)
	}
	n.under[key] = one
}

// write gives the text of a job, as JSON.
func (n *node) write() []byte {
	var out bytes.Buffer
	n.into(&out)
	return out.Bytes()
}

func (n *node) into(out *bytes.Buffer) {
	quote := func(s string) {
		data, err := json.Marshal(s)
		if err != nil {
			panic(err)
		}
		out.Write(data)
	}
	switch {
	case n.under != nil:
		out.WriteByte('{')
		for i, key := range n.keys {
			if i > 0 {
				out.WriteByte(',')
			}
			quote(key)
			out.WriteByte(':')
			n.under[key].into(out)
		}
		out.WriteByte('}')
	case n.list != nil:
		out.WriteByte('[')
		for i, one := range n.list {
			if i > 0 {
				out.WriteByte(',')
			}
			one.into(out)
		}
		out.WriteByte(']')
	default:
		quote(n.text)
	}
}

// visit calls for every node, those below first.
func (n *node) visit(call func(path string, n *node)) { n.visitAt("", call) }

func (n *node) visitAt(path string, call func(path string, n *node)) {
	for _, key := range n.keys {
		n.under[key].visitAt(strings.TrimPrefix(path+"."+key, "."), call)
	}
	for i, one := range n.list {
		one.visitAt(path+"["+strconv.Itoa(i)+"]", call)
	}
	call(path, n)
}

// reversed is a node with the keys of every object in the opposite order.
func (n *node) reversed() *node {
	out := &node{text: n.text}
	if n.under != nil {
		out.under = map[string]*node{}
		for _, key := range slices.Backward(n.keys) {
			out.put(key, n.under[key].reversed())
		}
	}
	if n.list != nil {
		out.list = []*node{}
		for _, one := range n.list {
			out.list = append(out.list, one.reversed())
		}
	}
	return out
}

// mirrored writes a job with left and right exchanged.
func mirrored(t testing.TB, text []byte) []byte {
	t.Helper()
	tree := decode(t, asJSON(t, text))
	tree.visit(func(path string, n *node) {
		swap := func(a, b string) {
			if n.under[a] != nil || n.under[b] != nil {
				n.under[a], n.under[b] = n.under[b], n.under[a]
				for _, key := range []string{a, b} {
					if n.under[key] == nil {
						delete(n.under, key)
						n.keys = slices.DeleteFunc(n.keys, func(k string) bool { return k == key })
					} else if !slices.Contains(n.keys, key) {
						n.keys = append(n.keys, key)
					}
				}
			}
		}
		if n.under != nil {
			swap("front_left", "front_right")
			swap("rear_left", "rear_right")
			if _, payload := n.under["behind_front_axle"]; payload {
				if left := n.under["left"]; left != nil {
					left.text = negative(left.text)
				}
				return
			}
			swap("left", "right")
		}
		last := path[strings.LastIndexByte(path, '.')+1:]
		if len(n.list) == 4 && slices.Contains([]string{"load", "arch_height", "spring_length", "damper_length", "rod_showing", "platform", "body_length", "heights", "click"}, last) {
			if unit := strings.TrimLeft(n.list[3].text, "-0123456789."); unit != "" { // the unit stands behind the last
				for _, one := range n.list {
					if !strings.Contains(one.text, " ") {
						one.text += unit
					}
				}
			}
			n.list[0], n.list[1], n.list[2], n.list[3] = n.list[1], n.list[0], n.list[3], n.list[2]
		}
	})
	return tree.write()
}

func negative(typed string) string {
	if rest, ok := strings.CutPrefix(typed, "-"); ok {
		return rest
	}
	return "-" + typed
}
