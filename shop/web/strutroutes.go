package web

import (
	"context"
	"net/http"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/linkage"
	"trunnion/shop/view/struts"
)

// strutRoutes are what the page asks about linkages, struts and mounts.
func (s *Server) strutRoutes() {
	route(s, op(http.MethodPost, "struts", "/api/struts", "Put the builds' struts under loads, without saving", 200), access.Read, s.struts)
	route(s, op(http.MethodPost, "linkage", "/api/linkage", "Move an axle's linkage, without saving", 200), access.Read, s.linkage)
}

func (s *Server) struts(ctx context.Context, _ store.Person, in *struct{ Body struts.Request }) (*body[*struts.View], error) {
	start := s.o.Now()
	t, err := s.tries.Recent(ctx, &in.Body.TryRequest, s.judgedFor(ctx, &in.Body.TryRequest))
	if err != nil {
		return nil, err
	}
	v, err := struts.Of(ctx, t, in.Body)
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

func (s *Server) linkage(ctx context.Context, _ store.Person, in *struct{ Body linkage.Request }) (*body[*linkage.View], error) {
	start := s.o.Now()
	t, err := s.tries.Recent(ctx, &in.Body.TryRequest, s.judgedFor(ctx, &in.Body.TryRequest))
	if err != nil {
		return nil, err
	}
	v := linkage.Of(t, in.Body)
	v.Ms = s.since(start)
	return answer(v), nil
}

// judgedFor is the full judgement of a request's job, where it names one.
func (s *Server) judgedFor(ctx context.Context, req *view.TryRequest) *desk.Result {
	if req.Run == "" {
		return nil
	}
	return s.runs.judged(ctx, req.Run, s.tries.TextOf(ctx, req))
}
