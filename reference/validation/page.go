package validation

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"trunnion/chassis/figure"
)

// Read reads what tests wrote, a line each; a test that ran twice counts once, with
// its last record.
func Read(r io.Reader) (map[string]Record, error) {
	out := map[string]Record{}
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		var one Record
		if err := json.Unmarshal(lines.Bytes(), &one); err != nil {
			return nil, err
		}
		out[one.Test] = one
	}
	return out, lines.Err()
}

// Page is the whole of docs/validation.md.
func Page(subjects []Subject, found map[string]Record, practices []Practised) string {
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	put("# What the models are held against\n\nWritten by `make validation` from the tests themselves.\n\n")
	count, values := map[Kind]int{}, 0
	for _, s := range subjects {
		count[s.Kind]++
		values += found[s.Test].Values
	}
	put("%d models, %d values compared. Each line is a test; it fails when a value is further off than is allowed.\n\n", len(subjects), values)
	put("**Nobody has held a whole prediction of this program against a car on the road.** A model may be computed without a fault and still not be your car: the inputs and their bands decide that.\n\n")
	put("*Worst* is the comparison that used most of what was allowed: how far the value was off, of what was wanted, in its own unit; *allowed* is how far it might have been. 0 is the same to the last bit.\n")
	for _, kind := range []Kind{Printed, Engine, Derived, Practice} {
		if count[kind] == 0 {
			continue
		}
		put("\n## %s\n\n%s\n\n| Model | Held against | Values | Worst | Allowed | Test |\n| --- | --- | ---: | ---: | ---: | --- |\n", heading[kind], meaning[kind])
		for _, s := range subjects {
			if s.Kind != kind {
				continue
			}
			r := found[s.Test]
			put("| %s | %s | %d | %s | %s | `%s` %s |\n", s.Model, s.Source, r.Values, r.Worst.text(), digits(r.Worst.Allowed), s.Package, s.Test)
		}
	}
	put("\n## Other engines beside the program\n\nBuilt from the system's packages, run by hand; the tables stand in `docs/bench`.\n\n")
	put("- `make peers`: the ride engine's equations solved by general solvers.\n- `make multibody`: linkages and the seven-degree car built again from bodies and joints in a general multibody engine.\n")
	put("\n## Looked for and not found\n\n- Swing of car and trailer: a published pair with all its figures (both masses and yaw inertias, lengths, cornering stiffnesses) and the damping or critical speed that belongs to them. In what could be searched here publications stand as abstracts or without the tables, so the model is held against two bodies with a pin, built apart, and against nothing printed.\n")
	held := map[string]bool{}
	for _, s := range subjects {
		for _, c := range s.Codes {
			held[c] = true
		}
	}
	var bare []string
	for _, e := range figure.Register() {
		if !held[e.Code] {
			bare = append(bare, "`"+e.Code+"`")
		}
	}
	put("\n## Results that nothing outside has checked yet\n\n%d of the %d results of the register are named by no test above. What they are made of may be; they themselves are held by properties, hand-made examples and golden files only:\n\n%s\n", len(bare), len(figure.Register()), strings.Join(bare, ", "))
	put("\n## Common practice, no source\n\nChosen figures, estimates and bands for which the code names no publication, by package and declaration:\n\n")
	for _, p := range practices {
		put("- `%s`: %s\n", p.Package, strings.Join(p.Names, ", "))
	}
	return b.String()
}

var heading = map[Kind]string{
	Printed: "Printed figures", Engine: "Another engine or solver", Derived: "Closed forms and independent computations", Practice: "Common practice only",
}

var meaning = map[Kind]string{
	Printed:  "The figures stand in the publication.",
	Engine:   "The same case, solved by a program that shares no code with this one.",
	Derived:  "The equations are the source's; the figures were computed from them apart from this program.",
	Practice: "Worked as a workshop would, without a publication: a guard against slips, not a proof.",
}

// text says how far off the worst was, of what.
func (w Worst) text() string {
	if w.Off == 0 || w.Want == 0 {
		return digits(w.Off)
	}
	return fmt.Sprintf("%s of %.4g", digits(w.Off), w.Want)
}

func digits(v float64) string {
	if v == 0 || math.IsNaN(v) {
		return "0"
	}
	return fmt.Sprintf("%.2g", v)
}

// Models are the models that a page names, sorted.
func Models(page string) []string {
	var out []string
	for line := range strings.SplitSeq(page, "\n") {
		cells := strings.Split(line, " | ")
		if len(cells) != 6 || !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| Model") || strings.HasPrefix(line, "| ---") {
			continue
		}
		out = append(out, strings.TrimPrefix(cells[0], "| ")+" | "+cells[1])
	}
	slices.Sort(out)
	return out
}
