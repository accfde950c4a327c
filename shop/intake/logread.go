package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"trunnion/chassis/roadtest"
)

// logHead is how much of a log is looked at before it is read.
const logHead = 64 << 10

// logColumn is one column of a log.
type logColumn struct {
	name   string
	number int // from 1
	headed bool
	unit   string // as it stands there; empty: none does
	role   string // empty: nobody said
	guess  string // what its heading may mean
	values []float64

	scale          float64 // from the file to SI, sign aside
	count          int
	low, high, sum float64 // of what stands there
	texts          int
}

// span is the range of what stands in a column.
func (c *logColumn) span() string {
	if c.count == 0 {
		return "nothing"
	}
	return plain(c.low) + " to " + plain(c.high)
}

// logReader is a log being read.
type logReader struct {
	name     string
	mapping  *LogMapping
	out      *Logged
	decimal  byte
	unsure   bool
	columns  []*logColumn
	headLine int
	above    []row // the last rows without figures
	clocked  bool  // times are written with colons
	broken   int   // rows that could not be read
	firstBad int
}

// read goes through the file once.
func (l *logReader) read(in io.Reader) error {
	buffered := bufio.NewReaderSize(in, logHead)
	head, err := buffered.Peek(logHead)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, bufio.ErrBufferFull) {
		return err
	}
	if len(bytes.TrimSpace(head)) == 0 {
		l.fault(0, "is empty", "export the log again")
		return nil
	}
	if bytes.HasPrefix(head, []byte("PAR1")) || bytes.HasPrefix(head, []byte("MDF ")) || bytes.HasPrefix(head, []byte("PK")) {
		l.fault(0, "is no text", "export the log as CSV with one row a sample")
		return nil
	}
	// The head may end within a letter or a line: what it ends with is left out of the look.
	look := head
	if len(head) == logHead {
		look = head[:max(bytes.LastIndexByte(head, '\n'), 0)]
	}
	text, from, fault := decoded(look)
	if fault != nil {
		l.fault(0, fault.Got, "export the log as CSV with one row a sample")
		return nil
	}
	d, ok := sniffedLog(text, l.mapping.Decimal)
	if !ok {
		l.fault(0, "has no rows of figures", "export the log as CSV with one row a sample")
		return nil
	}
	l.decimal, l.unsure = d.decimal, d.unsure
	if from != "UTF-8" {
		l.note("encoding", "", from)
	}
	l.note("dialect", delimiterNames[d.delimiter], map[byte]string{'.': "point", ',': "comma"}[d.decimal])
	var stream io.Reader = buffered
	if e := streamEncoding(from, head); e != nil {
		stream = e.NewDecoder().Reader(buffered)
	}
	if err := l.rows(d, stream); err != nil && !errors.Is(err, errEnough) {
		return err
	}
	if l.columns == nil && len(l.out.Faults) == 0 {
		l.fault(0, "has no rows of figures", "export the log as CSV with one row a sample")
	}
	if l.out.Rows > 0 && l.out.Rows < 16 && len(l.out.Faults) == 0 {
		l.fault(0, "has "+plain(float64(l.out.Rows))+" rows of figures", "a road test needs at least a few seconds: was the file cut off?")
	}
	if l.broken > 0 {
		l.note("rows-left-out", plain(float64(l.broken)), plain(float64(l.firstBad)))
	}
	return nil
}

// streamEncoding is how the rest of a stream is decoded.
func streamEncoding(from string, head []byte) encoding.Encoding {
	switch {
	case from == "UTF-16":
		return unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)
	case from == "UTF-16 without a mark" && len(head) > 1 && head[1] == 0:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case from == "UTF-16 without a mark":
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	case from == "Windows-1252":
		return charmap.Windows1252
	}
	return nil
}

