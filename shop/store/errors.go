package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"syscall"

	"github.com/jackc/pgx/v5/pgconn"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// NotFound says that nothing is kept under a name.
type NotFound struct {
	What string // "job", "revision", "part", …
	ID   string
}

// Error is the sentence for the person.
func (e *NotFound) Error() string { return "there is no " + e.What + " " + quoted(e.ID) }

// Refused says that what was handed in cannot be kept. Nothing was changed.
type Refused struct {
	Field string
	Got   string
	Want  string
}

// Error is the sentence for the person.
func (e *Refused) Error() string { return e.Field + " " + e.Got + "; " + e.Want }

// Conflict says that somebody saved in between. It carries what a person needs
// to choose field by field: both versions, and the one both started from.
// Nothing was changed, and the draft is kept.
type Conflict struct {
	Yours  Change    // as handed in
	Theirs Revision  // as it stands now
	Base   *Revision // that Yours started from; nil when it is not among the revisions
}

// Error is the sentence for the person.
func (e *Conflict) Error() string {
	if e.Yours.Expected == 0 {
		return fmt.Sprintf("the job is already there: revision %d, saved by %s", e.Theirs.Number, quoted(e.Theirs.Who))
	}
	return fmt.Sprintf("%s saved revision %d in between; yours started from %d", quoted(e.Theirs.Who), e.Theirs.Number, e.Yours.Expected)
}

// Stale is a Conflict of something smaller than a job: a part or a preset was
// saved in between. Nothing was changed.
type Stale struct {
	What     string
	ID       string
	Expected int
	Now      int
	Who      string
}

// Error is the sentence for the person.
func (e *Stale) Error() string {
	return fmt.Sprintf("%s saved revision %d of the %s %s in between; yours started from %d", quoted(e.Who), e.Now, e.What, quoted(e.ID), e.Expected)
}

// AlreadyHere says that a job with this very text is kept already.
type AlreadyHere struct{ Job Head }

// Error is the sentence for the person.
func (e *AlreadyHere) Error() string {
	return fmt.Sprintf("the same job is here already: %s, revision %d", quoted(e.Job.title()), e.Job.Revision)
}

// ErrCancelled is the answer to a worker whose run somebody cancelled, or that
// was given to another worker.
var ErrCancelled = errors.New("the run is no longer this worker's")

// TroubleKind is what can be wrong with the place where everything is kept.
type TroubleKind string

// The kinds of trouble.
const (
	Newer       TroubleKind = "newer"       // written by a newer program
	InUse       TroubleKind = "in-use"      // another server has it
	ReadOnly    TroubleKind = "read-only"   // cannot be written
	Full        TroubleKind = "full"        // no room
	Damaged     TroubleKind = "damaged"     // not readable as it was written
	Foreign     TroubleKind = "foreign"     // not ours
	Unreachable TroubleKind = "unreachable" // does not answer
	Missing     TroubleKind = "missing"     // was there, and is not
)

// Trouble is a fault of the place where everything is kept, not of what was
// handed in: what, where, and what can be done.
type Trouble struct {
	Kind  TroubleKind
	Where string
	Got   string
	Do    string
	Err   error // underlying, may be nil
}

// Error is the sentence for the person.
func (e *Trouble) Error() string {
	s := e.Where + " " + e.Got
	if e.Do != "" {
		s += "; " + e.Do
	}
	return s
}

// Unwrap gives the underlying error.
func (e *Trouble) Unwrap() error { return e.Err }

func troubleAt(where string, err error) error {
	var known *Trouble
	if errors.As(err, &known) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	trouble := func(a TroubleKind, got, do string) error {
		return &Trouble{Kind: a, Where: where, Got: got, Do: do, Err: err}
	}
	var lite *sqlite.Error
	if errors.As(err, &lite) {
		switch lite.Code() & 0xff {
		case sqlite3.SQLITE_FULL:
			return trouble(Full, "has no room left", "nothing that was saved before is lost; make room and save again")
		case sqlite3.SQLITE_READONLY:
			return trouble(ReadOnly, "cannot be written", "give the program the right to write there, or move the data folder")
		case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
			return trouble(Damaged, "is damaged", "restore the newest backup; the damaged file is kept beside it")
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
			return trouble(InUse, "is being written by another program", "close it and try again")
		case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_PERM:
			return trouble(Unreachable, "cannot be read or written", "see that the disk is there and that the program may use the folder")
		}
	}
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		switch {
		case pg.Code == "53100":
			return trouble(Full, "has no room left", "nothing that was saved before is lost; make room and save again")
		case pg.Code == "25006":
			return trouble(ReadOnly, "cannot be written", "name the server that takes writes")
		case len(pg.Code) == 5 && (pg.Code[:2] == "08" || pg.Code[:2] == "57" && pg.Code != "57014" || pg.Code == "53300"):
			return trouble(Unreachable, "does not answer", "see that the database server runs, and try again")
		case len(pg.Code) == 5 && (pg.Code[:2] == "28" || pg.Code == "3D000"):
			return trouble(Unreachable, "does not let the program in", "see the name of the database, the user and the passphrase")
		case pg.Code == "XX001" || pg.Code == "XX002":
			return trouble(Damaged, "is damaged", "restore it from a backup")
		}
	}
	var refused *pgconn.ConnectError
	var broken *net.OpError
	// A connection that breaks in the middle says so in as many ways as it can be read.
	if errors.As(err, &refused) || errors.As(err, &broken) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, pgconn.ErrConnClosed) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return trouble(Unreachable, "does not answer", "see that the database server runs, and try again")
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		return trouble(Full, "has no room left", "nothing that was saved before is lost; make room and save again")
	case errors.Is(err, syscall.EROFS), errors.Is(err, syscall.EACCES), errors.Is(err, syscall.EPERM):
		return trouble(ReadOnly, "cannot be written", "give the program the right to write there, or move the data folder")
	}
	return err
}

// isUnique reports that a row with the same key is there already.
func isUnique(err error) bool {
	var lite *sqlite.Error
	if errors.As(err, &lite) {
		return lite.Code() == sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY || lite.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE
	}
	var pg *pgconn.PgError
	return errors.As(err, &pg) && pg.Code == "23505"
}

// isForeign reports that a row points at nothing.
func isForeign(err error) bool {
	var lite *sqlite.Error
	if errors.As(err, &lite) {
		return lite.Code() == sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY
	}
	var pg *pgconn.PgError
	return errors.As(err, &pg) && pg.Code == "23503"
}
