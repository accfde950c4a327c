package store

import (
	"context"
	"errors"
	"time"

	"github.com/uptrace/bun"
)

// Head is a job as it stands in a list: what it is called and who saved it last.
type Head struct {
	ID        string
	Revision  int
	CreatedAt time.Time
	SavedAt   time.Time
	Who       string
	Why       string
	SHA256    string // of the text, in hexadecimal
	Number    string
	Owner     string
	Plate     string
	Car       string
}

// title is what a job is called in a message.
func (h Head) title() string {
	for _, text := range []string{h.Owner + " " + h.Car, h.Plate, h.Number} {
		if text = oneLine(text); text != "" {
			return text
		}
	}
	return h.ID
}

// Revision is one save of a job. Text is the job file whole, to the byte; it is
// nil in a history.
type Revision struct {
	Job    string
	Number int // from 1
	When   time.Time
	Who    string
	Why    string
	SHA256 string // of the text, in hexadecimal
	Text   []byte
}

// Change is a save that somebody asks for.
type Change struct {
	Job      string // id; of a new job from NewID
	Expected int    // revision that the text started from; 0 for a new job
	Who      string
	Why      string // may be empty
	Text     []byte // the job file whole
}

// errOvertaken ends a transaction whose base is no longer the newest.
var errOvertaken = errors.New("overtaken")

// Save keeps a job as its next revision and throws away the draft of who saved
// it. When somebody saved in between it changes nothing and returns a
// *Conflict with both versions. A save that comes twice, because its answer was
// lost, is kept once.
func (s *Store) Save(ctx context.Context, c Change) (Revision, error) {
	if err := errors.Join(wantID("the job's id", c.Job), wantName("who", c.Who), wantLine("why", c.Why, mostWhy)); err != nil {
		return Revision{}, err
	}
	if c.Expected < 0 {
		return Revision{}, &Refused{"the expected revision", "is less than 0", "it is 0 for a new job"}
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
		_, err := tx.NewRaw(`DELETE FROM drafts WHERE person = ? AND job_id = ?`, fold(c.Who), c.Job).Exec(ctx)
		return err
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		return s.overtaken(ctx, c)
	}
	if err != nil {
		return Revision{}, err
	}
	return row.revision(), nil
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