// sniffedLog finds the dialect as for sweeps, times with colons counted as figures.
func sniffedLog(text []byte, decimal string) (dialect, bool) {
	if d, ok := sniffed(text, decimal); ok {
		return d, true
	}
	plainTimes := strings.Map(func(r rune) rune {
		if r == ':' || r == 'T' || r == 'Z' {
			return '1'
		}
		return r
	}, string(text))
	d, ok := sniffed([]byte(plainTimes), decimal)
	return d, ok
}

// rows hands each row of the stream to take.
func (l *logReader) rows(d dialect, stream io.Reader) error {
	if d.delimiter == 0 {
		s := bufio.NewScanner(stream)
		s.Buffer(nil, 1<<20)
		for n := 1; s.Scan(); n++ {
			if cells := strings.Fields(strings.TrimPrefix(s.Text(), "\ufeff")); len(cells) > 0 {
				if err := l.take(row{n, false, cells}); err != nil {
					return err
				}
			}
		}
		if err := s.Err(); err != nil {
			l.fault(0, "has a line longer than a megabyte", "export the log again, one row a sample")
		}
		return nil
	}
	c := csv.NewReader(stream)
	c.Comma, c.FieldsPerRecord, c.LazyQuotes, c.ReuseRecord = d.delimiter, -1, true, true
	for {
		cells, err := c.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.As(err, &parse):
			l.skip(parse.Line)
			continue
		case err != nil:
			return err
		}
		line, _ := c.FieldPos(0)
		some := false
		for i := range cells {
			cells[i] = strings.Trim(strings.TrimPrefix(cells[i], "\ufeff"), " \t\x00")
			some = some || cells[i] != ""
		}
		if some {
			if err := l.take(row{line, false, cells}); err != nil {
				return err
			}
		}
	}
}

func (l *logReader) skip(line int) {
	if l.broken == 0 {
		l.firstBad = line
	}
	l.broken++
}

// figure reads a cell of a log: a number, a time of day as seconds, or nothing.
func (l *logReader) figure(cell string) (v float64, ok bool) {
	if v, ok = number(cell, l.decimal); ok {
		return v, !math.IsInf(v, 0)
	}
	v, ok = clockTime(cell)
	l.clocked = l.clocked || ok
	return v, ok
}

// take reads one row.
func (l *logReader) take(r row) error {
	if l.columns == nil {
		figures, filled := 0, 0
		for _, cell := range r.cells {
			if cell != "" {
				filled++
			}
			if _, ok := l.figure(cell); ok {
				figures++
			}
		}
		if figures*2 <= filled {
			l.above = append(l.above, row{r.line, false, slices.Clone(r.cells)})
			if len(l.above) > 3 {
				l.above = l.above[1:]
			}
			return nil
		}
		if len(r.cells) > mostLogChannels {
			l.fault(r.line, "has more than 200 columns", "export fewer channels")
			return errEnough
		}
		l.head(len(r.cells))
	}
	if l.out.Rows == mostLogRows {
		l.fault(r.line, "has more than 5 million rows", "cut the log, or export it at 500 Hz")
		return errEnough
	}
	return l.reading(r)
}

// reading takes the figures of a row over.
func (l *logReader) reading(r row) error {
	some, bad := false, false
	for i, c := range l.columns {
		v := math.NaN()
		if i < len(r.cells) && r.cells[i] != "" {
			var ok bool
			if v, ok = l.figure(r.cells[i]); !ok {
				v = math.NaN()
				c.texts++
				bad = bad || c.role != roleText && !isNothing(r.cells[i])
			}
		}
		if !math.IsNaN(v) {
			some = true
			if c.count == 0 {
				c.low, c.high = v, v
			}
			c.count++
			c.low, c.high, c.sum = min(c.low, v), max(c.high, v), c.sum+v
		}
		if c.role != "" && c.role != roleIgnored && c.role != roleText {
			c.values = append(c.values, v)
		}
	}
	if bad {
		l.words(r)
	}
	if !some {
		for _, c := range l.columns {
			if len(c.values) > l.out.Rows {
				c.values = c.values[:l.out.Rows]
			}
		}
		return nil
	}
	l.out.Rows++
	return nil
}

