package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"io"
	"io/fs"
	"os"
)

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
