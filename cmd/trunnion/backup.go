package main

import (
	"context"
	"errors"
	"time"

	"github.com/dustin/go-humanize"

	"trunnion/shop/store"
)

type backupCommand struct {
	Write backupWriteCommand `cmd:"" default:"withargs" help:"Write everything into one new file; the page may be served meanwhile."`
	Check backupCheckCommand `cmd:"" help:"Read a backup whole, every revision of every job in it."`
	Drill backupDrillCommand `cmd:"" help:"Restore a backup into a folder that is thrown away again, and read every job there."`
	List  backupListCommand  `cmd:"" help:"List the backups in the data folder, the newest first."`
}

type backupWriteCommand struct {
	place
	File string `arg:"" help:"New file that the whole store is written into."`
}

// Run writes the store into one file. Where a server has the folder, it goes on: the
// database is read beside it.
func (c *backupWriteCommand) Run(ctx context.Context, s streams) error {
	where, err := c.where()
	if err != nil {
		return err
	}
	kept, err := store.Open(ctx, where, store.Options{Who: "trunnion backup"})
	var trouble *store.Trouble
	switch {
	case errors.As(err, &trouble) && trouble.Kind == store.InUse:
		err = store.BackupOf(ctx, where, c.File)
	case err == nil:
		err = kept.Backup(ctx, c.File)
		err = errors.Join(err, kept.Close())
	}
	if err != nil {
		return unkept(err)
	}
	say(s.out, "kept in %s\n", c.File)
	return nil
}

// unkept is what is said where a backup cannot be made or read.
func unkept(err error) error {
	var refused *store.Refused
	var absent *store.NotFound
	if errors.As(err, &refused) || errors.As(err, &absent) {
		return usage("%w", err)
	}
	return serving(err)
}

type backupCheckCommand struct {
	place
	File string `arg:"" optional:"" help:"The backup; the newest of the data folder without it."`
}

// Run reads a backup whole.
func (c *backupCheckCommand) Run(ctx context.Context, s streams) error {
	return c.examine(ctx, s, store.Examine, "whole")
}

type backupDrillCommand backupCheckCommand

// Run restores a backup for practice.
func (c *backupDrillCommand) Run(ctx context.Context, s streams) error {
	return (*backupCheckCommand)(c).examine(ctx, s, store.Drill, "restored for practice, read whole, and thrown away again")
}

// examine reads a backup one way and says what it holds.
func (c *backupCheckCommand) examine(ctx context.Context, s streams, read func(context.Context, string) (store.Examined, error), how string) error {
	file := c.File
	if file == "" {
		list, err := c.saved()
		if err != nil {
			return err
		}
		if len(list) == 0 {
			return usage("the data folder has no backups: name a file")
		}
		file = list[0].Path
	}
	got, err := read(ctx, file)
	if err != nil {
		return unkept(err)
	}
	newest := "nothing was saved in it"
	if !got.Newest.IsZero() {
		newest = "the newest save of " + got.Newest.Format(time.DateTime+" UTC")
	}
	say(s.out, "%s: %s. %s, %s, %s, %s.\n", got.Path, how, many(got.Jobs, "job", "jobs"), many(got.Revisions, "revision", "revisions"), many(got.Notes, "note", "notes"), newest)
	return nil
}

type backupListCommand struct{ place }

// Run lists the backups of the data folder.
func (c *backupListCommand) Run(_ context.Context, s streams) error {
	list, err := c.saved()
	if err != nil {
		return err
	}
	if len(list) == 0 {
		say(s.out, "no backups\n")
		return nil
	}
	rows := table{gap: 2}
	for _, one := range list {
		rows.row(one.When.Format(time.DateTime+" UTC"), humanize.Bytes(uint64(max(one.Size, 0))), one.Path)
	}
	rows.write(s.out, 240)
	return nil
}

// saved are the backups of the data folder.
func (p *place) saved() ([]store.Saved, error) {
	if p.Postgres != "" {
		return nil, usage("a database server is backed up by its own means: pg_dump")
	}
	dir, err := p.folder()
	if err != nil {
		return nil, err
	}
	list, err := store.BackupsIn(dir)
	if err != nil {
		return nil, serving(err)
	}
	return list, nil
}
