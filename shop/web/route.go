package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"trunnion/shop/access"
	"trunnion/shop/store"
)

// route registers one operation behind the task it asks for.
func route[I, O any](s *Server, op huma.Operation, task access.Task, handle func(ctx context.Context, who store.Person, in *I) (*O, error)) {
	op.MaxBodyBytes = mostBody
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*O, error) {
		var who store.Person
		if task != "" {
			var err error
			if who, err = s.guard.May(ctx, task); err != nil {
				return nil, s.problemOf(ctx, err)
			}
		}
		out, err := handle(ctx, who, in)
		if err != nil {
			return nil, s.problemOf(ctx, err)
		}
		return out, nil
	})
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
