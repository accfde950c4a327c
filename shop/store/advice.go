package store

import (
	"errors"
	"time"
)

// advise adds to a damage what can be done about it here.
func (s *Store) advise(err error) error {
	err = s.trouble(err)
	var t *Trouble
	if !errors.As(err, &t) || t.Kind != Damaged {
		return err
	}
	t.Do = "no backup is in " + s.backupFolder() + "; keep the file as it is and ask for help"
	if list, failed := s.Backups(); failed == nil && len(list) > 0 {
		t.Do = "the newest backup is " + list[0].Path + " of " + list[0].When.Format(time.DateTime+" UTC") +
			"; restore it, and the damaged file is kept beside it"
	}
	return t
}
