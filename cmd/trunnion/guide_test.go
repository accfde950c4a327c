package main

import "testing"

// TestGuide runs the commands of docs/guide.md in their order, in a folder of their own.
func TestGuide(t *testing.T) {
	commandsOf(t, "../../docs/guide.md", "new", "measure", "demo", "assess", "damper", "level", "symptom", "sheet", "history")
}
