package intake

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"trunnion/shop/quantity"
)

// block is rows under one heading, as they stand in the file.
type block struct {
	file    string
	line    int // of the first row
	columns []sweepColumn
	data    [][]float64 // by column; NaN where a cell is empty
	lines   []int       // of each row
	about   said
}

// said is what stands above a block.
type said struct {
	damper  string
	click   map[string]int // by role: click, bump-click, rebound-click
	counted string         // closed, open
	clicks  map[string]int // from closed to open, by role
	kind    string         // gas, slow
	temp    string         // with its unit
	freq    string
	gas     string
}

func (s said) clone() said {
	click, clicks := map[string]int{}, map[string]int{}
	for k, v := range s.click {
		click[k] = v
	}
	for k, v := range s.clicks {
		clicks[k] = v
	}
	s.click, s.clicks = click, clicks
	return s
}

// blocks is a file being taken apart.
type blocks struct {
	file    string
	mapping *SweepMapping
	decimal byte

	list     []*block
	now      *block
	columns  []sweepColumn
	about    said
	fresh    bool // what stands above has changed since the last row
	awaits   bool // a row of units may follow
	faults   []SweepFault
	notes    []SweepAssumption
	values   []float64 // of the row at hand; NaN where a cell holds no number
	untitled bool
}

const mostFaults = 20

// errEnough ends a file with too many faults.
var errEnough = errors.New("too many faults")

func (b *blocks) note(code, about, value string, line int) {
	for _, n := range b.notes {
		if n.Code == code && n.About == about && n.Value == value {
			return
		}
	}
	b.notes = append(b.notes, SweepAssumption{code, about, value, b.file, line})
}

func (b *blocks) fault(line int, got, want string) error {
	b.faults = append(b.faults, SweepFault{b.file, line, got, want})
	if len(b.faults) >= mostFaults {
		return errEnough
	}
	return nil
}

// mostRows bounds the rows of one file.
const mostRows = 5_000_000

// take reads one row.
func (b *blocks) take(r row) error {
	numbers, texts := 0, 0
	b.values = b.values[:0]
	for _, cell := range r.cells {
		v, ok := number(cell, b.decimal)
		if !ok {
			v = math.NaN()
		}
		b.values = append(b.values, v)
		switch {
		case cell == "":
		case ok:
			numbers++
		default:
			texts++
		}
	}
	if r.blank && b.now != nil {
		b.now, b.fresh = nil, true
	}
	switch {
	case numbers > 0 && texts == 0 && (b.columns != nil || numbers > 1):
		return b.reading(r)
	case numbers == 0 && b.heading(r):
		return nil
	case numbers == 0 && b.awaits && b.unitRow(r):
		return nil
	case summary(r.cells[0]) && numbers > 0:
		b.note("summary-left-out", "", clip(r.cells[0]), r.line)
		return nil
	case b.columns != nil && !math.IsNaN(b.values[0]), b.now != nil && numbers > 1 && numbers+texts == len(b.columns):
		for i, cell := range r.cells {
			if _, ok := number(cell, b.decimal); !ok && cell != "" && i < len(b.columns) && b.columns[i].role != "" && b.columns[i].role != roleIgnored {
				return b.fault(r.line, fmt.Sprintf("%s is %q", b.columns[i].name, clip(cell)), "a number with the file's decimal sign; take the row out or export it again")
			}
		}
		return b.reading(r)
	}
	b.now, b.awaits = nil, false
	b.title(r)
	return nil
}

var summaries = regexp.MustCompile(`(?i)^(max|min|mean|average|avg|total|summary|peak|sum|std|rms)\b`)

// summary reports a row that sums up those above it; the total of clicks is none.
func summary(cell string) bool {
	return summaries.MatchString(cell) && !has(letters.FindAllString(strings.ToLower(cell), -1), clickWords)
}

