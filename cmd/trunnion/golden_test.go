package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rivo/uniseg"

	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

var update = flag.Bool("update", false, "write the golden files anew")

const (
	demoJob  = "../../examples/marl-estate/job.yaml"
	phoneJob = "../../examples/wend-roadster/job.yaml"
)

// output runs the program and returns what it prints.
func output(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, err bytes.Buffer
	if got := run(args, streams{strings.NewReader(""), &out, &err}); got != want {
		t.Fatalf("trunnion %s: exit status %d, want %d\n%s", strings.Join(args, " "), got, want, err.String())
	}
	return out.String()
}

// TestDemoAsPrinted holds the demo's assessment as it is printed. Look at the
// difference before it is written anew with -update.
func TestDemoAsPrinted(t *testing.T) {
	for name, args := range map[string][]string{
		"marl-metric.txt":   {"assess", demoJob},
		"marl-imperial.txt": {"assess", demoJob, "--units", "imperial"},
		"wend-phone.txt":    {"assess", phoneJob},
	} {
		got := output(t, 0, args...)
		path := filepath.Join("testdata", "golden", name)
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s is printed otherwise: %s", name, firstDifference(string(want), got))
		}
	}
}

func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			other := "the end"
			if i < len(b) {
				other = b[i]
			}
			return "line " + a[i] + "\nis now " + other
		}
	}
	return "more lines"
}

// asked are the flags that print the workings of every code.
func asked() []string {
	var out []string
	for _, e := range figure.Register() {
		out = append(out, "--working", e.Code)
	}
	return out
}

func TestNoLineIsTooLong(t *testing.T) {
	n := 0
	for _, args := range [][]string{
		{"assess", demoJob, "--units", "imperial"},
		{"assess", "../../examples/wend-roadster/measured.yaml", "--samples", "40", "--units", "mixed"},
		append([]string{"assess", demoJob, "--samples", "0"}, asked()...),
		{"explain"},
	} {
		for _, line := range strings.Split(output(t, 0, args...), "\n") {
			n++
			if width := uniseg.StringWidth(line); width > lineWidth {
				t.Errorf("%d columns: %s", width, line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("blanks at the end of %q", line)
			}
		}
	}
	if n < 1000 {
		t.Fatalf("only %d lines were looked at", n)
	}
}

var (
	metric    = regexp.MustCompile(`\d ?(mm|cm|m|km|kg|N|kN|bar|kPa|J|W|L)\b|\b(mm|km/h|N/mm|mm/s|N·m|kg·m²)(\W|$)|m/s|\bkg\b|, (N|W|J|m)$`)
	imperial  = regexp.MustCompile(`\b(lbf|lb|psi|mph|hp)\b|\d in(\W|$)|\bin/s|per mile`)
	inHundred = regexp.MustCompile(`(\d)\s+in\s+100\b`)
)

// The whole text of the demo, workings of every code included, in one system of
// units only. What the job's texts say themselves is the owner's business.
func TestOneSystemOfUnits(t *testing.T) {
	for units, wrong := range map[string]*regexp.Regexp{"metric": imperial, "imperial": metric} {
		text := output(t, 0, "assess", demoJob, "--units", units)
		text += output(t, 0, append([]string{"assess", demoJob, "--units", units, "--samples", "0", "--load", "four-aboard"}, asked()...)...)
		if n := strings.Count(text, "\n"); n < 5000 {
			t.Fatalf("only %d lines", n)
		}
		text = inHundred.ReplaceAllString(text, "$1 of 100") // a chance, not inches
		faults := 0
		for _, line := range strings.Split(text, "\n") {
			if at := wrong.FindString(line); at != "" && faults < 10 {
				faults++
				t.Errorf("%s text has %q: %s", units, at, line)
			}
		}
	}
}

func TestColourOnlyAddsToWords(t *testing.T) {
	r := &report{paint: true}
	plain := &report{}
	for _, v := range []string{"over", "close", "clear", "unknown", "no-limit"} {
		coloured := r.verdict(verdictOf(v), 9)
		bare := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(coloured, "")
		if bare != plain.verdict(verdictOf(v), 9) || len(strings.TrimSpace(bare)) == 0 {
			t.Errorf("%s: with its colour taken off it is %q, without colour %q", v, bare, plain.verdict(verdictOf(v), 9))
		}
	}
	t.Setenv("NO_COLOR", "1")
	if coloured(os.Stdout) {
		t.Error("NO_COLOR is set and colour is used")
	}
	if coloured(&bytes.Buffer{}) {
		t.Error("what is no terminal is coloured")
	}
}

// fails is an output that does not take what is written.
type fails struct{ panics bool }

func (f fails) Write([]byte) (int, error) {
	if f.panics {
		panic("torn")
	}
	return 0, os.ErrClosed
}

func TestBrokenProgramIsStatusFive(t *testing.T) {
	for name, args := range map[string][]string{
		"schema": {"schema"}, "explain": {"explain"}, "check": {"check", demoJob, "--format", "json"}, "text": {"assess", phoneJob, "--samples", "0"},
		"csv": {"assess", phoneJob, "--samples", "0", "--format", "csv"}, "json": {"assess", phoneJob, "--samples", "0", "--format", "json"},
	} {
		for _, panics := range []bool{false, true} {
			var said bytes.Buffer
			if got := run(args, streams{strings.NewReader(""), fails{panics}, &said}); got != exitBroken || said.Len() == 0 {
				t.Errorf("%s: exit status %d, want %d; said %q", name, got, exitBroken, said.String())
			}
		}
	}
}

func TestLines(t *testing.T) {
	for _, row := range []struct {
		text string
		want []string
	}{
		{"", []string{""}},
		{"one two three", []string{"one two", "three"}},
		{"gap 9.8 mm now", []string{"gap", "9.8 mm", "now"}},
		{"verylongsingleword x", []string{"verylongsingleword", "x"}},
		{"é é é é é", []string{"é é é é", "é"}},
	} {
		got := lines(row.text, 8)
		if strings.Join(got, "|") != strings.Join(row.want, "|") {
			t.Errorf("%q breaks into %q, want %q", row.text, got, row.want)
		}
	}
}

func verdictOf(s string) finding.Verdict { return finding.Verdict(s) }
