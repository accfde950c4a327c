package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

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
	return file.Close()
}

// removed takes a file away; it need not be there.
func removed(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
