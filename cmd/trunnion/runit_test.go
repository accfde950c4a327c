package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestRunIt runs the commands of docs/run-it.md in their order, in a folder of their own.
// A server that listens beyond this machine, or on a database elsewhere, is only asked
// for its help.
func TestRunIt(t *testing.T) {
	text, err := os.ReadFile("../../docs/run-it.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	ran := map[string]int{}
	for line := range strings.Lines(string(text)) {
		args, ok := strings.CutPrefix(strings.TrimSpace(line), "bin/trunnion ")
		if !ok {
			continue
		}
		words := strings.Fields(strings.ReplaceAll(args, `"`, ""))
		ran[words[0]]++
		switch {
		case words[0] == "serve" && !strings.Contains(args, "--listen") && !strings.Contains(args, "--postgres"):
			// Started and stopped: from then on there is a workshop to keep.
			data, err := filepath.Abs("workshop")
			if err != nil {
				t.Fatal(err)
			}
			startServer(t, serveCommand{place: place{Data: data}, Listen: "127.0.0.1:0", Units: "metric"}).end(t)
			continue
		case words[0] == "serve":
			words = append(words, "--help")
		}
		var out bytes.Buffer
		if code := run(words, streams{strings.NewReader("correct horse battery\n"), &out, &out}); code != exitAnswered {
			t.Errorf("%s: exit status %d\n%s", args, code, &out)
		}
	}
	for _, command := range []string{"serve", "person", "backup", "restore"} {
		if ran[command] == 0 {
			t.Errorf("no %s was found in the page", command)
		}
	}
}
