package intake

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"trunnion/shop/quantity"
)

// partWords are headings by which makers call what a part has, beside the keys
// themselves: common practice, no source. In lower case, single blanks between words.
var partWords = map[string][]string{
	columnNumber:    {"part number", "part no", "part", "article", "article number", "article no", "item", "item number", "sku", "code", "order number", "order no", "no", "id number", "reference"},
	columnName:      {"name", "description", "designation", "title"},
	columnStock:     {"stock", "in stock", "available", "availability", "delivery", "lead time"},
	"rate":          {"spring rate", "stiffness", "spring stiffness", "k", "c"},
	"free":          {"free length", "l0", "lf", "unloaded length", "length", "free height"},
	"block":         {"block length", "solid length", "solid height", "bind", "coil bind", "bind length", "coil bind length", "blocked length"},
	"inside":        {"inside diameter", "inner diameter", "id", "i d", "inner", "bore"},
	"wire":          {"wire diameter", "wire thickness"},
	"mean_diameter": {"mean diameter", "mean coil diameter"},
	"active_coils":  {"active coils", "working coils", "coils"},
	"price":         {"price", "net price", "list price", "unit price", "cost", "each"},
	"open":          {"open length", "extended length", "length open", "extended"},
	"closed":        {"closed length", "compressed length", "length closed", "collapsed length", "compressed"},
	"rod":           {"rod diameter", "shaft diameter"},
	"body":          {"body diameter", "tube diameter", "outer diameter"},
	"piston":        {"piston diameter"},
	"serial":        {"serial number", "serial no"},
	"clicks":        {"clicks", "number of clicks"},
	"offset":        {"et", "offset"},
	"mass":          {"weight"},
	"diameter":      {"rim diameter", "outer diameter"},
	"width":         {"rim width"},
	"section":       {"section width"},
	"type":          {"kind"},
}

// listRows are the rows of a list: of a text whose delimiter parts most lines alike, or of
// the sheet of a workbook with the most rows.
func listRows(data []byte) ([]row, *SweepFault) {
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &SweepFault{Got: "is empty", Want: "choose the file with the parts in it"}
	}
	keep := func(read rows) ([]row, error) {
		var out []row
		err := read(func(one row) error {
			one.cells = slices.Clone(one.cells) // the reader uses its row again
			out = append(out, one)
			if len(out) > 4*mostListParts {
				return errListLong
			}
			return nil
		})
		return out, err
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		b, fault := opened(data)
		if fault != nil {
			return nil, fault
		}
		defer b.file.Close() //nolint:errcheck // it was only read
		var best []row
		for _, sheet := range b.file.GetSheetList() {
			list, err := keep(b.rows(sheet))
			if err == nil && len(list) > len(best) {
				best = list
			}
		}
		if len(best) == 0 {
			return nil, &SweepFault{Got: "is a workbook without a row that can be read", Want: "save the list as CSV"}
		}
		return best, nil
	}
	text, _, fault := decoded(data)
	if fault != nil {
		fault.Want = "export the list as CSV or XLSX"
		return nil, fault
	}
	list, err := keep(dialect{delimiter: listDelimiter(text), decimal: '.'}.rows(text))
	switch {
	case errors.Is(err, errListLong):
		return nil, &SweepFault{Got: "has more than 8,000 rows", Want: "take the list in parts of 2,000"}
	case err != nil:
		return nil, &SweepFault{Got: "cannot be parted into columns", Want: "export it again as CSV, or as XLSX"}
	}
	return list, nil
}

var errListLong = errors.New("intake: a list is too long")

// listDelimiter is the sign that parts the most lines into one number of columns, of at
// least two.
func listDelimiter(text []byte) rune {
	best, most := ',', 0
	for _, d := range []rune{';', '\t', ',', '|'} {
		count := map[int]int{}
		n := 0
		for line := range bytes.Lines(text) {
			if k := bytes.Count(line, []byte(string(d))); k > 0 {
				count[k]++
			}
			if n++; n == 400 {
				break
			}
		}
		for k, lines := range count {
			// More columns win where as many lines have them; a decimal comma parts few alike.
			if score := 8*lines + k; lines > 0 && score > most {
				best, most = d, score
			}
		}
	}
	return best
}

