package web

import (
	"context"
	"net/http"

	"trunnion/shop/access"
	"trunnion/shop/store"
	"trunnion/shop/view/corners"
)

// cornerRoutes are what the page asks about how builds go round a corner and how
// steady they are.
func (s *Server) cornerRoutes() {
	route(s, op(http.MethodPost, "corner", "/api/corner", "Take the builds round a corner, without saving", 200), access.Read, s.corner)
}

func (s *Server) corner(ctx context.Context, _ store.Person, in *struct{ Body corners.Request }) (*body[*corners.View], error) {
	start := s.o.Now()
	t, err := s.tries.Cornered(ctx, &in.Body.TryRequest, s.judgedFor(ctx, &in.Body.TryRequest))
	if err != nil {
		return nil, err
	}
	v := corners.Of(t, in.Body)
	v.Ms = s.since(start)
	return answer(v), nil
}
