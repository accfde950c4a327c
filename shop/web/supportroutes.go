package web

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"time"

	"trunnion/shop/access"
	"trunnion/shop/store"
	"trunnion/shop/symptom"
	"trunnion/shop/view/history"
	"trunnion/shop/view/support"
)

// supportRoutes are what the page asks about support and history.
func (s *Server) supportRoutes() {
	route(s, get("symptoms", "/api/symptoms", "What owners say, as the table has it"), access.Read, s.symptoms)
	route(s, op(http.MethodPost, "support", "/api/support", "What may be behind what the owner says, without saving", 200), access.Read, s.support)
	route(s, get("records", "/api/jobs/{id}/records", "Return visits and dampers of a job, and the workshop's counts"), access.Read, s.records)
	route(s, get("nearest", "/api/jobs/{id}/nearest", "Past jobs that are most like this one, as it was last saved"), access.Read, s.nearest)
	route(s, op(http.MethodPost, "add-note", "/api/jobs/{id}/notes", "Write something down about a job", 201), access.Measure, s.addNote)
	route(s, get("history", "/api/jobs/{id}/history", "Every revision and note of a job, the newest first"), access.Read, s.history)
	route(s, op(http.MethodPost, "way", "/api/jobs/{id}/way", "What differs between two states of a job, and how to bring the car from one to the other", 200), access.Read, s.way)
	route(s, op(http.MethodPost, "remeasure", "/api/jobs/{id}/remeasure", "What was measured again, against the record", 200), access.Read, s.remeasure)
}

// symptomTable is the program's own table, read once.
var symptomTable = sync.OnceValues(func() (*symptom.Rules, error) { return symptom.Standard() })

func (s *Server) symptoms(context.Context, store.Person, *struct{}) (*body[support.SymptomRows], error) {
	rules, err := symptomTable()
	if err != nil {
		return nil, err
	}
	return answer(support.RowsOf(rules)), nil
}

func (s *Server) support(ctx context.Context, _ store.Person, in *struct{ Body support.Request }) (*body[*support.View], error) {
	if strings.TrimSpace(in.Body.Words) == "" && in.Body.Symptom == "" {
		return nil, problem(http.StatusUnprocessableEntity, "enter what the owner says, or a row of the table")
	}
	rules, err := symptomTable()
	if err != nil {
		return nil, err
	}
	start := s.o.Now()
	t, err := s.tries.Ask(ctx, &in.Body.TryRequest, s.tries.TrySymptom)
	if err != nil {
		return nil, err
	}
	var asked *symptom.Asked
	if t.Answer != nil {
		asked, err = s.tries.Proposals(ctx, &t.Result, rules, t.Teller, in.Body.Question())
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return nil, problem(http.StatusUnprocessableEntity, err.Error())
		}
	}
	v, err := support.Of(ctx, t, in.Body, asked)
	if v != nil {
		v.Ms = s.since(start)
	}
	return answer(v), err
}

// NoteRequest is something to be written down. The body of its kind is filled
// in, and no other.
type NoteRequest struct {
	ID       string          `json:"id,omitempty" maxLength:"100" doc:"made by who writes, so that a note that comes twice is kept once"`
	Kind     string          `json:"kind" enum:"change,come-back,recheck,service,remark"`
	Revision int             `json:"revision,omitempty" minimum:"0" doc:"of the job that it is about; 0 for the newest"`
	Taken    string          `json:"taken,omitempty" maxLength:"40" doc:"RFC 3339; now without"`
	Who      string          `json:"who,omitempty" maxLength:"100"`
	Text     string          `json:"text,omitempty" maxLength:"20000"`
	Change   *store.Changed  `json:"change,omitempty"`
	ComeBack *store.ComeBack `json:"comeBack,omitempty"`
	Recheck  *RecheckRequest `json:"recheck,omitempty"`
	Service  *store.Service  `json:"service,omitempty"`
}

// RecheckRequest is a re-check to be written down.
type RecheckRequest struct {
	Km      float64  `json:"km,omitempty" minimum:"0" doc:"since the handover"`
	Heights []string `json:"heights,omitempty" maxItems:"4"`
	Loads   []string `json:"loads,omitempty" maxItems:"4"`
	Build   string   `json:"build,omitempty" maxLength:"100"`
	Found   string   `json:"found,omitempty" maxLength:"300"`
	Date    string   `json:"date,omitempty" maxLength:"10" doc:"when to come again"`
}

func (s *Server) addNote(ctx context.Context, who store.Person, in *struct {
	JobPath
	Body NoteRequest
},
) (*body[history.Note], error) {
	b := in.Body
	n := store.Note{
		ID: b.ID, Job: in.ID, Kind: b.Kind, Revision: b.Revision, Who: s.nameOf(who, b.Who),
		NoteBody: store.NoteBody{Text: b.Text, Change: b.Change, ComeBack: b.ComeBack, Service: b.Service},
	}
	if b.Taken != "" {
		at, err := time.Parse(time.RFC3339, b.Taken)
		if err != nil {
			return nil, problem(http.StatusUnprocessableEntity, "the time of the note is not as 2026-03-01T10:42:00Z")
		}
		n.Taken = at
	}
	if r := b.Recheck; r != nil {
		n.Recheck = &store.Recheck{Km: r.Km, Build: r.Build, Found: r.Found}
		copy(n.Recheck.Heights[:], r.Heights)
		copy(n.Recheck.Loads[:], r.Loads)
		if r.Date != "" {
			n.Recheck.Next = &store.RecheckAt{Date: r.Date}
		}
	}
	kept, err := s.store.AddNote(ctx, n)
	if err != nil {
		return nil, err
	}
	return answer(history.NoteOf(&kept)), nil
}
