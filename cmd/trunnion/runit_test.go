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
	commandsOf(t, "../../docs/run-it.md", "serve", "person", "backup", "restore", "work", "search")
}

// commandsOf runs the commands that a page shows; each of those named must be among them.
func commandsOf(t *testing.T, page string, must ...string) {
	t.Helper()
	text, err := os.ReadFile(page)
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
		words := typedWords(args)
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
		case words[0] == "serve" || words[0] == "work":
			words = append(words, "--help")
		}
		var out bytes.Buffer
		code := run(words, streams{strings.NewReader("correct horse battery\n"), &out, &out})
		if words[0] == "search" && code == exitNoAnswer {
			code = exitAnswered // something stands in the way, which is an answer too
		}
		if code != exitAnswered && (words[0] != "level" || !strings.Contains(out.String(), "Weigh the car")) {
			t.Errorf("%s: exit status %d\n%s", args, code, &out)
		}
	}
	for _, command := range must {
		if ran[command] == 0 {
			t.Errorf("no %s was found in the page", command)
		}
	}
}

// typedWords are the words of a command as a shell hands them on: what stands in double
// quotes is one.
func typedWords(line string) (out []string) {
	for k, part := range strings.Split(line, `"`) {
		if k%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}
