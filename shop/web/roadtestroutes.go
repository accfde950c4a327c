package web

import (
	"context"
	"net/http"

	"trunnion/examples"
	"trunnion/shop/access"
	"trunnion/shop/intake"
	"trunnion/shop/store"
	"trunnion/shop/view/roadtest"
)

// roadTestRoutes are what the page asks about logs of drives.
func (s *Server) roadTestRoutes() {
	route(s, op(http.MethodPost, "roadtest", "/api/roadtest", "Hold a log of a drive beside the prediction of a build, without saving", 200), access.Read, s.roadTest)
	route(s, get("roadtest-examples", "/api/roadtest/examples", "A log of an invented drive of the demo's kit"), access.Read, s.roadTestExamples)
}

func (s *Server) roadTest(ctx context.Context, _ store.Person, in *struct{ Body roadtest.Request }) (*body[*roadtest.View], error) {
	start := s.o.Now()
	v, err := roadtest.Of(ctx, s.tries, &in.Body, start.Format("2 January 2006"))
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

// RoadTestExamples are logs of invented drives.
type RoadTestExamples struct {
	Files []intake.SweepFile `json:"files"`
}

func (s *Server) roadTestExamples(_ context.Context, _ store.Person, _ *struct{}) (*body[RoadTestExamples], error) {
	const name = "roadtest/kit-driver.csv"
	text, err := examples.RoadTests.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return answer(RoadTestExamples{[]intake.SweepFile{{Name: "kit-driver.csv", Data: text}}}), nil
}
