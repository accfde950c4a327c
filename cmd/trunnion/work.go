package main

import (
	"context"
	"errors"
	"time"

	"trunnion/shop/desk"
	"trunnion/shop/queue"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

type workCommand struct {
	Postgres string        `help:"Database in which searches are asked for: postgres://user@host/name" env:"TRUNNION_POSTGRES" placeholder:"URL"`
	Workers  int           `help:"How many cores compute; every core without it." placeholder:"N"`
	Lost     time.Duration `help:"How long a worker may say nothing before its piece is given to another." default:"10s" hidden:""`
}

// Run computes pieces of searches until it is stopped.
func (c *workCommand) Run(ctx context.Context, s streams) error {
	switch {
	case c.Postgres == "":
		return usage("work needs a database that several programs use: --postgres postgres://user@host/name; a folder is used by one program, which computes its own searches")
	case !store.IsServer(c.Postgres):
		return usage("--postgres %s: it is written postgres://user@host/database", c.Postgres)
	case c.Workers < 0:
		return usage("--workers is 1 or more")
	}
	workers := c.Workers
	if workers == 0 {
		workers = desk.Workers()
	}
	kept, err := store.Open(ctx, c.Postgres, store.Options{Who: "trunnion work"})
	if err != nil {
		return serving(err)
	}
	program := queue.Program(version)
	q := queue.New(kept, queue.Options{Program: program, Version: version, LostAfter: c.Lost, Note: func(text string) { say(s.err, "note: %s\n", text) }})
	say(s.out, "Trunnion %s computes pieces of searches for %s on %s.\nStop it with Ctrl+C.\n", program, kept.Where(), many(workers, "core", "cores"))
	done := 0
	err = q.Work(ctx, workers, func(p queue.Computed) {
		what := wording.SearchStepName(p.Step) + ": " + many(p.Choices, "candidate", "candidates")
		switch {
		case p.Err == nil:
			done++
			say(s.out, "%s in %s\n", what, p.Took.Round(10*time.Millisecond))
		case ctx.Err() != nil, errors.Is(p.Err, store.ErrCancelled), errors.Is(p.Err, context.Canceled):
			say(s.out, "%s, stopped: no longer wanted here\n", what)
		default:
			say(s.out, "%s, not computed: %v\n", what, p.Err)
		}
	})
	if err == nil {
		say(s.out, "Stopped. %s computed; what was not finished is given to others.\n", many(done, "piece", "pieces"))
	}
	return serving(errors.Join(err, kept.Close()))
}
