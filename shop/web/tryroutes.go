package web

import (
	"context"
	"net/http"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/builds"
	"trunnion/shop/view/ride"
	"trunnion/shop/view/working"
)

func (s *Server) try(ctx context.Context, _ store.Person, in *struct{ Body view.TryRequest }) (*body[*builds.View], error) {
	var full *desk.Result
	if in.Body.Run != "" {
		full = s.runs.judged(ctx, in.Body.Run, s.tries.TextOf(ctx, &in.Body))
		if full != nil && !desk.InBrief(full.Job, in.Body.Look()) {
			full = nil // another speed than the brief's: only a try has it
		}
	}
	v, err := s.compared(ctx, &in.Body, full)
	if err != nil {
		return nil, err
	}
	if len(in.Body.Edits) == 0 && v.Full {
		s.worst.learn(in.Body.Text, v)
	}
	return answer(v), nil
}

// compared shows a job with edits, or the full judgement where there is one.
func (s *Server) compared(ctx context.Context, req *view.TryRequest, full *desk.Result) (*builds.View, error) {
	start := s.o.Now()
	t, err := s.tries.Compared(ctx, req, full)
	if err != nil {
		return nil, err
	}
	v, err := builds.Of(ctx, t)
	if v != nil {
		v.Ms = s.since(start)
	}
	return v, err
}

// since is how long ago something began [ms].
func (s *Server) since(start time.Time) int { return int(s.o.Now().Sub(start).Milliseconds()) }

// ViewPath names a view.
type ViewPath struct {
	Key string `path:"key" maxLength:"64"`
}

func (s *Server) working(ctx context.Context, _ store.Person, in *struct {
	ViewPath
	Value string `path:"value" maxLength:"400"`
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[*working.View], error) {
	v, err := s.tries.Opened(in.Key, in.Units)
	if err != nil {
		return nil, err
	}
	w, err := working.Of(ctx, v, in.Value)
	return answer(w), err
}

func (s *Server) plan(ctx context.Context, _ store.Person, in *struct {
	ViewPath
	Build string `path:"build" maxLength:"100"`
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[*working.Plan], error) {
	v, err := s.tries.Opened(in.Key, in.Units)
	if err != nil {
		return nil, err
	}
	p, err := working.PlanOf(ctx, v, in.Build)
	return answer(p), err
}

func (s *Server) trace(ctx context.Context, _ store.Person, in *struct {
	ViewPath
	Build     string `query:"build" required:"true" maxLength:"100"`
	MaxPoints int    `query:"maxPoints" minimum:"2" maximum:"20000" default:"1500"`
},
) (*body[*ride.Trace], error) {
	v, err := s.tries.Opened(in.Key, "")
	if err != nil {
		return nil, err
	}
	if v.Answer == nil {
		return nil, problem(http.StatusUnprocessableEntity, "the job has no answer to play")
	}
	t, err := ride.TraceOf(ctx, v, in.Build, in.MaxPoints)
	if err != nil && ctx.Err() == nil {
		return nil, problem(http.StatusUnprocessableEntity, err.Error())
	}
	return answer(t), err
}
