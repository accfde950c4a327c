package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"trunnion/chassis/search"
	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/find"
	"trunnion/shop/wording"
)

// SearchTold is how far a search is.
type SearchTold struct {
	ID    string `json:"id"`
	Job   string `json:"job"`
	State string `json:"state"`
	Step  string `json:"step"`
	Done  int    `json:"done"`
	Total int    `json:"total"`
}

// findRoutes are what the page Find a build asks.
func (s *Server) findRoutes() {
	route(s, op(http.MethodPost, "start-search", "/api/jobs/{id}/searches", "Find builds for the brief, in the background; an earlier search of the job is stopped", 202), access.Read, s.startSearch)
	route(s, get("searches", "/api/jobs/{id}/searches", "The newest search of a job, with what it found"), access.Read, s.newestSearch)
	route(s, get("search", "/api/searches/{id}", "A search, with what it found when it is done"), access.Read, s.search)
	route(s, op(http.MethodDelete, "cancel-search", "/api/searches/{id}", "Stop a search", 204), access.Read, s.cancelSearch)
}

func (s *Server) startSearch(ctx context.Context, _ store.Person, in *struct {
	JobPath
	Body find.Request
},
) (*body[find.Search], error) {
	text, err := s.edited(ctx, in.Body.Text, in.Body.Edits)
	if err != nil {
		return nil, err
	}
	job, faults := jobfile.ReadBytes(text, "job.yaml")
	if job == nil {
		p := problem(http.StatusUnprocessableEntity, "the job has faults; nothing was computed")
		p.Faults = faults
		return nil, p
	}
	asked := in.Body
	asked.Text, asked.Edits = "", []jobfile.Edit{}
	mine, cancel := context.WithCancel(s.living)
	one := &searching{now: find.Search{ID: store.NewID(), Job: in.ID, State: "running", Step: wording.SearchStepName(search.AtStart), Total: 1, Asked: asked}, cancel: cancel}
	s.found.mu.Lock()
	for _, old := range s.found.of {
		if old.now.Job == in.ID && old.now.State == "running" {
			old.cancel()
		}
	}
	s.found.of[one.now.ID] = one
	s.found.order = append(s.found.order, one.now.ID)
	for len(s.found.order) > searchesKept {
		s.found.of[s.found.order[0]].cancel()
		delete(s.found.of, s.found.order[0])
		s.found.order = s.found.order[1:]
	}
	now := one.now
	s.found.mu.Unlock()
	s.group.Go(func() { s.seek(mine, one, job) })
	return answer(now), nil
}

// seek searches and keeps what is found.
func (s *Server) seek(ctx context.Context, one *searching, job *jobfile.Job) {
	defer one.cancel()
	s.found.mu.Lock()
	ask := one.now.Asked.Ask()
	s.found.mu.Unlock()
	ask.Workers = backgroundWorkers()
	ask.Hands = s.o.Hands
	ask.Tell = func(p search.Progress) {
		s.found.mu.Lock()
		one.now.Step, one.now.Done, one.now.Total = wording.SearchStepName(p.Step), p.Done, p.Total
		now := one.now
		quiet := time.Since(one.told) < tellEvery
		if !quiet {
			one.told = time.Now()
		}
		s.found.mu.Unlock()
		if !quiet {
			s.hub.tell(toldOf(&now))
		}
	}
	got, err := s.tries.Search(ctx, job, ask)
	s.found.mu.Lock()
	switch {
	case ctx.Err() != nil:
		one.now.State, one.now.Said = "cancelled", "stopped"
	case err != nil:
		one.now.State, one.now.Said = "failed", view.Sentence(faultText(err))
		var bad *desk.AskError
		if !errors.As(err, &bad) {
			s.o.Log.Error("a search gave no answer", "err", err)
		}
	default:
		one.now.State, one.found = "done", got
	}
	now := one.now
	s.found.mu.Unlock()
	s.hub.tell(toldOf(&now))
}

func toldOf(n *find.Search) SearchTold {
	return SearchTold{n.ID, n.Job, n.State, n.Step, n.Done, n.Total}
}

func (s *Server) newestSearch(_ context.Context, _ store.Person, in *struct {
	JobPath
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[find.Search], error) {
	s.found.mu.Lock()
	defer s.found.mu.Unlock()
	for _, id := range slices.Backward(s.found.order) {
		if one := s.found.of[id]; one.now.Job == in.ID {
			return s.searched(one, in.Units)
		}
	}
	return answer(find.Search{Job: in.ID}), nil
}

func (s *Server) search(_ context.Context, _ store.Person, in *struct {
	ID    string `path:"id" maxLength:"100"`
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[find.Search], error) {
	s.found.mu.Lock()
	defer s.found.mu.Unlock()
	one := s.found.of[in.ID]
	if one == nil {
		return nil, problem(http.StatusNotFound, "this search is no longer kept; search again")
	}
	return s.searched(one, in.Units)
}

// searched is a search as the page shows it; the mutex is held.
func (s *Server) searched(one *searching, units string) (*body[find.Search], error) {
	out := one.now
	if one.found != nil {
		system := quantity.Metric
		if units != "" {
			var err error
			if system, err = wording.System(units); err != nil {
				return nil, fmt.Errorf("units of a search: %w", err)
			}
		}
		out.View = find.Of(one.found, s.o.Version, system)
	}
	return answer(out), nil
}

func (s *Server) cancelSearch(_ context.Context, _ store.Person, in *struct {
	ID string `path:"id" maxLength:"100"`
},
) (*nothing, error) {
	s.found.mu.Lock()
	defer s.found.mu.Unlock()
	if one := s.found.of[in.ID]; one != nil {
		one.cancel()
	}
	return nil, nil
}
