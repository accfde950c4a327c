package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Saved is a backup in the data folder.
type Saved struct {
	Path string
	When time.Time
	Size int64 // bytes
}

const (
	backupPrefix = "trunnion-"
	backupStamp  = "20060102-150405.000000"
)

// errServer is the answer to a backup of a database that stands elsewhere.
func (s *Store) errServer() error {
	return &Trouble{
		Kind: Unreachable, Where: s.where, Got: "is a database server, which is backed up by its own means",
		Do: "use pg_dump",
	}
}

// Backup writes the whole store into one new file while others go on reading
// and saving. The file is checked before it gets its name: it is whole, or it is
// not there.
func (s *Store) Backup(ctx context.Context, path string) error {
	if !s.lite {
		return s.errServer()
	}
	return written(ctx, s.db.DB, path)
}

// written writes a whole database into one new file.
func written(ctx context.Context, db *sql.DB, path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(path); err == nil {
		return &Refused{"the backup's file", "is there already: " + path, "name a new one"}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return troubleAt(path, err)
	}
	part := path + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return troubleAt(path, err)
	}
	if _, err = db.ExecContext(ctx, `VACUUM INTO ?`, part); err == nil {
		_, err = inspect(ctx, part)
	}
	if err == nil {
		err = settle(part, path)
	}
	if err != nil {
		return troubleAt(path, errors.Join(err, removed(part)))
	}
	return nil
}

// settle gives a finished file its name, so that it survives a power cut.
func settle(part, path string) error {
	file, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	// It holds the hashes of passphrases: for nobody else to read.
	if err := errors.Join(file.Chmod(0o600), file.Sync(), file.Close()); err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return err
	}
	folder, err := os.Open(filepath.Dir(path))
	if err != nil {
		return err
	}
	// Windows cannot do this to a folder, and does not need it.
	_ = folder.Sync()
	return folder.Close()
}

// inspect reads a backup whole and returns the version of its tables.
func inspect(ctx context.Context, path string) (version int64, err error) {
	if err := looksRight(path); err != nil {
		return 0, err
	}
	if _, err := os.Stat(path); err != nil {
		return 0, troubleAt(path, err)
	}
	db, err := sql.Open("sqlite", readOnlyAddress(path))
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	if version, err = versionOf(ctx, db, true); err != nil {
		return 0, troubleAt(path, err)
	}
	if err := isOurs(ctx, db, path, version); err != nil {
		return 0, troubleAt(path, err)
	}
	if version == 0 {
		return 0, &Trouble{Kind: Foreign, Where: path, Got: "holds no workshop", Do: "name a backup of this program"}
	}
	return version, check(ctx, db, path, "integrity_check")
}

func (s *Store) backupFolder() string { return backupsOf(s.dir) }

func backupsOf(dir string) string { return filepath.Join(dir, "backups") }

// Keeping is how a store is backed up.
type Keeping struct {
	Own            bool          // by the program itself
	Every          time.Duration // in which something was saved
	Keep           int
	Folder, Second string // where backups are, and where they are copied to
	Trouble        error  // of the last backup; nil where it succeeded
}

// Keeping returns how the store is backed up.
func (s *Store) Keeping() Keeping {
	if !s.lite {
		return Keeping{}
	}
	out := Keeping{Own: true, Every: s.options.BackupEvery, Keep: s.options.BackupKeep, Folder: s.backupFolder(), Second: s.options.BackupTo}
	if failed := s.failed.Load(); failed != nil {
		out.Trouble = *failed
	}
	return out
}

// BackupNow makes a backup in the data folder and throws away the oldest beyond
// those that are kept.
func (s *Store) BackupNow(ctx context.Context) (Saved, error) {
	s.backing.Lock()
	defer s.backing.Unlock()
	saved, err := s.backupNow(ctx)
	switch {
	case err == nil:
		s.failed.Store(nil)
	case ctx.Err() == nil:
		s.failed.Store(&err)
	}
	return saved, err
}

func (s *Store) backupNow(ctx context.Context) (Saved, error) {
	if !s.lite {
		return Saved{}, s.errServer()
	}
	if err := os.MkdirAll(s.backupFolder(), 0o700); err != nil {
		return Saved{}, troubleAt(s.backupFolder(), err)
	}
	changes := s.changes.Load()
	when := s.options.Now().UTC()
	// The clock may stand still or go back: a backup is never older than the last.
	if list, err := s.Backups(); err == nil && len(list) > 0 && !when.After(list[0].When) {
		when = list[0].When.Add(time.Microsecond)
	}
	path := filepath.Join(s.backupFolder(), backupPrefix+when.Format(backupStamp)+".db")
	if err := s.Backup(ctx, path); err != nil {
		return Saved{}, err
	}
	s.backedUp.Store(changes)
	list, err := s.rotated(s.backupFolder())
	if err != nil {
		return Saved{}, err
	}
	return list[0], s.copied(ctx, list[0])
}

// rotated throws away the oldest backups of a folder beyond those that are kept, and
// returns the others, the newest first.
func (s *Store) rotated(folder string) ([]Saved, error) {
	list, err := backupFiles(folder)
	if err != nil {
		return nil, err
	}
	most := min(len(list), s.options.BackupKeep)
	for _, old := range list[most:] {
		if err := removed(old.Path); err != nil {
			return nil, troubleAt(old.Path, err)
		}
	}
	return list[:most], nil
}

