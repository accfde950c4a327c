package store

import (
	"context"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/uptrace/bun"
)

func itoa(n int) string { return strconv.Itoa(n) }

// Query asks for jobs. Empty fields ask nothing; all others must fit.
type Query struct {
	// Text is looked for in everything a job is found by, each word anywhere;
	// case, accents, blanks and dashes of plates and serial numbers do not count.
	Text string

	Number, Owner, Plate, Car, Build, Part, Serial string

	Limit  int // 0 means 50; at most 500
	Offset int
}

// Page is a part of what was found, the last saved first.
type Page struct {
	Total int
	Hits  []Hit
}

// Hit is one job that was found, with the words it was found by; none when
// nothing was asked.
type Hit struct {
	Head
	Found []Word
}

// leastCode is how many letters a text needs before it is looked for in plates
// and numbers without its blanks and dashes: shorter ones are in too many.
// Chosen.
const leastCode = 3

// terms are what a query looks for, in the form in which it is stored.
func (q Query) terms() (words []string, whole string, fields []Word) {
	words = strings.Fields(fold(q.Text))
	if whole = compact(fold(q.Text)); utf8.RuneCountInString(whole) < leastCode {
		whole = ""
	}
	for _, w := range []Word{
		{ByNumber, q.Number}, {ByOwner, q.Owner}, {ByPlate, q.Plate}, {ByCar, q.Car},
		{ByBuild, q.Build}, {ByPart, q.Part}, {BySerial, q.Serial},
	} {
		if text := folded(w); text != "" {
			fields = append(fields, Word{w.Kind, text})
		} else if strings.TrimSpace(w.Text) != "" {
			fields = append(fields, Word{w.Kind, "\n"}) // only signs: nothing is called so
		}
	}
	return words, whole, fields
}

// Find returns the jobs that fit, the last saved first.
func (s *Store) Find(ctx context.Context, q Query) (Page, error) {
	if q.Limit <= 0 {
		q.Limit = 50
	}
	q.Limit, q.Offset = min(q.Limit, 500), max(q.Offset, 0)
	words, whole, fields := q.terms()
	fit := func(sel *bun.SelectQuery) *bun.SelectQuery {
		if len(words) > 0 {
			sel = sel.WhereGroup(" AND ", func(sel *bun.SelectQuery) *bun.SelectQuery {
				sel = sel.WhereGroup("", func(sel *bun.SelectQuery) *bun.SelectQuery {
					for _, w := range words {
						sel = sel.Where(holds(s.db, "j.haystack"), w)
					}
					return sel
				})
				if whole != "" {
					sel = sel.WhereOr(holds(s.db, "j.codes"), whole)
				}
				return sel
			})
		}
		for _, f := range fields {
			sel = sel.Where("j.id IN (SELECT w.job_id FROM job_words w WHERE w.kind = ? AND "+holds(s.db, "w.folded")+")", f.Kind, f.Text)
		}
		return sel
	}
	var page Page
	var total int64
	var err error
	if total, err = fit(s.db.NewSelect().Model((*jobRow)(nil))).Count(ctx); err != nil {
		return Page{}, s.ailing(err)
	}
	page.Total = int(total)
	if page.Total <= q.Offset {
		return page, nil
	}
	var rows []jobRow
	err = fit(s.db.NewSelect().Model(&rows).ExcludeColumn("haystack", "codes")).
		OrderExpr("j.saved_at DESC, j.id").Limit(int64(q.Limit)).Offset(int64(q.Offset)).Scan(ctx)
	if err != nil {
		return Page{}, s.ailing(err)
	}
	page.Hits = make([]Hit, len(rows))
	for i := range rows {
		page.Hits[i].Head = rows[i].head()
	}
	if len(words)+len(fields) == 0 || len(rows) == 0 {
		return page, nil
	}
	return page, s.ailing(s.foundBy(ctx, page.Hits, words, whole, fields))
}

// foundBy fills in why each job was found.
func (s *Store) foundBy(ctx context.Context, hits []Hit, words []string, whole string, fields []Word) error {
	ids := make([]string, len(hits))
	place := make(map[string]int, len(hits))
	for i, h := range hits {
		ids[i], place[h.ID] = h.ID, i
	}
	var rows []wordRow
	err := s.db.NewSelect().Model(&rows).Where("job_id IN (?)", bun.List(ids)).OrderExpr("job_id, place").Scan(ctx)
	if err != nil {
		return err
	}
	for _, row := range rows {
		w := Word{row.Kind, row.Word}
		text, code := haystack([]Word{w})
		fits := whole != "" && strings.Contains(code, whole)
		for _, one := range words {
			fits = fits || strings.Contains(text, one)
		}
		for _, f := range fields {
			fits = fits || f.Kind == row.Kind && strings.Contains(row.Folded, f.Text)
		}
		if hit := &hits[place[row.JobID]]; fits {
			hit.Found = append(hit.Found, w)
		}
	}
	return nil
}
