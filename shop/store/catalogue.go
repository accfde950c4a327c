package store

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/uptrace/bun"

	"trunnion/shop/jobfile"
)

// PartKinds are what the catalogue holds: the sections of a job's parts, under their
// plural.
var PartKinds = []string{"spring", "damper", "stop", "mount", "platform", "tyre", "wheel"}

// Part is an entry of the workshop's catalogue, as of one revision. A build
// copies the part it uses into its job, so that a change here changes no job.
type Part struct {
	Kind string // one of PartKinds
	Slug string // what it is called in a job: an id
	Name string // what it is called by people
	// Text is the part exactly as it stands in a job behind its id: "{rate: maker
	// 25 N/mm, free: maker 361 mm}".
	Text      string
	Source    string // where its figures come from
	Dated     string // of the source: 2026-11-16, or empty
	Stock     string // note on what is there
	Withdrawn bool   // no longer offered; kept for the jobs that name it

	Revision int // from 1; on saving, the one expected, 0 for a new part
	When     time.Time
	Who      string
	Why      string
}

// Section is the part's place in a job: "springs".
func (p Part) Section() string { return p.Kind + "s" }

// StockedPart is the newest revision of a part as an edit copies it into a job.
func (s *Store) StockedPart(ctx context.Context, kind, slug string) (jobfile.Stocked, error) {
	p, err := s.Part(ctx, kind, slug)
	return p.stocked(), err
}

func (p Part) stocked() jobfile.Stocked {
	return jobfile.Stocked{Kind: p.Kind, Section: p.Section(), Slug: p.Slug, Name: p.Name, Text: p.Text, Revision: p.Revision}
}

// Invented is the source of parts that came with the program's demo: nobody sells them.
const Invented = "the demo job, invented"

// StockedParts are the parts that are offered and can be bought, by kind and name.
func (s *Store) StockedParts(ctx context.Context) ([]jobfile.Stocked, error) {
	var out []jobfile.Stocked
	for _, kind := range jobfile.Sold {
		list, err := s.Parts(ctx, PartQuery{Kind: kind})
		if err != nil {
			return nil, err
		}
		for i := range list {
			if list[i].Source != Invented {
				out = append(out, list[i].stocked())
			}
		}
	}
	return out, nil
}

