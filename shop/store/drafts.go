package store

import (
	"context"
	"errors"
	"time"

	"github.com/uptrace/bun"
)

// Draft is what somebody typed into a job and has not saved. Each person has at
// most one for a job; it outlives the program and is thrown away by a save.
type Draft struct {
	Person string
	Job    string // id; of a job that need not be saved yet
	Base   int    // revision it started from, 0 for none
	When   time.Time
	Text   []byte // whatever was typed: it need not be a job
}

// SaveDraft keeps a draft in place of the person's last one for this job, and
// returns when.
func (s *Store) SaveDraft(ctx context.Context, d Draft) (time.Time, error) {
	err := errors.Join(wantID("the job's id", d.Job), wantName("the person", d.Person), wantText("the draft", d.Text))
	if err == nil && d.Base < 0 {
		err = &Refused{"the draft's revision", "is less than 0", "it is 0 for a new job"}
	}
	if err != nil {
		return time.Time{}, err
	}
	row := draftRow{Person: fold(d.Person), JobID: d.Job, Base: d.Base, SavedAt: s.stamp(0), Text: string(d.Text)}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewInsert().Model(&row).On("CONFLICT (person, job_id) DO UPDATE").
			Set("base = EXCLUDED.base, saved_at = EXCLUDED.saved_at, text = EXCLUDED.text").Exec(ctx)
		return err
	})
	return at(row.SavedAt), err
}

// Draft returns a person's draft of a job.
func (s *Store) Draft(ctx context.Context, person, job string) (Draft, error) {
	var row draftRow
	err := s.db.NewSelect().Model(&row).Where("person = ? AND job_id = ?", fold(person), job).Scan(ctx)
	if err != nil {
		return Draft{}, s.one(err, "draft of job", job)
	}
	return row.draft(person), nil
}

// Drafts returns all drafts of a person, the newest first.
func (s *Store) Drafts(ctx context.Context, person string) ([]Draft, error) {
	var rows []draftRow
	err := s.db.NewSelect().Model(&rows).Where("person = ?", fold(person)).OrderExpr("saved_at DESC").Scan(ctx)
	if err != nil {
		return nil, s.trouble(err)
	}
	out := make([]Draft, len(rows))
	for i := range rows {
		out[i] = rows[i].draft(person)
	}
	return out, nil
}

// DropDraft throws a draft away. There need not be one.
func (s *Store) DropDraft(ctx context.Context, person, job string) error {
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewRaw(`DELETE FROM drafts WHERE person = ? AND job_id = ?`, fold(person), job).Exec(ctx)
		return err
	})
}

func (r *draftRow) draft(person string) Draft {
	return Draft{Person: person, Job: r.JobID, Base: r.Base, When: at(r.SavedAt), Text: []byte(r.Text)}
}