// head finds the row of headings and says what the columns hold; −1 where a list without
// headings is mapped by number, −2 where it is asked.
func (r *partReader) head(table []row) int {
	best, most := -1, 0
	for i := range table[:min(len(table), 30)] {
		n := 0
		for _, cell := range table[i].cells {
			if role, _ := r.headed(cell); role != "" {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	if most < 2 {
		best = -1
		if len(table) == 0 {
			r.fault(0, "has no row", "choose the file with the parts in it")
			return -2
		}
	}
	first := table[max(best, 0)]
	used := map[string]bool{}
	for i, cell := range first.cells {
		c := partColumn{heading: strings.TrimSpace(cell)}
		if best >= 0 {
			c.role, c.unit = r.headed(cell)
		} else {
			c.heading = "column " + strconv.Itoa(i+1)
		}
		if role, ok := r.m.Columns[strconv.Itoa(i+1)]; ok {
			c.role = role
		}
		if role, ok := r.m.Columns[c.heading]; ok {
			c.role = role
		}
		if c.role != "" && c.role != roleIgnored && used[c.role] {
			c.role = "" // the second of two
		}
		used[c.role] = true
		r.columns = append(r.columns, c)
	}
	figures := 0
	for _, c := range r.columns {
		switch {
		case c.role == "" && c.heading != "":
			r.assumed("not-read", "", c.heading, first.line)
		case c.role != "" && c.role != roleIgnored:
			r.assumed("column", c.role, c.heading, first.line)
			if _, ok := r.keys[c.role]; ok {
				figures++
			}
		}
	}
	if figures == 0 {
		r.out.Assumptions = nil
		cells := make([]string, 0, len(first.cells))
		for _, c := range first.cells[:min(len(first.cells), 20)] {
			cells = append(cells, cutShort(c))
		}
		r.out.Questions = append(r.out.Questions, SweepQuestion{Code: "columns", File: r.file.Name, Line: first.line, Choices: PartRoles(r.m.Kind), Seen: strings.Join(cells, " | ")})
		return -2
	}
	return best
}

var notWord = regexp.MustCompile(`[^a-z0-9]+`)

// headed is what a heading says its column holds, and the unit it names.
func (r *partReader) headed(cell string) (role, unit string) {
	cell = strings.TrimSpace(strings.Trim(cell, `"'`))
	name := cell
	if m := bracketedUnit.FindStringSubmatch(cell); m != nil && m[1] != "" {
		name, unit = m[1], m[2]
	}
	if role = r.roleOf(name); role == "" || unit == "" {
		for _, sign := range []string{",", " ", "_", "/"} {
			i := strings.LastIndex(name, sign)
			if i <= 0 || unit != "" {
				continue
			}
			last := strings.TrimSpace(name[i+len(sign):])
			if as := r.roleOf(name[:i]); as != "" && r.fits(as, last) {
				return as, last
			}
		}
	}
	if unit != "" && !r.fits(role, unit) {
		unit = ""
	}
	return role, unit
}

func (r *partReader) roleOf(name string) string {
	plain := strings.TrimSpace(notWord.ReplaceAllString(strings.ToLower(name), " "))
	for _, role := range PartRoles(r.m.Kind) {
		if role != roleIgnored && (plain == strings.ReplaceAll(role, "_", " ") || slices.Contains(partWords[role], plain)) {
			return role
		}
	}
	return ""
}

// fits reports a unit, or a currency, that a column of a role may have.
func (r *partReader) fits(role, unit string) bool {
	k, ok := r.keys[role]
	if !ok || !k.Figure || unit == "" {
		return false
	}
	if k.Kind == quantity.Price {
		return currencyOf(unit) != ""
	}
	_, err := quantity.Find(unit, k.Kind)
	return err == nil
}

// currencyOf is the code of a currency by its code or a sign that only one has.
func currencyOf(text string) string {
	switch text {
	case "€":
		return "EUR"
	case "£":
		return "GBP"
	}
	if len(text) == 3 && strings.ToUpper(text) == text && strings.IndexFunc(text, func(c rune) bool { return c < 'A' || c > 'Z' }) < 0 {
		return text
	}
	return ""
}
