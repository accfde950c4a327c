package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is the most bytes a figure may have [B]; a chosen limit, several
// times the longest that means anything.
const longest = 200

// alike are signs that people and programs write for the plain one.
var alike = strings.NewReplacer(
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-",
	"⋅", "·", "•", "·", "∙", "·", "‧", "·",
	"″", "\"", "”", "\"", "“", "\"",
	"º", "°", "˚", "°", "μ", "µ", "％", "%", "℃", "°C", "℉", "°F",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	"⁄", "/", "∕", "/",
	"+/-", "±", "+-", "±", "+/\u2212", "±", "+\u2212", "±", "+/\u2013", "±", "+\u2013", "±",
)

// raised are the superscripts, in the order of "-0123456789".
var raised = []rune("⁻⁰¹²³⁴⁵⁶⁷⁸⁹")

// prepare refuses what cannot be a figure and cleans the rest.
func prepare(text string) (string, *Error) {
	const want = "enter a figure with its unit"
	switch {
	case len(text) > longest:
		return "", &Error{Fault: TooLong, Text: cut(text), Got: "this text is too long for a figure", Want: want}
	case !utf8.ValidString(text):
		return "", &Error{Fault: BadText, Text: text, Got: show(text) + " is not valid UTF-8", Want: want}
	}
	for _, r := range text {
		if r != '\t' && !unicode.IsGraphic(r) {
			return "", &Error{Fault: BadText, Text: text, Got: show(text) + " has a sign that cannot be seen", Want: want}
		}
	}
	out := clean(text)
	if out == "" {
		return "", &Error{Fault: NoText, Text: text, Got: "nothing stands here", Want: want}
	}
	return out, nil
}

// clean replaces look-alikes, writes powers as ^2 and leaves single blanks.
func clean(text string) string {
	if plain(text) {
		return text
	}
	var b strings.Builder
	up := false
	for _, r := range alike.Replace(text) {
		if i := indexRune(raised, r); i >= 0 {
			if !up {
				b.WriteByte('^')
			}
			up = true
			b.WriteByte("-0123456789"[i])
			continue
		}
		up = false
		if unicode.IsSpace(r) {
			r = ' '
		}
		b.WriteRune(r)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// plain reports that clean would change nothing: the usual case, kept cheap.
func plain(text string) bool {
	for i := range len(text) {
		c := text[i]
		switch {
		case c >= utf8.RuneSelf, c == '+', c < ' ':
			return false
		case c == ' ' && (i == 0 || i == len(text)-1 || text[i-1] == ' '):
			return false
		}
	}
	return true
}

func indexRune(in []rune, r rune) int {
	for i, other := range in {
		if other == r {
			return i
		}
	}
	return -1
}
