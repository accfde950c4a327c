package store

import (
	"context"
	"errors"
	"strings"
	"time"
)

// Open opens the store in a data folder, which it makes when there is none, or
// on a PostgreSQL server when where is a URL (postgres://…). It brings the
// tables to this program's version. A fault of the place is a *Trouble.
func Open(ctx context.Context, where string, options Options) (*Store, error) {
	if options.Now == nil {
		options.Now = time.Now
	}
	if options.BackupKeep <= 0 {
		options.BackupKeep = 14
	}
	if options.CheckFor <= 0 {
		options.CheckFor = time.Second
	}
	if options.OnTrouble == nil {
		options.OnTrouble = func(error) {}
	}
	if options.Who == "" {
		options.Who = "trunnion"
	}
	background, stop := context.WithCancel(context.WithoutCancel(ctx))
	s := &Store{options: options, stop: stop}
	var err error
	if IsServer(where) {
		err = s.openPostgres(ctx, where)
	} else {
		err = s.openSQLite(ctx, background, where)
	}
	if err == nil {
		err = s.wind(ctx)
	}
	if err == nil {
		err = s.chainUp(ctx)
	}
	if err == nil {
		err = s.checkChain(ctx)
	}
	if err != nil {
		return nil, errors.Join(s.trouble(err), s.Close())
	}
	if s.lite && options.BackupEvery > 0 {
		s.idle.Go(func() { s.keepBackups(background) })
	}
	return s, nil
}

// IsServer reports whether where names a database server, not a folder.
func IsServer(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}
