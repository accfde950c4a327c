package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"

	"github.com/uptrace/bun"
)

// chained is the version of the tables from which on revisions are chained.
const chained = 4

// link is the fingerprint of a revision with all that came before it: of its own row and
// of the link of the revision before. A revision that was changed, put in between or taken
// out breaks every link after it.
func (r *revisionRow) link(before string) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%d:%s\n%d\n%d\n%d:%s\n%d:%s\n%s\n%s\n", len(r.JobID), r.JobID, r.Number, r.SavedAt,
		len(r.SavedBy), r.SavedBy, len(r.Why), r.Why, r.SHA256, before))
	return hex.EncodeToString(sum[:])
}

// chainRows are the rows of a chain, without their texts, in its order.
const chainRows = `SELECT job_id, number, saved_at, saved_by, why, sha256, chain FROM job_revisions ORDER BY job_id, number`

// linkOn chains a revision that is about to be saved to the one before it.
func linkOn(ctx context.Context, tx bun.Tx, row *revisionRow) error {
	before := ""
	if row.Number > 1 {
		err := tx.NewRaw(`SELECT chain FROM job_revisions WHERE job_id = ? AND number = ?`, row.JobID, row.Number-1).Scan(ctx, &before)
		if err != nil {
			return err
		}
	}
	row.Chain = row.link(before)
	return nil
}

// chainUp chains the revisions of a database that an older program wrote, as they stand.
func (s *Store) chainUp(ctx context.Context) error {
	var bare int
	if err := s.db.NewRaw(`SELECT COUNT(*) FROM job_revisions WHERE chain = ''`).Scan(ctx, &bare); err != nil || bare == 0 {
		return err
	}
	return s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		var rows []revisionRow
		if err := tx.NewRaw(chainRows).Scan(ctx, &rows); err != nil {
			return err
		}
		for i := range rows {
			row := &rows[i]
			if row.Chain != "" {
				continue
			}
			before := ""
			if i > 0 && rows[i-1].JobID == row.JobID {
				before = rows[i-1].Chain
			}
			row.Chain = row.link(before)
			if _, err := tx.NewRaw(`UPDATE job_revisions SET chain = ? WHERE job_id = ? AND number = ?`, row.Chain, row.JobID, row.Number).Exec(ctx); err != nil {
				return err
			}
		}
		return nil
	})
}

// checkChain goes along the chains of all jobs and names the first revision that does
// not hold on to the one before it.
func (s *Store) checkChain(ctx context.Context) error {
	rows, err := s.db.QueryContext(ctx, chainRows)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	var c chainWalk
	for rows.Next() {
		var row revisionRow
		if err := rows.Scan(&row.JobID, &row.Number, &row.SavedAt, &row.SavedBy, &row.Why, &row.SHA256, &row.Chain); err != nil {
			return err
		}
		if got := c.next(&row); got != "" {
			return s.advise(&Trouble{Kind: Damaged, Where: s.where, Got: "is damaged: " + got})
		}
	}
	return rows.Err()
}

// chainWalk holds revisions against each other in the order of the chain.
type chainWalk struct{ last revisionRow }

// next says what is wrong with a revision; nothing where it follows the one before.
func (c *chainWalk) next(row *revisionRow) string {
	before, number := "", 1
	if c.last.JobID == row.JobID {
		before, number = c.last.Chain, c.last.Number+1
	}
	c.last = *row
	c.last.Text = ""
	switch {
	case row.Number != number:
		return fmt.Sprintf("job %s has revision %d where %d belongs", row.JobID, row.Number, number)
	case row.Chain != row.link(before):
		return fmt.Sprintf("revision %d of job %s, or who saved it when and why, is not as it was saved", row.Number, row.JobID)
	}
	return ""
}
