package main

import (
	"context"
	"errors"

	"trunnion/shop/store"
)

type restoreCommand struct {
	place
	File string `arg:"" help:"Backup to go back to." type:"existingfile"`
}

// Run puts a backup in the place of what stands in the data folder, which is set
// aside and not thrown away.
func (c *restoreCommand) Run(ctx context.Context, s streams) error {
	if c.Postgres != "" {
		return usage("a database server is restored by its own means: pg_restore")
	}
	dir, err := c.folder()
	if err != nil {
		return err
	}
	aside, err := store.Restore(ctx, c.File, dir)
	if err != nil {
		var refused *store.Refused
		if errors.As(err, &refused) {
			return usage("%w", refused)
		}
		return serving(err)
	}
	say(s.out, "%s is as it was in %s\n", dir, c.File)
	if aside != "" {
		say(s.out, "what stood there before is in %s\n", aside)
	}
	return nil
}
