package counting

import "math"

// Line is how many cycles of a range a part bears: a line of one slope down to a
// knee, and of another below it.
//
//	N = N_k·(r_k/r)^m,  below the knee with m′ in place of m
//
// Source: O. H. Basquin, Proceedings of the ASTM 10 (1910) 625-630; the knee as in
// EN 1993-1-9 clause 7.1 (both from memory).
type Line struct {
	Rated  float64 // range at the knee [unit of the range]
	Cycles float64 // borne at the knee [-]
	Slope  float64 // m, above the knee [-]
	Below  float64 // m′, below it; 0: smaller cycles never count [-]
}

// Haibach returns the slope below the knee that takes account of what greater cycles
// have done to the part already [-].
//
//	m′ = 2·m − 1
//
// Source: E. Haibach, LBF report TM 50/70, 1970 (from memory).
func Haibach(slope float64) float64 { return 2*slope - 1 }

// Life returns how many cycles of a range are borne [-]; without end below the knee
// of a line that counts none there.
func (l *Line) Life(r float64) float64 {
	slope := l.Slope
	if r < l.Rated {
		slope = l.Below
		if !(slope > 0) {
			return math.Inf(1)
		}
	}
	return l.Cycles * math.Pow(l.Rated/r, slope)
}

// Take returns the share of the life that a cycle takes [-].
//
// Source: M. A. Miner, Journal of Applied Mechanics 12 (1945) A159-A164 (from
// memory).
func (l *Line) Take(c *Cycle) float64 { return c.Count / l.Life(c.Range) }
