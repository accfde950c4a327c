package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
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
// and the references between them, and goes along the chain of every job's revisions. It
// takes seconds on a large one. A server looks after its own pages.
func (s *Store) Check(ctx context.Context) error {
	if s.lite {
		if err := s.advise(check(ctx, s.db.DB, s.where, "integrity_check")); err != nil {
			return err
		}
	}
	return s.trouble(s.checkChain(ctx))
}
