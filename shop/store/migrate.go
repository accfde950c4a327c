package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// The tables, one folder a database. A step that was published never changes;
// the two folders make the same tables, which a test compares.
//
//go:embed migrations
var migrations embed.FS

// migrator brings a database to this program's version.
func migrator(db *sql.DB, lite bool) (*goose.Provider, error) {
	folder, dialect := "migrations/postgres", goose.DialectPostgres
	options := []goose.ProviderOption{goose.WithDisableGlobalRegistry(true)}
	if lite {
		folder, dialect = "migrations/sqlite", goose.DialectSQLite3
	} else {
		// Branches that start at the same time wait for each other.
		locker, err := lock.NewPostgresSessionLocker()
		if err != nil {
			return nil, err
		}
		options = append(options, goose.WithSessionLocker(locker))
	}
	steps, err := fs.Sub(migrations, folder)
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(dialect, db, steps, options...)
}

// newest is the version of the tables that this program knows.
func newest(p *goose.Provider) int64 {
	version := int64(0)
	for _, step := range p.ListSources() {
		version = max(version, step.Version)
	}
	return version
}

// versionOf is the version of the tables in a database; 0 when it has none. It
// writes nothing.
func versionOf(ctx context.Context, db *sql.DB, lite bool) (int64, error) {
	find := `SELECT COUNT(*) FROM information_schema.tables WHERE table_schema = current_schema() AND table_name = 'goose_db_version'`
	if lite {
		find = `SELECT COUNT(*) FROM sqlite_schema WHERE type = 'table' AND name = 'goose_db_version'`
	}
	var tables int
	if err := db.QueryRowContext(ctx, find).Scan(&tables); err != nil || tables == 0 {
		return 0, err
	}
	var version sql.NullInt64
	err := db.QueryRowContext(ctx, `SELECT MAX(version_id) FROM goose_db_version`).Scan(&version)
	return version.Int64, err
}

// tooNew is the Trouble of a database that a newer program wrote.
func tooNew(where string, has, known int64) *Trouble {
	return &Trouble{
		Kind: Newer, Where: where,
		Got: fmt.Sprintf("was written by a newer program (tables of version %d, this program knows %d)", has, known),
		Do:  "install the newer program; nothing was changed",
	}
}
