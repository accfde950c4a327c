package store

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/uptrace/bun"
)

// Options say how a store is opened. The zero value is good for a command that
// opens it, does one thing and closes it.
type Options struct {
	// Who this program is, for the message to a second one: "trunnion serve on
	// 127.0.0.1:8080".
	Who string
	// Now is the clock; the machine's when nil.
	Now func() time.Time
	// BackupEvery makes a backup in the data folder whenever so much time has
	// passed and something was saved; 0 makes none. SQLite only.
	BackupEvery time.Duration
	// BackupKeep is how many of these are kept; 0 means 14.
	BackupKeep int
	// BackupTo is a second folder, on another disk, that every backup of the data
	// folder is copied to; none when empty. SQLite only.
	BackupTo string
	// CheckFor is how long opening waits for the check of a large database before
	// it goes on in the background; 0 means a second. SQLite only.
	CheckFor time.Duration
	// OnTrouble is told what goes wrong in the background: a backup that failed,
	// damage found late. Nothing when nil.
	OnTrouble func(error)

	pragmas []string // for tests: a disk that is small
}

// Store is an open store. Its methods may be called from many goroutines.
type Store struct {
	db      *bun.DB
	lite    bool
	where   string // for messages: the folder, or the server without its passphrase
	dir     string // SQLite only
	lock    *folderLock
	options Options
	notes   []string

	writing chan struct{} // SQLite: one writer at a time, in the order they came
	last    atomic.Int64  // newest time given out [µs since 1970]
	stamps  sync.Mutex

	// SQLite only; of the one who writes.
	mark    *highMark
	pending int64 // stamp of the save under way [µs since 1970]
	files   []watched
	held    *sql.Conn // open as long as the store is

	changes  atomic.Int64 // since opening
	damage   atomic.Pointer[Trouble]
	stop     context.CancelFunc
	idle     sync.WaitGroup
	backedUp atomic.Int64 // changes at the last backup
	failed   atomic.Pointer[error]
	backing  sync.Mutex // one backup at a time
	began    bool       // with this opening: nothing was ever saved before it
}

// Close ends what runs in the background and closes the store.
func (s *Store) Close() error {
	s.stop()
	s.idle.Wait()
	var err error
	if s.held != nil {
		err = s.held.Close()
		s.held = nil
	}
	if s.db != nil {
		err = errors.Join(err, s.db.Close())
	}
	if s.mark != nil {
		err = errors.Join(err, s.mark.close())
		s.mark = nil
	}
	if s.lock != nil {
		err = errors.Join(err, s.lock.release())
		s.lock = nil
	}
	return err
}

// Where is what the store stands on, as it may be shown: a folder, or a server
// without its passphrase.
func (s *Store) Where() string { return s.where }

// Notes are what was noticed on opening and is no fault: a clock that was set
// back, runs that were taken up again.
func (s *Store) Notes() []string { return s.notes }

// Health returns what is known to be wrong with the store, nil when nothing is.
func (s *Store) Health(ctx context.Context) error {
	if t := s.damage.Load(); t != nil {
		return t
	}
	return s.trouble(s.db.PingContext(ctx))
}

// farBehind is how far the newest saved time may lie ahead of the clock before
// somebody is told. Chosen.
const farBehind = time.Minute

// wind sets the store's time to the newest that was ever given out, so that
// what is saved next is never older, even when the clock was set back.
func (s *Store) wind(ctx context.Context) error {
	var newest int64
	if err := s.db.NewRaw(newestSave).Scan(ctx, &newest); err != nil {
		return err
	}
	s.last.Store(newest)
	now := s.options.Now()
	if ahead := at(newest).Sub(now); ahead > farBehind {
		s.notes = append(s.notes, fmt.Sprintf(
			"this machine's clock says %s, and the last save was at %s: set the clock; until then saves are dated just after the last one",
			now.UTC().Format(time.DateTime+" UTC"), at(newest).Format(time.DateTime+" UTC")))
	}
	return nil
}

// kept is the stamp of what is kept for good, within [Store.write]: the mark moves on to
// it when the save has succeeded.
func (s *Store) kept(before int64) int64 {
	t := s.stamp(before)
	if s.lite {
		s.pending = t
	}
	return t
}

// stamp gives out the time of a save [µs since 1970]: the clock's, or just after
// the newest one and after before, whichever is later.
func (s *Store) stamp(before int64) int64 {
	s.stamps.Lock()
	defer s.stamps.Unlock()
	t := max(s.options.Now().UnixMicro(), s.last.Load()+1, before+1)
	s.last.Store(t)
	return t
}

// write runs f in one transaction: all of it is kept, or nothing.
func (s *Store) write(ctx context.Context, f func(ctx context.Context, tx bun.Tx) error) error {
	if t := s.damage.Load(); t != nil {
		return t
	}
	if s.writing != nil {
		select {
		case s.writing <- struct{}{}:
			defer func() { <-s.writing }()
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	if err := s.stillThere(); err != nil {
		return err
	}
	if s.lite { // one writer at a time: a server has many
		s.pending = 0
	}
	err := s.db.RunInTx(ctx, nil, f)
	if err == nil {
		s.changes.Add(1)
		if s.mark != nil && s.pending > 0 {
			err = s.mark.move(s.pending)
		}
	}
	return s.trouble(err)
}

// stillThere stops every save once a file of the database is not the one that was
// opened: what is written would be lost with it.
func (s *Store) stillThere() error {
	for i := range s.files {
		err := s.files[i].still()
		var t *Trouble
		if errors.As(err, &t) && t.Kind == Missing {
			s.damage.Store(t)
			s.options.OnTrouble(t)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// holds is the condition that a column holds a text, and what it is asked with:
// both databases look for it more quickly so than by their functions.
func holds(column, text string) (condition, pattern string) {
	return column + ` LIKE ? ESCAPE '\'`, "%" + strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(text) + "%"
}

// one turns the absence of a row into a NotFound.
func (s *Store) one(err error, what, id string) error {
	if errors.Is(err, sql.ErrNoRows) {
		return &NotFound{what, id}
	}
	return s.trouble(err)
}

// affected is how many rows a statement changed.
func affected(result sql.Result, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	return result.RowsAffected()
}

// NewID makes an id that nobody else makes: 26 letters and digits.
func NewID() string { return strings.ToLower(rand.Text()) }

// sum is the fingerprint of a text.
func sum(text []byte) string {
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:])
}

// trouble makes a Trouble of an error of the machine or the database, and leaves
// every other error as it is.
func (s *Store) trouble(err error) error {
	if err == nil {
		return nil
	}
	return troubleAt(s.where, err)
}
