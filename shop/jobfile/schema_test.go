package jobfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
)

// schemaFaults checks a document against the part of JSON Schema that Schema
// uses, after the specification of draft 2020-12. A keyword that it does not
// know is a fault of the schema.
func schemaFaults(schema map[string]any, doc any, path string) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, path+": "+fmt.Sprintf(format, args...)) }
	for word, arg := range schema {
		switch word {
		case "$schema", "$id", "title", "description", "examples":
		case "type":
			types, ok := arg.([]any)
			if !ok {
				types = []any{arg}
			}
			if !slices.ContainsFunc(types, func(t any) bool { return isType(doc, t.(string)) }) {
				add("%v is not a %v", doc, arg)
			}
		case "enum":
			if !slices.ContainsFunc(arg.([]any), func(v any) bool { return reflect.DeepEqual(v, doc) }) {
				add("%v is none of %v", doc, arg)
			}
		case "pattern":
			if text, ok := doc.(string); ok && !regexp.MustCompile(arg.(string)).MatchString(text) {
				add("%q does not match %s", text, arg)
			}
		case "anyOf":
			ok := false
			var all []string
			for _, one := range arg.([]any) {
				faults := schemaFaults(one.(map[string]any), doc, path)
				ok = ok || len(faults) == 0
				all = append(all, faults...)
			}
			if !ok {
				add("nothing of anyOf fits: %s", strings.Join(all, "; "))
			}
		case "minItems", "maxItems":
			if items, ok := doc.([]any); ok {
				n, bound := float64(len(items)), arg.(float64)
				if word == "minItems" && n < bound || word == "maxItems" && n > bound {
					add("%v items against %s %v", n, word, bound)
				}
			}
		case "maxProperties":
			if object, ok := doc.(map[string]any); ok && float64(len(object)) > arg.(float64) {
				add("%v keys against %v", len(object), arg)
			}
		case "items":
			if items, ok := doc.([]any); ok {
				for i, item := range items {
					out = append(out, schemaFaults(arg.(map[string]any), item, fmt.Sprintf("%s[%d]", path, i))...)
				}
			}
		case "required":
			if object, ok := doc.(map[string]any); ok {
				for _, name := range arg.([]any) {
					if _, ok := object[name.(string)]; !ok {
						add("%v is missing", name)
					}
				}
			}
		case "propertyNames":
			if object, ok := doc.(map[string]any); ok {
				for name := range object {
					out = append(out, schemaFaults(arg.(map[string]any), name, path+"."+name)...)
				}
			}
		case "properties":
			if object, ok := doc.(map[string]any); ok {
				for name, sub := range arg.(map[string]any) {
					if value, ok := object[name]; ok {
						out = append(out, schemaFaults(sub.(map[string]any), value, path+"."+name)...)
					}
				}
			}
		case "additionalProperties":
			object, ok := doc.(map[string]any)
			if !ok {
				continue
			}
			known, _ := schema["properties"].(map[string]any)
			for name, value := range object {
				if _, ok := known[name]; ok {
					continue
				}
				if sub, ok := arg.(map[string]any); ok {
					out = append(out, schemaFaults(sub, value, path+"."+name)...)
				} else if arg == false {
					add("%s is not a key", name)
				}
			}
		default:
			add("the schema has a keyword %q that this check does not know", word)
		}
	}
	return out
}

func isType(doc any, name string) bool {
	switch doc.(type) {
	case string:
		return name == "string"
	case float64:
		return name == "number"
	case bool:
		return name == "boolean"
	case []any:
		return name == "array"
	case map[string]any:
		return name == "object"
	default:
		return name == "null"
	}
}

func readSchema(t *testing.T) map[string]any {
	t.Helper()
	var schema map[string]any
	if err := json.Unmarshal(Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	if schema["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
		t.Errorf("the schema is of %v", schema["$schema"])
	}
	return schema
}

// asJSON is a YAML job as a JSON document.
func asJSON(t *testing.T, data []byte) any {
	t.Helper()
	plain, err := yaml.YAMLToJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := json.Unmarshal(plain, &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestExamplesFitTheSchema(t *testing.T) {
	schema := readSchema(t)
	for _, name := range exampleFiles {
		for _, f := range schemaFaults(schema, asJSON(t, load(t, name)), "job") {
			t.Errorf("%s: %s", name, f)
		}
	}
}

// What the reader refuses for its keys and shapes the schema refuses as well.
func TestSchemaRefusesWhatTheReaderRefuses(t *testing.T) {
	schema := readSchema(t)
	demo := string(load(t, exampleFiles[0]))
	for _, swap := range [][2]string{
		{"wheelbase: 2700 mm", "wheelbse: 2700 mm"},
		{"  wheelbase: 2700 mm\n", ""},
		{"wheelbase: 2700 mm", "wheelbase: {mm: 2700}"},
		{"wheelbase: 2700 mm", "wheelbase: [2700 mm]"},
		{"type: strut", "type: strutt"},
		{"front_left: 426 kg", "front-left: 426 kg"},
		{"settled: yes", "settled: perhaps"},
		{"crush: [0, 5, 10, 15, 20, 25, 30, 34, 37, 39 mm]", "crush: [39 mm]"},
		{"spring: rear-80", "spring: 'rear 80'"},
		{"mass: 82 kg, ", ""},
		{"front-25:", "front 25:"},
		{"event: pothole", "event: volcano"},
	} {
		if !strings.Contains(demo, swap[0]) {
			t.Fatalf("%q is not in the demo", swap[0])
		}
		text := []byte(strings.Replace(demo, swap[0], swap[1], 1))
		if job, _ := ReadBytes(text, "job.yaml"); job != nil {
			t.Errorf("the reader accepts %q", swap[1])
		}
		if len(schemaFaults(schema, asJSON(t, text), "job")) == 0 {
			t.Errorf("the schema accepts %q", swap[1])
		}
	}
}

func TestSchemaIsTheSameEveryTime(t *testing.T) {
	if first, second := Schema(), Schema(); !bytes.Equal(first, second) {
		t.Error("two schemas differ")
	}
}
