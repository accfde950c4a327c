package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// lockName is the file that says which program has a data folder.
const lockName = "trunnion.lock"

// folderLock holds a data folder for one program. The operating system lets go
// of it when the program ends, however it ends, so that what a killed program
// leaves behind never stands in the way.
type folderLock struct{ file *os.File }

// lockFolder takes a data folder, or says who has it.
func lockFolder(dir, who string, now time.Time) (*folderLock, error) {
	path := filepath.Join(dir, lockName)
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, troubleAt(dir, err)
	}
	if err := lockFile(file); err != nil {
		holder := readHolder(file)
		err = errors.Join(err, file.Close())
		if !held(err) {
			return nil, &Trouble{
				Kind: Unreachable, Where: dir, Got: "cannot be locked against a second server",
				Do: "move the data folder to a disk of this machine", Err: err,
			}
		}
		return nil, &Trouble{Kind: InUse, Where: dir, Got: "is in use by " + holder, Do: "use that one, or stop it first", Err: err}
	}
	host, err := os.Hostname()
	if err != nil {
		host = "a machine without a name"
	}
	text := fmt.Sprintf("%s\nprocess %d on %s since %s\n", oneLine(who), os.Getpid(), oneLine(host), now.UTC().Format(time.DateTime+" UTC"))
	if err := rewrite(file, text); err != nil {
		return nil, troubleAt(dir, errors.Join(err, file.Close()))
	}
	return &folderLock{file}, nil
}

// rewrite replaces what stands in a file that is open already.
func rewrite(file *os.File, text string) error {
	if err := file.Truncate(0); err != nil {
		return err
	}
	_, err := file.WriteAt([]byte(text), 0)
	return err
}

// readHolder is the sentence that the holder left in the lock file.
func readHolder(file *os.File) string {
	text, err := io.ReadAll(io.NewSectionReader(file, 0, 1000))
	if err != nil || len(strings.TrimSpace(string(text))) == 0 {
		return "another server"
	}
	return strings.Join(strings.Split(strings.TrimSpace(strings.ToValidUTF8(string(text), "?")), "\n"), ", ")
}

// release lets go of the folder. The file stays: taking it away could take it
// from under somebody who has just opened it.
func (l *folderLock) release() error {
	return errors.Join(rewrite(l.file, ""), l.file.Close())
}
