package store

import (
	"context"
	"errors"
)

// errOvertaken ends a transaction whose base is no longer the newest.
var errOvertaken = errors.New("overtaken")

func (r *revisionRow) revision() Revision {
	return Revision{Job: r.JobID, Number: r.Number, When: at(r.SavedAt), Who: r.SavedBy, Why: r.Why, SHA256: r.SHA256, Text: []byte(r.Text)}
}

func (j *jobRow) head() Head {
	return Head{
		ID: j.ID, Revision: j.Revision, CreatedAt: at(j.CreatedAt), SavedAt: at(j.SavedAt), Who: j.SavedBy, Why: j.Why,
		SHA256: j.SHA256, Number: j.Number, Owner: j.Owner, Plate: j.Plate, Car: j.Car,
	}
}

// Head returns what a job is called and who saved it last.
func (s *Store) Head(ctx context.Context, id string) (Head, error) {
	var row jobRow
	if err := s.db.NewSelect().Model(&row).Where("id = ?", id).Scan(ctx); err != nil {
		return Head{}, s.one(err, "job", id)
	}
	return row.head(), nil
}

// Job returns the newest revision of a job.
func (s *Store) Job(ctx context.Context, id string) (Revision, error) {
	var row revisionRow
	err := s.db.NewRaw(`SELECT r.* FROM job_revisions r JOIN jobs j ON j.id = r.job_id AND j.revision = r.number WHERE j.id = ?`, id).Scan(ctx, &row)
	if err != nil {
		return Revision{}, s.one(err, "job", id)
	}
	return s.proved(&row)
}

// Revision returns one revision of a job.
func (s *Store) Revision(ctx context.Context, id string, number int) (Revision, error) {
	var row revisionRow
	if err := s.db.NewSelect().Model(&row).Where("job_id = ? AND number = ?", id, number).Scan(ctx); err != nil {
		return Revision{}, s.one(err, "revision of this job", itoa(number))
	}
	return s.proved(&row)
}

// proved returns a revision whose text is the one that was saved. A disk that
// changed a letter is found here.
func (s *Store) proved(row *revisionRow) (Revision, error) {
	if sum([]byte(row.Text)) != row.SHA256 {
		return Revision{}, s.advise(&Trouble{
			Kind: Damaged, Where: s.where, Got: "is damaged: revision " + itoa(row.Number) + " of job " + row.JobID + " is not as it was saved",
		})
	}
	return row.revision(), nil
}

// History returns all revisions of a job, the newest first, without their
// texts.
func (s *Store) History(ctx context.Context, id string) ([]Revision, error) {
	var rows []revisionRow
	err := s.db.NewSelect().Model(&rows).ExcludeColumn("text").Where("job_id = ?", id).OrderExpr("number DESC").Scan(ctx)
	if err != nil {
		return nil, s.trouble(err)
	}
	if len(rows) == 0 {
		return nil, &NotFound{"job", id}
	}
	out := make([]Revision, len(rows))
	for i := range rows {
		out[i] = rows[i].revision()
		out[i].Text = nil
	}
	return out, nil
}
