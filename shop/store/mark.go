package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
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

// missing says that a database is not there, or has nothing in it, where something shows
// that one was: backups or the mark. An empty workshop is not begun in its place.
func (s *Store) missing(path string) error {
	info, err := os.Stat(path)
	got := "is empty"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		got = "is not there"
	case err != nil:
		return troubleAt(path, err)
	case info.Size() > 0:
		return nil
	}
	list, err := s.Backups()
	if err != nil {
		return err
	}
	mark := readMark(s.dir)
	switch {
	case len(list) > 0:
		return &Trouble{
			Kind: Missing, Where: path, Got: got + ", and the folder has backups of it",
			Do: "the newest backup is " + list[0].Path + " of " + list[0].When.Format(time.DateTime+" UTC") +
				"; restore it with trunnion restore, or name another folder to begin an empty workshop",
		}
	case mark > 0:
		return &Trouble{
			Kind: Missing, Where: path, Got: got + ", and saves were answered here up to " + at(mark).Format(time.DateTime+" UTC"),
			Do: "bring the database back, or restore a backup kept elsewhere; name another folder to begin an empty workshop",
		}
	}
	return nil
}

// lostTail tells of saves that were answered and are not in the database: by the mark,
// and by the newest backup.
func (s *Store) lostTail(ctx context.Context, ends int64) {
	mark := readMark(s.dir)
	backup := ""
	if list, err := s.Backups(); err == nil && len(list) > 0 {
		if of, err := endsAt(ctx, list[0].Path); err == nil && of > ends {
			mark, backup = max(mark, of), list[0].Path
		}
	}
	if mark <= ends {
		return
	}
	last := "this database has none"
	if ends > 0 {
		last = "the newest in this database is of " + at(ends).Format(time.DateTime+" UTC")
	}
	text := fmt.Sprintf("saves are missing: they were answered up to %s, and %s", at(mark).Format(time.DateTime+" UTC"), last)
	if backup != "" {
		text += "; the backup " + backup + " has more"
	}
	s.notes = append(s.notes, text)
}

// endsAt is the time of the newest save in a database file that nobody writes
// [µs since 1970].
func endsAt(ctx context.Context, path string) (newest int64, err error) {
	db, err := sql.Open("sqlite", readOnlyAddress(path))
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	err = db.QueryRowContext(ctx, newestSave).Scan(&newest)
	return newest, err
}

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

// watched is a file that must stay the one it was while the store is open.
type watched struct {
	path string
	was  os.FileInfo
}

// still says that the file is not the one that was opened: it was deleted, or another
// one put in its place.
func (w *watched) still() error {
	now, err := os.Stat(w.path)
	switch {
	case w.was == nil && err == nil:
		w.was = now
		return nil
	case w.was == nil:
		return nil // not made yet
	case errors.Is(err, fs.ErrNotExist):
		return &Trouble{Kind: Missing, Where: w.path, Got: "was deleted while the program ran: nothing more is saved", Do: "stop the program and restore the newest backup"}
	case err != nil:
		return troubleAt(w.path, err)
	case !os.SameFile(w.was, now):
		return &Trouble{Kind: Missing, Where: w.path, Got: "was replaced while the program ran: nothing more is saved", Do: "stop the program and start it again on the database that is meant"}
	}
	return nil
}

// swept removes what a backup or a restore that was killed left behind.
func swept(dir string) error {
	var err error
	for _, pattern := range []string{filepath.Join(dir, databaseName+".part*"), filepath.Join(dir, "backups", "*.part*")} {
		list, globbed := filepath.Glob(pattern)
		err = errors.Join(err, globbed)
		for _, path := range list {
			err = errors.Join(err, removed(path))
		}
	}
	return err
}

// ownOnly takes everybody else's rights to read a folder of ours and what stands in it:
// it holds the hashes of passphrases. A folder in which somebody else's files stand too
// keeps its own rights. Windows has no such bits, and leaves them as they are.
func ownOnly(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	alone := true
	for _, entry := range entries {
		if name := entry.Name(); !strings.HasPrefix(name, "trunnion") && name != "backups" {
			alone = false
			continue
		}
		info, err := entry.Info()
		if err != nil {
			continue // gone since
		}
		if mode := info.Mode(); mode.IsRegular() && mode.Perm()&0o077 != 0 {
			if err := os.Chmod(filepath.Join(dir, entry.Name()), 0o600); err != nil {
				return err
			}
		}
	}
	if info, err := os.Stat(dir); err == nil && alone && info.Mode().Perm()&0o077 != 0 {
		return os.Chmod(dir, 0o700) //nolint:gosec // a folder: its owner has to get in
	}
	return nil
}

// made makes an empty file for nobody else to read, where there is none: what the
// database then writes beside it has the same rights.
func made(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	if err != nil {
		return err
	}
	_, err = io.WriteString(file, "")
	return errors.Join(err, file.Close())
}
