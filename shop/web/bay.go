package web

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/wording"
)

// mayAsk holds the bay to readings and settings, before any edit is made: it changes the
// job as it was saved, to the byte, and value by value.
func (s *Server) mayAsk(ctx context.Context, who store.Person, id string, expected int, text string, edits []jobfile.Edit) error {
	if who.Role != store.Bay {
		return nil
	}
	was, err := s.store.Revision(ctx, id, expected)
	if err != nil {
		return err
	}
	if text != string(was.Text) {
		return problem(http.StatusForbidden, "the bay types readings and settings into the job as it was saved; a text of its own is for a specialist")
	}
	builds := jobfile.IDs(was.Text, "builds")
	for _, e := range edits {
		if e.Part != "" || e.CopyOf != "" || e.Preset != "" || e.Name != "" || !ofTheBay(e.Path, builds) {
			return notOfTheBay(e.Path)
		}
	}
	return nil
}

// mayChange is the same of what the edits made: what one reaches besides its own place
// counts too.
func mayChange(who store.Person, was, text []byte) error {
	if who.Role != store.Bay {
		return nil
	}
	builds := jobfile.IDs(was, "builds")
	for _, d := range jobfile.Differ(was, text) {
		if !ofTheBay(d.Path, builds) {
			return notOfTheBay(d.Path)
		}
	}
	return nil
}

// ofTheBay reports whether a path is a reading of the car as it was weighed, or a reading
// or a setting of a build that is there.
func ofTheBay(path string, builds []string) bool {
	words := strings.Split(path, ".")
	switch {
	case len(words) < 3:
		return false
	case words[0] == "car" && words[1] == "weighed":
		return words[2] != "build"
	case words[0] == "builds":
		return len(words) > 3 && slices.Contains(builds, words[1]) && (words[2] == "readings" || words[2] == "setup")
	}
	return false
}

func notOfTheBay(path string) error {
	return problem(http.StatusForbidden, "the bay types readings and settings; "+wording.Label(path)+" is for a specialist")
}
