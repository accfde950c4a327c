package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func save(t *testing.T, s *Store, number int) error {
	t.Helper()
	_, err := s.Save(t.Context(), Change{Job: "j", Expected: number - 1, Who: "Ada", Text: killText("j", number)})
	return err
}

func TestNoEmptyWorkshopWhereOneWas(t *testing.T) {
	for name, c := range map[string]struct {
		backups, mark, empty bool
		words                []string
	}{
		"gone beside backups":         {true, true, false, []string{"is not there", "the newest backup is", "restore it"}},
		"emptied beside backups":      {true, true, true, []string{"is empty", "the newest backup is"}},
		"gone beside the mark":        {false, true, false, []string{"is not there", "saves were answered here up to"}},
		"gone without a mark":         {true, false, false, []string{"has backups of it"}},
		"nothing shows there was one": {false, false, false, nil},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			seeded(t, dir)
			s := open(t, dir, Options{})
			if c.backups {
				must[Saved](t)(s.BackupNow(t.Context()))
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, databaseName)
			for _, tail := range []string{"", "-wal", "-shm"} {
				if err := removed(path + tail); err != nil {
					t.Fatal(err)
				}
			}
			if c.empty {
				if err := os.WriteFile(path, nil, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			if !c.mark {
				if err := removed(filepath.Join(dir, markName)); err != nil {
					t.Fatal(err)
				}
			}
			again, err := Open(t.Context(), dir, Options{})
			if c.words == nil {
				if err != nil {
					t.Fatalf("an empty folder is not begun: %v", err)
				}
				if err := again.Close(); err != nil {
					t.Error(err)
				}
				return
			}
			trouble(t, err, Missing, c.words...)
			if info, err := os.Stat(path); err == nil && info.Size() > 0 {
				t.Error("a database was begun")
			}
			if !c.backups {
				return
			}
			list := must[[]Saved](t)((&Store{lite: true, dir: dir}).Backups())
			must[string](t)(Restore(t.Context(), list[0].Path, dir))
			stillThere(t, dir)
		})
	}
}

func TestLostTailIsTold(t *testing.T) {
	dir := t.TempDir()
	seeded(t, dir)
	path := filepath.Join(dir, databaseName)
	early, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, dir, Options{})
	if len(s.Notes()) != 0 {
		t.Errorf("nothing is lost, and it says %q", s.Notes())
	}
	if err := save(t, s, 3); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	late, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	says := func(database []byte) string {
		t.Helper()
		if err := os.WriteFile(path, database, 0o600); err != nil {
			t.Fatal(err)
		}
		s := open(t, dir, Options{})
		defer func() {
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		}()
		return strings.Join(s.Notes(), "; ")
	}
	if text := says(late); text != "" {
		t.Errorf("the whole database says %q", text)
	}
	for range 2 { // and says so until something new is saved
		if text := says(early); !strings.Contains(text, "saves are missing: they were answered up to") {
			t.Errorf("a database without its last save says %q", text)
		}
	}

	// A backup knows too, where the mark has gone with the rest.
	if err := os.WriteFile(path, late, 0o600); err != nil {
		t.Fatal(err)
	}
	s = open(t, dir, Options{})
	must[Saved](t)(s.BackupNow(t.Context()))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := removed(filepath.Join(dir, markName)); err != nil {
		t.Fatal(err)
	}
	if text := says(early); !strings.Contains(text, "the backup") || !strings.Contains(text, "has more") {
		t.Errorf("beside a backup that has more it says %q", text)
	}

	// Going back to an older backup is no loss.
	list := must[[]Saved](t)(s.Backups())
	must[string](t)(Restore(t.Context(), list[0].Path, dir))
	s = open(t, dir, Options{Now: func() time.Time { return time.Now().Add(time.Hour) }})
	if len(s.Notes()) != 0 {
		t.Errorf("after a restore it says %q", s.Notes())
	}
}
