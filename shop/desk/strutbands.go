package desk

import (
	"math"

	"trunnion/chassis/axles"
)

// Drawn are one build's struts of the draws in every case, as it was moved; none where
// the answer has no draws. A draw that does not close is left out.
func (s *Strutted) Drawn(one *axles.BuildStrut, m *StrutMove) [][]axles.StrutFound {
	draws := s.Struts.Drawn(s.Answer, one)
	out := make([][]axles.StrutFound, len(one.Cases))
	for n := range one.Cases {
		c := &one.Cases[n]
		if c.Err != nil {
			continue
		}
		load := c.Load.Heavier(m.Heavier)
		for k := range draws {
			d := &draws[k]
			if math.IsNaN(d.Share) {
				continue
			}
			got, err := d.Under(c.Travel+m.Lower, &load, m.Change)
			if err != nil {
				continue
			}
			of := *one
			of.Layout = d.Layout
			out[n] = append(out[n], axles.StrutFound{Strut: of, Moment: got, Yield: d.Yield})
		}
	}
	return out
}
