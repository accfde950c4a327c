package store

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockFile takes the file for this program without waiting. A locked byte can
// be read by nobody else, so one far behind the text is locked.
func lockFile(file *os.File) error {
	at := windows.Overlapped{OffsetHigh: 1}
	return windows.LockFileEx(windows.Handle(file.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
}

// held reports that another program has the lock.
func held(err error) bool {
	return errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING)
}