// heading takes a row of at least two known columns for the heading of what follows.
func (b *blocks) heading(r row) bool {
	columns := make([]sweepColumn, len(r.cells))
	known := 0
	var roles [2]bool
	for i, cell := range r.cells {
		name, unit := headed(cell)
		role := roleOf(name)
		if given := b.mapping.Columns[name]; given != "" {
			role = given
		} else if given := b.mapping.Columns[strings.ToLower(name)]; given != "" {
			role = given
		}
		columns[i] = sweepColumn{name, role, unit}
		if role != "" {
			known++
			switch role {
			case roleForce, roleBump, roleRebound:
				roles[0] = true
			case roleVelocity, rolePosition:
				roles[1] = true
			}
		}
	}
	if known < 2 || !roles[0] && !roles[1] {
		return false
	}
	seen := map[string]string{}
	for i, c := range columns {
		if was, twice := seen[c.role]; twice && c.role != "" && c.role != roleIgnored {
			if c.role == roleTime || kindOf[c.role] != quantity.Force && c.role != roleVelocity && c.role != rolePosition {
				columns[i].role = ""
				continue
			}
			if len(b.faults) < mostFaults {
				_ = b.fault(r.line, fmt.Sprintf("%q and %q are both %s", clip(was), clip(c.name), c.role), "one setting under a heading; --column '"+clip(c.name)+"=ignore' leaves one out")
			}
			columns[i].role = ""
			continue
		}
		seen[c.role] = c.name
	}
	for _, c := range columns {
		if c.role == "" && c.name != "" {
			b.note("column-left-out", clip(c.name), "", r.line)
		}
	}
	b.columns, b.now, b.awaits, b.fresh = columns, nil, true, true
	return true
}

// unitRow takes a row of units under a heading.
func (b *blocks) unitRow(r row) bool {
	// One that is known makes the row one of units; those that are not are asked for.
	if !slices.ContainsFunc(r.cells, func(cell string) bool { return isUnit(strings.Trim(cell, "[](){} ")) }) {
		return false
	}
	for i, cell := range r.cells {
		cell = strings.Trim(cell, "[](){} ")
		if i < len(b.columns) && isUnit(cell) {
			b.columns[i].unit = cell
		}
	}
	b.awaits = false
	return true
}

// reading takes a row of numbers.
func (b *blocks) reading(r row) error {
	if b.columns == nil {
		b.untitled = true
		for i := range r.cells {
			c := sweepColumn{name: "column " + strconv.Itoa(i+1)}
			c.role = b.mapping.Columns[strconv.Itoa(i+1)]
			b.columns = append(b.columns, c)
		}
	}
	if b.now == nil || b.fresh {
		b.now = &block{file: b.file, line: r.line, columns: b.columns, data: make([][]float64, len(b.columns)), about: b.about.clone()}
		b.list = append(b.list, b.now)
		b.fresh = false
	}
	b.awaits = false
	if len(b.now.lines) == mostRows {
		return fmt.Errorf("more than %d rows under one heading", mostRows)
	}
	last := 0
	for i, c := range b.columns {
		if c.role != "" && c.role != roleIgnored {
			last = i
		}
	}
	if len(r.cells) <= last {
		return b.fault(r.line, fmt.Sprintf("has %d of %d columns: the row is cut short", len(r.cells), len(b.columns)), "export it again, or take the row out")
	}
	for i, c := range b.columns {
		if i < len(r.cells) && r.cells[i] == "" && (c.role == roleForce || c.role == roleVelocity || c.role == rolePosition) {
			return b.fault(r.line, c.name+" is empty", "enter a number, or take the row out; in a workbook, compute it and save again")
		}
	}
	for i := range b.columns {
		v := math.NaN()
		if i < len(b.values) {
			v = b.values[i]
		}
		b.now.data[i] = append(b.now.data[i], v)
	}
	b.now.lines = append(b.now.lines, r.line)
	return nil
}

var (
	inTitle = regexp.MustCompile(`(?i)\b(?:(bump|comp|compression|rebound|reb|extension)[ _-]*)?clicks?[ _:=#-]*(\d{1,3})\b`)
	inName  = regexp.MustCompile(`(?i)(?:^|[^a-z])(?:(bump|comp|compression|rebound|reb|extension)[ _-]*)?(?:clicks?|clk)[ _=#-]*(\d{1,3})(?:[^0-9]|$)`)
)

