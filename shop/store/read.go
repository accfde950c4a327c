package store

import (
	"bytes"
	"regexp"
	"strings"

	"trunnion/shop/jobfile"
)

// readFields lists the values of a job, or of a piece of one: what is not
// finished must be found again too. An error is a *Refused with the line.
func readFields(field string, text []byte) ([]jobfile.Field, error) {
	if err := wantText(field, text); err != nil {
		return nil, err
	}
	if fields := jobfile.Fields(text); len(fields) > 0 {
		return fields, nil
	}
	if _, err := jobfile.Piece(text, ""); err != nil {
		return nil, unreadable(field, text)
	}
	return nil, nil
}

// unreadable says what keeps a text from being taken apart.
func unreadable(field string, text []byte) error {
	_, faults := jobfile.ReadBytes(text, field)
	if len(faults) > 0 {
		got := faults[0].Got
		if line := faults[0].Line; line > 0 {
			got = "in line " + itoa(line) + " " + got
		}
		return &Refused{field, got, faults[0].Want}
	}
	return &Refused{field, "cannot be taken apart", "it is written in YAML or JSON"}
}

// serial finds serial numbers in a text that jobfile.Piece wrote, in which every
// word that holds signs stands in single quotes. Where a job may carry them is
// the matter of the format; wherever they are, they are found.
var serial = regexp.MustCompile(`[{ ]serials?: ('(?:[^']|'')*'|\[[^\]]*\]|[^',{}\[\]]+)|'(?:[^']|'')*'`)

var quotedWord = regexp.MustCompile(`'(?:[^']|'')*'|[^',\[\]]+`)

// serials are the serial numbers of a job.
func serials(text []byte) []string {
	if !bytes.Contains(text, []byte("serial")) {
		return nil
	}
	line, err := jobfile.Piece(text, "")
	if err != nil {
		return nil
	}
	var out []string
	for _, found := range serial.FindAllStringSubmatch(line, mostWords) {
		for _, word := range quotedWord.FindAllString(found[1], mostWords) {
			if unquoted, ok := strings.CutPrefix(word, "'"); ok {
				word = strings.ReplaceAll(strings.TrimSuffix(unquoted, "'"), "''", "'")
			}
			if word = strings.TrimSpace(word); word != "" && word != "null" {
				out = append(out, word)
			}
		}
	}
	return out
}

// mostWords bounds what one job puts into the index. Chosen.
const mostWords = 500
