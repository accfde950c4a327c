package access

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2/memstore"

	"trunnion/shop/store"
)

// few is a workshop of two people.
type few map[string]store.Person

func (f few) Person(_ context.Context, name string) (store.Person, error) {
	p, ok := f[strings.ToLower(name)]
	if !ok {
		return p, &store.NotFound{What: "person", ID: name}
	}
	return p, nil
}

func (f few) People(context.Context) ([]store.Person, error) {
	var out []store.Person
	for _, p := range f {
		out = append(out, p)
	}
	return out, nil
}

func (f few) SavePerson(_ context.Context, p store.Person) (store.Person, error) {
	f[strings.ToLower(p.Name)] = p
	return p, nil
}

const right = "four plain words here"

func crew(t *testing.T) few {
	t.Helper()
	hash, err := Hash(t.Context(), right)
	if err != nil {
		t.Fatal(err)
	}
	return few{"olga": {Name: "Olga", Role: store.Owner, Passphrase: hash}, "bea": {Name: "Bea", Role: store.Bay}, "gone": {Name: "Gone", Role: store.Owner, Passphrase: hash, Barred: true}}
}

// clock is a time that a test moves.
type clock struct{ now time.Time }

func (c *clock) Now() time.Time { return c.now }

// inside runs f in a request with a session.
func inside(t *testing.T, g *Guard, f func(ctx context.Context)) {
	t.Helper()
	rec := httptest.NewRecorder()
	g.Handler(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { f(r.Context()) })).ServeHTTP(rec, httptest.NewRequest(http.MethodGet, "/", nil))
}

func TestLogin(t *testing.T) {
	c := &clock{time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	g := New(Options{People: crew(t), Sessions: memstore.New(), Now: c.Now})
	for _, row := range []struct {
		name, passphrase string
		want             error
	}{
		{"Olga", right, nil},
		{"OLGA", right, nil},
		{"Olga", right + " ", ErrWrong},
		{"Olga", "", ErrWrong},
		{"Bea", "", ErrWrong},
		{"Bea", right, ErrWrong},
		{"Gone", right, ErrWrong},
		{"nobody", right, ErrWrong},
		{"Olga", strings.Repeat("x", 1<<20), ErrWrong},
	} {
		c.now = c.now.Add(time.Minute)
		inside(t, g, func(ctx context.Context) {
			if _, err := g.Login(ctx, row.name, row.passphrase, "10.0.0.1"); !errors.Is(err, row.want) {
				t.Errorf("%s with %q: %v, want %v", row.name, row.passphrase[:min(20, len(row.passphrase))], err, row.want)
			}
			p, err := g.Who(ctx)
			if (err == nil) != (row.want == nil) || row.want == nil && p.Name != "Olga" {
				t.Errorf("after %v it is %q, %v", row.want, p.Name, err)
			}
		})
	}
}

func TestGuessingIsSlowed(t *testing.T) {
	c := &clock{time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	b := newBrakes(c.Now)
	got := 0
	for range 20 {
		if b.before("10.0.0.1", "olga") == nil {
			got++
		}
	}
	if got != triesAtOnce {
		t.Errorf("%d tries at once from one address, want %d", got, triesAtOnce)
	}
	if err := b.before("10.0.0.2", "olga"); err != nil {
		t.Errorf("another address must wait too: %v", err)
	}
	c.now = c.now.Add(tryEvery)
	if err := b.before("10.0.0.1", "olga"); err != nil {
		t.Errorf("after %s still: %v", tryEvery, err)
	}
	// From many addresses: the account locks.
	for range wrongAtMost {
		b.wrong("Olga")
	}
	if err := b.before("10.9.9.9", " oLGA "); !errors.Is(err, ErrLocked) {
		t.Errorf("after %d wrong ones: %v, want locked", wrongAtMost, err)
	}
	if err := b.before("10.9.9.8", "bea"); err != nil {
		t.Errorf("somebody else is locked too: %v", err)
	}
	c.now = c.now.Add(lockedFor + time.Second)
	if err := b.before("10.9.9.7", "olga"); err != nil {
		t.Errorf("a quarter of an hour later still: %v", err)
	}
	// A flood of addresses is forgotten.
	for i := range 3 * mostKept {
		_ = b.before(net.IPv4(byte(i>>16), byte(i>>8), byte(i), 1).String(), "x")
	}
	if len(b.addresses) > 2*mostKept+1 {
		t.Errorf("%d addresses are kept", len(b.addresses))
	}
}

// Many guess at the same moment: no try is let in twice, no wrong one goes uncounted.
func TestGuessesAtOnce(t *testing.T) {
	b := newBrakes(func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) })
	var all sync.WaitGroup
	var in atomic.Int64
	for range 8 {
		all.Go(func() {
			for range triesAtOnce {
				if b.before("10.0.0.1", "bea") == nil {
					in.Add(1)
				}
				b.right("bea")
			}
		})
	}
	for range wrongAtMost {
		all.Go(func() { b.wrong("Olga") })
	}
	all.Wait()
	if in.Load() != triesAtOnce {
		t.Errorf("%d tries were let in at once, want %d", in.Load(), triesAtOnce)
	}
	if err := b.before("10.0.0.2", "olga"); !errors.Is(err, ErrLocked) {
		t.Errorf("after %d wrong ones at once: %v, want locked", wrongAtMost, err)
	}
}

