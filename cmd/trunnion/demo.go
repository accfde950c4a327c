package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"trunnion/examples"
)

type demoCommand struct {
	Folder string `arg:"" help:"Folder to write the examples into; made if it is not there."`
}

// Run writes the example jobs and overwrites nothing.
func (c *demoCommand) Run(s streams) error {
	if info, err := os.Stat(c.Folder); err == nil && !info.IsDir() {
		return usage("%s is a file; name a folder", c.Folder)
	}
	var paths []string
	err := fs.WalkDir(examples.Jobs, ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		paths = append(paths, path)
		if to := filepath.Join(c.Folder, filepath.FromSlash(path)); exists(to) {
			return usage("%s is there already and is not overwritten; name another folder", to)
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, path := range paths {
		if err := c.write(path); err != nil {
			return usage("%w", err)
		}
		say(s.out, "%s\n", filepath.Join(c.Folder, filepath.FromSlash(path)))
	}
	return nil
}

func (c *demoCommand) write(path string) error {
	text, err := examples.Jobs.ReadFile(path)
	if err != nil {
		return err
	}
	to := filepath.Join(c.Folder, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	// Exclusive: a file that appeared meanwhile is left alone too.
	file, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	return errors.Join(err, file.Close())
}
