package store

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// quoted is a word for a message: short, in one line.
func quoted(text string) string {
	const most = 60
	if short := cut(oneLine(text), most); short != text && len(short) < len(text) {
		return strconv.Quote(short + "…")
	}
	return strconv.Quote(text)
}

// cut shortens a text to at most so many letters.
func cut(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most])
}

// oneLine leaves no line break, no other control sign and no broken letter.
func oneLine(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToValidUTF8(text, "\uFFFD"), func(r rune) bool {
		return unicode.IsControl(r) || unicode.IsSpace(r)
	}), " ")
}

func itoa(n int) string { return strconv.Itoa(n) }
