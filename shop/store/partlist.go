package store

import (
	"context"
	"errors"
	"slices"

	"github.com/uptrace/bun"

	"trunnion/shop/jobfile"
)

// TakenParts is what taking a list into the catalogue does.
type TakenParts struct {
	New, Changed, Same int
}

// TakeParts takes parts of one kind into the catalogue, all of them or none: a part that
// is not there yet is new, one whose keys are others gets its next revision, and one that
// is as the list has it stays. Of a part that is there stays what the list does not say of
// it, curves and tables too, which no list can hold. Parts that the list does not have
// stay. With look nothing is saved. When somebody saves one of them meanwhile nothing is changed either, and it
// returns a *Stale.
func (s *Store) TakeParts(ctx context.Context, parts []Part, look bool) (TakenParts, error) {
	var done TakenParts
	var rows []Part
	there, err := s.Parts(ctx, PartQuery{Withdrawn: true})
	if err != nil {
		return done, err
	}
	for i := range parts {
		p := parts[i]
		at := slices.IndexFunc(there, func(q Part) bool { return q.Kind == p.Kind && q.Slug == p.Slug })
		if at < 0 {
			p.Revision = 0
			done.New++
		} else {
			now := &there[at]
			p.Revision, p.Withdrawn = now.Revision, false
			if p.Text, err = completed(&p, now.Text); err != nil {
				return TakenParts{}, err
			}
			if p.Stock == "" {
				p.Stock = now.Stock
			}
			if same(p.Text, now.Text) && p.Name == now.Name && p.Stock == now.Stock && !now.Withdrawn {
				done.Same++
				continue
			}
			done.Changed++
		}
		if err := p.wanted(); err != nil {
			return TakenParts{}, err
		}
		rows = append(rows, p)
	}
	if look || len(rows) == 0 {
		return done, nil
	}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		for i := range rows {
			if _, err := s.insertPart(ctx, tx, &rows[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		return TakenParts{}, s.savedSince(ctx, rows)
	}
	return done, err
}

// savedSince is the first of parts that somebody else saved meanwhile.
func (s *Store) savedSince(ctx context.Context, rows []Part) error {
	for i := range rows {
		p := &rows[i]
		now, err := s.Part(ctx, p.Kind, p.Slug)
		if err == nil && now.Revision != p.Revision {
			return &Stale{What: p.Kind, ID: p.Slug, Expected: p.Revision, Now: now.Revision, Who: now.Who}
		}
	}
	return errOvertaken
}

// completed is the text of a listed part with what the list does not say of the part that
// is there.
func completed(p *Part, was string) (string, error) {
	keys, old, err := jobfile.Pieces(was)
	if err != nil {
		return p.Text, nil //nolint:nilerr // what cannot be read has nothing to keep
	}
	_, texts, err := jobfile.Pieces(p.Text)
	if err != nil {
		return "", unreadable("the part's text", []byte(p.Text))
	}
	for _, k := range keys {
		if _, said := texts[k]; !said {
			texts[k] = old[k]
		}
	}
	return jobfile.PlacedPart(p.Section(), texts), nil
}

// same reports two texts of a part with the same keys and the same behind each.
func same(a, b string) bool {
	one, x, err := jobfile.Pieces(a)
	two, y, err2 := jobfile.Pieces(b)
	if err != nil || err2 != nil || len(one) != len(two) {
		return false
	}
	for k, text := range x {
		if y[k] != text {
			return false
		}
	}
	return true
}
