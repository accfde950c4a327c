package store

import (
	"context"
	"encoding/json"

	"github.com/uptrace/bun"

	"trunnion/shop/jobfile"
)

// differences is the kind of what the store derives of its own: what a revision
// changed of the one before. A change of what counts as a difference takes the
// next number, so that what was derived before is not read.
const differences = "differences/1"

// Step is a revision and what it changed of the one before.
type Step struct {
	Revision // without its text
	Changes  []jobfile.Difference
}

// Steps returns all revisions of a job with what each changed, the oldest first.
// What the first one holds is no change. A step that nobody derived yet is
// derived now and kept.
func (s *Store) Steps(ctx context.Context, job string) ([]Step, error) {
	history, err := s.History(ctx, job)
	if err != nil {
		return nil, err
	}
	var rows []derivedRow
	if err := s.db.NewSelect().Model(&rows).Where("job_id = ? AND kind = ?", job, differences).Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	known := make(map[int]string, len(rows))
	for i := range rows {
		known[rows[i].Number] = rows[i].Text
	}
	out := make([]Step, len(history))
	for i := range history {
		r := history[len(history)-1-i]
		out[i].Revision = r
		if r.Number == 1 {
			continue
		}
		text, there := known[r.Number]
		if there && json.Unmarshal([]byte(text), &out[i].Changes) == nil {
			continue
		}
		if out[i].Changes, err = s.derive(ctx, job, r.Number); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// derive finds what a revision changed, and keeps it. That it could not be kept
// is no fault: it is derived again the next time.
func (s *Store) derive(ctx context.Context, job string, number int) ([]jobfile.Difference, error) {
	after, err := s.Revision(ctx, job, number)
	if err != nil {
		return nil, err
	}
	before, err := s.Revision(ctx, job, number-1)
	if err != nil {
		return nil, err
	}
	list := jobfile.Differ(before.Text, after.Text)
	if text, err := json.Marshal(list); err == nil {
		_ = s.KeepDerived(ctx, job, number, differences, string(text))
	}
	return list, nil
}

// changesOf derives what a revision that is about to be saved changes, so that a
// long history opens at once; nil where that cannot be said: the save stands
// without it.
func (s *Store) changesOf(ctx context.Context, row *revisionRow) *derivedRow {
	if row.Number == 1 {
		return nil
	}
	before, err := s.Revision(ctx, row.JobID, row.Number-1)
	if err != nil {
		return nil
	}
	text, err := json.Marshal(jobfile.Differ(before.Text, []byte(row.Text)))
	if err != nil {
		return nil
	}
	return &derivedRow{JobID: row.JobID, Number: row.Number, Kind: differences, Text: string(text)}
}

// KeepDerived keeps what was derived from a revision under a kind, in place of
// what was kept there before.
func (s *Store) KeepDerived(ctx context.Context, job string, number int, kind, text string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewRaw(`INSERT INTO derived (job_id, number, kind, text) VALUES (?, ?, ?, ?)
			ON CONFLICT (job_id, number, kind) DO UPDATE SET text = excluded.text`, job, number, kind, text).Exec(ctx)
		return err
	})
}

// Derived returns what was derived of the newest revision of every job under a
// kind, by job; a job of which nothing was derived yet has an empty text. The
// job's head is told with it.
func (s *Store) Derived(ctx context.Context, kind string, f func(head Head, text string) error) error {
	var rows []struct {
		jobRow `bun:",extend"`
		Text   string `bun:"text"`
	}
	err := s.db.NewRaw(`SELECT j.id, j.revision, j.created_at, j.saved_at, j.saved_by, j.why, j.sha256, j.number, j.owner, j.plate, j.car, COALESCE(d.text, '') AS text
		FROM jobs j LEFT JOIN derived d ON d.job_id = j.id AND d.number = j.revision AND d.kind = ? ORDER BY j.saved_at, j.id`, kind).Scan(ctx, &rows)
	if err != nil {
		return s.trouble(err)
	}
	for i := range rows {
		if err := f(rows[i].head(), rows[i].Text); err != nil {
			return err
		}
	}
	return nil
}

// dropDerived throws away what was derived of a job; nothing is lost by it.
func dropDerived(ctx context.Context, tx bun.Tx, job string) error {
	_, err := tx.NewRaw(`DELETE FROM derived WHERE job_id = ?`, job).Exec(ctx)
	return err
}

type derivedRow struct {
	bun.BaseModel `bun:"table:derived,alias:d"`

	JobID  string `bun:"job_id,pk"`
	Number int    `bun:"number,pk"`
	Kind   string `bun:"kind,pk"`
	Text   string `bun:"text"`
}
