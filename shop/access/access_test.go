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
	"net/url"
	"os"
	"path/filepath"
	"strconv"
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

// TestAChangeEndsSessions holds a changed passphrase, a changed role and a barred person to
// be out at once, and who changed their own passphrase to be still in.
func TestAChangeEndsSessions(t *testing.T) {
	other, err := Hash(t.Context(), "four other words there")
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(p *store.Person){
		"passphrase": func(p *store.Person) { p.Passphrase = other },
		"role":       func(p *store.Person) { p.Role = store.Bay },
		"barred":     func(p *store.Person) { p.Barred = true },
	} {
		f := crew(t)
		g := New(Options{People: f, Sessions: memstore.New()})
		inside(t, g, func(ctx context.Context) {
			if _, err := g.Login(ctx, "Olga", right, "10.0.0.1"); err != nil {
				t.Fatal(err)
			}
			if _, err := g.May(ctx, Overseer); err != nil {
				t.Fatalf("%s: not in before: %v", name, err)
			}
			p := f["olga"]
			change(&p)
			f["olga"] = p
			if who, err := g.May(ctx, Read); !errors.Is(err, ErrNobody) {
				t.Errorf("%s: still in as %q, %v", name, who.Name, err)
			}
			g.Changed(ctx, p)
			if _, err := g.Who(ctx); (err == nil) != (name != "barred") {
				t.Errorf("%s, by themselves: %v", name, err)
			}
		})
	}
}

// TestNobodyShutsTheOwnerOut guesses until the owner's name is locked: from a device that
// let the owner in, and on the machine itself, the owner gets in all the same.
func TestNobodyShutsTheOwnerOut(t *testing.T) {
	c := &clock{time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	g := New(Options{People: crew(t), Sessions: memstore.New(), Now: c.Now})
	var outcome error
	h := httptest.NewServer(g.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		q := r.URL.Query()
		_, outcome = g.Login(r.Context(), q.Get("name"), q.Get("words"), q.Get("from"))
	})))
	defer h.Close()
	login := func(client *http.Client, name, words, from string) error {
		t.Helper()
		answer, err := client.Get(h.URL + "/api/session?" + url.Values{"name": {name}, "words": {words}, "from": {from}}.Encode())
		if err != nil {
			t.Fatal(err)
		}
		if err := answer.Body.Close(); err != nil {
			t.Fatal(err)
		}
		return outcome
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	tablet, stranger := &http.Client{Jar: jar}, &http.Client{}
	if err := login(tablet, "Olga", right, "10.0.0.1"); err != nil {
		t.Fatal(err)
	}
	c.now = c.now.Add(time.Hour)
	for i := range wrongAtMost {
		if err := login(stranger, "Olga", "guess", "10.0.1."+strconv.Itoa(i)); !errors.Is(err, ErrWrong) {
			t.Fatal(err)
		}
	}
	if err := login(stranger, "Olga", right, "10.0.0.9"); !errors.Is(err, ErrLocked) {
		t.Errorf("a strange device with the passphrase: %v, want locked", err)
	}
	if err := login(tablet, "Olga", "guess", "10.0.0.1"); !errors.Is(err, ErrWrong) {
		t.Errorf("the known device with a wrong one: %v", err)
	}
	if err := login(tablet, "olga", right, "10.0.0.1"); err != nil {
		t.Errorf("the known device is shut out: %v", err)
	}
	for i := range wrongAtMost {
		_ = login(stranger, "Olga", "guess", "10.0.2."+strconv.Itoa(i))
	}
	if err := login(stranger, "Olga", right, "127.0.0.1"); err != nil {
		t.Errorf("the machine itself is shut out: %v", err)
	}
	// A device is slowed down too.
	got := 0
	for range 3 * triesAtOnce {
		if errors.Is(login(tablet, "Olga", "guess", "10.0.0.1"), ErrWrong) {
			got++
		}
	}
	if got > triesAtOnce {
		t.Errorf("%d tries at once from a known device", got)
	}
	// What a device holds lets nobody in.
	for _, cookie := range jar.Cookies(&url.URL{Scheme: "http", Host: h.Listener.Addr().String(), Path: "/api/session"}) {
		if cookie.Name != "trunnion-device" {
			continue
		}
		rec, r := httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/api/session", nil)
		r.AddCookie(&http.Cookie{Name: "trunnion", Value: cookie.Value})
		g.Handler(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
			if who, err := g.Who(r.Context()); err == nil {
				t.Errorf("a device's token as a session's: in as %q", who.Name)
			}
		})).ServeHTTP(rec, r)
		return
	}
	t.Error("the device holds no cookie")
}
