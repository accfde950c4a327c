package main

import (
	"context"
	"errors"

	"trunnion/shop/store"
)

type reindexCommand struct {
	place
}

// Run makes what is searched anew from the jobs' own texts.
func (c *reindexCommand) Run(ctx context.Context, s streams) error {
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion reindex"})
	if err != nil {
		return serving(err)
	}
	n, err := kept.Reindex(ctx, nil)
	if err = errors.Join(err, kept.Close()); err != nil {
		return serving(err)
	}
	say(s.out, "%d jobs can be found again\n", n)
	return nil
}
