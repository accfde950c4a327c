package web

import (
	"context"
	"errors"
	"net/http"

	"trunnion/examples"
	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/store"
	"trunnion/shop/view"
	"trunnion/shop/view/dampers"
)

// damperRoutes are what the page asks about dampers.
func (s *Server) damperRoutes() {
	route(s, op(http.MethodPost, "dampers", "/api/dampers", "Map the clicks of a build's dampers on the car, without saving", 200), access.Read, s.dampers)
	route(s, op(http.MethodPost, "damper-presets", "/api/dampers/presets", "Find clicks for what the car is used for, without saving", 200), access.Read, s.damperPresets)
	route(s, op(http.MethodPost, "damper-target", "/api/dampers/target", "Make an order of forces for the builder of a damper", 200), access.Read, s.damperTarget)
	route(s, op(http.MethodPost, "damper-sweeps", "/api/dampers/sweeps", "Read sweeps of dampers: curves, pairs, and what the files do not say", 200), access.Read, s.damperSweeps)
	route(s, op(http.MethodPost, "damper-accept", "/api/dampers/accept", "Hold a returned damper against its order", 200), access.Read, s.damperAccept)
	route(s, get("damper-examples", "/api/dampers/examples", "Sweeps of the invented dampers of the demo, in the four shapes of file"), access.Read, s.damperExamples)
	route(s, op(http.MethodPost, "damper-order", "/api/dampers/order", "Such an order as a file", 200), access.Read, s.damperOrder)
}

func (s *Server) dampers(ctx context.Context, _ store.Person, in *struct{ Body dampers.Request }) (*body[*dampers.View], error) {
	start := s.o.Now()
	v, err := dampers.Of(ctx, s.tries, &in.Body)
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

func (s *Server) damperPresets(ctx context.Context, _ store.Person, in *struct{ Body dampers.Request }) (*body[*dampers.Presets], error) {
	start := s.o.Now()
	v, err := dampers.PresetsOf(ctx, s.tries, &in.Body)
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

func (s *Server) damperTarget(ctx context.Context, _ store.Person, in *struct{ Body dampers.TargetRequest }) (*body[*dampers.Target], error) {
	start := s.o.Now()
	v, err := dampers.TargetOf(ctx, s.tries, &in.Body)
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

func (s *Server) damperOrder(ctx context.Context, _ store.Person, in *struct{ Body dampers.OrderRequest }) (*body[*dampers.File], error) {
	f, err := dampers.OrderFile(ctx, s.tries, &in.Body, s.o.Version)
	var bad *desk.AskError
	if errors.As(err, &bad) {
		return nil, problem(http.StatusUnprocessableEntity, view.Cut(err.Error(), 300))
	}
	return answer(f), err
}

func (s *Server) damperSweeps(ctx context.Context, _ store.Person, in *struct{ Body dampers.SweepsRequest }) (*body[*dampers.Swept], error) {
	start := s.o.Now()
	v, err := dampers.SweepsOf(ctx, s.tries, &in.Body, start.Format("2 January 2006"))
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}

// DamperExamples are files of sweeps.
type DamperExamples struct {
	Files []intake.SweepFile `json:"files"`
}

func (s *Server) damperExamples(_ context.Context, _ store.Person, _ *struct{}) (*body[DamperExamples], error) {
	var out DamperExamples
	list, err := examples.Sweeps.ReadDir("sweeps")
	if err != nil {
		return nil, err
	}
	for _, one := range list {
		text, err := examples.Sweeps.ReadFile("sweeps/" + one.Name())
		if err != nil {
			return nil, err
		}
		out.Files = append(out.Files, intake.SweepFile{Name: one.Name(), Data: text})
	}
	return answer(out), nil
}

func (s *Server) damperAccept(ctx context.Context, _ store.Person, in *struct{ Body dampers.AcceptRequest }) (*body[*dampers.Accepted], error) {
	start := s.o.Now()
	v, err := dampers.AcceptedOf(ctx, s.tries, &in.Body)
	if err != nil {
		return nil, err
	}
	v.Ms = s.since(start)
	return answer(v), nil
}
