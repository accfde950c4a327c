// Package validation writes down what the tests hold this program's models against:
// a test says once what model it is about and whose figures those are, and each
// comparison it makes is counted, with the worst. Without the environment's [Env]
// nothing is written and the comparisons are what they are.
//
// make validation runs those tests and sets docs/validation.md from what they wrote.
package validation

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"sync"
	"testing"
)

// Env names the file that records go to, a line of JSON each.
const Env = "TRUNNION_VALIDATION"

// Kind is what a model is held against.
type Kind string

// The kinds, the strongest first.
const (
	Printed  Kind = "printed figures"
	Engine   Kind = "another engine or solver"
	Derived  Kind = "closed form or an independent computation"
	Practice Kind = "common practice"
)

// Record is what one test found.
type Record struct {
	Test   string   `json:"test"`
	Model  string   `json:"model"`
	Kind   Kind     `json:"kind"`
	Source string   `json:"source"`
	Codes  []string `json:"codes,omitempty"` // of the results that rest on the model
	Values int      `json:"values"`          // compared
	Worst  Worst    `json:"worst"`
}

// Worst is the comparison that used most of what was allowed.
type Worst struct {
	Got     float64 `json:"got"`
	Want    float64 `json:"want"`
	Off     float64 `json:"off"`
	Allowed float64 `json:"allowed"`
}

var open = struct {
	sync.Mutex
	records map[string]*Record // by the name of the test
}{records: map[string]*Record{}}

// Against says what a test is about: the model, what kind of outside truth it is held
// against, whose, and the codes of the results that rest on it. All of them are
// literals, so that the list of models can be read off the source.
func Against(t testing.TB, model string, kind Kind, source string, codes ...string) {
	t.Helper()
	r := &Record{Test: t.Name(), Model: model, Kind: kind, Source: source, Codes: codes}
	open.Lock()
	open.records[t.Name()] = r
	open.Unlock()
	t.Cleanup(func() {
		open.Lock()
		defer open.Unlock()
		delete(open.records, r.Test)
		if r.Values == 0 {
			t.Errorf("%s says that it holds %q against something, and compared nothing", r.Test, r.Model)
		}
		path := os.Getenv(Env)
		if path == "" || t.Failed() {
			return
		}
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		f, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write(append(line, '\n')); err != nil {
			t.Error(err)
		}
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
}

// Named is a test, a benchmark or a case of generated ones.
type Named interface{ Name() string }

// Off reports whether a value lies further from what is wanted than is allowed, and
// counts the comparison for the test that it is made in.
func Off(t Named, got, want, allowed float64) bool {
	off := math.Abs(got - want)
	open.Lock()
	defer open.Unlock()
	if r := record(t.Name()); r != nil {
		r.take(Worst{Got: got, Want: want, Off: off, Allowed: allowed})
	}
	return !(off <= allowed)
}

// Share is Off with what is allowed as a share of what is wanted.
func Share(t Named, got, want, share float64) bool {
	return Off(t, got, want, share*math.Abs(want))
}

// Same is Off for what has to be the same.
func Same[T comparable](t Named, got, want T) bool {
	off := 0.0
	if got != want {
		off = 1
	}
	return !Off(t, off, 0, 0)
}

// record finds the record of a test or of the one it is part of.
func record(name string) *Record {
	for {
		if r := open.records[name]; r != nil {
			return r
		}
		i := strings.LastIndexByte(name, '/')
		if i < 0 {
			return nil
		}
		name = name[:i]
	}
}

func (r *Record) take(w Worst) {
	r.Values++
	if r.Values == 1 || w.used() > r.Worst.used() {
		r.Worst = w
	}
}

// used is how much of what was allowed a comparison used [-].
func (w Worst) used() float64 {
	switch {
	case w.Off == 0:
		return 0
	case w.Allowed == 0:
		return math.Inf(1)
	}
	return w.Off / w.Allowed
}
