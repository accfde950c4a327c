package store

import (
	"os"
	"path/filepath"
	"testing"
)

// Connections come and go: when the last one closes, the log of writes goes with it, and
// the new one must not be taken for somebody else's. One is held while the store is open.
func TestSavesGoOnAfterConnectionsClosed(t *testing.T) {
	s := open(t, t.TempDir(), Options{})
	for n := 1; n <= 3; n++ {
		if err := save(t, s, n); err != nil {
			t.Fatalf("save %d: %v", n, err)
		}
		s.db.SetMaxIdleConns(0) // closes every connection that nobody holds
		s.db.SetMaxIdleConns(8)
		if _, err := os.Stat(filepath.Join(s.dir, databaseName+"-wal")); err != nil {
			t.Fatalf("after save %d: %v", n, err)
		}
	}
}
