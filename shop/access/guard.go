package access

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"

	"trunnion/shop/store"
)

// people is where people are kept.
type people interface {
	Person(ctx context.Context, name string) (store.Person, error)
	People(ctx context.Context) ([]store.Person, error)
	SavePerson(ctx context.Context, p store.Person) (store.Person, error)
}

// Options say how a guard lets people in.
type Options struct {
	People   people
	Sessions scs.Store
	// Open lets everybody in without a passphrase: for the machine's own
	// address only.
	Open bool
	// Secure marks cookies for TLS only.
	Secure bool
	Now    func() time.Time
}

// Guard knows who asks.
type Guard struct {
	options  Options
	sessions *scs.SessionManager
	devices  *scs.SessionManager
	brakes   *brakes
}

// lifetime is how long a session lasts: a working day. Chosen.
const lifetime = 14 * time.Hour

// New makes a guard.
func New(o Options) *Guard {
	if o.Now == nil {
		o.Now = time.Now
	}
	m := scs.New()
	m.Store = o.Sessions
	m.Lifetime = lifetime
	m.Cookie.Name, m.Cookie.HttpOnly, m.Cookie.SameSite, m.Cookie.Path = "trunnion", true, http.SameSiteStrictMode, "/"
	m.Cookie.Secure = o.Secure
	if o.Secure {
		// The prefix ties the cookie to this host and to TLS.
		m.Cookie.Name = "__Host-trunnion"
	}
	m.ErrorFunc = func(w http.ResponseWriter, _ *http.Request, _ error) {
		http.Error(w, "the session could not be kept", http.StatusInternalServerError)
	}
	return &Guard{options: o, sessions: m, devices: devices(o), brakes: newBrakes(o.Now)}
}

// Open reports whether nobody needs a passphrase.
func (g *Guard) Open() bool { return g.options.Open }

// Handler loads the session of every request.
func (g *Guard) Handler(next http.Handler) http.Handler {
	return g.devices.LoadAndSave(g.sessions.LoadAndSave(next))
}

// What a session holds: who it lets in, and the mark of what let them in.
const (
	personKey = "person"
	markKey   = "mark"
)

// mark is what a person's passphrase and role were when they came in. Whoever came in by
// others is not in any more.
func mark(p store.Person) []byte {
	sum := sha256.Sum256([]byte(p.Passphrase + "\x00" + string(p.Role)))
	return sum[:16]
}

// Faults of letting somebody in.
var (
	ErrWrong   = errors.New("the name or the passphrase is wrong")
	ErrTooMany = errors.New("too many tries: wait a little")
	ErrLocked  = errors.New("locked after too many wrong passphrases: wait a quarter of an hour, or log in where you were let in before")
	ErrNobody  = errors.New("nobody is logged in")
	ErrRole    = errors.New("this person may not do that")
)

// Login lets a person in. from is the address the request came from. On the
// machine's own address the name is enough.
func (g *Guard) Login(ctx context.Context, name, passphrase, from string) (store.Person, error) {
	if !g.options.Open {
		err := g.brakes.before(from, name)
		if g.known(ctx, name) {
			err = g.brakes.beforeKnown(name)
		}
		if err != nil {
			return store.Person{}, err
		}
	}
	p, err := g.options.People.Person(ctx, name)
	var absent *store.NotFound
	if err != nil && !errors.As(err, &absent) {
		return store.Person{}, err
	}
	if !g.options.Open {
		// A name that is not there costs the same time, so that names cannot be
		// found out.
		hash := p.Passphrase
		if err != nil || p.Barred || hash == "" {
			hash = ""
		}
		ok, cerr := check(ctx, passphrase, hash)
		if cerr != nil {
			return store.Person{}, cerr
		}
		if !ok {
			g.brakes.wrong(name)
			return store.Person{}, ErrWrong
		}
		g.brakes.right(name)
	} else if err != nil || p.Barred {
		return store.Person{}, ErrWrong
	}
	// A new token: one that was planted before must not be let in with it.
	if err := g.sessions.RenewToken(ctx); err != nil {
		return store.Person{}, err
	}
	g.put(ctx, p)
	if !g.options.Open {
		return p, g.remember(ctx, p.Name)
	}
	return p, nil
}

func (g *Guard) put(ctx context.Context, p store.Person) {
	g.sessions.Put(ctx, personKey, p.Name)
	g.sessions.Put(ctx, markKey, mark(p))
}

// Changed keeps somebody in who changed their own passphrase; all their other sessions end.
func (g *Guard) Changed(ctx context.Context, p store.Person) {
	if g.sessions.GetString(ctx, personKey) != "" {
		g.put(ctx, p)
	}
}

// Logout ends the session.
func (g *Guard) Logout(ctx context.Context) error { return g.sessions.Destroy(ctx) }

// Who returns who asks. On the machine's own address somebody without a session
// is the workshop itself.
func (g *Guard) Who(ctx context.Context) (store.Person, error) {
	name := g.sessions.GetString(ctx, personKey)
	if name == "" {
		if g.options.Open {
			return store.Person{Role: store.Owner}, nil
		}
		return store.Person{}, ErrNobody
	}
	p, err := g.options.People.Person(ctx, name)
	var absent *store.NotFound
	switch {
	case errors.As(err, &absent), err == nil && (p.Barred || !bytes.Equal(g.sessions.GetBytes(ctx, markKey), mark(p))):
		if g.options.Open {
			return store.Person{Role: store.Owner}, nil
		}
		return store.Person{}, ErrNobody
	case err != nil:
		return store.Person{}, err
	}
	return p, nil
}

// Task is something that a role may or may not do.
type Task string

// The tasks.
const (
	Read     Task = "read"     // look, and try without saving
	Measure  Task = "measure"  // type readings and rounds
	Work     Task = "work"     // make and change jobs, parts and presets
	Overseer Task = "overseer" // people and their roles
)

var tasks = map[store.Role][]Task{
	store.Viewer:     {Read},
	store.Bay:        {Read, Measure},
	store.Specialist: {Read, Measure, Work},
	store.Owner:      {Read, Measure, Work, Overseer},
}

// May returns nil when who asks may do a task.
func (g *Guard) May(ctx context.Context, t Task) (store.Person, error) {
	p, err := g.Who(ctx)
	if err != nil {
		return p, err
	}
	for _, one := range tasks[p.Role] {
		if one == t {
			return p, nil
		}
	}
	return p, ErrRole
}

// Set reports whether anybody who may do everything has a passphrase: without
// that the workshop's network stays shut.
func Set(ctx context.Context, in people) (bool, error) {
	list, err := in.People(ctx)
	if err != nil {
		return false, err
	}
	for _, p := range list {
		if p.Passphrase != "" && p.Role == store.Owner && !p.Barred {
			return true, nil
		}
	}
	return false, nil
}
