package store

import (
	"context"
	"strings"
	"unicode/utf8"

	"github.com/uptrace/bun"
)

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

// leastCode is how many letters a text needs before it is looked for without its
// blanks and dashes too: shorter ones are in too many words. Chosen.
const leastCode = 3

// asked is a query in the form in which words are stored.
type asked struct {
	words  []string // each anywhere
	whole  string   // or all of it without blanks and dashes; empty for not so
	fields []Word
}

func (q Query) asked() asked {
	q.Text = cut(q.Text, mostName)
	a := asked{words: strings.Fields(fold(q.Text))}
	if whole := compact(fold(q.Text)); utf8.RuneCountInString(whole) >= leastCode && (len(a.words) > 1 || whole != a.words[0]) {
		a.whole = whole
	}
	for _, w := range []Word{
		{ByNumber, q.Number},
		{ByOwner, q.Owner},
		{ByPlate, q.Plate},
		{ByCar, q.Car},
		{ByBuild, q.Build},
		{ByPart, q.Part},
		{BySerial, q.Serial},
	} {
		w.Text = cut(w.Text, mostName)
		if text := folded(w); text != "" {
			a.fields = append(a.fields, Word{w.Kind, text})
		} else if strings.TrimSpace(w.Text) != "" {
			a.fields = append(a.fields, Word{w.Kind, "\n\n\n"}) // only signs: nothing is called so
		}
	}
	return a
}

func (a asked) nothing() bool { return len(a.words)+len(a.fields) == 0 }

// fit adds the conditions that a job fits.
func (a asked) fit(sel *bun.SelectQuery) *bun.SelectQuery {
	if len(a.words) > 0 {
		sel = sel.WhereGroup(" AND ", func(sel *bun.SelectQuery) *bun.SelectQuery {
			sel = sel.WhereGroup("", func(sel *bun.SelectQuery) *bun.SelectQuery {
				for _, w := range a.words {
					condition, pattern := holds("j.haystack", w)
					sel = sel.Where(condition, pattern)
				}
				return sel
			})
			if a.whole != "" {
				condition, pattern := holds("j.haystack", a.whole)
				sel = sel.WhereOr(condition, pattern)
			}
			return sel
		})
	}
	for _, f := range a.fields {
		condition, pattern := holds("j.by_"+f.Kind, f.Text)
		sel = sel.Where(condition, pattern)
	}
	return sel
}

// Find returns the jobs that fit, the last saved first.
func (s *Store) Find(ctx context.Context, q Query) (Page, error) {
	if q.Limit <= 0 {
		q.Limit = 50
	}
	q.Limit, q.Offset = min(q.Limit, 500), max(q.Offset, 0)
	a := q.asked()
	var rows []jobRow
	err := a.fit(s.db.NewSelect().Model(&rows).Column("id", "revision", "created_at", "saved_at", "saved_by", "why", "sha256", "number", "owner", "plate", "car")).
		OrderExpr("j.saved_at DESC, j.id").Limit(int64(q.Limit) + 1).Offset(int64(q.Offset)).Scan(ctx)
	if err != nil {
		return Page{}, s.trouble(err)
	}
	// When all that fit are here they are counted; else the database counts.
	page := Page{Total: q.Offset + len(rows)}
	if len(rows) > q.Limit || len(rows) == 0 && q.Offset > 0 {
		total, err := a.fit(s.db.NewSelect().Model((*jobRow)(nil))).Count(ctx)
		if err != nil {
			return Page{}, s.trouble(err)
		}
		page.Total, rows = int(total), rows[:min(len(rows), q.Limit)]
	}
	page.Hits = make([]Hit, len(rows))
	for i := range rows {
		page.Hits[i].Head = rows[i].head()
	}
	if a.nothing() || len(rows) == 0 {
		return page, nil
	}
	return page, s.trouble(s.foundBy(ctx, page.Hits, a))
}

// foundBy fills in why each job was found.
func (s *Store) foundBy(ctx context.Context, hits []Hit, a asked) error {
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
		if w := (Word{row.Kind, row.Word}); a.finds(w) {
			hit := &hits[place[row.JobID]]
			hit.Found = append(hit.Found, w)
		}
	}
	return nil
}

// finds reports that a word is among those that are asked for.
func (a asked) finds(w Word) bool {
	lines := w.lines()
	for _, one := range a.words {
		if strings.Contains(lines, one) {
			return true
		}
	}
	for _, f := range a.fields {
		if f.Kind == w.Kind && strings.Contains(folded(w), f.Text) {
			return true
		}
	}
	return a.whole != "" && strings.Contains(lines, a.whole)
}
