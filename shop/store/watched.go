package store

import (
	"errors"
	"io/fs"
	"os"
)

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
