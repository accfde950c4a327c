package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/levelling"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

// Problem is an answer that is a fault, after RFC 9457. It says what, where and
// what to do, and never gives back what was sent.
type Problem struct {
	Type   string          `json:"type,omitempty"`
	Title  string          `json:"title"`
	Status int             `json:"status"`
	Detail string          `json:"detail,omitempty"`
	Errors []Misplaced     `json:"errors,omitempty"`
	Faults []jobfile.Fault `json:"faults,omitempty"`
	// Of a save that came second.
	Mine   *Version   `json:"mine,omitempty"`
	Theirs *Version   `json:"theirs,omitempty"`
	Base   *Version   `json:"base,omitempty"`
	Fields []Disputed `json:"fields,omitempty"`
}

// Misplaced is one place of a request that cannot be taken.
type Misplaced struct {
	Location string `json:"location"`
	Message  string `json:"message"`
}

// Version is one of two texts that came apart.
type Version struct {
	Text     string `json:"text"`
	Revision int    `json:"revision,omitempty"`
	Who      string `json:"who,omitempty"`
	When     string `json:"when,omitempty"`
	Why      string `json:"why,omitempty"`
}

// Disputed is a value that somebody changed since both texts were one.
type Disputed struct {
	Path   string `json:"path"`
	Label  string `json:"label"`
	Base   string `json:"base"`
	Mine   string `json:"mine"`
	Theirs string `json:"theirs"`
	Same   bool   `json:"same"`
}

func (p *Problem) Error() string { return p.Title + ": " + p.Detail }

// GetStatus is the status the problem is answered with.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType is that of RFC 9457.
func (p *Problem) ContentType(string) string { return "application/problem+json" }

func problem(status int, detail string) *Problem {
	return &Problem{Title: http.StatusText(status), Status: status, Detail: detail}
}

// mostPlaces is how many places of a request are named. Chosen.
const mostPlaces = 50

func init() {
	// Arrays of the interface are never null: a null list is a slip.
	huma.DefaultArrayNullable = false
	huma.NewError = func(status int, message string, errs ...error) huma.StatusError {
		p := problem(status, view.Cut(message, 300))
		for _, err := range errs {
			var detailer huma.ErrorDetailer
			switch {
			case err == nil || len(p.Errors) >= mostPlaces:
			case errors.As(err, &detailer):
				d := detailer.ErrorDetail()
				p.Errors = append(p.Errors, Misplaced{view.Cut(d.Location, 200), view.Cut(d.Message, 300)})
			case status < 500:
				p.Errors = append(p.Errors, Misplaced{Message: view.Cut(err.Error(), 300)})
			}
		}
		if status == http.StatusRequestEntityTooLarge {
			p.Detail = "what was sent is too large"
		}
		return p
	}
}

// problemOf makes a problem of any error. One that is nobody's fault but the
// program's is logged under an id.
func (s *Server) problemOf(ctx context.Context, err error) error {
	var p *Problem
	var absent *store.NotFound
	var refused *store.Refused
	var trouble *store.Trouble
	var here *store.AlreadyHere
	var stale *store.Stale
	var faults *jobfile.Faults
	var unasked *levelling.AskError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &p):
		return p
	case errors.As(err, &absent):
		return problem(http.StatusNotFound, absent.Error())
	case errors.As(err, &refused):
		return problem(http.StatusUnprocessableEntity, refused.Error())
	case errors.As(err, &here):
		return problem(http.StatusConflict, here.Error())
	case errors.As(err, &stale):
		return problem(http.StatusConflict, stale.Error())
	case errors.As(err, &trouble):
		status := http.StatusServiceUnavailable
		if trouble.Kind == store.Full {
			status = http.StatusInsufficientStorage
		}
		s.log.Error("the store", "kind", trouble.Kind, "err", err)
		return problem(status, trouble.Error())
	case errors.As(err, &faults):
		p := problem(http.StatusUnprocessableEntity, "the job has faults")
		p.Faults = faults.List
		return p
	case errors.As(err, &unasked):
		return problem(http.StatusUnprocessableEntity, unasked.Error())
	case errors.Is(err, desk.ErrNotKept):
		return problem(http.StatusGone, "this view is no longer kept; try the job again")
	case errors.Is(err, access.ErrNobody):
		return problem(http.StatusUnauthorized, "log in first")
	case errors.Is(err, access.ErrWrong):
		return problem(http.StatusUnauthorized, err.Error())
	case errors.Is(err, access.ErrRole):
		return problem(http.StatusForbidden, err.Error())
	case errors.Is(err, access.ErrTooMany):
		return problem(http.StatusTooManyRequests, err.Error())
	case errors.Is(err, access.ErrLocked):
		return problem(http.StatusLocked, err.Error())
	case errors.Is(err, context.DeadlineExceeded):
		return problem(http.StatusServiceUnavailable, "this was worked on for "+longest.String()+" and is not done: ask for fewer builds, load states or roads at once")
	case ctx.Err() != nil:
		return problem(499, "the request was given up")
	}
	id := store.NewID()[:8]
	s.log.Error("broken", "id", id, "err", err)
	return problem(http.StatusInternalServerError, "the program is broken here; nothing that was saved is lost. Tell the number "+id)
}

// writeProblem answers outside the interface's own machinery.
func writeProblem(w http.ResponseWriter, p *Problem) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(p.Status)
	// Who has gone away in between is not told; nobody can be.
	_ = json.NewEncoder(w).Encode(p)
}

func asProblem(err error, p **Problem) bool {
	got, ok := err.(*Problem) //nolint:errorlint // problemOf gives nothing else
	*p = got
	return ok
}
