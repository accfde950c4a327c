package pastjobs

import (
	"slices"
	"strings"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// Line is one change as it is shown.
type Line struct {
	Path  string `json:"path"`
	Label string `json:"label"` // "Rear click, kit"
	From  string `json:"from"`  // as typed; empty where nothing stood
	To    string `json:"to"`
	Kind  string `json:"kind" enum:"setup,part,reading,load,brief,handover,words"` // setup, part, reading, load, brief, handover, words
}

// Lines names differences. What was set on the car comes first, then parts,
// readings, and what is only said.
func Lines(list []jobfile.Difference) []Line {
	out := make([]Line, len(list))
	for i, d := range list {
		out[i] = Line{Path: d.Path, Label: wording.Label(d.Path), From: d.From, To: d.To, Kind: kindOf(d.Path)}
	}
	slices.SortStableFunc(out, func(a, b Line) int { return slices.Index(kindOrder, a.Kind) - slices.Index(kindOrder, b.Kind) })
	return out
}

var kindOrder = []string{"setup", "part", "reading", "load", "brief", "handover", "words"}

// kindOf is what a path is about.
func kindOf(path string) string {
	words := strings.Split(path, ".")
	switch words[0] {
	case "builds":
		if len(words) > 2 {
			key, _, _ := strings.Cut(words[2], "[")
			switch key {
			case "setup":
				return "setup"
			case "front", "rear", "mass":
				return "part"
			case "readings":
				return "reading"
			}
		}
		return "words"
	case "parts":
		return "part"
	case "car":
		return "reading"
	case "loads":
		return "load"
	case "brief":
		return "brief"
	case "handover":
		return "handover"
	}
	return "words"
}

// RevisionAt is the revision that stood at a moment: the newest that was saved by
// then, whatever the order of the list; 0 when there was none yet. The store gives
// out times that only go forward, so that a clock set back does not turn them
// round.
func RevisionAt(history []store.Revision, at time.Time) int {
	newest := 0
	for i := range history {
		if !history[i].When.After(at) {
			newest = max(newest, history[i].Number)
		}
	}
	return newest
}
