package counting

import "math"

// Damage sums n·rᵐ over cycles for one slope: Miner's sum but for the part's own
// constant, which falls out when two histories on the same part are compared.
//
// Source: M. A. Miner, Journal of Applied Mechanics 12 (1945) A159-A164 (from
// memory).
type Damage struct {
	Slope  float64 // m of the part's line, 3 to 10 for springs, rods and rubber: from a test of the part [-]
	Sum    float64 // of n·rᵐ [unit of the range to the power of Slope]
	Cycles float64 // of any range [-]
}

// Take adds a cycle.
func (d *Damage) Take(c Cycle) {
	d.Cycles += c.Count
	d.Sum += c.Count * math.Pow(c.Range, d.Slope)
}

// EquivalentRange returns the range that does the same damage in a number of
// cycles, in the unit of the range.
//
//	r = (Σ n·rᵐ/N)^(1/m)
func (d *Damage) EquivalentRange(cycles float64) float64 {
	if !(cycles > 0) || !(d.Slope > 0) {
		return 0
	}
	return math.Pow(d.Sum/cycles, 1/d.Slope)
}

// Relative returns the damage over that of a reference [-]; ok is false when the
// slopes differ or the reference has none.
func (d *Damage) Relative(reference *Damage) (share float64, ok bool) {
	if d.Slope != reference.Slope || !(reference.Sum > 0) {
		return math.NaN(), false
	}
	return d.Sum / reference.Sum, true
}

// Block is a number of cycles on a line that ends after Life of them.
type Block struct {
	Cycles, Life float64 // [-]
}

// Miner returns the sum of the shares of life used [-].
func Miner(blocks ...Block) float64 {
	sum := 0.0
	for _, b := range blocks {
		sum += b.Cycles / b.Life
	}
	return sum
}

// GaussianRange returns the mean of rᵐ over the cycles of a narrow-band Gaussian
// history of standard deviation sigma, in the unit of the range to the power m.
//
//	E[rᵐ] = (2·√2·σ)ᵐ·Γ(1 + m/2)
//
// Source: amplitudes of a narrow-band Gaussian process are Rayleigh's; derived
// here.
func GaussianRange(sigma, slope float64) float64 {
	return math.Pow(2*math.Sqrt2*sigma, slope) * math.Gamma(1+slope/2)
}
