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

// Preset is the workshop's own way to build one type of car, as of one
// revision.
type Preset struct {
	Slug string // an id
	Car  string // the type of car it is for
	Name string
	// Text is a piece of a job: parts, and builds with the one build of the preset
	// (its parts, platforms from their start marks, heights, clicks).
	Text      string
	Withdrawn bool // no longer offered

	Revision int // from 1; on saving, the one expected, 0 for a new preset
	When     time.Time
	Who      string
	Why      string
}

// SavePreset keeps a preset as its next revision. When somebody saved in between
// it changes nothing and returns a *Stale.
func (s *Store) SavePreset(ctx context.Context, p Preset) (Preset, error) {
	err := errors.Join(
		wantID("the preset's id", p.Slug), wantName("the preset's name", p.Name), wantName("the type of car", p.Car),
		wantName("who", p.Who), wantLine("why", p.Why, mostWhy),
	)
	if err == nil {
		_, _, err = presetFields(p)
	}
	if err != nil {
		return Preset{}, err
	}
	row := presetRevisionRow{
		Slug: p.Slug, Number: p.Revision + 1, SavedBy: p.Who, Why: p.Why, Car: p.Car, Name: p.Name, Text: p.Text, Withdrawn: p.Withdrawn,
	}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		row.SavedAt = s.kept(0)
		if p.Revision == 0 {
			if _, err := tx.NewInsert().Model(&presetRow{Slug: p.Slug, Revision: 1}).Exec(ctx); err != nil {
				return err
			}
		} else if err := moveOn(ctx, tx, `UPDATE presets SET revision = ? WHERE slug = ? AND revision = ?`, row.Number, p.Slug, p.Revision); err != nil {
			return err
		}
		_, err := tx.NewInsert().Model(&row).Exec(ctx)
		return err
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		now, err := s.Preset(ctx, p.Slug)
		if err != nil {
			return Preset{}, err
		}
		return Preset{}, &Stale{What: "preset", ID: p.Slug, Expected: p.Revision, Now: now.Revision, Who: now.Who}
	}
	if err != nil {
		return Preset{}, err
	}
	return row.preset(), nil
}

// Preset returns the newest revision of a preset.
func (s *Store) Preset(ctx context.Context, slug string) (Preset, error) {
	var row presetRevisionRow
	err := s.db.NewRaw(`SELECT r.* FROM preset_revisions r JOIN presets p ON p.slug = r.slug AND p.revision = r.number WHERE p.slug = ?`, slug).Scan(ctx, &row)
	if err != nil {
		return Preset{}, s.one(err, "preset", slug)
	}
	return row.preset(), nil
}

// StockedPreset is the newest revision of a preset as an edit makes a build of it.
func (s *Store) StockedPreset(ctx context.Context, slug string) (jobfile.Stocked, error) {
	p, err := s.Preset(ctx, slug)
	return jobfile.Stocked{Slug: p.Slug, Name: p.Name, Text: p.Text, Revision: p.Revision}, err
}

// PresetHistory returns all revisions of a preset, the newest first.
func (s *Store) PresetHistory(ctx context.Context, slug string) ([]Preset, error) {
	var rows []presetRevisionRow
	err := s.db.NewSelect().Model(&rows).Where("slug = ?", slug).OrderExpr("number DESC").Scan(ctx)
	if err == nil && len(rows) == 0 {
		return nil, &NotFound{"preset", slug}
	}
	return presetsOf(rows), s.trouble(err)
}

// Presets returns the presets that are offered for a type of car, by name; for
// all cars when it is empty. Case and accents do not count.
func (s *Store) Presets(ctx context.Context, car string) ([]Preset, error) {
	var rows []presetRevisionRow
	err := s.db.NewSelect().Model(&rows).Join("JOIN presets AS p ON p.slug = r.slug AND p.revision = r.number").Where("NOT r.withdrawn").Scan(ctx)
	if err != nil {
		return nil, s.trouble(err)
	}
	if car != "" {
		rows = slices.DeleteFunc(rows, func(r presetRevisionRow) bool { return fold(r.Car) != fold(car) })
	}
	out := presetsOf(rows)
	slices.SortFunc(out, func(a, b Preset) int {
		return cmpFirst(strings.Compare(fold(a.Car), fold(b.Car)), strings.Compare(fold(a.Name), fold(b.Name)), strings.Compare(a.Slug, b.Slug))
	})
	return out, nil
}

func presetsOf(rows []presetRevisionRow) []Preset {
	out := make([]Preset, len(rows))
	for i := range rows {
		out[i] = rows[i].preset()
	}
	return out
}

func (r *presetRevisionRow) preset() Preset {
	return Preset{
		Slug: r.Slug, Car: r.Car, Name: r.Name, Text: r.Text, Withdrawn: r.Withdrawn,
		Revision: r.Number, When: at(r.SavedAt), Who: r.SavedBy, Why: r.Why,
	}
}

// presetFields reads the text of a preset, and the id of its one build.
func presetFields(p Preset) (fields []jobfile.Field, build string, err error) {
	fields, err = readFields("the preset", []byte(p.Text))
	if err != nil {
		return nil, "", err
	}
	for _, f := range fields {
		at := strings.Split(f.Path, ".")
		switch {
		case at[0] == "builds" && len(at) > 2 && (build == "" || build == at[1]):
			build = at[1]
		case at[0] == "builds":
			return nil, "", &Refused{"the preset", "holds more than one build, or one that says nothing", "enter one"}
		case at[0] != "parts":
			return nil, "", &Refused{"the preset", "holds " + quoted(at[0]), "it holds parts and builds"}
		}
	}
	if build == "" {
		return nil, "", &Refused{"the preset", "holds no build", "enter one, under builds and its id"}
	}
	return fields, build, nil
}
