package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/uptrace/bun"
	"github.com/uptrace/bun/dialect/sqlitedialect"
)

// openSQLite opens the store in a folder of this machine.
func (s *Store) openSQLite(ctx, background context.Context, dir string) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	s.where, s.dir, s.lite = dir, dir, true
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return notAFolder(dir, err)
	}
	if s.lock, err = lockFolder(dir, s.options.Who, s.options.Now()); err != nil {
		return err
	}
	path := filepath.Join(dir, databaseName)
	if err := looksRight(path); err != nil {
		return s.advise(err)
	}
	if err := errors.Join(s.missing(path), swept(dir)); err != nil {
		return err
	}
	if err := errors.Join(made(path), ownOnly(dir)); err != nil {
		return troubleAt(dir, err)
	}
	db, err := sql.Open("sqlite", address(path, s.options.pragmas...))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(8)
	db.SetMaxIdleConns(8)
	s.db = bun.NewDB(db, sqlitedialect.New())
	s.writing = make(chan struct{}, 1)
	if err := s.migrateSQLite(ctx, background, db); err != nil {
		return s.advise(err)
	}
	// The log of writes goes with the last connection: while one is held it stays the file
	// that it was, and what stands there otherwise is somebody else's.
	if s.held, err = db.Conn(background); err != nil {
		return err
	}
	if err := s.held.QueryRowContext(ctx, newestSave).Scan(new(int64)); err != nil {
		return err
	}
	s.files = []watched{{path: path}, {path: path + "-wal"}}
	if err := s.lostTail(ctx); err != nil {
		return troubleAt(dir, err)
	}
	return s.takeUpRuns(ctx)
}

func notAFolder(dir string, err error) error {
	if errors.Is(err, fs.ErrExist) || strings.Contains(err.Error(), "not a directory") {
		return &Trouble{Kind: Unreachable, Where: dir, Got: "is not a folder", Do: "name a folder for the data", Err: err}
	}
	return troubleAt(dir, err)
}

// looksRight looks at the first bytes of a database file, before anything opens
// it that might write to it.
func looksRight(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return troubleAt(path, err)
	}
	head, err := io.ReadAll(io.LimitReader(file, 100))
	err = errors.Join(err, file.Close())
	if err != nil {
		return troubleAt(path, err)
	}
	if len(head) == 0 {
		return nil // made, and killed before the first page was written
	}
	if len(head) < 100 || !bytes.HasPrefix(head, []byte("SQLite format 3\x00")) {
		return &Trouble{Kind: Damaged, Where: path, Got: "is damaged: it does not begin as a database does"}
	}
	return nil
}

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

func (s *Store) migrateSQLite(ctx, background context.Context, db *sql.DB) error {
	has, err := versionOf(ctx, db, true)
	if err != nil {
		return err
	}
	if err := isOurs(ctx, db, s.where, has); err != nil {
		return err
	}
	steps, err := migrator(db, true)
	if err != nil {
		return err
	}
	known := newest(steps)
	if has > known {
		return tooNew(s.where, has, known)
	}
	if has > 0 {
		if err := s.checkAtStart(ctx, background, db); err != nil {
			return err
		}
		if has < known {
			// The way back, should the new tables disappoint.
			if _, err := s.BackupNow(ctx); err != nil {
				return err
			}
		}
	}
	_, err = steps.Up(ctx)
	return err
}

// isOurs refuses a database of another program.
func isOurs(ctx context.Context, db *sql.DB, where string, version int64) error {
	var id, tables int64
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if err := db.QueryRowContext(ctx, "SELECT COUNT(*) FROM sqlite_schema").Scan(&tables); err != nil {
		return err
	}
	// The first step marks the database; the list of steps is made before it.
	if id == ours || tables == 0 || version == 0 && id == 0 && onlySteps(ctx, db) {
		return nil
	}
	return &Trouble{Kind: Foreign, Where: where, Got: "holds the database of another program", Do: "name another data folder; nothing was changed"}
}

// onlySteps reports a database that was killed between the list of steps and
// the first step.
func onlySteps(ctx context.Context, db *sql.DB) bool {
	var others int
	err := db.QueryRowContext(ctx, "SELECT COUNT(*) FROM sqlite_schema WHERE name NOT LIKE 'goose%' AND name NOT LIKE 'sqlite%'").Scan(&others)
	return err == nil && others == 0
}

// checkAtStart reads the whole database. When that takes longer than the person
// should wait, it goes on in the background; what it finds then stops every
// write.
func (s *Store) checkAtStart(ctx, background context.Context, db *sql.DB) error {
	done := make(chan error, 1)
	s.idle.Go(func() {
		err := check(background, db, s.where, "quick_check")
		done <- err
		var t *Trouble
		if errors.As(s.advise(err), &t) && t.Kind == Damaged {
			s.damage.Store(t)
			s.options.OnTrouble(t)
		}
	})
	wait := time.NewTimer(s.options.CheckFor)
	defer wait.Stop()
	select {
	case err := <-done:
		return err
	case <-wait.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// Check reads the whole database and compares the tables with their indexes,
// and the references between them. It takes seconds on a large one.
func (s *Store) Check(ctx context.Context) error {
	if !s.lite {
		return s.trouble(s.db.PingContext(ctx))
	}
	return s.advise(check(ctx, s.db.DB, s.where, "integrity_check"))
}

// check runs one of the database's own checks.
func check(ctx context.Context, db *sql.DB, where, pragma string) (err error) {
	damaged := func(what string) error {
		return &Trouble{Kind: Damaged, Where: where, Got: "is damaged: " + cut(oneLine(what), 300)}
	}
	pragmas := []string{pragma + "(20)"}
	if pragma == "integrity_check" {
		pragmas = append(pragmas, "foreign_key_check")
	}
	for _, pragma := range pragmas {
		rows, err := db.QueryContext(ctx, "PRAGMA "+pragma)
		if err != nil {
			return troubleAt(where, err)
		}
		var found []string
		columns, err := rows.Columns()
		for err == nil && rows.Next() {
			cells := make([]sql.NullString, len(columns))
			into := make([]any, len(columns))
			for i := range cells {
				into[i] = &cells[i]
			}
			if err = rows.Scan(into...); err == nil && cells[0].String != "ok" {
				text := cells[0].String
				if len(columns) > 1 {
					text = "a row of " + text + " points at nothing"
				}
				found = append(found, text)
			}
		}
		if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
			return troubleAt(where, err)
		}
		if found != nil {
			return damaged(strings.Join(found, ", "))
		}
	}
	return nil
}
