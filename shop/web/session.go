package web

import (
	"context"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"trunnion/shop/access"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// Person is somebody of the workshop.
type Person struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Role   string `json:"role" enum:"owner,specialist,bay,viewer"`
	Barred bool   `json:"barred,omitempty"`
}

// Session is who is here, and what this server is.
type Session struct {
	Workshop   string   `json:"workshop"`
	Person     *Person  `json:"person,omitempty"`
	People     []Person `json:"people"`
	Version    string   `json:"version"`
	Loopback   bool     `json:"loopback"`
	Units      string   `json:"units" enum:"metric,imperial,mixed"`
	NeedsLogin bool     `json:"needsLogin"`
	Language   string   `json:"language"`
	Notes      []string `json:"notes" doc:"what is wrong with what keeps everything, or was noticed when it was opened"`
}

func personOf(p store.Person) Person {
	return Person{ID: p.Name, Name: p.Name, Role: string(p.Role), Barred: p.Barred}
}

func (s *Server) session(ctx context.Context, _ store.Person, _ *struct{}) (*body[Session], error) {
	out := Session{
		Workshop: s.o.Workshop, People: []Person{}, Version: s.o.Version, Loopback: s.o.Loopback, Units: s.o.Units, Language: "en-GB", Notes: []string{},
	}
	who, err := s.guard.Who(ctx)
	out.NeedsLogin = err != nil
	if err == nil && who.Name != "" {
		p := personOf(who)
		out.Person = &p
	}
	// Beyond the machine names are told to nobody who is not in.
	if err == nil {
		for _, note := range s.store.Notes() {
			out.Notes = append(out.Notes, wording.Upper(note)+".")
		}
		if wrong := s.store.Health(ctx); wrong != nil {
			out.Notes = append(out.Notes, wrong.Error()+".")
		}
		list, err := s.store.People(ctx)
		if err != nil {
			return nil, err
		}
		for _, p := range list {
			if !p.Barred {
				out.People = append(out.People, personOf(p))
			}
		}
	}
	return answer(out), nil
}

// Address is where a request comes from.
type Address struct{ from string }

// Resolve reads where the request comes from.
func (a *Address) Resolve(ctx huma.Context) []error {
	host, _, err := net.SplitHostPort(ctx.RemoteAddr())
	if err != nil {
		host = ctx.RemoteAddr()
	}
	a.from = host
	return nil
}

func (s *Server) login(ctx context.Context, _ store.Person, in *struct {
	Address
	Body struct {
		Person     string `json:"person" maxLength:"100"`
		Passphrase string `json:"passphrase,omitempty" maxLength:"800"`
	}
},
) (*body[Session], error) {
	if _, err := s.guard.Login(ctx, in.Body.Person, in.Body.Passphrase, in.from); err != nil {
		s.log.Warn("refused", "person", view.Cut(in.Body.Person, 60), "from", in.from, "err", err)
		return nil, err
	}
	return s.session(ctx, store.Person{}, nil)
}

func (s *Server) logout(ctx context.Context, _ store.Person, _ *struct{}) (*nothing, error) {
	return nil, s.guard.Logout(ctx)
}

// People is everybody.
type People struct {
	People []Person `json:"people"`
}

func (s *Server) people(ctx context.Context, _ store.Person, _ *struct{}) (*body[People], error) {
	list, err := s.store.People(ctx)
	out := People{People: []Person{}}
	for _, p := range list {
		out.People = append(out.People, personOf(p))
	}
	return answer(out), err
}

func (s *Server) savePerson(ctx context.Context, who store.Person, in *struct {
	Body struct {
		Name       string  `json:"name" maxLength:"100"`
		Role       string  `json:"role" enum:"owner,specialist,bay,viewer"`
		Passphrase *string `json:"passphrase,omitempty" maxLength:"800"`
		Barred     bool    `json:"barred,omitempty"`
	}
},
) (*body[Person], error) {
	p := store.Person{Name: strings.TrimSpace(in.Body.Name), Role: store.Role(in.Body.Role), Barred: in.Body.Barred}
	if old, err := s.store.Person(ctx, p.Name); err == nil {
		p.Passphrase = old.Passphrase
		if strings.EqualFold(old.Name, who.Name) && (p.Barred || p.Role != store.Owner) {
			return nil, problem(http.StatusConflict, "nobody takes the owner's role or the door from themselves; another owner can")
		}
	}
	if in.Body.Passphrase != nil {
		hash, err := access.Hash(ctx, *in.Body.Passphrase)
		if err != nil {
			if ctx.Err() != nil {
				return nil, err
			}
			return nil, problem(http.StatusUnprocessableEntity, err.Error())
		}
		p.Passphrase = hash
	}
	saved, err := s.store.SavePerson(ctx, p)
	if err == nil && strings.EqualFold(saved.Name, who.Name) {
		s.guard.Changed(ctx, saved)
	}
	return answer(personOf(saved)), err
}

// nameOf is who a save is said to be by: the person logged in, else on the
// machine itself the name that is given.
func (s *Server) nameOf(who store.Person, given string) string {
	if who.Name != "" {
		return who.Name
	}
	if given = strings.TrimSpace(given); given != "" && s.guard.Open() {
		return given
	}
	return "the workshop"
}

// sweepEvery is how often the sessions that are over are thrown away. Chosen.
const sweepEvery = time.Hour

// sweepSessions keeps the store free of sessions that are over.
func (s *Server) sweepSessions(ctx context.Context) {
	tick := time.NewTicker(sweepEvery)
	defer tick.Stop()
	for {
		if _, err := s.store.Sessions().Sweep(ctx); err != nil && ctx.Err() == nil {
			s.log.Warn("sessions that are over were not thrown away", "err", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}
