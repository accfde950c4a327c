package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"trunnion/shop/access"
	"trunnion/shop/desk"
	"trunnion/shop/store"
)

// route registers one operation behind the task it asks for.
func route[I, O any](s *Server, op huma.Operation, task access.Task, handle func(ctx context.Context, who store.Person, in *I) (*O, error)) {
	op.MaxBodyBytes = mostOf(op.Path)
	if task != "" {
		op.Middlewares = append(op.Middlewares, s.door(task))
	}
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*O, error) {
		who, _ := ctx.Value(asker{}).(store.Person)
		ctx, done := context.WithTimeout(desk.For(ctx, who.Name), longest)
		defer done()
		out, err := handle(ctx, who, in)
		if err != nil {
			return nil, s.problemOf(ctx, err)
		}
		return out, nil
	})
}

// asker is the key of who asks.
type asker struct{}

// door lets those through who may do a task, before anything of what they send is read.
func (s *Server) door(task access.Task) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		who, err := s.guard.May(ctx.Context(), task)
		if err == nil {
			next(huma.WithValue(ctx, asker{}, who))
			return
		}
		_, w := humago.Unwrap(ctx)
		var p *Problem
		if asProblem(s.problemOf(ctx.Context(), err), &p) {
			writeProblem(w, p)
		}
	}
}

func get(id, path, what string) huma.Operation {
	return huma.Operation{OperationID: id, Method: http.MethodGet, Path: path, Summary: what}
}

func op(method, id, path, what string, status int) huma.Operation {
	return huma.Operation{OperationID: id, Method: method, Path: path, Summary: what, DefaultStatus: status}
}

type body[T any] struct{ Body T }

func answer[T any](v T) *body[T] { return &body[T]{v} }

type nothing struct{}

// JobPath names a job.
type JobPath struct {
	ID string `path:"id" maxLength:"100"`
}
