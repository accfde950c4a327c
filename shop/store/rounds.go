package store

import (
	"context"
	"errors"
	"time"

	"github.com/uptrace/bun"
)

// Round is one round of readings as the bay typed it: nothing of it is changed
// later, a wrong one is followed by a right one.
type Round struct {
	ID     string // made when it is empty; a round that comes twice with one id is kept once
	Job    string
	Build  string // id in the job
	Kind   string // "scales", "heights", "road": an id
	Number int    // from 1 for a build and kind; given by the store
	Taken  time.Time
	Saved  time.Time // given by the store
	Who    string
	Text   string // the values as typed
}

// AddRound keeps a round of readings and gives it its number.
func (s *Store) AddRound(ctx context.Context, r Round) (Round, error) {
	if r.ID == "" {
		r.ID = NewID()
	}
	err := errors.Join(
		wantID("the round's id", r.ID), wantID("the job's id", r.Job), wantID("the build's id", r.Build), wantID("the kind of round", r.Kind),
		wantName("who", r.Who), wantText("the readings", []byte(r.Text)),
	)
	if err != nil {
		return Round{}, err
	}
	row := roundRow{ID: r.ID, JobID: r.Job, Build: r.Build, Kind: r.Kind, TakenBy: r.Who, Text: r.Text}
	// Two tablets may want the same number at once; the second takes the next.
	for try := 0; ; try++ {
		err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
			row.SavedAt = s.kept(0)
			row.TakenAt = row.SavedAt
			if !r.Taken.IsZero() {
				row.TakenAt = r.Taken.UnixMicro()
			}
			err := tx.NewRaw(`SELECT COALESCE(MAX(number), 0) + 1 FROM rounds WHERE job_id = ? AND build = ? AND kind = ?`, r.Job, r.Build, r.Kind).Scan(ctx, &row.Number)
			if err != nil {
				return err
			}
			_, err = tx.NewInsert().Model(&row).Exec(ctx)
			return err
		})
		if !isUnique(err) {
			break
		}
		var there roundRow
		found := s.db.NewSelect().Model(&there).Where("id = ?", r.ID).Scan(ctx)
		if found == nil {
			if there.JobID == r.Job && there.Build == r.Build && there.Kind == r.Kind && there.Text == r.Text {
				return there.round(), nil
			}
			return Round{}, &Refused{"the round's id", "is taken by other readings", "make another"}
		}
		if try == 20 {
			return Round{}, s.trouble(err)
		}
	}
	if isForeign(err) {
		return Round{}, &NotFound{"job", r.Job}
	}
	if err != nil {
		return Round{}, err
	}
	return row.round(), nil
}

// Rounds returns the rounds of a job, the oldest first; of one build when build
// is not empty.
func (s *Store) Rounds(ctx context.Context, job, build string) ([]Round, error) {
	var rows []roundRow
	sel := s.db.NewSelect().Model(&rows).Where("job_id = ?", job)
	if build != "" {
		sel = sel.Where("build = ?", build)
	}
	if err := sel.OrderExpr("saved_at, number").Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	out := make([]Round, len(rows))
	for i := range rows {
		out[i] = rows[i].round()
	}
	return out, nil
}

// RoundsOf returns the rounds of a kind in the order in which they were kept; of
// one build when build is not empty.
func (s *Store) RoundsOf(ctx context.Context, job, build, kind string) ([]Round, error) {
	var rows []roundRow
	sel := s.db.NewSelect().Model(&rows).Where("job_id = ?", job).Where("kind = ?", kind)
	if build != "" {
		sel = sel.Where("build = ?", build)
	}
	if err := sel.OrderExpr("build, number").Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	out := make([]Round, len(rows))
	for i := range rows {
		out[i] = rows[i].round()
	}
	return out, nil
}

func (r *roundRow) round() Round {
	return Round{
		ID: r.ID, Job: r.JobID, Build: r.Build, Kind: r.Kind, Number: r.Number,
		Taken: at(r.TakenAt), Saved: at(r.SavedAt), Who: r.TakenBy, Text: r.Text,
	}
}
