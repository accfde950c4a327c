package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// newestSave is when anything was last saved [µs since 1970].
const newestSave = `SELECT MAX(t) FROM (
	SELECT COALESCE(MAX(saved_at), 0) AS t FROM jobs
	UNION ALL SELECT COALESCE(MAX(saved_at), 0) FROM part_revisions
	UNION ALL SELECT COALESCE(MAX(saved_at), 0) FROM preset_revisions
	UNION ALL SELECT COALESCE(MAX(saved_at), 0) FROM notes
	UNION ALL SELECT COALESCE(MAX(saved_at), 0) FROM workshop_revisions
	UNION ALL SELECT COALESCE(MAX(saved_at), 0) FROM rounds) AS every`

// endsAt is the time of the newest save in a database file that nobody writes
// [µs since 1970].
func endsAt(ctx context.Context, path string) (newest int64, err error) {
	db, err := sql.Open("sqlite", readOnlyAddress(path))
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	err = db.QueryRowContext(ctx, newestSave).Scan(&newest)
	return newest, err
}

// at is a stored time; the zero time for none.
func at(micro int64) time.Time {
	if micro == 0 {
		return time.Time{}
	}
	return time.UnixMicro(micro).UTC()
}
