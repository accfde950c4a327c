package main

import (
	"context"
	"errors"

	"trunnion/shop/store"
)

type backupCommand struct {
	place
	File string `arg:"" help:"New file that the whole store is written into."`
}

// Run writes the store into one file. A server that runs on the folder makes its
// own backups there; this command is for one that does not.
func (c *backupCommand) Run(ctx context.Context, s streams) error {
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion backup"})
	if err != nil {
		return serving(err)
	}
	err = kept.Backup(ctx, c.File)
	if err = errors.Join(err, kept.Close()); err != nil {
		var refused *store.Refused
		if errors.As(err, &refused) {
			return usage("%w", refused)
		}
		return serving(err)
	}
	say(s.out, "kept in %s\n", c.File)
	return nil
}
