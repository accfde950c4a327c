package scales

import "math"

// SuspectWithin is Suspect with another bound on what the quick fit may pass over.
func (m *Model) SuspectWithin(short float64) []Suspect { return m.suspect(short) }

// Everything is the bound that passes over nothing.
var Everything = math.Inf(1)
