package jobfile

import (
	"bytes"
	"encoding/json"
)

// AsJSON writes any YAML text of the workshop's own (rules, lists) as JSON, read
// within the same bounds as a job. Every value becomes a string, as it was typed;
// the order of keys is kept. An error is a *Faults with the line.
func AsJSON(text []byte, name string) ([]byte, error) {
	root, fault := parse(text)
	if fault != nil {
		return nil, &Faults{Name: name, List: []Fault{*fault}}
	}
	var out bytes.Buffer
	writeJSON(&out, root)
	return out.Bytes(), nil
}

func writeJSON(out *bytes.Buffer, n *node) {
	word := func(text string) {
		quoted, _ := json.Marshal(text) // a string can always be written
		out.Write(quoted)
	}
	switch n.kind {
	case mapping:
		out.WriteByte('{')
		for i, p := range n.pairs {
			if i > 0 {
				out.WriteByte(',')
			}
			word(p.key)
			out.WriteByte(':')
			writeJSON(out, p.value)
		}
		out.WriteByte('}')
	case sequence:
		out.WriteByte('[')
		for i, item := range n.items {
			if i > 0 {
				out.WriteByte(',')
			}
			writeJSON(out, item)
		}
		out.WriteByte(']')
	case blank:
		out.WriteString("null")
	default:
		word(n.text)
	}
}
