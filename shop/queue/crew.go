package queue

import (
	"context"
	"sync"
	"time"

	"trunnion/chassis/search"
	"trunnion/shop/store"
)

// crew has the pieces of one search computed.
type crew struct {
	q     *Queue
	id    string
	asker string
	ready *search.Ready
	group sync.WaitGroup
}

// want says again and again that the search is waited for.
func (c *crew) want(ctx context.Context) {
	for pause(ctx, c.q.o.LostAfter/beats) {
		// A word that was lost is said again; a search that nobody waits for goes on when
		// it is.
		_ = c.q.store.WantSearch(ctx, c.id, c.asker)
	}
}

// Compute hands pieces out and waits for what comes out of them.
func (c *crew) Compute(ctx context.Context, pieces []search.Piece, done func(int)) ([]search.Result, error) {
	list := make([]store.Piece, len(pieces))
	open := make(map[string]int, len(pieces))
	for k := range pieces {
		body, err := encode(&pieces[k])
		if err != nil {
			return nil, err
		}
		list[k] = store.Piece{ID: fingerprint(c.id, body), Search: c.id, Place: k, Body: body}
		open[list[k].ID] = k
	}
	if err := c.insist(ctx, func() error { return c.q.store.PutPieces(ctx, list) }); err != nil {
		return nil, err
	}
	mine, stop := context.WithCancel(ctx)
	var hands sync.WaitGroup
	defer hands.Wait()
	defer stop()
	finished := make(chan struct{}, 1) // one came to its end here
	if c.q.o.Here {
		w := &worker{q: c.q, name: c.asker, search: c.id, ready: func(context.Context, string) (*search.Ready, error) { return c.ready, nil }}
		hands.Go(func() {
			for mine.Err() == nil {
				if did, err := w.one(mine); err != nil || !did {
					pause(mine, lookMost)
					continue
				}
				select {
				case finished <- struct{}{}:
				default:
				}
			}
		})
	}
	return c.collect(ctx, open, len(pieces), finished, done)
}

// collect waits for results.
func (c *crew) collect(ctx context.Context, open map[string]int, n int, finished <-chan struct{}, done func(int)) ([]search.Result, error) {
	out := make([]search.Result, n)
	for wait := lookLeast; len(open) > 0; {
		ids := make([]string, 0, len(open))
		for id := range open {
			ids = append(ids, id)
		}
		var ended []store.PieceEnd
		err := c.insist(ctx, func() (err error) {
			ended, err = c.q.store.PiecesEnded(ctx, c.id, ids)
			return err
		})
		if err != nil {
			return nil, err
		}
		for i := range ended {
			k := open[ended[i].ID]
			if ended[i].Aside != "" {
				out[k].Aside = ended[i].Aside
			} else if err := decode(ended[i].Result, &out[k]); err != nil {
				return nil, err
			}
			delete(open, ended[i].ID)
			done(k)
		}
		if len(ended) > 0 {
			wait = lookLeast
			continue
		}
		t := time.NewTimer(wait)
		select {
		case <-t.C:
			wait = min(2*wait, lookMost)
		case <-finished:
			t.Stop()
		case <-ctx.Done():
			t.Stop()
			return nil, ctx.Err()
		}
	}
	return out, nil
}

// insist does something to the database, again as long as that does not answer.
func (c *crew) insist(ctx context.Context, do func() error) error {
	since := time.Time{}
	for {
		err := do()
		switch {
		case err == nil || ctx.Err() != nil || !away(err):
			return err
		case since.IsZero():
			since = time.Now()
			c.q.o.Note("the database does not answer; the search goes on when it does")
		case time.Since(since) > awayMost:
			return err
		}
		if !pause(ctx, lookMost) {
			return ctx.Err()
		}
	}
}
