package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"
)

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

// lostTail tells of saves that were answered and are not in the database, by the mark
// and by the newest backup, and opens the mark to be moved on.
func (s *Store) lostTail(ctx context.Context) error {
	var ends int64
	if err := s.db.NewRaw(newestSave).Scan(ctx, &ends); err != nil {
		return err
	}
	mark := readMark(s.dir)
	s.began = ends == 0
	var err error
	if s.mark, err = openMark(s.dir, max(ends, mark)); err != nil {
		return err
	}
	backup := ""
	if list, err := s.Backups(); err == nil && len(list) > 0 {
		if of, err := endsAt(ctx, list[0].Path); err == nil && of > ends {
			mark, backup = max(mark, of), list[0].Path
		}
	}
	if mark <= ends {
		return nil
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
	return nil
}
