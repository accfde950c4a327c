package web

import (
	"context"

	"trunnion/shop/access"
	"trunnion/shop/measuring"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// Measuring is where every key of a job is typed and how it is measured.
type Measuring struct {
	Groups   []measuring.Group   `json:"groups"`
	Cards    []measuring.Card    `json:"cards"`
	Drawings []measuring.Drawing `json:"drawings"`
}

// measuringRoutes are what the page asks about fields and how to measure them.
func (s *Server) measuringRoutes() {
	route(s, get("measuring", "/api/measuring", "Where every key of a job is typed, and how it is measured"), access.Read, s.measuring)
}

func (s *Server) measuring(_ context.Context, _ store.Person, in *struct {
	Units string `query:"units" enum:"metric,imperial,mixed"`
},
) (*body[Measuring], error) {
	units := in.Units
	if units == "" {
		units = s.o.Units
	}
	system, err := wording.System(units)
	if err != nil {
		return nil, err
	}
	return answer(Measuring{Groups: measuring.Groups(), Cards: measuring.Cards(system), Drawings: measuring.Drawings()}), nil
}
