package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// outFile is where a command puts what it made.
type outFile struct {
	Force bool `help:"Replace a file that is there already; never one that was read."`
}

// write puts a file there whole or not at all: under another name first, onto the disk,
// then to its place. A file that is there is left alone unless force was said, and one
// that the command read from is left alone in any case.
func (o outFile) write(name string, text []byte, read ...string) (err error) {
	for _, r := range read {
		if same(name, r) {
			return usage("%s is what was read: nothing was written; choose another name", name)
		}
	}
	if !o.Force {
		// Taken at once, so that a file that appears meanwhile is not replaced either.
		place, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, fs.ErrExist) {
			return usage("%s is there already: nothing was written; --force replaces it", name)
		}
		if err != nil {
			return usage("nothing was written: %w", err)
		}
		if err := place.Close(); err != nil {
			return errors.Join(fmt.Errorf("nothing was written: %w", err), os.Remove(name))
		}
		defer func() {
			if err != nil {
				err = errors.Join(err, os.Remove(name))
			}
		}()
	}
	part, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return fmt.Errorf("nothing was written: %w", err)
	}
	_, err = part.Write(text)
	if err == nil {
		err = part.Sync()
	}
	err = errors.Join(err, part.Close())
	if err == nil {
		err = os.Rename(part.Name(), name)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("nothing was written: %w", err), os.Remove(part.Name()))
	}
	return nil
}

// same reports two names of one file, through links too.
func same(a, b string) bool {
	if a == "" || b == "" || b == "-" {
		return false
	}
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	two, err := os.Stat(b)
	return err == nil && os.SameFile(one, two)
}