// copied puts a backup into the second folder too, on another disk, where one was named.
// The copy is read whole before it gets its name.
func (s *Store) copied(ctx context.Context, of Saved) error {
	folder := s.options.BackupTo
	if folder == "" {
		return nil
	}
	fail := func(err error) error {
		return &Trouble{
			Kind: Unreachable, Where: folder, Got: "did not take the backup", Do: "it stands in " + of.Path + " alone: look whether the disk is there and has room", Err: err,
		}
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fail(err)
	}
	path := filepath.Join(folder, filepath.Base(of.Path))
	part := path + ".part"
	err := copyFile(of.Path, part)
	if err == nil {
		_, err = inspect(ctx, part)
	}
	if err == nil {
		err = settle(part, path)
	}
	if err != nil {
		return fail(errors.Join(err, removed(part)))
	}
	if _, err := s.rotated(folder); err != nil {
		return fail(err)
	}
	return nil
}

// Backups returns the backups in the data folder, the newest first.
func (s *Store) Backups() ([]Saved, error) {
	if !s.lite {
		return nil, nil
	}
	return BackupsIn(s.dir)
}

// BackupsIn returns the backups in a data folder, the newest first, whoever has it open.
func BackupsIn(dir string) ([]Saved, error) { return backupFiles(backupsOf(dir)) }

// backupFiles are the backups that stand in a folder, the newest first.
func backupFiles(folder string) ([]Saved, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, troubleAt(folder, err)
	}
	var out []Saved
	for _, entry := range entries {
		stamp, ok := strings.CutPrefix(strings.TrimSuffix(entry.Name(), ".db"), backupPrefix)
		when, err := time.Parse(backupStamp, stamp)
		if !ok || err != nil || !strings.HasSuffix(entry.Name(), ".db") {
			continue
		}
		info, err := entry.Info()
		if err != nil {
			continue // gone since
		}
		out = append(out, Saved{Path: filepath.Join(folder, entry.Name()), When: when, Size: info.Size()})
	}
	slices.SortFunc(out, func(a, b Saved) int { return cmp.Or(b.When.Compare(a.When), strings.Compare(b.Path, a.Path)) })
	return out, nil
}

// keepBackups makes backups while the store is open, when there is something
// new.
func (s *Store) keepBackups(ctx context.Context) {
	due := time.NewTimer(s.untilBackup())
	defer due.Stop()
	first := true
	for {
		select {
		case <-ctx.Done():
			return
		case <-due.C:
		}
		if s.began && s.changes.Load() == 0 { // nothing was ever saved: there is nothing to lose yet
			due.Reset(min(s.options.BackupEvery, untilFirst))
			continue
		}
		if first || s.changes.Load() != s.backedUp.Load() {
			if _, err := s.BackupNow(ctx); err != nil && ctx.Err() == nil {
				s.options.OnTrouble(fmt.Errorf("the automatic backup failed: %w", err))
			}
		}
		first = false
		due.Reset(s.options.BackupEvery)
	}
}

// untilFirst is how soon it is looked whether something was saved in a new store. Chosen.
const untilFirst = 2 * time.Second

// untilBackup is how long the newest backup is still good for.
func (s *Store) untilBackup() time.Duration {
	list, err := s.Backups()
	if err != nil || len(list) == 0 {
		return 0
	}
	return min(max(s.options.BackupEvery-s.options.Now().Sub(list[0].When), 0), s.options.BackupEvery)
}

// Restore puts a backup into a data folder that no program has open. The backup
// is read whole first; what the folder held is set aside, never overwritten, and
// its new name is returned, empty when the folder held nothing.
func Restore(ctx context.Context, backup, dir string) (setAside string, err error) {
	backup, err = filepath.Abs(backup)
	if err != nil {
		return "", err
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return "", err
	}
	if _, err := os.Stat(backup); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return "", &NotFound{"backup", backup}
		}
		return "", troubleAt(backup, err)
	}
	version, err := inspect(ctx, backup)
	if err != nil {
		return "", err
	}
	steps, err := known()
	if err != nil {
		return "", err
	}
	if version > steps {
		return "", tooNew(backup, version, steps)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", notAFolder(dir, err)
	}
	lock, err := lockFolder(dir, "trunnion restore", time.Now())
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, lock.release()) }()
	path := filepath.Join(dir, databaseName)
	part := path + ".part"
	if err := copyFile(backup, part); err != nil {
		return "", troubleAt(dir, errors.Join(err, removed(part)))
	}
	if _, err := inspect(ctx, part); err != nil {
		return "", errors.Join(err, removed(part))
	}
	if setAside, err = putAside(path); err != nil {
		return setAside, troubleAt(dir, errors.Join(err, removed(part)))
	}
	ends, err := endsAt(ctx, part)
	if err != nil {
		return setAside, troubleAt(dir, errors.Join(err, removed(part)))
	}
	if err = settle(part, path); err == nil {
		err = newMark(dir, ends)
	}
	return setAside, troubleAt(dir, err)
}

// known is the version of the tables that this program makes.
func known() (int64, error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return 0, err
	}
	steps, err := migrator(db, true)
	if err != nil {
		return 0, errors.Join(err, db.Close())
	}
	return newest(steps), db.Close()
}

// putAside renames a database with what belongs to it.
func putAside(path string) (string, error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		// A log without its database would be played into the next one.
		return "", errors.Join(removed(path+"-wal"), removed(path+"-shm"))
	}
	to := ""
	for n := 1; ; n++ {
		to = fmt.Sprintf("%s.set-aside-%d", path, n)
		if _, err := os.Lstat(to); errors.Is(err, fs.ErrNotExist) {
			break
		}
	}
	// The log first: whatever stops this in between, the database never stands
	// beside the log of another.
	for _, tail := range []string{"-wal", "-shm", ""} {
		if err := os.Rename(path+tail, to+tail); err != nil && !(tail != "" && errors.Is(err, fs.ErrNotExist)) {
			return to, err
		}
	}
	return to, nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer func() { _ = in.Close() }() // only read
	if err := removed(to); err != nil {
		return err
	}
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}
