package trunnion_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// outworn are words and phrases that people stopped at, with what the trade says in
// their place. They are looked for in every text of the program and of the page;
// the codes of the JSON contract, which have hyphens and no blanks, are not texts.
var outworn = []struct {
	said   string // a regular expression, in any case
	better string
}{
	{`\bsaid along with it\b`, "Notes"},
	{`\bwhere the hands are\b`, "Safety"},
	{`\bwhat was found, worst first\b`, "Findings, worst first"},
	{`\bjudge in time\b`, "Run full simulation"},
	{`\bas the machine\b`, "System"},
	{`\byardstick\b`, "baseline"},
	{`\breference build\b`, "baseline"},
	{`\bblow of (the|a) stop\b`, "peak bump-stop force"},
	{`\bgreatest force of (the|a) stop\b`, "peak bump-stop force"},
	{`\bbump speed caught\b|\bcatch a bump\b`, "bump velocity absorbed"},
	{`\bstop solid before\b`, "coil-bind margin, arch clearance beyond the solid stop"},
	{`\bspring slack\b|\bstill pressed\b|\bseat slack\b`, "spring preload at full droop; loose"},
	{`\bdroop left\b|\bbump left\b`, "rebound travel left; bump travel to the stop"},
	{`\b(least|most) damping ratio\b`, "lowest, highest damping ratio"},
	{`\btyre light\b`, "low tyre load"},
	{`\b(damping|frequency) of yaw\b`, "yaw damping, yaw frequency"},
	{`\bmoved across\b|\bmoves across\b`, "lateral load transfer"},
	{`\bmean sink\b`, "jacking down"},
	{`\bbounce left\b`, "second bounce"},
	{`\bstop met in a bend\b|\bin a bend\b`, "bump-stop contact in a corner; in a corner"},
	{`\bpush(es)? wide\b|\bgets nervous\b`, "more understeer; less stable"},
	{`\bwhat a point of cross costs\b`, "height against cross weight"},
	{`\bways to set it\b`, "Presets"},
	{`\bwhat went in\b|\bwhat it rests on\b`, "Inputs, Basis"},
	{`\bin its own words\b`, "Equation"},
	{`\b95 times in 100\b`, "95 % range"},
	{`\bas before (in front|at the rear)\b`, "unchanged"},
	{`\blook at this\b`, "check"},
	{`(?-i:\bHeard as\b)`, "Understood as"},
	{`\bit was this\b`, "This was the cause: record it"},
	{`\bon the desk\b`, "in the trial"},
	{`\bput it back\b`, "Restore"},
	{`\bre-check`, "follow-up check"},
	{`\bcome-backs? `, "return visit"},
	{`\bnot clear either\b`, "Not clear in other load states"},
	{`\btaken for each other\b`, "swapped"},
	{`\bpast the point the row names\b`, "the word of the side"},
	{`\b(is|are) due\b`, "enter …"},
}

// dueOf are the things that may be due: what a calendar says.
var dueOf = regexp.MustCompile(`(?i)\b(service|check|gas)[^.]* (is|are) due\b`)

// saidInRules are the keys of the symptoms' rules that the program says.
var saidInRules = regexp.MustCompile(`\b(say|name|check|else|back|silent|costs|rule_out):`)

func worn(text string) (said, better string, found bool) {
	for i := range outworn {
		at := wornWords[i].FindString(text)
		if at != "" && !(strings.HasSuffix(at, " due") && dueOf.MatchString(text)) {
			return at, outworn[i].better, true
		}
	}
	return "", "", false
}

var wornWords = func() []*regexp.Regexp {
	out := make([]*regexp.Regexp, len(outworn))
	for i := range outworn {
		out[i] = regexp.MustCompile("(?i)" + outworn[i].said)
	}
	return out
}()

// TestOutwornWordsStayAway reads every text in Go and Svelte for words that were
// replaced once already.
func TestOutwornWordsStayAway(t *testing.T) {
	texts, faults := 0, 0
	look := func(where, text string) {
		texts++
		if said, better, found := worn(text); found && faults < 60 {
			faults++
			t.Errorf("%s says %q; better: %s", where, said, better)
		}
	}
	for _, root := range []string{"chassis", "shop", "cmd", "ui/src", "ui/index.html"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			switch {
			case strings.HasSuffix(path, "_test.go"), strings.HasSuffix(path, ".test.ts"), strings.HasSuffix(path, ".gen.ts"):
			case strings.HasSuffix(path, ".go"):
				return goTexts(path, look)
			case strings.HasSuffix(path, ".svelte"), strings.HasSuffix(path, ".ts"), strings.HasSuffix(path, ".html"):
				return pageTexts(path, look)
			case strings.HasSuffix(path, ".yaml") && strings.Contains(path, "symptom"):
				return pageTexts(path, func(where, text string) {
					if saidInRules.MatchString(text) { // the rest are owners' words, which are heard
						look(where, text)
					}
				})
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if texts < 5000 {
		t.Fatalf("only %d texts were read", texts)
	}
	// The list itself must see what it is for, and let the trade's words pass.
	for _, text := range []string{"Droop left", "a length is due, such as 3 mm", "the front's share of what is moved across", "Come-backs of this car", "Blow of the stop, N"} {
		if _, _, found := worn(text); !found {
			t.Errorf("%q passes", text)
		}
	}
	for _, text := range []string{"no service is due", "rebound travel left", "come-back", "full droop"} {
		if said, _, found := worn(text); found {
			t.Errorf("%q is held for %q", text, said)
		}
	}
}

// goTexts hands over the string literals of a Go file, without imports and the tags
// of fields; a tag's help is a text.
func goTexts(path string, look func(where, text string)) error {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, nil, 0)
	if err != nil {
		return err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if _, ok := n.(*ast.ImportSpec); ok {
			return false
		}
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, err := strconv.Unquote(lit.Value)
			if err == nil && text != "reference build" { // what a limit is from, in the JSON contract
				look(files.Position(lit.Pos()).String(), text)
			}
		}
		return true
	})
	return nil
}

// pageTexts hands over the lines of a page's file, without those that are comments.
func pageTexts(path string, look func(where, text string)) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for n, line := range strings.Split(string(data), "\n") {
		bare := strings.TrimSpace(line)
		if strings.HasPrefix(bare, "//") || strings.HasPrefix(bare, "*") || strings.HasPrefix(bare, "/*") || strings.HasPrefix(bare, "#") || strings.HasPrefix(bare, "<!--") {
			continue
		}
		look(path+":"+strconv.Itoa(n+1), line)
	}
	return nil
}
