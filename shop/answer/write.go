package answer

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"trunnion/shop/jobfile"
)

// WriteJSON writes the document, one value, finding, working, curve or warning
// a line, so that two answers can be compared line by line.
func (d *Document) WriteJSON(w io.Writer) error {
	out := &writer{to: bufio.NewWriter(w)}
	out.text("{")
	out.field("format", d.Format)
	out.field("program", d.Program)
	out.field("job_sha256", d.JobSHA256)
	out.field("reference_build", d.ReferenceBuild)
	out.field("settings", d.Settings)
	list(out, "builds", d.Builds)
	list(out, "loads", d.Loads)
	list(out, "values", d.Values)
	list(out, "findings", d.Findings)
	out.field("in_short", d.InShort)
	list(out, "plans", d.Plans)
	byID(out, "laws", slices.Sorted(maps.Keys(d.Laws)), d.Laws)
	byID(out, "workings", counted("w", len(d.Workings)), d.Workings)
	byID(out, "sources", counted("s", len(d.Sources)), d.Sources)
	byID(out, "given", counted("g", len(d.Given)), d.Given)
	list(out, "curves", d.Curves)
	list(out, "warnings", d.Warnings)
	list(out, "failures", d.Failures)
	list(out, "estimates", d.Estimates)
	out.text("\n}\n")
	if out.err != nil {
		return out.err
	}
	return out.to.Flush()
}

type writer struct {
	to     *bufio.Writer
	err    error
	fields int
}

func (w *writer) text(s string) {
	if w.err == nil {
		_, w.err = w.to.WriteString(s)
	}
}

func (w *writer) value(v any) {
	if w.err != nil {
		return
	}
	data, err := json.Marshal(v)
	if err != nil {
		w.err = fmt.Errorf("answer: %w", err)
		return
	}
	_, w.err = w.to.Write(data)
}

func (w *writer) open(name, bracket string) {
	if w.fields > 0 {
		w.text(",")
	}
	w.fields++
	w.text("\n")
	w.value(name)
	w.text(":" + bracket)
}

func (w *writer) field(name string, v any) {
	w.open(name, "")
	w.value(v)
}

func (w *writer) item(i int) {
	if i > 0 {
		w.text(",")
	}
	w.text("\n")
}

func list[T any](w *writer, name string, items []T) {
	w.open(name, "[")
	for i := range items {
		w.item(i)
		w.value(items[i])
	}
	w.text("\n]")
}

// counted are the ids of a kind in their order.
func counted(letter string, n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = letter + strconv.Itoa(i+1)
	}
	return out
}

// byID writes what has ids, one a line.
func byID[T any](w *writer, name string, ids []string, of map[string]T) {
	w.open(name, "{")
	for i, id := range ids {
		one, ok := of[id]
		if !ok && w.err == nil {
			w.err = fmt.Errorf("answer: there is no %s among the %s", id, name)
		}
		w.item(i)
		w.value(id)
		w.text(":")
		w.value(one)
	}
	w.text("\n}")
}

// Read reads a document.
func Read(r io.Reader) (*Document, error) {
	d := &Document{}
	if err := json.NewDecoder(r).Decode(d); err != nil {
		return nil, fmt.Errorf("answer: %w", err)
	}
	if d.Format != Format {
		return nil, fmt.Errorf("answer: the format is %q, not %q", d.Format, Format)
	}
	return d, nil
}

// columns are the columns of the table of values.
var columns = []string{
	"id", "code", "build", "load", "corner", "at", "click", "direction", "velocity", "road", "event", "speed", "mode", "threshold",
	"tier", "value", "unit", "low", "high", "state", "reason", "working", "warnings",
}

// WriteCSV writes one row a value, in SI. A key that does not apply and a value
// that is not known are empty.
func (d *Document) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	if err := out.Write(columns); err != nil {
		return err
	}
	for i := range d.Values {
		v := &d.Values[i]
		if err := out.Write([]string{
			v.ID, v.Code, plain(v.Build), plain(v.Load), plain(v.Corner), plain(v.At), whole(v.Click), plain(v.Direction), digits(v.Velocity),
			plain(v.Road), plain(v.Event), digits(v.Speed), plain(v.Mode), digits(v.Threshold), v.Tier, digits(v.Value), v.Unit,
			digits(v.Low), digits(v.High), v.State, plain(v.Reason), plain(v.Working), strings.Join(v.Warnings, " "),
		}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func plain(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

func whole(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

func digits(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'g', -1, 64)
}

// Faults is trunnion.faults/1.
type Faults struct {
	Format string          `json:"format"`
	File   string          `json:"file"`
	Faults []jobfile.Fault `json:"faults"`
}

// WriteFaults writes the faults of a job.
func WriteFaults(w io.Writer, name string, faults []jobfile.Fault) error {
	out := &writer{to: bufio.NewWriter(w)}
	out.text("{")
	out.field("format", FaultsFormat)
	out.field("file", name)
	list(out, "faults", faults)
	out.text("\n}\n")
	if out.err != nil {
		return out.err
	}
	return out.to.Flush()
}
