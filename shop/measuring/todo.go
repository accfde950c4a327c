package measuring

import (
	"slices"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// Todo is what one card still lacks, as it is written down by hand.
type Todo struct {
	Card
	Unit    string   // of all its values; empty where they differ
	Columns []string // what stands over the boxes of a row
	Rows    []TodoRow
	Tables  []TodoTable
}

// TodoRow is a row of boxes; a box that holds what was typed is not written in.
type TodoRow struct {
	Label string
	Unit  string // of this row, where rows differ
	Typed []string
}

// TodoTable is an empty table for readings one below the other.
type TodoTable struct {
	Title   string
	Columns []string
}

// repeats is how often a reading of a wheel is taken. Common practice, no source.
var repeats = []string{"1st", "2nd", "3rd"}

// rowsAtMost keeps a card to what is read in one go. Chosen.
const rowsAtMost = 6

// onTheBench is what is read of a part by ruler, calliper and press. Common practice, no
// source.
var onTheBench = map[string][]string{
	"spring": {"rate", "free", "block", "wire", "mean_diameter", "active_coils"},
	"damper": {"open", "closed", "rod_showing_open", "rod", "body", "piston"},
	"stop":   {"length"},
}

// ToMeasure is what a job still lacks of what is read at the car, in the order of work: on
// the scales, with the tape, on the lift, and the parts that were fitted, on the bench.
func ToMeasure(text []byte, system quantity.System) []Todo {
	typed := map[string]string{}
	fields := jobfile.Fields(text)
	for i := range fields {
		typed[fields[i].Path] = fields[i].Typed
	}
	var out []Todo
	cards := Cards(system)
	for _, group := range []string{"scales", "tape", "lift", "bench"} {
		for i := range cards {
			c := &cards[i]
			if c.Group != group || c.Tool == "" {
				continue
			}
			var one Todo
			switch {
			case c.Page == "car":
				one = ofCar(c, typed)
			case len(onTheBench[c.ID]) > 0:
				one = ofParts(c, typed)
			}
			if len(one.Rows)+len(one.Tables) > 0 {
				out = append(out, one)
			}
		}
	}
	return out
}

// inTables reports whether a field is a column of a table of its card.
func inTables(c *Card, path string) bool {
	return slices.ContainsFunc(c.Tables, func(columns []string) bool { return slices.Contains(columns, path) })
}

func ofCar(c *Card, typed map[string]string) Todo {
	out := Todo{Card: *c}
	var corner []*Field
	var paired, single []*Field
	for i := range c.Fields {
		f := &c.Fields[i]
		switch at, _, _ := cutEnd(f.Path); {
		case strings.ContainsAny(f.Path, "*["), inTables(c, f.Path), f.Form == "row", f.Form == "id", f.Form == "band":
		case slices.Contains(corners, at):
			corner = append(corner, f)
		case sideOf(f.Label) != "":
			paired = append(paired, f)
		default:
			single = append(single, f)
		}
	}
	switch {
	case len(corner) > 0:
		out.Columns = repeats
		out.rows(corner, typed)
	case len(paired) > 0:
		out.Columns = []string{"front", "rear"}
		out.pairs(paired, typed)
		for _, f := range single {
			out.row(f.Label, f, typed[f.Path])
		}
	default:
		out.Columns = []string{"reading"}
		out.rows(single, typed)
	}
	for _, columns := range c.Tables {
		// Both sides of an axle are read as one; who reads them apart types them on the page.
		if strings.ContainsAny(columns[0], "*[") || typed[columns[0]] != "" || len(columns) < 2 || strings.Contains(columns[0], ".left") || strings.Contains(columns[0], ".right") {
			continue
		}
		var t TodoTable
		for _, path := range columns[:min(3, len(columns))] {
			for i := range c.Fields {
				if c.Fields[i].Path == path {
					t.Columns = append(t.Columns, firstWord(c.Fields[i].Label))
					t.Title = sideOf(c.Fields[i].Label)
				}
			}
		}
		out.Tables = append(out.Tables, t)
	}
	return out.lacking()
}

// ofParts asks for the parts that were on the car when it was weighed, of both axles.
func ofParts(c *Card, typed map[string]string) Todo {
	out := Todo{Card: *c, Columns: []string{"front", "rear"}}
	build := typed["car.weighed.build"]
	if build == "" {
		return out
	}
	for i := range c.Fields {
		f := &c.Fields[i]
		key := strings.SplitN(f.Path, ".", 4)
		if len(key) < 4 || !slices.Contains(onTheBench[c.ID], key[3]) {
			continue
		}
		row := TodoRow{Label: f.Label, Unit: f.Unit}
		for _, axle := range []string{"front", "rear"} {
			at := "builds." + build + "." + axle + "." + c.ID
			value := typed[at+"."+key[3]]
			if id := typed[at]; id != "" && value == "" {
				value = typed["parts."+key[1]+"."+id+"."+key[3]]
			}
			row.Typed = append(row.Typed, value)
		}
		out.Rows = append(out.Rows, row)
	}
	return out.lacking()
}

func (t *Todo) rows(fields []*Field, typed map[string]string) {
	for _, f := range fields {
		t.row(f.Label, f, typed[f.Path])
	}
}

func (t *Todo) row(label string, f *Field, typed string) {
	t.Rows = append(t.Rows, TodoRow{Label: label, Unit: f.Unit, Typed: []string{typed}})
}

// pairs puts what is read at both axles into one row.
func (t *Todo) pairs(fields []*Field, typed map[string]string) {
	for _, f := range fields {
		label := strings.TrimSuffix(strings.TrimSuffix(f.Label, ", rear"), ", front")
		if n := len(t.Rows); n > 0 && t.Rows[n-1].Label == label && sideOf(f.Label) == "rear" {
			t.Rows[n-1].Typed[1] = typed[f.Path]
			continue
		}
		t.Rows = append(t.Rows, TodoRow{Label: label, Unit: f.Unit, Typed: []string{typed[f.Path], ""}})
	}
}

// lacking leaves out a card on which everything was typed, and says a unit once.
func (t Todo) lacking() Todo {
	empty := func(r TodoRow) bool { return slices.Contains(r.Typed, "") }
	if !slices.ContainsFunc(t.Rows, empty) {
		t.Rows = nil
	}
	// What was typed stands with its neighbours at the wheels; elsewhere it only takes room.
	if len(t.Columns) != len(repeats) {
		t.Rows = slices.DeleteFunc(t.Rows, func(r TodoRow) bool { return !empty(r) })
	}
	t.Rows = t.Rows[:min(rowsAtMost, len(t.Rows))]
	for i, r := range t.Rows {
		if i == 0 {
			t.Unit = r.Unit
		} else if r.Unit != t.Unit {
			t.Unit = ""
			break
		}
	}
	if t.Unit != "" {
		for i := range t.Rows {
			t.Rows[i].Unit = ""
		}
	}
	return t
}

func cutEnd(path string) (last, head string, found bool) {
	i := strings.LastIndexByte(path, '.')
	if i < 0 {
		return path, "", false
	}
	return path[i+1:], path[:i], true
}

func sideOf(label string) string {
	for _, side := range []string{"front", "rear"} {
		if strings.HasSuffix(label, ", "+side) {
			return side
		}
	}
	return ""
}

func firstWord(label string) string {
	word, _, _ := strings.Cut(label, ",")
	return word
}
