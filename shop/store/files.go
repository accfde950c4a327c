package store

import (
	"context"
	"errors"
	"strings"
)

// Export returns a revision of a job as one file, and a name for it that is safe
// on every system; the newest revision when number is 0.
func (s *Store) Export(ctx context.Context, job string, number int) (name string, text []byte, err error) {
	var r Revision
	if number == 0 {
		r, err = s.Job(ctx, job)
	} else {
		r, err = s.Revision(ctx, job, number)
	}
	if err != nil {
		return "", nil, err
	}
	f, err := factsOf(r.Text)
	if err != nil {
		return "", nil, err
	}
	return fileName(f.number, f.plate, f.car) + ".yaml", r.Text, nil
}

// fileName makes a file name of words: small letters, digits and dashes.
func fileName(words ...string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		default:
			return ' '
		}
	}, fold(strings.Join(words, " ")))
	// "job" in front: some systems keep names such as "con" for themselves.
	return strings.TrimRight(cut("job-"+strings.Join(strings.Fields(name), "-"), 60), "-")
}

// Import keeps a job file as a new job. It returns an *AlreadyHere when the
// newest revision of some job is this very text; Save keeps it a second time.
func (s *Store) Import(ctx context.Context, text []byte, who, why string) (Revision, error) {
	if err := errors.Join(wantName("who", who), wantLine("why", why, mostWhy)); err != nil {
		return Revision{}, err
	}
	var rows []jobRow
	err := s.db.NewSelect().Model(&rows).Where("sha256 = ?", sum(text)).OrderExpr("saved_at DESC").Limit(1).Scan(ctx)
	if err != nil {
		return Revision{}, s.trouble(err)
	}
	if len(rows) > 0 {
		return Revision{}, &AlreadyHere{rows[0].head()}
	}
	return s.Save(ctx, Change{Job: NewID(), Who: who, Why: why, Text: text})
}
