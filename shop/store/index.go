package store

import (
	"context"
	"strings"

	"github.com/uptrace/bun"
)

// The kinds of words a job is found by.
const (
	ByNumber = "number"
	ByOwner  = "owner"
	ByPlate  = "plate"
	ByCar    = "car"
	ByBuild  = "build"
	ByPart   = "part"
	BySerial = "serial"
)

// Word is one thing a job is found by.
type Word struct{ Kind, Text string }

// facts are what the store derives from the text of a job.
type facts struct {
	number, owner, plate, car string
	words                     []Word
}

// into fills in what a job's row is found by.
func (f facts) into(row *jobRow) {
	row.Number, row.Owner, row.Plate, row.Car = f.number, f.owner, f.plate, f.car
	by := map[string]*string{
		ByNumber: &row.ByNumber, ByOwner: &row.ByOwner, ByPlate: &row.ByPlate, ByCar: &row.ByCar,
		ByBuild: &row.ByBuild, ByPart: &row.ByPart, BySerial: &row.BySerial,
	}
	// Words stand on lines of their own, so that no search finds the end of one
	// and the beginning of the next.
	row.Haystack = "\n"
	for _, w := range f.words {
		row.Haystack += w.lines()
		*by[w.Kind] += "\n" + folded(w) + "\n"
	}
}

// lines are a word as a text is looked for in it: codes without their blanks and
// dashes too.
func (w Word) lines() string {
	text := fold(w.Text)
	if code := compact(text); isCode(w.Kind) && code != text {
		return text + "\n" + code + "\n"
	}
	return text + "\n"
}

// columns are those that into fills in.
var columns = []string{
	"number", "owner", "plate", "car", "haystack", "by_number", "by_owner", "by_plate", "by_car", "by_build", "by_part", "by_serial",
}

// factsOf reads a job's text for what it is found by. It refuses what is no
// job at all; whether the job can be answered is not its matter.
func factsOf(text []byte) (facts, error) {
	fields, err := readFields("the job", text)
	if err != nil {
		return facts{}, err
	}
	line := func(text string) string { return cut(oneLine(text), 200) }
	first := map[string]string{}
	for _, f := range fields {
		if _, twice := first[f.Path]; !twice {
			first[f.Path] = line(f.Typed)
		}
	}
	if !strings.HasPrefix(first["trunnion"], "job/") {
		return facts{}, &Refused{"the job", "is without its version", "it starts with trunnion: job/1"}
	}
	f := facts{number: first["job.number"], owner: first["job.owner"], plate: first["car.plate"], car: first["car.name"]}
	seen := map[Word]bool{}
	add := func(kind, text string) {
		w := Word{kind, line(text)}
		if w.Text != "" && !seen[w] && len(f.words) < mostWords {
			seen[w] = true
			f.words = append(f.words, w)
		}
	}
	add(ByNumber, f.number)
	add(ByOwner, f.owner)
	add(ByPlate, f.plate)
	add(ByCar, f.car)
	for _, field := range fields {
		switch at := strings.Split(field.Path, "."); {
		case at[0] == "builds" && len(at) > 1:
			add(ByBuild, at[1])
			if len(at) == 3 && at[2] == "name" {
				add(ByBuild, field.Typed)
			}
		case at[0] == "parts" && len(at) > 2:
			add(ByPart, at[2])
		}
	}
	for _, number := range serials(text) {
		add(BySerial, number)
	}
	return f, nil
}

// isCode reports a kind of word that is written with blanks and dashes or
// without.
func isCode(kind string) bool {
	return kind == ByPlate || kind == BySerial || kind == ByPart || kind == ByNumber
}

// putWords replaces the words of a job.
func putWords(ctx context.Context, tx bun.Tx, job string, f facts) error {
	if _, err := tx.NewRaw(`DELETE FROM job_words WHERE job_id = ?`, job).Exec(ctx); err != nil {
		return err
	}
	rows := make([]wordRow, len(f.words))
	for i, w := range f.words {
		rows[i] = wordRow{JobID: job, Place: i, Kind: w.Kind, Word: w.Text}
	}
	if len(rows) == 0 {
		return nil
	}
	_, err := tx.NewInsert().Model(&rows).Exec(ctx)
	return err
}

// folded is a word as it is looked for by its kind.
func folded(w Word) string {
	text := fold(w.Text)
	if isCode(w.Kind) {
		return compact(text)
	}
	return text
}

// Reindex derives what jobs are found by anew from their texts, and returns how
// many jobs it went through. The texts are not touched. Report is told after
// each job and may be nil.
func (s *Store) Reindex(ctx context.Context, report func(done, all int)) (int, error) {
	var ids []string
	if err := s.db.NewRaw(`SELECT id FROM jobs ORDER BY id`).Scan(ctx, &ids); err != nil {
		return 0, s.trouble(err)
	}
	for i, id := range ids {
		err := s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
			var row revisionRow
			err := tx.NewRaw(`SELECT r.* FROM job_revisions r JOIN jobs j ON j.id = r.job_id AND j.revision = r.number WHERE j.id = ?`, id).Scan(ctx, &row)
			if err != nil {
				return s.one(err, "job", id)
			}
			f, err := factsOf([]byte(row.Text))
			if err != nil {
				return err
			}
			var job jobRow
			f.into(&job)
			_, err = tx.NewUpdate().Model(&job).Column(columns...).Where("id = ? AND revision = ?", id, row.Number).Exec(ctx)
			if err != nil {
				return err
			}
			if err := dropDerived(ctx, tx, id); err != nil {
				return err
			}
			return putWords(ctx, tx, id, f)
		})
		if err == nil {
			_, err = s.Steps(ctx, id)
		}
		if err != nil {
			return i, err
		}
		if report != nil {
			report(i+1, len(ids))
		}
	}
	return len(ids), nil
}
