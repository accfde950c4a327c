package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Examined is what a backup holds, after every revision in it was read and found as it
// was saved.
type Examined struct {
	Path      string
	Jobs      int
	Revisions int
	Notes     int
	Parts     int
	Newest    time.Time // save; the zero time for none
}

// Examine reads a backup whole: its pages and indexes, every revision of every job
// against its fingerprint, and that no job lacks one.
func Examine(ctx context.Context, path string) (out Examined, err error) {
	if path, err = filepath.Abs(path); err != nil {
		return Examined{}, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return Examined{}, &NotFound{"backup", path}
	}
	version, err := inspect(ctx, path)
	if err != nil {
		return Examined{}, err
	}
	db, err := sql.Open("sqlite", readOnlyAddress(path))
	if err != nil {
		return Examined{}, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	out.Path = path
	if err := everyRevision(ctx, db, path, version >= chained, &out); err != nil {
		return Examined{}, troubleAt(path, err)
	}
	var newest int64
	for query, to := range map[string]any{
		`SELECT COUNT(*) FROM jobs`: &out.Jobs, `SELECT COUNT(*) FROM notes`: &out.Notes, `SELECT COUNT(*) FROM parts`: &out.Parts, newestSave: &newest,
	} {
		if err := db.QueryRowContext(ctx, query).Scan(to); err != nil {
			return Examined{}, troubleAt(path, err)
		}
	}
	out.Newest = at(newest)
	return out, nil
}

// everyRevision reads every text against its fingerprint, goes along the chain of each job
// where it has one, and counts that it has all its numbers up to the newest.
func everyRevision(ctx context.Context, db *sql.DB, path string, chain bool, out *Examined) (err error) {
	damaged := func(format string, args ...any) error {
		return &Trouble{Kind: Damaged, Where: path, Got: "is damaged: " + fmt.Sprintf(format, args...)}
	}
	var gap sql.NullString
	err = db.QueryRowContext(ctx, `SELECT j.id FROM jobs j LEFT JOIN job_revisions r ON r.job_id = j.id
		GROUP BY j.id, j.revision HAVING COUNT(r.number) <> j.revision OR MAX(r.number) <> j.revision OR MIN(r.number) <> 1 LIMIT 1`).Scan(&gap)
	if err == nil {
		return damaged("job %s lacks a revision", gap.String)
	}
	if !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	column := "''"
	if chain {
		column = "chain"
	}
	rows, err := db.QueryContext(ctx, `SELECT job_id, number, saved_at, saved_by, why, sha256, `+column+`, text FROM job_revisions ORDER BY job_id, number`)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	var walk chainWalk
	for rows.Next() {
		var row revisionRow
		if err := rows.Scan(&row.JobID, &row.Number, &row.SavedAt, &row.SavedBy, &row.Why, &row.SHA256, &row.Chain, &row.Text); err != nil {
			return err
		}
		if sum([]byte(row.Text)) != row.SHA256 {
			return damaged("revision %d of job %s is not as it was saved", row.Number, row.JobID)
		}
		if got := walk.next(&row); chain && got != "" {
			return damaged("%s", got)
		}
		out.Revisions++
	}
	return rows.Err()
}

// BackupOf writes a data folder that another program has open into one new file: the
// server goes on reading and saving meanwhile.
func BackupOf(ctx context.Context, dir, path string) (err error) {
	if dir, err = filepath.Abs(dir); err != nil {
		return err
	}
	from := filepath.Join(dir, databaseName)
	if _, err := os.Stat(from); err != nil {
		return troubleAt(from, err)
	}
	db, err := sql.Open("sqlite", besideAddress(from))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	version, err := versionOf(ctx, db, true)
	if err == nil {
		err = isOurs(ctx, db, from, version)
	}
	if err != nil {
		return troubleAt(from, err)
	}
	return written(ctx, db, path)
}

// Drill restores a backup into a folder that is thrown away again, opens it as the
// server would, and reads every job's newest revision; what it found is returned.
func Drill(ctx context.Context, backup string) (out Examined, err error) {
	if out, err = Examine(ctx, backup); err != nil {
		return Examined{}, err
	}
	dir, err := os.MkdirTemp("", "trunnion-drill-")
	if err != nil {
		return Examined{}, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	if _, err := Restore(ctx, backup, dir); err != nil {
		return Examined{}, err
	}
	s, err := Open(ctx, dir, Options{Who: "trunnion backup drill"})
	if err != nil {
		return Examined{}, err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if err := s.Check(ctx); err != nil {
		return Examined{}, err
	}
	var ids []string
	if err := s.db.NewRaw(`SELECT id FROM jobs`).Scan(ctx, &ids); err != nil {
		return Examined{}, s.trouble(err)
	}
	for _, id := range ids {
		if _, err := s.Job(ctx, id); err != nil {
			return Examined{}, err
		}
	}
	return out, nil
}
