package web

import (
	"context"
	"net/http"
	"path/filepath"

	"github.com/dustin/go-humanize"

	"trunnion/shop/access"
	"trunnion/shop/store"
	"trunnion/shop/view"
)

// backupRoutes are what the page asks about what keeps everything.
func (s *Server) backupRoutes() {
	route(s, get("backups", "/api/backups", "Backups of everything, the newest first"), access.Overseer, s.backups)
	route(s, op(http.MethodPost, "back-up", "/api/backups", "Make a backup now", 201), access.Overseer, s.backUp)
}

// Backup is one file that holds everything as it was.
type Backup struct {
	When string `json:"when"`
	Size string `json:"size"`
	File string `json:"file" doc:"its name in the folder of backups"`
}

// Backups are those in the data folder.
type Backups struct {
	Own     bool     `json:"own" doc:"the program makes them; a database server is backed up by its own means"`
	Hours   float64  `json:"hours" doc:"after which one is made, where something was saved; 0 for never"`
	Keep    int      `json:"keep" doc:"how many are kept"`
	Folder  string   `json:"folder,omitempty"`
	Second  string   `json:"second,omitempty" doc:"folder on another disk that each is copied to"`
	Trouble string   `json:"trouble,omitempty" doc:"why the last one failed"`
	Backups []Backup `json:"backups"`
}

func (s *Server) backups(context.Context, store.Person, *struct{}) (*body[Backups], error) {
	kept := s.store.Keeping()
	out := Backups{Own: kept.Own, Hours: kept.Every.Hours(), Keep: kept.Keep, Folder: kept.Folder, Second: kept.Second, Backups: []Backup{}}
	if kept.Trouble != nil {
		out.Trouble = kept.Trouble.Error()
	}
	list, err := s.store.Backups()
	for _, one := range list {
		out.Backups = append(out.Backups, Backup{When: view.When(one.When), Size: humanize.Bytes(uint64(max(one.Size, 0))), File: filepath.Base(one.Path)})
	}
	return answer(out), err
}

func (s *Server) backUp(ctx context.Context, who store.Person, in *struct{}) (*body[Backups], error) {
	if _, err := s.store.BackupNow(ctx); err != nil {
		return nil, err
	}
	return s.backups(ctx, who, in)
}
