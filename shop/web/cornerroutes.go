package web

import (
	"context"
	"net/http"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/store"
)

// cornerRoutes are what the page asks about how builds go round a corner and how
// steady they are.
func (s *Server) cornerRoutes() {
	route(s, op(http.MethodPost, "corner", "/api/corner", "Take the builds round a corner, without saving", 200), access.Read, s.corner)
}

func (s *Server) corner(ctx context.Context, _ store.Person, in *struct{ Body CornerRequest }) (*body[*Corners], error) {
	var full *desk.Result
	if in.Body.Run != "" {
		full = s.runs.judged(ctx, in.Body.Run, s.tries.textOf(ctx, &in.Body.TryRequest))
	}
	v, err := s.tries.corners(ctx, in.Body, full)
	if err != nil {
		return nil, err
	}
	return answer(v), nil
}
