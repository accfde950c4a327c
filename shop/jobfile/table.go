package jobfile

import "strings"

// Keys lists the table of keys the reader walks, in its order: where a value may
// stand. A * stands for any id or name and [] for any entry of a list; corners
// and axles are named. The keys of a part are listed once, under parts, though
// they may stand wherever a part is named.
func Keys() []string {
	var out []string
	keysOf(jobShape, "", &out)
	return out
}

func keysOf(s *shape, path string, out *[]string) {
	switch s.form {
	case object:
		if s.name && !strings.HasPrefix(path, "parts.") {
			*out = append(*out, path)
			return
		}
		for _, k := range s.keys {
			keysOf(k.shape, join(path, k.name), out)
		}
	case dict:
		keysOf(s.of, join(path, "*"), out)
	case places:
		for _, name := range s.names {
			keysOf(s.of, join(path, name), out)
		}
	case list:
		keysOf(s.of, path+"[]", out)
	case value, spread, whole, row, text, choice, flag, ident:
		*out = append(*out, path)
	}
}
