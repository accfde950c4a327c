package store

import (
	"errors"
	"io/fs"
	"net/url"
	"path/filepath"
	"strings"
)

const (
	databaseName = "trunnion.db"
	// ours is the application id in the header of a database of ours.
	ours = 1414680142
)

// address is how the driver is told to open a database file.
//
// WAL lets readers go on while one writes. FULL makes a save wait for the disk:
// a save that was answered survives a power cut. A schema that was tampered
// with cannot run functions.
func address(path string, more ...string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	q := url.Values{"_txlock": {"immediate"}, "_pragma": append([]string{
		"busy_timeout(10000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)", "trusted_schema(0)", "cell_size_check(1)",
	}, more...)}
	return (&url.URL{Scheme: "file", Path: path, RawQuery: q.Encode()}).String()
}

// readOnlyAddress opens a file that nobody writes, such as a backup.
func readOnlyAddress(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	q := url.Values{"mode": {"ro"}, "immutable": {"1"}, "_pragma": {"trusted_schema(0)", "cell_size_check(1)", "query_only(1)"}}
	return (&url.URL{Scheme: "file", Path: path, RawQuery: q.Encode()}).String()
}

// besideAddress opens a database for reading that another program writes.
func besideAddress(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	q := url.Values{"mode": {"ro"}, "_pragma": {"busy_timeout(10000)", "trusted_schema(0)", "cell_size_check(1)"}}
	return (&url.URL{Scheme: "file", Path: path, RawQuery: q.Encode()}).String()
}

func notAFolder(dir string, err error) error {
	if errors.Is(err, fs.ErrExist) || strings.Contains(err.Error(), "not a directory") {
		return &Trouble{Kind: Unreachable, Where: dir, Got: "is not a folder", Do: "name a folder for the data", Err: err}
	}
	return troubleAt(dir, err)
}
