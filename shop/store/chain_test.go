package store

import (
	"path/filepath"
	"testing"
)

// What is kept of a revision beside its text is chained too, across its job: a store in
// which it was changed is not served as if nothing had been.
func TestRevisionsHoldOnToEachOther(t *testing.T) {
	for name, statement := range map[string]string{
		"another day":           `UPDATE job_revisions SET saved_at = saved_at - 86400000000 WHERE number = 1`,
		"another why":           `UPDATE job_revisions SET why = 'as ordered' WHERE number = 2`,
		"text and its own hash": `UPDATE job_revisions SET text = 'a: 1', sha256 = '` + sum([]byte("a: 1")) + `' WHERE number = 1`,
		"two exchanged":         `UPDATE job_revisions SET number = 7 WHERE number = 1; UPDATE job_revisions SET number = 1 WHERE number = 2; UPDATE job_revisions SET number = 2 WHERE number = 7`,
	} {
		dir := t.TempDir()
		seeded(t, dir)
		rawSQLite(t, filepath.Join(dir, databaseName), `PRAGMA foreign_keys = 0; `+statement)
		s, err := Open(t.Context(), dir, Options{})
		if err == nil {
			t.Errorf("%s: nothing was found", name)
			_ = s.Close()
			continue
		}
		trouble(t, err, Damaged)
	}
}

// A store of an older program is chained as it stands, once.
func TestOlderRevisionsAreChained(t *testing.T) {
	dir := t.TempDir()
	seeded(t, dir)
	rawSQLite(t, filepath.Join(dir, databaseName), `UPDATE job_revisions SET chain = ''`)
	if err := open(t, dir, Options{}).Check(t.Context()); err != nil {
		t.Fatal(err)
	}
	rawSQLite(t, filepath.Join(dir, databaseName), `UPDATE job_revisions SET why = 'as ordered' WHERE number = 1`)
	if _, err := Open(t.Context(), dir, Options{}); err == nil {
		t.Error("nothing was found")
	}
}
