package access

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
)

// A device that let somebody in once is known by a cookie of its own. From it that person
// may try again while their name is locked for everybody else, so that nobody can shut the
// owner out by guessing. It lets nobody in: the passphrase is still asked for.

// knownFor is how long a device is known: half a year. Chosen.
const knownFor = 4320 * time.Hour

// deviceKey names what a device holds: who was let in from it. It is another name than a
// session's, so that a device's token is no session.
const deviceKey = "device"

func devices(o Options) *scs.SessionManager {
	m := scs.New()
	m.Store = o.Sessions
	m.Lifetime = knownFor
	// Sent to the door alone.
	m.Cookie.Name, m.Cookie.HttpOnly, m.Cookie.SameSite, m.Cookie.Path = "trunnion-device", true, http.SameSiteStrictMode, "/api/session"
	m.Cookie.Secure = o.Secure
	if o.Secure {
		m.Cookie.Name = "__Secure-trunnion-device"
	}
	m.ErrorFunc = func(w http.ResponseWriter, _ *http.Request, _ error) {
		http.Error(w, "the device could not be remembered", http.StatusInternalServerError)
	}
	return m
}

// mostOnDevice is how many people a tablet of the workshop is known for; who was there
// longest ago is forgotten first. Chosen.
const mostOnDevice = 16

// onDevice are the people who were let in from this device, the last one last.
func (g *Guard) onDevice(ctx context.Context) []string {
	return strings.FieldsFunc(g.devices.GetString(ctx, deviceKey), func(r rune) bool { return r == '\n' })
}

// known reports whether a person was let in from this device before.
func (g *Guard) known(ctx context.Context, name string) bool {
	return slices.Contains(g.onDevice(ctx), key(name))
}

// remember makes this device one from which a person was let in.
func (g *Guard) remember(ctx context.Context, name string) error {
	people := slices.DeleteFunc(g.onDevice(ctx), func(one string) bool { return one == key(name) })
	people = append(people, key(name))
	if err := g.devices.RenewToken(ctx); err != nil {
		return err
	}
	g.devices.Put(ctx, deviceKey, strings.Join(people[max(0, len(people)-mostOnDevice):], "\n"))
	return nil
}
