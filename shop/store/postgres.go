package store

import (
	"context"
	"database/sql"
	"net/url"
	"runtime"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/uptrace/bun"
	"github.com/uptrace/bun/dialect/pgdialect"
)

// openPostgres opens the store on a server. Several programs may.
func (s *Store) openPostgres(ctx context.Context, where string) error {
	config, err := pgx.ParseConfig(where)
	if err != nil {
		// The library's message repeats the URL, and with it a passphrase.
		s.where = "the address of the database server"
		return &Trouble{Kind: Unreachable, Where: s.where, Got: "cannot be read", Do: "it is written postgres://user@host/database"}
	}
	s.where = (&url.URL{Scheme: "postgres", User: url.User(config.User), Host: config.Host, Path: "/" + config.Database}).String()
	db := stdlib.OpenDB(*config)
	db.SetMaxOpenConns(max(8, 2*runtime.NumCPU()))
	db.SetMaxIdleConns(8)
	s.db = bun.NewDB(db, pgdialect.New())
	return s.migratePostgres(ctx, db)
}

func (s *Store) migratePostgres(ctx context.Context, db *sql.DB) error {
	if err := db.PingContext(ctx); err != nil {
		return err
	}
	steps, err := migrator(db, false)
	if err != nil {
		return err
	}
	has, err := versionOf(ctx, db, false)
	if err != nil {
		return err
	}
	if known := newest(steps); has > known {
		return tooNew(s.where, has, known)
	}
	_, err = steps.Up(ctx)
	return err
}
