package symptom

import (
	"strings"
	"unicode"
)

// stems takes a text apart into the roots of its words: small letters, without
// the endings that a sentence gives them. It knows English endings only.
func stems(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(apostrophes.Replace(text)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if !dull[w] {
			out = append(out, stem(w))
		}
	}
	return out
}

var apostrophes = strings.NewReplacer("'", "", "\u2019", "")

// dull are words that every sentence has.
var dull = map[string]bool{}

func stem(w string) string {
	for _, end := range []string{"iness", "ness", "ing", "ily", "ies", "ied", "est", "er", "ed", "es", "ly", "y", "s", "e"} {
		if short, ok := strings.CutSuffix(w, end); ok && len([]rune(short)) >= 3 {
			w = short
			break
		}
	}
	if n := len(w); n > 3 && w[n-1] == w[n-2] {
		w = w[:n-1] // hopp, hop
	}
	return w
}
