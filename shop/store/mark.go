package store

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// markName is the file, beside the database and not in it, that says up to when saves
// were answered: a database that ends before that has lost some.
const markName = "trunnion.mark"

// highMark is the mark of a folder while its store is open.
type highMark struct {
	file *os.File
	at   int64 // [µs since 1970]
}

// readMark is the mark of a folder; 0 where there is none, or none that can be read.
func readMark(dir string) int64 {
	text, err := os.ReadFile(filepath.Join(dir, markName))
	if err != nil {
		return 0
	}
	first, _, _ := strings.Cut(string(text), " ")
	t, err := strconv.ParseInt(first, 10, 64)
	if err != nil || t < 0 {
		return 0
	}
	return t
}

// openMark opens the mark of a folder to be moved on from where the database ends.
func openMark(dir string, from int64) (*highMark, error) {
	file, err := os.OpenFile(filepath.Join(dir, markName), os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	m := &highMark{file: file, at: -1}
	return m, m.move(from)
}

// move sets the mark to a time that is not before it [µs since 1970]. It does not wait
// for the disk: the save has, and a mark that a power cut takes back only says less.
func (m *highMark) move(to int64) error {
	if to <= m.at {
		return nil
	}
	m.at = to
	text := fmt.Sprintf("%020d saves were answered up to %s\n", to, at(to).Format(time.DateTime+" UTC"))
	_, err := m.file.WriteAt([]byte(text), 0)
	return err
}

func (m *highMark) close() error { return m.file.Close() }

// newMark writes the mark of a folder whose store is not open: that of the database that
// was put there, whatever it was before.
func newMark(dir string, to int64) error {
	if err := removed(filepath.Join(dir, markName)); err != nil {
		return err
	}
	m, err := openMark(dir, to)
	if err != nil {
		return err
	}
	return m.close()
}
