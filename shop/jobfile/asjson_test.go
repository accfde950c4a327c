package jobfile

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

func TestAsJSON(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"b: 1\na: [x, \"y\\\"z\", {c: }]\n", `{"b":"1","a":["x","y\"z",{"c":null}]}`},
		{"words: >-\n  long\n  words\n", `{"words":"long words"}`},
	} {
		got, err := AsJSON([]byte(tt.in), "rules")
		if err != nil || string(got) != tt.want {
			t.Errorf("%q became %s (%v); want %s", tt.in, got, err, tt.want)
		}
		if !json.Valid(got) {
			t.Errorf("%s is no JSON", got)
		}
	}
	var faults *Faults
	if _, err := AsJSON([]byte("a: [\n"), "mine.yaml"); !errors.As(err, &faults) || !strings.Contains(err.Error(), "mine.yaml") {
		t.Errorf("a broken text gives %v", err)
	}
}
