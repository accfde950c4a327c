package web

import (
	"context"
	"net/http"
	"slices"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

func (s *Server) startRun(ctx context.Context, who store.Person, in *struct {
	JobPath
	Body view.TryRequest
},
) (*body[Run], error) {
	text, err := s.edited(ctx, in.Body.Text, in.Body.Edits)
	if err != nil {
		return nil, err
	}
	head, err := s.store.Head(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	if head.SHA256 == fingerprint(text) {
		list, err := s.store.Runs(ctx, in.ID, head.Revision)
		if err != nil {
			return nil, err
		}
		for _, r := range list {
			if r.Kind == kindJudgement && r.State != store.Failed && r.State != store.Cancelled {
				return answer(runOf(r)), nil // the same work, asked for twice
			}
		}
		r, err := s.store.AskRun(ctx, in.ID, head.Revision, kindJudgement, s.nameOf(who, ""))
		if err != nil {
			return nil, err
		}
		s.runs.wakeUp()
		return answer(runOf(r)), nil
	}
	_, faults := jobfile.ReadBytes(text, "job.yaml")
	if err := jobfile.AsError("job.yaml", faults); err != nil {
		return nil, err
	}
	return answer(s.runs.ask(in.ID, text)), nil
}

// Runs is the runs of a job.
type Runs struct {
	Runs []Run `json:"runs"`
}

func (s *Server) jobRuns(ctx context.Context, _ store.Person, in *JobPath) (*body[Runs], error) {
	list, err := s.store.Runs(ctx, in.ID, 0)
	if err != nil {
		return nil, err
	}
	out := Runs{Runs: []Run{}}
	s.runs.mu.Lock()
	for _, id := range slices.Backward(s.runs.order) {
		if l := s.runs.unsaved[id]; l != nil && l.run.Job == in.ID {
			out.Runs = append(out.Runs, l.run)
		}
	}
	s.runs.mu.Unlock()
	for _, r := range list {
		one, err := s.runs.find(ctx, r.ID)
		if err != nil {
			return nil, err
		}
		out.Runs = append(out.Runs, one)
	}
	return answer(out), nil
}

func (s *Server) run(ctx context.Context, _ store.Person, in *struct {
	ID    string `path:"id" maxLength:"100"`
	Units string `query:"units" enum:"metric,imperial,mixed"`
	Load  string `query:"load" maxLength:"100"`
},
) (*body[Run], error) {
	run, err := s.runs.find(ctx, in.ID)
	if err != nil || run.State != "done" {
		return answer(run), err
	}
	text, err := s.runs.textOf(ctx, run)
	if err != nil {
		return nil, err
	}
	full := s.runs.judged(ctx, in.ID, text)
	if full == nil {
		return nil, problem(http.StatusGone, "the answer of this run is no longer kept; run it again")
	}
	units := in.Units
	if units == "" {
		units = s.o.Units
	}
	run.View, err = s.compared(ctx, &view.TryRequest{Text: string(text), Edits: []jobfile.Edit{}, Units: units, Load: in.Load, Run: in.ID}, full)
	return answer(run), err
}

func (s *Server) cancelRun(ctx context.Context, _ store.Person, in *struct {
	ID string `path:"id" maxLength:"100"`
},
) (*nothing, error) {
	r := s.runs
	r.mu.Lock()
	if l := r.unsaved[in.ID]; l != nil {
		defer r.mu.Unlock()
		switch {
		case l.run.State == "waiting":
			l.run.State, l.run.Said = "cancelled", "stopped"
		case l.run.State == "running" && l.cancel != nil:
			l.cancel()
		}
		return nil, nil
	}
	stop := r.active[in.ID]
	r.mu.Unlock()
	run, err := s.store.CancelRun(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	if stop != nil {
		stop()
	}
	s.hub.tell(runOf(run))
	return nil, nil
}
