package jobfile

import (
	"slices"
	"strings"
)

// BothSides are the paths at which a value of an axle has to be typed so that both of
// its sides have it: the axle's own path, and a side's where the text says something
// of that side's own there. A path that is of no axle stands alone.
func BothSides(text []byte, path string) []string {
	words := strings.Split(path, ".")
	var sides [2]string
	last := len(words) - 1
	switch {
	case last >= 3 && words[last-1] == "click" && slices.Contains(axleKeys, words[last]):
		for i, side := range sideKeys {
			sides[i] = path + "_" + side
		}
	case last >= 3 && words[0] == "builds" && slices.Contains(axleKeys, words[2]) && !slices.Contains(sideKeys, words[3]):
		for i, side := range sideKeys {
			sides[i] = strings.Join(slices.Insert(slices.Clone(words), 3, side), ".")
		}
	default:
		return []string{path}
	}
	out := make([]string, 0, 2)
	for _, own := range sides {
		if _, err := Piece(text, own); err == nil {
			out = append(out, own)
		}
	}
	if len(out) < 2 {
		out = append([]string{path}, out...)
	}
	return out
}
