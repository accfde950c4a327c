//go:build unix

// An open file can be taken away, and rights are bits: neither is so on Windows.

package store

import (
	"os"
	"path/filepath"
	"testing"
)

func move(t *testing.T, from, to string) {
	t.Helper()
	if err := os.Rename(from, to); err != nil {
		t.Fatal(err)
	}
}

func TestFilesThatVanishWhileOpenStopSaves(t *testing.T) {
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

func TestFolderIsForItsOwnerAlone(t *testing.T) {
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
