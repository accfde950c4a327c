package answer

import "io"

// PartsFormat names the contract of a list of parts.
const PartsFormat = "trunnion.parts/1"

// PartsList is trunnion.parts/1: the parts of a maker's list, and what it does not say.
type PartsList struct {
	Format      string            `json:"format"`
	Program     string            `json:"program"`
	Kind        string            `json:"kind"`
	Questions   []SweepQuestion   `json:"questions"`
	Faults      []SweepFault      `json:"faults"`
	Assumptions []SweepAssumption `json:"assumptions"`
	Parts       []ListedPart      `json:"parts"`
}

// ListedPart is one row of a list.
type ListedPart struct {
	Line  int    `json:"line"`
	ID    string `json:"id"`
	Name  string `json:"name"`
	Stock string `json:"stock,omitempty"`
	Text  string `json:"text"` // as it stands in a job behind its id
}

// WriteJSON writes the document.
func (d *PartsList) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }
