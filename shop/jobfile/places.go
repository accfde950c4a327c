package jobfile

import (
	"slices"
	"strings"

	"trunnion/shop/quantity"
)

// Place is a place of the table of keys at which one value may stand, as a page or a
// paper needs it to draw a field there.
type Place struct {
	Path    string        // with * for an id and [] for an entry of a list
	Form    string        // value, range, band, count, row, text, choice, flag, id or part
	Kind    quantity.Kind // of a value, a range, a band, a count and a row
	Words   []string      // of a choice or a flag
	Least   int           // fewest numbers of a row
	About   string        // what the key is for
	Need    bool          // what it stands in cannot be read without it
	Section string        // of a part: where its kind stands under parts, "springs"
}

// Places lists the table of keys the reader walks, in the order of Keys.
func Places() []Place {
	var out []Place
	placesOf(jobShape, Place{}, &out)
	return out
}

func placesOf(s *shape, at Place, out *[]Place) {
	switch s.form {
	case object:
		if s.name && !strings.HasPrefix(at.Path, "parts.") {
			at.Form, at.Section = "part", Sections[at.Path[strings.LastIndexByte(at.Path, '.')+1:]]
			*out = append(*out, at)
			return
		}
		for _, k := range s.keys {
			about := k.about
			if about == "" {
				about = at.About
			}
			placesOf(k.shape, Place{Path: join(at.Path, k.name), About: about, Need: k.need}, out)
		}
	case dict:
		placesOf(s.of, Place{Path: join(at.Path, "*"), About: at.About}, out)
	case places:
		for _, name := range s.names {
			placesOf(s.of, Place{Path: join(at.Path, name), About: at.About, Need: at.Need}, out)
		}
	case list:
		placesOf(s.of, Place{Path: at.Path + "[]", About: at.About}, out)
	case value, spread, whole, row, text, choice, flag, ident:
		at.Form, at.Kind, at.Words, at.Least = formNames[s.form], s.kind, slices.Clone(s.words), s.least
		switch {
		case s.form == spread:
			at.Form = "range"
		case s.band:
			at.Form = "band"
		}
		*out = append(*out, at)
	}
}
