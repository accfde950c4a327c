package queue

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"time"

	"trunnion/chassis/drives"
	"trunnion/chassis/search"
	"trunnion/shop/desk"
	"trunnion/shop/store"
)

// Times of the queue. A worker says several times in lostAfter that it is still there.
// Chosen.
const (
	lostAfter   = 10 * time.Second // without a word a worker's piece is given to another one
	beats       = 5                // in lostAfter
	lookLeast   = 10 * time.Millisecond
	lookMost    = 250 * time.Millisecond // between two looks for work, or for results
	longestTry  = 10 * time.Minute       // of one piece
	awayMost    = 15 * time.Minute       // a search waits for a database that does not answer
	stopsWithin = 5 * time.Second        // a last word to the database, when the program stops
)

// Options are how a queue works.
type Options struct {
	Program string // that computes; see [Program]
	Version string
	// Here computes pieces of this program's own searches here too; without it all is left
	// to others.
	Here bool
	// LostAfter is how long a worker may say nothing; 0 means 10 s.
	LostAfter time.Duration
	// Note is told what a person should know; it may be nil.
	Note func(text string)

	fails func(p *search.Piece) error // for tests: a piece that cannot be computed
}

// Queue hands pieces to whoever computes.
type Queue struct {
	store *store.Store
	o     Options
}

// New makes a queue in a store.
func New(kept *store.Store, o Options) *Queue {
	o.LostAfter = cmp.Or(o.LostAfter, lostAfter)
	if o.Note == nil {
		o.Note = func(string) {}
	}
	return &Queue{kept, o}
}

// Base is what an earlier search of the same inputs kept.
func (q *Queue) Base(ctx context.Context, in *desk.SearchInputs) (*drives.Driven, error) {
	kept, err := q.inputs(ctx, in.Mark(q.o.Program))
	var none *store.NotFound
	if errors.As(err, &none) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return kept.Base, nil
}

func (q *Queue) inputs(ctx context.Context, id string) (*desk.SearchInputs, error) {
	packed, err := q.store.SearchInputs(ctx, id)
	if err != nil {
		return nil, err
	}
	in := new(desk.SearchInputs)
	return in, decode(packed, in)
}

// Crew begins a search: as long as it is not left, its pieces are handed out.
func (q *Queue) Crew(ctx context.Context, in *desk.SearchInputs, ready *search.Ready) (search.Crew, func(), error) {
	packed, err := encode(in)
	if err != nil {
		return nil, nil, err
	}
	c := &crew{q: q, id: in.Mark(q.o.Program), asker: name(), ready: ready}
	if err := q.store.AskSearch(ctx, c.id, q.o.Program, c.asker, packed); err != nil {
		return nil, nil, err
	}
	waiting, stop := context.WithCancel(ctx)
	c.group.Go(func() { c.want(waiting) })
	return c, func() {
		stop()
		c.group.Wait()
		last, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopsWithin)
		defer cancel()
		// What cannot be said now is found out by the silence.
		_ = q.store.LeaveSearch(last, c.id, c.asker)
	}, nil
}

// name is what a program calls itself among others.
func name() string {
	host, err := os.Hostname()
	if err != nil {
		host = "a machine"
	}
	return fmt.Sprintf("%s, process %d, %s", host, os.Getpid(), store.NewID()[:6])
}

// away reports an error of a database that will answer again.
func away(err error) bool {
	var t *store.Trouble
	return errors.As(err, &t) && t.Kind == store.Unreachable
}

// pause waits; false when there is nothing to wait for any more.
func pause(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}

// encode writes what is handed on. Every bit of a float stays, and the same comes out of
// the same.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(v)
	return b.Bytes(), err
}

func decode(data []byte, v any) error {
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(v); err != nil {
		return fmt.Errorf("what another program handed on cannot be read: %w", err)
	}
	return nil
}

// fingerprint is the id of a piece of a search.
func fingerprint(search string, body []byte) string {
	h := sha256.New()
	_, _ = h.Write([]byte(search))
	_, _ = h.Write(body)
	return hex.EncodeToString(h.Sum(nil))
}
