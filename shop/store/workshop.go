package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"time"

	"github.com/uptrace/bun"
)

// Workshop is what the workshop says of itself on its sheets, as of one
// revision.
type Workshop struct {
	Name  string
	Words string // under the name: address, telephone, terms; may have lines
	// Logo is a picture in PNG or JPEG; empty for none.
	Logo        []byte
	RecheckDays int // after the handover; 0 means no habit
	RecheckKm   int // after the handover; 0 means no habit [km]

	Revision int // from 1; on saving, the one expected, 0 for the first
	When     time.Time
	Who      string
	Why      string
}

// MostLogo is how many bytes a logo has at most. Chosen: a page prints it 40 mm
// wide.
const MostLogo = 512 << 10

// LogoType is "image/png" or "image/jpeg", by the first bytes of a picture; empty
// for anything else.
func LogoType(logo []byte) string {
	switch {
	case bytes.HasPrefix(logo, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case bytes.HasPrefix(logo, []byte{0xFF, 0xD8, 0xFF}):
		return "image/jpeg"
	}
	return ""
}

// SaveWorkshop keeps what the workshop says of itself as its next revision. When
// somebody saved in between it changes nothing and returns a *Stale.
func (s *Store) SaveWorkshop(ctx context.Context, w Workshop) (Workshop, error) {
	err := errors.Join(wantLine("the workshop's name", w.Name, mostName), wantLong("the workshop's words", w.Words), wantName("who", w.Who), wantLine("why", w.Why, mostWhy))
	switch {
	case len(w.Logo) > MostLogo:
		err = errors.Join(err, &Refused{"the logo", "has " + itoa(len(w.Logo)) + " bytes", "at most " + itoa(MostLogo) + " are kept: save it smaller"})
	case len(w.Logo) > 0 && LogoType(w.Logo) == "":
		err = errors.Join(err, &Refused{"the logo", "is no picture in PNG or JPEG", "save it as one"})
	}
	if w.RecheckDays < 0 || w.RecheckDays > 3660 || w.RecheckKm < 0 || w.RecheckKm > 1_000_000 {
		err = errors.Join(err, &Refused{"the interval of the follow-up check", "is less than 0 or beyond ten years", "enter days and kilometres after the handover"})
	}
	if w.Revision < 0 {
		err = errors.Join(err, &Refused{"the expected revision", "is less than 0", "it is 0 for the first"})
	}
	if err != nil {
		return Workshop{}, err
	}
	row := workshopRow{
		Number: w.Revision + 1, SavedBy: w.Who, Why: w.Why, Name: w.Name, Words: w.Words, Logo: w.Logo, RecheckDays: w.RecheckDays, RecheckKm: w.RecheckKm,
	}
	if row.Logo == nil {
		row.Logo = []byte{}
	}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		var newest int
		if err := tx.NewRaw(`SELECT COALESCE(MAX(number), 0) FROM workshop_revisions`).Scan(ctx, &newest); err != nil {
			return err
		}
		if newest != w.Revision {
			return errOvertaken
		}
		row.SavedAt = s.kept(0)
		_, err := tx.NewInsert().Model(&row).Exec(ctx)
		return err
	})
	if errors.Is(err, errOvertaken) || isUnique(err) {
		now, err := s.Workshop(ctx)
		if err != nil {
			return Workshop{}, err
		}
		return Workshop{}, &Stale{What: "workshop", ID: now.Name, Expected: w.Revision, Now: now.Revision, Who: now.Who}
	}
	if err != nil {
		return Workshop{}, err
	}
	return row.workshop(), nil
}

// Workshop returns what the workshop says of itself now; the zero Workshop, of
// revision 0, while nothing was said.
func (s *Store) Workshop(ctx context.Context) (Workshop, error) {
	var row workshopRow
	err := s.db.NewSelect().Model(&row).OrderExpr("number DESC").Limit(1).Scan(ctx)
	if errors.Is(err, sql.ErrNoRows) {
		return Workshop{}, nil
	}
	if err != nil {
		return Workshop{}, s.trouble(err)
	}
	return row.workshop(), nil
}

// WorkshopHistory returns all revisions, the newest first, without their logos.
func (s *Store) WorkshopHistory(ctx context.Context) ([]Workshop, error) {
	var rows []workshopRow
	if err := s.db.NewSelect().Model(&rows).ExcludeColumn("logo").OrderExpr("number DESC").Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	out := make([]Workshop, len(rows))
	for i := range rows {
		out[i] = rows[i].workshop()
	}
	return out, nil
}

func (r *workshopRow) workshop() Workshop {
	w := Workshop{
		Name: r.Name, Words: r.Words, RecheckDays: r.RecheckDays, RecheckKm: r.RecheckKm,
		Revision: r.Number, When: at(r.SavedAt), Who: r.SavedBy, Why: r.Why,
	}
	if len(r.Logo) > 0 {
		w.Logo = r.Logo
	}
	return w
}

type workshopRow struct {
	bun.BaseModel `bun:"table:workshop_revisions,alias:w"`

	Number      int    `bun:"number,pk"`
	SavedAt     int64  `bun:"saved_at"`
	SavedBy     string `bun:"saved_by"`
	Why         string `bun:"why"`
	Name        string `bun:"name"`
	Words       string `bun:"words"`
	Logo        []byte `bun:"logo"`
	RecheckDays int    `bun:"recheck_days"`
	RecheckKm   int    `bun:"recheck_km"`
}
