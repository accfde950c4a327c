package sheet

import (
	"encoding/json"
	"io"
)

// WriteJSON writes the tree as trunnion.sheet/1.
func WriteJSON(w io.Writer, s *Sheet) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(s)
}
