package store

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func save(t *testing.T, s *Store, number int) error {
	t.Helper()
	_, err := s.Save(t.Context(), Change{Job: "j", Expected: number - 1, Who: "Ada", Text: killText("j", number)})
	return err
}

func move(t *testing.T, from, to string) {
	t.Helper()
	if err := os.Rename(from, to); err != nil {
		t.Fatal(err)
	}
}

func TestFilesThatVanishWhileOpenStopSaves(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file cannot be taken away there")
	}
	for name, take := range map[string]func(t *testing.T, path string){
		"deleted": func(t *testing.T, path string) { move(t, path, path+".gone") },
		"replaced": func(t *testing.T, path string) {
			move(t, path, path+".gone")
			_ = os.WriteFile(path, []byte("another"), 0o600)
		},
		"log gone": func(t *testing.T, path string) { move(t, path+"-wal", path+"-wal.gone") },
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			told := 0
			s, err := Open(t.Context(), dir, Options{OnTrouble: func(error) { told++ }})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close() //nolint:errcheck // what is left of it is no database
			for n := 1; n <= 2; n++ {
				if err := save(t, s, n); err != nil {
					t.Fatal(err)
				}
			}
			take(t, filepath.Join(dir, databaseName))
			trouble(t, save(t, s, 3), Missing, "nothing more is saved")
			trouble(t, save(t, s, 3), Missing)
			trouble(t, s.Health(t.Context()), Missing)
			if told != 1 {
				t.Errorf("told %d times", told)
			}
		})
	}
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

func TestFolderIsForItsOwnerAlone(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights are no bits there")
	}
	dir := t.TempDir()
	seeded(t, dir)
	for _, name := range []string{"", databaseName, markName, lockName} {
		if err := os.Chmod(filepath.Join(dir, name), 0o755); err != nil { //nolint:gosec // what is mended
			t.Fatal(err)
		}
	}
	left := filepath.Join(dir, "backups", backupPrefix+"20260101-000000.000000.db.part")
	if err := os.MkdirAll(filepath.Dir(left), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{left, filepath.Join(dir, databaseName+".part")} {
		if err := os.WriteFile(path, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s := open(t, dir, Options{})
	if err := save(t, s, 3); err != nil {
		t.Fatal(err)
	}
	want := map[string]os.FileMode{"": 0o700, databaseName: 0o600, databaseName + "-wal": 0o600, databaseName + "-shm": 0o600, markName: 0o600, lockName: 0o600}
	for name, mode := range want {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil {
			t.Error(err)
			continue
		}
		if info.Mode().Perm() != mode {
			t.Errorf("%q has %o; want %o", name, info.Mode().Perm(), mode)
		}
	}
	for _, path := range []string{left, filepath.Join(dir, databaseName+".part")} {
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%s is still there", path)
		}
	}
}
