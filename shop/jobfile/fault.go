package jobfile

import (
	"fmt"
	"strings"
)

// Severity says what a fault does to a job.
type Severity string

// The severities.
const (
	Refuse Severity = "refuse" // the job cannot be answered as it stands
	Warn   Severity = "warn"   // it can, but somebody should look
)

// Fault is one thing that is wrong with a job, or looks wrong.
type Fault struct {
	Line int      `json:"line"` // 0 when it is about the job as a whole
	Path string   `json:"path"` // "parts.dampers.kit-front.open"; empty for the text as a whole
	Got  string   `json:"got"`  // what stands there: "is 310 mm"
	Want string   `json:"want"` // what could: "it must be longer than closed, 352 mm"
	Kind Severity `json:"kind" enum:"refuse,warn"`
	// Location is where a figure stands in a request; empty for one that stands in a job.
	Location string `json:"location,omitempty" doc:"of a figure that was typed into the page"`
}

// String is the fault in one line, without the name of the file.
func (f Fault) String() string {
	path := f.Path
	if path == "" {
		path = "the job"
	}
	if f.Want == "" {
		return path + " " + f.Got
	}
	return path + " " + f.Got + "; " + f.Want
}

// Faults are all faults of one job, as an error.
type Faults struct {
	Name string // of the file
	List []Fault
}

// Error is one line per fault: "job.yaml:41: … is 310 mm; it must be …".
func (f *Faults) Error() string {
	lines := make([]string, len(f.List))
	for i, one := range f.List {
		lines[i] = one.In(f.Name)
	}
	return strings.Join(lines, "\n")
}

// In is the fault in one line, with the name of the file and the line.
func (f Fault) In(name string) string {
	mark := ""
	if f.Kind == Warn {
		mark = "warning: "
	}
	if f.Line == 0 {
		return fmt.Sprintf("%s: %s%s", name, mark, f)
	}
	return fmt.Sprintf("%s:%d: %s%s", name, f.Line, mark, f)
}

// Check is a warning as a report says it: "job.yaml, line 11: check …".
func (f Fault) Check(name string) string {
	if f.Line == 0 {
		return fmt.Sprintf("%s: check %s", name, f)
	}
	return fmt.Sprintf("%s, line %d: check %s", name, f.Line, f)
}

// AsError returns the faults that refuse the job as an error, nil when there is
// none.
func AsError(name string, faults []Fault) error {
	var list []Fault
	for _, f := range faults {
		if f.Kind == Refuse {
			list = append(list, f)
		}
	}
	if list == nil {
		return nil
	}
	return &Faults{Name: name, List: list}
}
