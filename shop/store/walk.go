package store

import "context"

// Walk gives every revision of a job with its text, the oldest first, one at a
// time: a history is read without holding all of it. It ends early when f
// returns an error.
func (s *Store) Walk(ctx context.Context, job string, f func(Revision) error) (err error) {
	rows, err := s.db.QueryContext(ctx, `SELECT number, saved_at, saved_by, why, sha256, text FROM job_revisions WHERE job_id = ? ORDER BY number`, job)
	if err != nil {
		return s.trouble(err)
	}
	defer func() {
		if closed := rows.Close(); err == nil {
			err = s.trouble(closed)
		}
	}()
	some := false
	for rows.Next() {
		row := revisionRow{JobID: job}
		if err := rows.Scan(&row.Number, &row.SavedAt, &row.SavedBy, &row.Why, &row.SHA256, &row.Text); err != nil {
			return s.trouble(err)
		}
		r, err := s.proved(&row)
		if err != nil {
			return err
		}
		some = true
		if err := f(r); err != nil {
			return err
		}
	}
	if err := rows.Err(); err != nil {
		return s.trouble(err)
	}
	if !some {
		return &NotFound{"job", job}
	}
	return nil
}
