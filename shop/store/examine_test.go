package store

import (
	"context"
	"path/filepath"
	"sync"
	"testing"
)

func TestBackupIsReadWhole(t *testing.T) {
	dir := t.TempDir()
	seeded(t, dir)
	path := filepath.Join(t.TempDir(), "kept.db")
	s := open(t, dir, Options{})
	if err := s.Backup(t.Context(), path); err != nil {
		t.Fatal(err)
	}
	for name, read := range map[string]func(context.Context, string) (Examined, error){"check": Examine, "drill": Drill} {
		got, err := read(t.Context(), path)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if got.Jobs != 1 || got.Revisions != 2 || got.Newest.IsZero() || got.Path != path {
			t.Errorf("%s: it holds %+v", name, got)
		}
	}
	if _, err := Examine(t.Context(), path+".not"); err == nil {
		t.Error("a backup that is not there was read")
	}
	for name, statement := range map[string]string{
		"a letter that changed": `UPDATE job_revisions SET text = replace(text, 'car', 'cat') WHERE number = 1`,
		"a revision gone":       `PRAGMA foreign_keys = 0; DELETE FROM job_revisions WHERE number = 1`,
		"another who saved it":  `UPDATE job_revisions SET saved_by = 'somebody' WHERE number = 1`,
		"the newest gone":       `PRAGMA foreign_keys = 0; DELETE FROM job_revisions WHERE number = 2`,
	} {
		harmed := filepath.Join(t.TempDir(), "harmed.db")
		if err := copyFile(path, harmed); err != nil {
			t.Fatal(err)
		}
		rawSQLite(t, harmed, statement)
		for _, read := range []func(context.Context, string) (Examined, error){Examine, Drill} {
			if _, err := read(t.Context(), harmed); err == nil {
				t.Errorf("%s: nothing was found", name)
			} else {
				trouble(t, err, Damaged)
			}
		}
	}
}

// A backup of a folder that is being served has every save that was answered before it
// began, and is whole.
func TestBackupOfAServedFolder(t *testing.T) {
	dir := t.TempDir()
	seeded(t, dir)
	s := open(t, dir, Options{Who: "trunnion serve"})
	var saving sync.WaitGroup
	stop := make(chan struct{})
	saving.Go(func() {
		for n := 3; ; n++ {
			select {
			case <-stop:
				return
			default:
				if err := save(t, s, n); err != nil {
					t.Error(err)
					return
				}
			}
		}
	})
	_, err := Open(t.Context(), dir, Options{})
	trouble(t, err, InUse)
	before := must[Revision](t)(s.Job(t.Context(), "j")).Number
	path := filepath.Join(t.TempDir(), "served.db")
	err = BackupOf(t.Context(), dir, path)
	close(stop)
	saving.Wait()
	if err != nil {
		t.Fatal(err)
	}
	got, err := Examine(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if got.Revisions < before {
		t.Errorf("the backup has %d revisions; %d were answered before it", got.Revisions, before)
	}
	if err := BackupOf(t.Context(), dir, path); err == nil {
		t.Error("a backup was written over")
	}
}
