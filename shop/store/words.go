package store

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// fold makes two spellings of a word the same: case, accents and the number of
// blanks do not count.
func fold(text string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(text)) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteRune(r)
		}
	}
	return strings.Join(strings.Fields(strings.ToLower(b.String())), " ")
}

// compact leaves letters and digits only: a plate or a serial number is typed
// with blanks and dashes or without.
func compact(folded string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, folded)
}

// Bounds on what is kept: far above what the trade needs, low enough that
// nobody fills the disk by one request. Chosen.
const (
	mostName = 120       // letters of a name
	mostWhy  = 1000      // letters of a reason or note
	mostText = 2 << 20   // bytes of a job, a part or readings
	mostID   = 64        // letters of an id
	mostRun  = 256 << 20 // bytes of an answer
)

// wantName refuses a name that is empty, too long, or holds line breaks.
func wantName(field, text string) error {
	if strings.TrimSpace(text) == "" {
		return &Refused{field, "is empty", "enter a name"}
	}
	return wantLine(field, text, mostName)
}

// wantLine refuses what is no single line of text; it may be empty.
func wantLine(field, text string, most int) error {
	switch {
	case !utf8.ValidString(text):
		return &Refused{field, "is not text in UTF-8", "it must be"}
	case utf8.RuneCountInString(text) > most:
		return &Refused{field, "has " + strconv.Itoa(utf8.RuneCountInString(text)) + " letters", "at most " + strconv.Itoa(most) + " are kept"}
	case strings.ContainsFunc(text, unicode.IsControl):
		return &Refused{field, "holds a line break or another control sign", "it is one line of text"}
	}
	return nil
}

// wantText refuses what is no text at all; it may have many lines.
func wantText(field string, text []byte) error {
	switch {
	case len(text) > mostText:
		return &Refused{field, "has " + strconv.Itoa(len(text)) + " bytes", "at most " + strconv.Itoa(mostText) + " are kept"}
	case !utf8.Valid(text):
		return &Refused{field, "is not text in UTF-8", "save it as UTF-8"}
	case strings.ContainsRune(string(text), 0):
		return &Refused{field, "is a binary file", "enter text"}
	}
	return nil
}

// wantID refuses an id that could be mistaken for anything else in an address
// or a file name.
func wantID(field, id string) error {
	ok := id != "" && len(id) <= mostID && id[0] != '-' && id[0] != '_'
	for _, r := range id {
		ok = ok && (r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_')
	}
	if !ok {
		return &Refused{field, "is " + quoted(id), "an id is 1 to 64 letters, digits, - and _, and starts with a letter or digit"}
	}
	return nil
}
