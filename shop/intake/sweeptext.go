package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// MostBytes bounds a file: half a million readings of a loop are some 25 MB, so that
// ten times as much is a slip.
const MostBytes = 256 << 20

// row is one line of a file in cells.
type row struct {
	line  int
	blank bool // blank lines stand before it
	cells []string
}

// rows hands over a file row by row.
type rows func(each func(row) error) error

// decoded turns a file's bytes into UTF-8 and says from what.
func decoded(data []byte) (text []byte, from string, fault *SweepFault) {
	with := func(e encoding.Encoding, name string) ([]byte, string, *SweepFault) {
		out, err := e.NewDecoder().Bytes(data)
		if err != nil {
			return nil, name, &SweepFault{Got: "is not the " + name + " text that its first bytes say", Want: "export it again as UTF-8"}
		}
		return bytes.TrimPrefix(out, []byte("\ufeff")), name, nil
	}
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return with(unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM), "UTF-16")
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	}
	head := data[:min(len(data), 4096)]
	if zeros := bytes.Count(head, []byte{0}); zeros > 0 {
		odd := 0
		for i := 1; i < len(head); i += 2 {
			if head[i] == 0 {
				odd++
			}
		}
		switch {
		case odd > len(head)/4:
			return with(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16 without a mark")
		case zeros-odd > len(head)/4:
			return with(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16 without a mark")
		}
		return nil, "", &SweepFault{Got: "is no text and no workbook", Want: "export the sweep as CSV or XLSX"}
	}
	if utf8.Valid(data) {
		return data, "UTF-8", nil
	}
	return with(charmap.Windows1252, "Windows-1252")
}

// dialect is how a text writes rows and numbers.
type dialect struct {
	delimiter rune // 0: blanks
	decimal   byte
	unsure    bool // three digits stand behind every separator: it may part thousands
}

var delimiters = []rune{';', '\t', ',', '|', 0}

var delimiterNames = map[rune]string{';': "semicolon", '\t': "tab", ',': "comma", '|': "bar", 0: "blanks"}

// sniffed finds the dialect in which most cells of the first lines are numbers.
func sniffed(text []byte, decimal string) (dialect, bool) {
	var lines []string
	for line := range bytes.Lines(text[:min(len(text), 256<<10)]) {
		if s := strings.TrimSpace(string(line)); s != "" {
			lines = append(lines, s)
		}
		if len(lines) == 400 {
			break
		}
	}
	best, most := dialect{}, 0
	for _, delimiter := range delimiters {
		for _, point := range []byte{'.', ','} {
			if delimiter == ',' && point == ',' || decimal == "comma" && point == '.' || decimal == "point" && point == ',' {
				continue
			}
			score := 0
			for _, line := range lines {
				n, all := 0, true
				for _, cell := range cut(line, delimiter) {
					_, ok := number(cell, point)
					all = all && (ok || cell == "")
					if ok {
						n++
					}
				}
				if all && n > 1 {
					score += n * n
				}
			}
			if score > most {
				best, most = dialect{delimiter: delimiter, decimal: point}, score
			}
		}
	}
	best.unsure = decimal == "" && best.delimiter != ',' && thousands(lines, best)
	return best, most > 0
}

// thousands reports numbers that all have three digits behind their only separator
// and none before it that a number of thousands could not begin with.
func thousands(lines []string, d dialect) bool {
	some := false
	for _, line := range lines {
		for _, cell := range cut(line, d.delimiter) {
			if _, ok := number(cell, d.decimal); !ok {
				continue
			}
			whole, part, found := strings.Cut(strings.TrimLeft(cell, "+-"), string(d.decimal))
			if !found {
				continue
			}
			if len(part) != 3 || whole == "" || whole[0] == '0' || len(whole) > 3 {
				return false
			}
			some = true
		}
	}
	return some
}

// cut parts a line for sniffing, without quotes.
func cut(line string, delimiter rune) []string {
	if delimiter == 0 {
		return strings.Fields(line)
	}
	cells := strings.Split(line, string(delimiter))
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}

// number reads a cell. Separators of thousands are taken out where both signs stand
// in it.
func number(cell string, decimal byte) (float64, bool) {
	if cell == "" || len(cell) > 40 {
		return 0, false
	}
	if c := cell[0]; c != '+' && c != '-' && c != '.' && c != ',' && (c < '0' || c > '9') {
		return strip(cell, decimal)
	}
	if decimal == ',' {
		if strings.IndexByte(cell, ',') < 0 {
			if strings.IndexByte(cell, '.') >= 0 {
				return 0, false // 1.234 beside decimal commas is a thousand, or a slip
			}
		} else {
			cell = strings.Replace(strings.ReplaceAll(cell, ".", ""), ",", ".", 1)
		}
	} else if strings.IndexByte(cell, ',') >= 0 {
		if strings.IndexByte(cell, '.') < 0 {
			return 0, false
		}
		cell = strings.ReplaceAll(cell, ",", "")
	}
	for i := range len(cell) {
		if c := cell[i]; c > '9' && c != 'e' && c != 'E' {
			return 0, false // what ParseFloat takes beside decimal numbers: inf, nan, 0x1p2, 1_000
		}
	}
	v, err := strconv.ParseFloat(cell, 64)
	return v, err == nil
}

// strip reads a number behind a typographic minus.
func strip(cell string, decimal byte) (float64, bool) {
	rest, ok := strings.CutPrefix(cell, "−")
	if !ok || rest == "" || rest[0] < '0' || rest[0] > '9' {
		return 0, false
	}
	v, ok := number(rest, decimal)
	return -v, ok
}

// rows reads a text in its dialect.
func (d dialect) rows(text []byte) rows {
	if d.delimiter == 0 {
		return func(each func(row) error) error {
			n, blank := 0, false
			for line := range bytes.Lines(text) {
				n++
				cells := strings.Fields(string(line))
				if len(cells) == 0 {
					blank = true
					continue
				}
				if err := each(row{n, blank, cells}); err != nil {
					return err
				}
				blank = false
			}
			return nil
		}
	}
	return func(each func(row) error) error {
		c := csv.NewReader(bytes.NewReader(text))
		c.Comma, c.FieldsPerRecord, c.LazyQuotes, c.ReuseRecord = d.delimiter, -1, true, true
		last := 0
		for {
			cells, err := c.Read()
			if errors.Is(err, io.EOF) {
				return nil
			}
			if err != nil {
				return fmt.Errorf("a row cannot be parted: %w", err)
			}
			line, _ := c.FieldPos(0)
			some := false
			for i := range cells {
				cells[i] = strings.TrimSpace(cells[i])
				some = some || cells[i] != ""
			}
			if !some {
				continue // its line is missed below
			}
			if err := each(row{line, line > last+1, cells}); err != nil {
				return err
			}
			last = line
		}
	}
}