// title reads a line above a block: a key with its value, or words.
func (b *blocks) title(r row) {
	b.fresh = true
	key, value := strings.TrimLeft(r.cells[0], "#/% "), ""
	for _, cell := range r.cells[1:] {
		if cell != "" {
			value = strings.TrimSpace(value + " " + cell)
		}
	}
	if value == "" {
		for _, sign := range []string{":", "="} {
			if k, v, found := strings.Cut(key, sign); found {
				key, value = k, strings.TrimSpace(v)
				break
			}
		}
	}
	name, unit := headed(key)
	words := letters.FindAllString(strings.ToLower(name), -1)
	all := letters.FindAllString(strings.ToLower(key+" "+value), -1)
	switch {
	case has(words, []string{"total", "range"}) && has(words, clickWords):
		if n, ok := count(value); ok {
			b.about.clicks[clickRole(words)] = n
		}
	case has(words, clickWords):
		b.from(all)
		if n, ok := count(value); ok {
			b.about.click = b.without(clickRole(words))
			b.about.click[clickRole(words)] = n
		} else if m := inTitle.FindAllStringSubmatch(key+" "+value, -1); m != nil {
			b.clicked(m)
		}
	case value == "" && (has(all, []string{"gas", "static"}) || has(all, []string{"slow", "friction"})) || has(words, []string{"test", "type", "kind"}) && len(words) < 3:
		b.about.kind = ""
		switch {
		case has(all, []string{"gas", "static"}):
			b.about.kind = "gas"
		case has(all, []string{"slow", "friction", "seal"}):
			b.about.kind = "slow"
		}
	case has(words, []string{"temperature", "temp"}):
		b.about.temp = withUnit(value, unit)
	case has(words, []string{"frequency", "rpm", "freq"}):
		if unit == "" && has(words, []string{"rpm"}) {
			unit = "rpm"
		}
		b.about.freq = withUnit(value, unit)
	case has(words, []string{"gas"}) && has(words, []string{"force"}):
		b.about.gas = withUnit(value, unit)
	case has(words, []string{"damper", "serial", "shock", "unit"}) && value != "":
		if b.about.damper != "" && has(words, []string{"serial"}) {
			return
		}
		b.about.damper = value
	default:
		if m := inTitle.FindAllStringSubmatch(key+" "+value, -1); m != nil {
			b.from(all)
			b.clicked(m)
		}
	}
}

// from reads which end clicks are counted from.
func (b *blocks) from(words []string) {
	for i, w := range words {
		if w != "from" && w != "out" && w != "counted" {
			continue
		}
		for _, next := range words[i+1:] {
			switch next {
			case "closed", "hard", "firm", "stiff":
				b.about.counted = "closed"
			case "open", "soft":
				b.about.counted = "open"
			}
		}
	}
}

// without is the clicks so far, but for those that one of another kind replaces.
func (b *blocks) without(role string) map[string]int {
	out := map[string]int{}
	for k, v := range b.about.click {
		if (k == roleClick) == (role == roleClick) {
			out[k] = v
		}
	}
	return out
}

func (b *blocks) clicked(found [][]string) {
	for _, m := range found {
		n, _ := strconv.Atoi(m[2])
		role := clickRole([]string{strings.ToLower(m[1])})
		b.about.click = b.without(role)
		b.about.click[role] = n
	}
}

func clickRole(words []string) string {
	switch {
	case has(words, bumpWords):
		return roleBumpClick
	case has(words, reboundWord):
		return roleReboundClick
	}
	return roleClick
}

var firstCount = regexp.MustCompile(`^\d{1,3}\b`)

func count(text string) (int, bool) {
	n, err := strconv.Atoi(firstCount.FindString(text))
	return n, err == nil
}

// withUnit puts a unit behind a value that has none.
func withUnit(value, unit string) string {
	if unit == "" || strings.IndexFunc(value, func(r rune) bool { return r > '9' }) >= 0 {
		return value
	}
	return strings.TrimSpace(value + " " + unit)
}

// clip keeps a piece of a file short in a message.
func clip(text string) string { return cutShort(strings.ToValidUTF8(text, "?")) }

// quantityOf reads a value that stands above a block, decimal comma or point.
func quantityOf(text string, kind quantity.Kind) (float64, bool) {
	v, err := quantity.Parse(strings.Replace(text, ",", ".", 1), kind)
	return v.Value, err == nil
}

// fileSays reads what a file's own name says of the click.
func (b *blocks) fileSays() {
	base := strings.TrimSuffix(filepath.Base(b.file), filepath.Ext(b.file))
	if m := inName.FindAllStringSubmatch(base, -1); m != nil {
		b.clicked(m)
		b.note("click-from-name", "", base, 0)
	}
}
