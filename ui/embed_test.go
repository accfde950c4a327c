package ui_test

import (
	"io/fs"
	"testing"

	"trunnion/ui"
)

// A clone without a built page must still compile, and say that it has none.
func TestBuiltAgreesWithTheFiles(t *testing.T) {
	_, err := fs.Stat(ui.Files(), "index.html")
	if got, want := ui.Built(), err == nil; got != want {
		t.Errorf("Built says %t, index.html there: %t (%v)", got, want, err)
	}
	if _, err := fs.Stat(ui.Files(), ".gitkeep"); err != nil {
		t.Errorf("the folder that keeps a fresh clone compiling is gone: %v", err)
	}
}
