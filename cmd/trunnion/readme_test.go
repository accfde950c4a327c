package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// TestReadme runs the commands that the README shows, from where a reader
// would type them. The server, which does not end, is only asked for its help.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir("../..")
	ran := 0
	for line := range strings.Lines(string(text)) {
		args, ok := strings.CutPrefix(strings.TrimSpace(line), "bin/trunnion ")
		if !ok {
			continue
		}
		words := strings.Fields(args)
		if words[0] == "serve" {
			words = append(words, "--help")
		}
		var out, faults bytes.Buffer
		if code := run(words, streams{strings.NewReader(""), &out, &faults}); code != exitAnswered {
			t.Errorf("%s: exit status %d\n%s", args, code, faults.String())
		}
		if out.Len() == 0 {
			t.Errorf("%s: nothing was printed", args)
		}
		ran++
	}
	if ran < 4 {
		t.Fatalf("only %d commands were found in the README", ran)
	}
}