// isNothing reports ways in which loggers write that there is no value.
func isNothing(cell string) bool {
	switch strings.ToLower(cell) {
	case "nan", "null", "none", "n/a", "na", "-", "--", "inf", "-inf", "#n/a":
		return true
	}
	return false
}

// words keeps what was written into a log, at the time of the row before it.
func (l *logReader) words(r row) {
	var text []string
	for _, cell := range r.cells {
		if _, ok := l.figure(cell); !ok && cell != "" && !isNothing(cell) {
			text = append(text, cell)
		}
	}
	if len(text) == 0 || len(l.out.Log.Events) >= 1000 {
		return
	}
	l.out.Log.Events = append(l.out.Log.Events, roadtest.Event{Time: float64(l.out.Rows), Text: clip(strings.Join(text, " "))})
}

// head makes the columns of what stands above the first row of figures.
func (l *logReader) head(n int) {
	var names, units []string
	for i := len(l.above) - 1; i >= 0; i-- {
		cells := l.above[i].cells
		if len(cells) < 2 && n > 1 || len(cells) > n+1 {
			continue
		}
		if units == nil && allUnits(cells) && i > 0 {
			units = cells
			continue
		}
		names, l.headLine = cells, l.above[i].line
		break
	}
	l.above = nil
	for i := range n {
		c := &logColumn{number: i + 1}
		if i < len(names) && names[i] != "" && utf8.ValidString(names[i]) {
			c.name, c.unit = headedLog(names[i])
			c.headed = true
		}
		if c.name == "" {
			c.name = "column " + plain(float64(i+1))
		}
		if i < len(units) && units[i] != "" {
			c.unit = strings.Trim(units[i], "[](){} ")
		}
		c.role, c.guess = logRole(c.name, c.headed)
		if said := answered(l.mapping.Roles, c); said != "" {
			c.role, c.guess = said, ""
			if !slices.Contains(LogRoles, said) {
				l.fault(l.headLine, "cannot be read with the role "+cutShort(said)+" of "+c.name, "a role is one of "+strings.Join(LogRoles, ", "))
			}
		} else if c.role != "" && c.role != roleIgnored {
			l.note("role", c.name, c.role)
		}
		l.columns = append(l.columns, c)
	}
}

// allUnits reports a row of units: every cell is one, or empty, or names none.
func allUnits(cells []string) bool {
	some := false
	for _, cell := range cells {
		text := strings.Trim(cell, "[](){} ")
		if text == "" || text == "-" || text == "—" {
			continue
		}
		if !isLogUnit(text) {
			return false
		}
		some = true
	}
	return some
}

func (l *logReader) fault(line int, got, want string) {
	l.out.Faults = append(l.out.Faults, SweepFault{File: l.name, Line: line, Got: got, Want: want})
}

func (l *logReader) note(code, about, value string) {
	l.out.Assumptions = append(l.out.Assumptions, SweepAssumption{Code: code, About: about, Value: value, File: l.name})
}

func (l *logReader) ask(q LogQuestion) { l.out.Questions = append(l.out.Questions, q) }

// answered looks a channel's answer up by its heading, or by its number.
func answered(list map[string]string, c *logColumn) string {
	for key, v := range list {
		if strings.EqualFold(strings.TrimSpace(key), c.name) {
			return v
		}
	}
	return list[strconv.Itoa(c.number)]
}

// sign is what was said to be positive; a channel's own answer goes first.
func (l *logReader) sign(about string, c *logColumn) string {
	if c != nil {
		if s := answered(l.mapping.Signs, c); s != "" {
			return s
		}
	}
	return l.mapping.Signs[about]
}

// spans are the ranges of the channels of a role.
func (l *logReader) spans(role roadtest.Role) string {
	var out []string
	for _, c := range l.columns {
		if r, _ := splitRole(c.role); r == role && c.count > 0 {
			out = append(out, c.name+" "+c.span())
		}
	}
	return strings.Join(out, ", ")
}
