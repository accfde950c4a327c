package store

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/uptrace/bun"
)

// Role is what a person may do; what follows from it is decided elsewhere.
type Role string

// The roles.
const (
	Owner      Role = "owner"      // of the workshop
	Specialist Role = "specialist" // makes jobs
	Bay        Role = "bay"        // types readings and rounds
	Viewer     Role = "viewer"     // reads
)

// Roles are all roles, the one that may do most first.
var Roles = []Role{Owner, Specialist, Bay, Viewer}

// Person is somebody of the workshop. Revisions say who by the name, so that a
// name is never given to somebody else: who leaves is barred.
type Person struct {
	Name       string
	Role       Role
	Passphrase string // its hash, as it was handed in; empty for none
	Created    time.Time
	Barred     bool
}

// SavePerson adds a person, or changes the role, the hash and whether they are
// barred. Case and accents of the name do not count.
func (s *Store) SavePerson(ctx context.Context, p Person) (Person, error) {
	err := errors.Join(wantName("the name", p.Name), wantLine("the hash of the passphrase", p.Passphrase, mostWhy))
	if err == nil && !slices.Contains(Roles, p.Role) {
		err = &Refused{"the role", "is " + quoted(string(p.Role)), "it is one of owner, specialist, bay, viewer"}
	}
	if err != nil {
		return Person{}, err
	}
	row := personRow{Folded: fold(p.Name), Name: p.Name, Role: string(p.Role), Passphrase: p.Passphrase, CreatedAt: s.stamp(0), Barred: p.Barred}
	err = s.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewInsert().Model(&row).On("CONFLICT (folded) DO UPDATE").
			Set("name = EXCLUDED.name, role = EXCLUDED.role, passphrase = EXCLUDED.passphrase, barred = EXCLUDED.barred").Exec(ctx)
		return err
	})
	if err != nil {
		return Person{}, err
	}
	return s.Person(ctx, p.Name)
}

// Person returns somebody by name, barred or not.
func (s *Store) Person(ctx context.Context, name string) (Person, error) {
	var row personRow
	if err := s.db.NewSelect().Model(&row).Where("folded = ?", fold(name)).Scan(ctx); err != nil {
		return Person{}, s.one(err, "person", name)
	}
	return row.person(), nil
}

// People returns everybody, by name.
func (s *Store) People(ctx context.Context) ([]Person, error) {
	var rows []personRow
	if err := s.db.NewSelect().Model(&rows).Scan(ctx); err != nil {
		return nil, s.trouble(err)
	}
	slices.SortFunc(rows, func(a, b personRow) int { return strings.Compare(a.Folded, b.Folded) })
	out := make([]Person, len(rows))
	for i := range rows {
		out[i] = rows[i].person()
	}
	return out, nil
}

func (r *personRow) person() Person {
	return Person{Name: r.Name, Role: Role(r.Role), Passphrase: r.Passphrase, Created: at(r.CreatedAt), Barred: r.Barred}
}
