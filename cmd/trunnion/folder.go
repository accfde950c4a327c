package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// place is where everything is kept: a folder of this machine, or a database
// server of several branches.
type place struct {
	Data     string `help:"Folder that holds everything. By default the platform's place for a program's data." env:"TRUNNION_DATA" placeholder:"DIR"`
	Postgres string `help:"Keep everything in this PostgreSQL database instead: postgres://user@host/name" env:"TRUNNION_POSTGRES" placeholder:"URL"`
}

// where is what the store opens: a folder or a URL.
func (p *place) where() (string, error) {
	if p.Postgres != "" {
		return p.Postgres, nil
	}
	return p.folder()
}

// folder is the data folder, for certificates also where a database server keeps
// the rest.
func (p *place) folder() (string, error) {
	if p.Data != "" {
		return filepath.Abs(p.Data)
	}
	dir, err := dataFolder(runtime.GOOS, os.Getenv, os.UserHomeDir)
	if err != nil {
		return "", usage("no folder for the data was found (%w); name one with --data", err)
	}
	return dir, nil
}

// dataFolder is where a program keeps its data on each platform: on Windows
// below LocalAppData, on macOS in Application Support, elsewhere after the XDG
// Base Directory Specification.
func dataFolder(system string, env func(string) string, home func() (string, error)) (string, error) {
	const name = "Trunnion"
	switch system {
	case "windows":
		if dir := env("LocalAppData"); dir != "" {
			return filepath.Join(dir, name), nil
		}
		return "", errors.New("%LocalAppData% is not set")
	case "darwin", "ios":
		dir, err := home()
		return filepath.Join(dir, "Library", "Application Support", name), err
	}
	if dir := env("XDG_DATA_HOME"); dir != "" && filepath.IsAbs(dir) {
		return filepath.Join(dir, "trunnion"), nil
	}
	dir, err := home()
	return filepath.Join(dir, ".local", "share", "trunnion"), err
}
