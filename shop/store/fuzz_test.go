package store

import (
	"os"
	"path/filepath"
	"testing"
)

// FuzzExamine: no file that is called a backup stops the program.
func FuzzExamine(f *testing.F) {
	dir := f.TempDir()
	s, err := Open(f.Context(), dir, Options{})
	if err != nil {
		f.Fatal(err)
	}
	if _, err := s.Save(f.Context(), Change{Job: "j", Who: "Ada", Text: killText("j", 1)}); err != nil {
		f.Fatal(err)
	}
	path := filepath.Join(dir, "whole.db")
	if err := s.Backup(f.Context(), path); err != nil {
		f.Fatal(err)
	}
	if err := s.Close(); err != nil {
		f.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(uint(0), byte(0), len(whole))
	f.Add(uint(20), byte(7), len(whole))
	f.Add(uint(5000), byte(255), len(whole)/2)
	f.Fuzz(func(t *testing.T, at uint, with byte, long int) {
		text := append([]byte(nil), whole[:min(max(long, 0), len(whole))]...)
		if len(text) > 0 {
			text[at%uint(len(text))] ^= with
		}
		path := filepath.Join(t.TempDir(), "x.db")
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		got, err := Examine(t.Context(), path)
		if err == nil && got.Jobs > 1 {
			t.Fatalf("%d jobs of one", got.Jobs)
		}
	})
}
