package store

import (
	"context"
	"errors"

	"github.com/uptrace/bun"
)

// Save keeps a job as its next revision and throws away the draft of who saved
// it. When somebody saved in between it changes nothing and returns a
// *Conflict with both versions. A save that comes twice, because its answer was
// lost, is kept once: by its name, also after others saved, else by being the same
// as the newest.
func (s *Store) Save(ctx context.Context, c Change) (Revision, error) {
	if err := errors.Join(wantID("the job's id", c.Job), wantName("who", c.Who), wantLine("why", c.Why, mostWhy)); err != nil {
		return Revision{}, err
	}
	if c.Expected < 0 {
		return Revision{}, &Refused{"the expected revision", "is less than 0", "it is 0 for a new job"}
	}
	if c.Name != "" {
		if err := wantID("the save's name", c.Name); err != nil {
			return Revision{}, err
		}
		if there, err := s.sent(ctx, c); err != nil || there != nil {
			return orNone(there), err
		}
	}
	f, err := factsOf(c.Text)
	if err != nil {
		return Revision{}, err
	}
	row := revisionRow{JobID: c.Job, Number: c.Expected + 1, SavedBy: c.Who, Why: c.Why, SHA256: sum(c.Text), Text: string(c.Text)}
	changes := s.changesOf(ctx, &row)
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		if err := s.put(ctx, tx, &row, f); err != nil {
			return err
		}
		if err := linkOn(ctx, tx, &row); err != nil {
			return err
		}
		if _, err := tx.NewInsert().Model(&row).Exec(ctx); err != nil {
			return err
		}
		if changes != nil {
			if _, err := tx.NewInsert().Model(changes).Exec(ctx); err != nil {
				return err
			}
		}
		if err := putWords(ctx, tx, c.Job, f); err != nil {
			return err
		}
		if c.Name != "" {
			name := sentRow{ID: c.Name, JobID: c.Job, Revision: row.Number, SavedBy: fold(c.Who)}
			if _, err := tx.NewInsert().Model(&name).Exec(ctx); err != nil {
				return err
			}
		}
		_, err := tx.NewRaw(`DELETE FROM drafts WHERE person = ? AND job_id = ?`, fold(c.Who), c.Job).Exec(ctx)
		return err
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		if c.Name != "" {
			// The same save may have come in by another connection meanwhile.
			if there, err := s.sent(ctx, c); err != nil || there != nil {
				return orNone(there), err
			}
		}
		return s.overtaken(ctx, c)
	}
	if err != nil {
		return Revision{}, err
	}
	return row.revision(), nil
}

// sent is the revision that a save of this name became; nil when none did.
func (s *Store) sent(ctx context.Context, c Change) (*Revision, error) {
	var rows []sentRow
	if err := s.db.NewSelect().Model(&rows).Where("id = ?", c.Name).Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	if len(rows) == 0 {
		return nil, nil
	}
	if rows[0].JobID != c.Job || rows[0].SavedBy != fold(c.Who) {
		return nil, &Refused{"the save's name", "is taken by another save", "make another"}
	}
	r, err := s.Revision(ctx, c.Job, rows[0].Revision)
	return &r, err
}

func orNone(r *Revision) Revision {
	if r == nil {
		return Revision{}
	}
	return *r
}

// put makes the job's own row, or moves it on from the revision expected.
func (s *Store) put(ctx context.Context, tx bun.Tx, row *revisionRow, f facts) error {
	job := jobRow{ID: row.JobID, Revision: row.Number, SavedBy: row.SavedBy, Why: row.Why, SHA256: row.SHA256}
	f.into(&job)
	if row.Number == 1 {
		row.SavedAt = s.kept(0)
		job.CreatedAt, job.SavedAt = row.SavedAt, row.SavedAt
		_, err := tx.NewInsert().Model(&job).Exec(ctx)
		return err
	}
	var before []int64
	err := tx.NewRaw(`SELECT saved_at FROM jobs WHERE id = ? AND revision = ?`, row.JobID, row.Number-1).Scan(ctx, &before)
	if err != nil {
		return err
	}
	if before == nil {
		return errOvertaken
	}
	row.SavedAt = s.kept(before[0])
	job.SavedAt = row.SavedAt
	n, err := affected(tx.NewUpdate().Model(&job).ExcludeColumn("id", "created_at").
		Where("id = ? AND revision = ?", row.JobID, row.Number-1).Exec(ctx))
	if err == nil && n == 0 {
		err = errOvertaken
	}
	return err
}

// overtaken makes the answer to a save whose base is no longer the newest.
func (s *Store) overtaken(ctx context.Context, c Change) (Revision, error) {
	now, err := s.Job(ctx, c.Job)
	if err != nil {
		return Revision{}, err
	}
	if now.Number == c.Expected+1 && now.Who == c.Who && now.Why == c.Why && now.SHA256 == sum(c.Text) {
		return now, nil // the same save, twice
	}
	conflict := &Conflict{Yours: c, Theirs: now}
	if c.Expected > 0 && c.Expected <= now.Number {
		base, err := s.Revision(ctx, c.Job, c.Expected)
		if err != nil {
			return Revision{}, err
		}
		conflict.Base = &base
	}
	return Revision{}, conflict
}
