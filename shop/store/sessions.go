package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"github.com/uptrace/bun"
)

// Sessions keeps the sessions of people in the form in which
// github.com/alexedwards/scs wants them (its CtxStore). It keeps a hash of the
// token only: who reads the database cannot enter by it.
type Sessions struct{ store *Store }

// Sessions returns the part of the store that keeps sessions.
func (s *Store) Sessions() *Sessions { return &Sessions{s} }

// FindCtx returns the data of a session that is not over.
func (x *Sessions) FindCtx(ctx context.Context, token string) (data []byte, found bool, err error) {
	var row sessionRow
	err = x.store.db.NewSelect().Model(&row).
		Where("token_hash = ? AND expires_at > ?", sum([]byte(token)), x.store.options.Now().UnixMicro()).Scan(ctx)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	if err != nil {
		return nil, false, x.store.trouble(err)
	}
	return row.Data, true, nil
}

// CommitCtx keeps a session until a time.
func (x *Sessions) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	row := sessionRow{TokenHash: sum([]byte(token)), Data: append([]byte{}, data...), ExpiresAt: expiry.UnixMicro()}
	return x.store.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewInsert().Model(&row).On("CONFLICT (token_hash) DO UPDATE").
			Set("data = EXCLUDED.data, expires_at = EXCLUDED.expires_at").Exec(ctx)
		return err
	})
}

// DeleteCtx ends a session. There need not be one.
func (x *Sessions) DeleteCtx(ctx context.Context, token string) error {
	return x.store.write(ctx, func(ctx context.Context, tx bun.Tx) error {
		_, err := tx.NewRaw(`DELETE FROM sessions WHERE token_hash = ?`, sum([]byte(token))).Exec(ctx)
		return err
	})
}

// Find is FindCtx without a context.
func (x *Sessions) Find(token string) (data []byte, found bool, err error) {
	return x.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a context.
func (x *Sessions) Commit(token string, data []byte, expiry time.Time) error {
	return x.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx without a context.
func (x *Sessions) Delete(token string) error { return x.DeleteCtx(context.Background(), token) }

// Sweep throws away the sessions that are over, and returns how many.
func (x *Sessions) Sweep(ctx context.Context) (int, error) {
	var n int64
	err := x.store.write(ctx, func(ctx context.Context, tx bun.Tx) (err error) {
		n, err = affected(tx.NewRaw(`DELETE FROM sessions WHERE expires_at <= ?`, x.store.options.Now().UnixMicro()).Exec(ctx))
		return err
	})
	return int(n), err
}