func TestRoles(t *testing.T) {
	for role, want := range map[store.Role]int{store.Viewer: 1, store.Bay: 2, store.Specialist: 3, store.Owner: 4, "": 0, "other": 0} {
		f := few{"x": {Name: "x", Role: role}}
		g := New(Options{People: f, Sessions: memstore.New(), Open: true})
		inside(t, g, func(ctx context.Context) {
			if _, err := g.Login(ctx, "x", "", ""); err != nil {
				t.Fatal(err)
			}
			may := 0
			for _, task := range []Task{Read, Measure, Work, Overseer} {
				if _, err := g.May(ctx, task); err == nil {
					may++
				}
			}
			if may != want {
				t.Errorf("%q may do %d of 4, want %d", role, may, want)
			}
		})
	}
}

func TestOnTheMachineNobodyNeedsAName(t *testing.T) {
	g := New(Options{People: few{}, Sessions: memstore.New(), Open: true})
	inside(t, g, func(ctx context.Context) {
		if p, err := g.May(ctx, Overseer); err != nil || p.Name != "" {
			t.Errorf("got %+v, %v", p, err)
		}
		if _, err := g.Login(ctx, "Eve", "", ""); !errors.Is(err, ErrWrong) {
			t.Errorf("somebody unknown came in: %v", err)
		}
	})
}

func TestPassphrases(t *testing.T) {
	for _, text := range []string{"", "short", strings.Repeat("x", 201), "\xff\xfe\xfd\xfc\xfb\xfa\xf9\xf8\xf7\xf6"} {
		if _, err := Hash(t.Context(), text); err == nil {
			t.Errorf("%q was taken", text)
		}
	}
	hash, err := Hash(t.Context(), right)
	if err != nil || strings.Contains(hash, right) || !strings.HasPrefix(hash, "$argon2id$v=19$m=65536,t=3,p=4$") {
		t.Errorf("%s, %v", hash, err)
	}
	if set, err := Set(t.Context(), few{}); set || err != nil {
		t.Error("nobody has a passphrase, yet it is set")
	}
	if set, err := Set(t.Context(), crew(t)); !set || err != nil {
		t.Error("the owner has a passphrase, yet it is not set")
	}
	cancelled, stop := context.WithCancel(t.Context())
	stop()
	checking <- struct{}{}
	checking <- struct{}{}
	defer func() { <-checking; <-checking }()
	if _, err := check(cancelled, right, hash); !errors.Is(err, context.Canceled) {
		t.Errorf("a third check does not wait: %v", err)
	}
}

// TestCookieBelongsToTLS logs in over TLS and looks at the cookie.
func TestCookieBelongsToTLS(t *testing.T) {
	g := New(Options{People: crew(t), Sessions: memstore.New(), Secure: true})
	h := httptest.NewTLSServer(g.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, err := g.Login(r.Context(), "Olga", right, "10.0.0.1"); err != nil {
			http.Error(w, err.Error(), http.StatusUnauthorized)
		}
	})))
	defer h.Close()
	client := h.Client()
	client.Jar, _ = cookiejar.New(nil)
	answer, err := client.Get(h.URL)
	if err != nil {
		t.Fatal(err)
	}
	if err := answer.Body.Close(); err != nil {
		t.Fatal(err)
	}
	set := answer.Header.Get("Set-Cookie")
	for _, want := range []string{"__Host-trunnion=", "Secure", "HttpOnly", "SameSite=Strict", "Path=/"} {
		if !strings.Contains(set, want) {
			t.Errorf("the cookie %q lacks %s", set, want)
		}
	}
	if strings.Contains(set, "Domain") {
		t.Errorf("the cookie %q is for a domain", set)
	}
}

func TestCertificate(t *testing.T) {
	dir, now := t.TempDir(), time.Now()
	hosts := []string{"localhost", "127.0.0.1", "bay.local"}
	first, err := Certificate(dir, hosts, now)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Certificate(dir, hosts, now)
	if err != nil || Fingerprint(again) != Fingerprint(first) {
		t.Errorf("it is made anew every time: %v", err)
	}
	if info, err := os.Stat(filepath.Join(dir, "tls-key.pem")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the key can be read by others: %v %v", info.Mode(), err)
	}
	leaf, err := x509.ParseCertificate(first.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range hosts {
		if err := leaf.VerifyHostname(h); err != nil {
			t.Error(err)
		}
	}
	for name, change := range map[string]func() (tls.Certificate, error){
		"another host":       func() (tls.Certificate, error) { return Certificate(dir, append(hosts, "10.0.0.7"), now) },
		"a year and a month": func() (tls.Certificate, error) { return Certificate(dir, hosts, now.Add(certified)) },
	} {
		other, err := change()
		if err != nil || Fingerprint(other) == Fingerprint(first) {
			t.Errorf("%s: the same certificate, %v", name, err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "tls-certificate.pem"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Certificate(dir, hosts, now); err == nil {
		t.Error("a broken certificate was written over")
	}
	if n := len(strings.Split(Fingerprint(first), ":")); n != 32 {
		t.Errorf("the fingerprint has %d pairs", n)
	}
}
