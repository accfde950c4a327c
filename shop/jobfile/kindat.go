package jobfile

import (
	"strings"

	"trunnion/shop/quantity"
)

// KindAt is the kind of the figure at a path of a job, whether or not one stands
// there: "parts.stops.f42.force" is a force. It is false where no figure belongs.
func KindAt(path string) (quantity.Kind, bool) {
	if kind, ok := unkeyed[path]; ok {
		return kind, true
	}
	s := shapeAt(jobShape, path)
	switch {
	case s == nil:
		return 0, false
	case s.of == curveShape:
		return quantity.Ratio, true // all curves of a damper: the factor on their forces
	}
	switch s.form {
	case value, spread, whole, row:
		return s.kind, true
	case text, choice, flag, ident, object, dict, list, places:
	}
	return 0, false
}

// unkeyed are inputs that nobody types: they belong to a reading and have no key.
var unkeyed = map[string]quantity.Kind{"car.weighed.scale_gain": quantity.Ratio}

// shapeAt follows a path through the table of keys; nil where it leads nowhere.
func shapeAt(s *shape, path string) *shape {
	for path != "" {
		var word string
		word, path = firstOf(path)
		switch s.form {
		case object:
			s = s.has(word)
		case dict:
			if s.of.form == value { // uses have names in words, which may hold dots
				return s.of
			}
			s = s.of
		case places:
			if !has(s.names, word) && !inIndex(word) {
				return nil
			}
			s = s.of
		case list:
			s = s.of
		case row: // one of its numbers
			return s
		case value, spread, whole, text, choice, flag, ident:
			return nil
		}
		if s == nil {
			return nil
		}
	}
	return s
}

// firstOf takes a key or an index off the front of a path.
func firstOf(path string) (word, rest string) {
	if end := strings.IndexByte(path, ']'); path[0] == '[' && end > 0 {
		return path[:end+1], strings.TrimPrefix(path[end+1:], ".")
	}
	at := strings.IndexAny(path, ".[")
	if at < 0 {
		return path, ""
	}
	return path[:at], strings.TrimPrefix(path[at:], ".")
}

func inIndex(word string) bool { return strings.HasPrefix(word, "[") }