// SavePart keeps a part as its next revision. When somebody saved in between it
// changes nothing and returns a *Stale.
func (s *Store) SavePart(ctx context.Context, p Part) (Part, error) {
	if err := p.wanted(); err != nil {
		return Part{}, err
	}
	var row partRevisionRow
	err := s.write(ctx, func(ctx context.Context, tx bun.Tx) (err error) {
		row, err = s.insertPart(ctx, tx, &p)
		return err
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		now, err := s.Part(ctx, p.Kind, p.Slug)
		if err != nil {
			return Part{}, err
		}
		return Part{}, &Stale{What: p.Kind, ID: p.Slug, Expected: p.Revision, Now: now.Revision, Who: now.Who}
	}
	if err != nil {
		return Part{}, err
	}
	return row.part(), nil
}

// wanted refuses what no part can be.
func (p *Part) wanted() error {
	if !slices.Contains(PartKinds, p.Kind) {
		return &Refused{"the kind of part", "is " + quoted(p.Kind), "it is one of " + strings.Join(PartKinds, ", ")}
	}
	err := errors.Join(
		wantID("the part's id", p.Slug), wantName("the part's name", p.Name), wantName("who", p.Who), wantLine("why", p.Why, mostWhy),
		wantLine("the source", p.Source, mostWhy), wantDate("the source's date", p.Dated), wantLine("the stock note", p.Stock, mostWhy),
	)
	if err == nil {
		err = wantText("the part's text", []byte(p.Text))
	}
	if err == nil {
		if _, wrong := jobfile.Piece([]byte(p.Text), ""); wrong != nil {
			err = unreadable("the part's text", []byte(p.Text))
		}
	}
	return err
}

// insertPart keeps a part as its next revision within a transaction.
func (s *Store) insertPart(ctx context.Context, tx bun.Tx, p *Part) (partRevisionRow, error) {
	row := partRevisionRow{
		Kind: p.Kind, Slug: p.Slug, Number: p.Revision + 1, SavedBy: p.Who, Why: p.Why, Name: p.Name, Text: p.Text,
		Source: p.Source, Dated: p.Dated, Stock: p.Stock, Withdrawn: p.Withdrawn,
	}
	row.SavedAt = s.kept(0)
	if p.Revision == 0 {
		if _, err := tx.NewInsert().Model(&partRow{Kind: p.Kind, Slug: p.Slug, Revision: 1}).Exec(ctx); err != nil {
			return row, err
		}
	} else if err := moveOn(ctx, tx, `UPDATE parts SET revision = ? WHERE kind = ? AND slug = ? AND revision = ?`,
		row.Number, p.Kind, p.Slug, p.Revision); err != nil {
		return row, err
	}
	_, err := tx.NewInsert().Model(&row).Exec(ctx)
	return row, err
}

// moveOn changes one row that must still be as it was.
func moveOn(ctx context.Context, tx bun.Tx, query string, args ...any) error {
	n, err := affected(tx.NewRaw(query, args...).Exec(ctx))
	if err == nil && n == 0 {
		err = errOvertaken
	}
	return err
}

// wantDate refuses what is no date of the calendar; it may be empty.
func wantDate(field, text string) error {
	if text == "" {
		return nil
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return &Refused{field, "is " + quoted(text), "a date is written 2026-11-16"}
	}
	return nil
}

// Part returns the newest revision of a part.
func (s *Store) Part(ctx context.Context, kind, slug string) (Part, error) {
	var row partRevisionRow
	err := s.db.NewRaw(`SELECT r.* FROM part_revisions r JOIN parts p ON p.kind = r.kind AND p.slug = r.slug AND p.revision = r.number
		WHERE p.kind = ? AND p.slug = ?`, kind, slug).Scan(ctx, &row)
	if err != nil {
		return Part{}, s.one(err, "part", kind+" "+slug)
	}
	return row.part(), nil
}

// PartHistory returns all revisions of a part, the newest first.
func (s *Store) PartHistory(ctx context.Context, kind, slug string) ([]Part, error) {
	var rows []partRevisionRow
	err := s.db.NewSelect().Model(&rows).Where("kind = ? AND slug = ?", kind, slug).OrderExpr("number DESC").Scan(ctx)
	if err == nil && len(rows) == 0 {
		return nil, &NotFound{"part", kind + " " + slug}
	}
	return partsOf(rows), s.trouble(err)
}

// PartQuery asks for parts. Empty fields ask nothing.
type PartQuery struct {
	Kind      string
	Text      string // looked for in name, id, source and stock note, each word anywhere
	Withdrawn bool   // those too that are no longer offered
}

// Parts returns the newest revision of the parts that fit, by kind and name.
func (s *Store) Parts(ctx context.Context, q PartQuery) ([]Part, error) {
	var rows []partRevisionRow
	sel := s.db.NewSelect().Model(&rows).Join("JOIN parts AS p ON p.kind = r.kind AND p.slug = r.slug AND p.revision = r.number")
	if q.Kind != "" {
		sel = sel.Where("r.kind = ?", q.Kind)
	}
	if !q.Withdrawn {
		sel = sel.Where("NOT r.withdrawn")
	}
	if err := sel.Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	words := strings.Fields(fold(q.Text))
	rows = slices.DeleteFunc(rows, func(r partRevisionRow) bool {
		text := fold(r.Name) + "\n" + fold(r.Slug) + "\n" + fold(r.Source) + "\n" + fold(r.Stock)
		return slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
	})
	out := partsOf(rows)
	slices.SortFunc(out, func(a, b Part) int {
		return cmpFirst(slices.Index(PartKinds, a.Kind)-slices.Index(PartKinds, b.Kind), strings.Compare(fold(a.Name), fold(b.Name)), strings.Compare(a.Slug, b.Slug))
	})
	return out, nil
}

// cmpFirst is the first comparison that is no tie.
func cmpFirst(results ...int) int {
	for _, r := range results {
		if r != 0 {
			return r
		}
	}
	return 0
}

func partsOf(rows []partRevisionRow) []Part {
	out := make([]Part, len(rows))
	for i := range rows {
		out[i] = rows[i].part()
	}
	return out
}

func (r *partRevisionRow) part() Part {
	return Part{
		Kind: r.Kind, Slug: r.Slug, Name: r.Name, Text: r.Text, Source: r.Source, Dated: r.Dated, Stock: r.Stock, Withdrawn: r.Withdrawn,
		Revision: r.Number, When: at(r.SavedAt), Who: r.SavedBy, Why: r.Why,
	}
}
