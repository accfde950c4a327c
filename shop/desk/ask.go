package desk

import (
	"fmt"
	"slices"

	"trunnion/chassis/car"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
)

// AskError is something asked for that the job does not have or that cannot be
// read.
type AskError struct {
	Field string // of the question, as --field at the command line; empty: Text is a sentence of its own
	Text  string
	err   error
}

func (e *AskError) Error() string {
	if e.Field == "" {
		return e.Text
	}
	return e.Field + " " + e.Text
}

func (e *AskError) Unwrap() error { return e.err }

// bad is a field that cannot be read.
func bad(field, format string, args ...any) error {
	err := fmt.Errorf(format, args...)
	return &AskError{Field: field, Text: err.Error(), err: err}
}

// absent is something that the job does not have.
func absent(format string, args ...any) error { return bad("", format, args...) }

// known refuses builds and load states that a job does not have.
func known(job *jobfile.Job, builds, loads []string) error {
	if job == nil {
		return errNoJob
	}
	for _, id := range builds {
		if !slices.ContainsFunc(job.Builds, func(b *car.Build) bool { return b.ID == id }) {
			return absent("%w", jobfile.NoBuild(job, id))
		}
	}
	for _, id := range loads {
		if id != "" && !slices.ContainsFunc(job.Loads, func(l car.Load) bool { return l.ID == id }) {
			return absent("%w", jobfile.NoLoad(job, id))
		}
	}
	return nil
}

// asks reports whether a build is among those asked for; none asked for are all.
func asks(builds []string, id string) bool { return len(builds) == 0 || slices.Contains(builds, id) }

// length reads a length [m]; nothing typed is otherwise.
func length(field, typed string, otherwise float64) (float64, error) {
	if typed == "" {
		return otherwise, nil
	}
	v, err := quantity.Parse(typed, quantity.Length)
	if err != nil {
		return 0, bad(field, "%s: %w", typed, err)
	}
	return v.Value, nil
}

// or is a number that was said, else another.
func or[T any](said *T, otherwise T) T {
	if said == nil {
		return otherwise
	}
	return *said
}

// axleOf is an axle by its name; empty is the front.
func axleOf(name string) (int, error) {
	switch name {
	case "", car.AxleNames[car.Front]:
		return car.Front, nil
	case car.AxleNames[car.Rear]:
		return car.Rear, nil
	}
	return 0, bad("axle", "is front or rear, not %q", name)
}
