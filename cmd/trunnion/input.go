package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"trunnion/shop/jobfile"
)

// readJob reads the job at a path, or from standard input for "-".
func readJob(path string, in io.Reader) (*jobfile.Job, []jobfile.Fault, error) {
	text, err := jobText(path, in)
	if err != nil {
		return nil, nil, err
	}
	job, faults := jobfile.ReadBytes(text, nameOf(path))
	return job, faults, nil
}

// jobText is the text of a job file, or of standard input.
func jobText(path string, in io.Reader) ([]byte, error) {
	unread := func(err error) error { return usage("%s cannot be read: %w", nameOf(path), err) }
	if path == "-" {
		text, err := jobfile.Text(in)
		if err != nil {
			return nil, unread(err)
		}
		return text, nil
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usage("there is no file %s", path)
	case err != nil:
		return nil, unread(err)
	case info.IsDir():
		hint := "a job is a file"
		if inside := filepath.Join(path, "job.yaml"); exists(inside) {
			hint = "did you mean " + inside + "?"
		}
		return nil, usage("%s is a folder; %s", path, hint)
	case !info.Mode().IsRegular() && info.Mode()&os.ModeNamedPipe == 0:
		return nil, usage("%s is no file that can be read as a job", path)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, unread(err)
	}
	defer file.Close() //nolint:errcheck // it was only read
	text, err := jobfile.Text(file)
	if err != nil {
		return nil, unread(err)
	}
	return text, nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// nameOf is what a job's text is called in a message.
func nameOf(path string) string {
	if path == "-" {
		return "standard input"
	}
	return path
}

func refused(faults []jobfile.Fault) (n int) {
	for _, f := range faults {
		if f.Kind == jobfile.Refuse {
			n++
		}
	}
	return n
}

// listFaults prints faults one a line.
func listFaults(w io.Writer, name string, faults []jobfile.Fault) {
	for _, f := range faults {
		say(w, "%s\n", f.In(name))
	}
}

// many is a number with its noun.
func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}
