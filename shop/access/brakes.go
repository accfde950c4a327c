package access

import (
	"net"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// How fast passphrases may be tried. Chosen: five at once and then one every
// six seconds from one address; an account is locked for a quarter of an hour
// after ten wrong ones, but not on the machine itself or on a device that let that person
// in before.
const (
	triesAtOnce = 5
	tryEvery    = 6 * time.Second
	wrongAtMost = 10
	lockedFor   = 15 * time.Minute
	mostKept    = 4096 // addresses and names; the idle ones are forgotten first
)

// brakes slow down guessing, by address and by account.
type brakes struct {
	now func() time.Time

	mu        sync.Mutex
	addresses map[string]*brake
	accounts  map[string]*account
}

type brake struct {
	limiter *rate.Limiter
	last    time.Time
}

type account struct {
	wrong int
	last  time.Time
	until time.Time
}

func newBrakes(now func() time.Time) *brakes {
	return &brakes{now: now, addresses: map[string]*brake{}, accounts: map[string]*account{}}
}

// before reports whether a try may be made now. From the machine itself no name is locked:
// nobody else can come from there.
func (b *brakes) before(address, name string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	now := b.now()
	if err := b.slow(address, now); err != nil {
		return err
	}
	if ip := net.ParseIP(address); ip != nil && ip.IsLoopback() {
		return nil
	}
	if x := b.accounts[key(name)]; x != nil && now.Before(x.until) {
		return ErrLocked
	}
	return nil
}

// beforeKnown is before, for a device that the person was let in from: it waits for its own
// tries alone.
func (b *brakes) beforeKnown(name string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.slow("a device of "+key(name), b.now())
}

// slow lets a few tries through at once and then one after another.
func (b *brakes) slow(from string, now time.Time) error {
	b.forget(now)
	a := b.addresses[from]
	if a == nil {
		a = &brake{limiter: rate.NewLimiter(rate.Every(tryEvery), triesAtOnce)}
		b.addresses[from] = a
	}
	a.last = now
	if !a.limiter.AllowN(now, 1) {
		return ErrTooMany
	}
	return nil
}

func key(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// wrong counts a wrong passphrase.
func (b *brakes) wrong(name string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	x := b.accounts[key(name)]
	if x == nil {
		x = &account{}
		b.accounts[key(name)] = x
	}
	now := b.now()
	if now.Sub(x.last) > lockedFor {
		x.wrong = 0
	}
	x.wrong++
	x.last = now
	if x.wrong >= wrongAtMost {
		x.until, x.wrong = now.Add(lockedFor), 0
	}
}

// right forgets the wrong ones.
func (b *brakes) right(name string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	delete(b.accounts, key(name))
}

// forget drops what is idle. Where an attacker fills the list with addresses or
// names, the oldest go first; locked accounts stay.
func (b *brakes) forget(now time.Time) {
	if len(b.addresses) > mostKept {
		for k, a := range b.addresses {
			if now.Sub(a.last) > time.Minute || len(b.addresses) > 2*mostKept {
				delete(b.addresses, k)
			}
		}
	}
	if len(b.accounts) > mostKept {
		for k, x := range b.accounts {
			if now.Sub(x.last) > lockedFor {
				delete(b.accounts, k)
			}
		}
	}
}
