package jobfile

import (
	"encoding/json"
	"strings"
)

// Schema is the format as a JSON Schema, draft 2020-12: what an editor needs to
// complete keys and to mark wrong ones. It is written from the table of keys
// that the reader walks. What a figure's text may be is left to the reader.
func Schema() []byte {
	top := describe(jobShape)
	doc := append(fields{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "urn:trunnion:" + Version},
		{"title", "A job: a car as measured and the builds proposed for it"},
	}, top...)
	out, err := json.MarshalIndent(doc, "", "  ")
	if err != nil {
		panic("jobfile: the schema cannot be written: " + err.Error()) // the table holds nothing but text and numbers
	}
	return append(out, '\n')
}

// fields is a JSON object in a fixed order.
type fields []field

type field struct {
	name  string
	value any
}

// MarshalJSON writes the fields in their order.
func (f fields) MarshalJSON() ([]byte, error) {
	out := []byte("{")
	for i, one := range f {
		if i > 0 {
			out = append(out, ',')
		}
		name, err := json.Marshal(one.name)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(one.value)
		if err != nil {
			return nil, err
		}
		out = append(append(append(out, name...), ':'), value...)
	}
	return append(out, '}'), nil
}

var scalarTypes = []string{"string", "number"}

const idPattern = "^[A-Za-z0-9_][A-Za-z0-9_-]*$"

// describe writes one shape.
func describe(s *shape) fields {
	switch s.form {
	case object:
		whole := objectOf(s)
		if s.name {
			return fields{{"anyOf", []any{fields{{"type", "string"}, {"pattern", idPattern}}, whole}}}
		}
		return whole
	case dict:
		f := fields{{"type", "object"}, {"maxProperties", s.most}}
		if s.of.form != value {
			f = append(f, field{"propertyNames", fields{{"pattern", idPattern}}})
		}
		return append(f, field{"additionalProperties", describe(s.of)})
	case list:
		return fields{{"type", "array"}, {"items", describe(s.of)}, {"maxItems", s.most}}
	case places:
		var byName fields
		for _, name := range s.names {
			byName = append(byName, field{name, describe(s.of)})
		}
		kinds := []any{fields{{"type", "object"}, {"properties", byName}, {"additionalProperties", false}}}
		for _, names := range [][]string{axleKeys, cornerKeys} {
			if s.listed(len(names)) != nil {
				kinds = append(kinds, fields{{"type", "array"}, {"items", describe(s.of)}, {"minItems", len(names)}, {"maxItems", len(names)}})
			}
		}
		return fields{{"anyOf", kinds}}
	case row:
		return fields{{"anyOf", []any{
			fields{{"type", "array"}, {"items", fields{{"type", scalarTypes}}}, {"minItems", s.least}, {"maxItems", mostRow}},
			fields{{"type", "string"}},
		}}, {"examples", []string{s.example()}}}
	case choice:
		return fields{{"enum", s.words}}
	case flag:
		return fields{{"enum", []any{s.words[0], s.words[1], true, false}}}
	case ident:
		return fields{{"type", scalarTypes}}
	case value, spread, whole:
		f := fields{{"type", scalarTypes}}
		switch {
		case s.band:
			f = append(f, field{"description", "a band by itself, such as ± 0.5 mm"})
		default:
			f = append(f, field{"description", s.kind.String() + ", such as " + s.example()})
		}
		return f
	default:
		return fields{{"type", []string{"string", "number", "boolean"}}}
	}
}

func objectOf(s *shape) fields {
	var properties fields
	var required []string
	for _, k := range s.keys {
		d := describe(k.shape)
		if k.about != "" {
			d = withAbout(d, k.about)
		}
		properties = append(properties, field{k.name, d})
		if k.need {
			required = append(required, k.name)
		}
	}
	f := fields{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}}
	switch {
	case len(required) == 0:
	case s.name:
		// What is due may come from the part that is used.
		f = append(f, field{"anyOf", []any{fields{{"required", []string{"use"}}}, fields{{"required", required}}}})
	default:
		f = append(f, field{"required", required})
	}
	return f
}

// withAbout puts what a key is for before what its value is.
func withAbout(d fields, about string) fields {
	for i, f := range d {
		if text, ok := f.value.(string); ok && f.name == "description" {
			out := append(fields(nil), d...)
			out[i].value = strings.TrimSuffix(about, ".") + ": " + text
			return out
		}
	}
	return append(fields{{"description", about}}, d...)
}
