//go:build !windows

package store

import (
	"errors"
	"os"
	"syscall"
)

// lockFile takes the file for this program without waiting.
func lockFile(file *os.File) error {
	return syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}

// held reports that another program has the lock.
func held(err error) bool { return errors.Is(err, syscall.EWOULDBLOCK) }
