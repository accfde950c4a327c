package roadtest

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// Noise of the sensors goes into the very forces that explain the motion, and pulls
// damping and friction towards nothing. How far is found by adding as much again and
// looking how far the answer moves; so much is taken back.
//
// Source: J. R. Cook, L. A. Stefanski, Simulation-Extrapolation Estimation in Parametric
// Measurement Error Models, J. Am. Stat. Assoc. 89 (1994), 1314–1328; here with the
// straight line through no noise more and as much again.

// noiseRounds is how many draws of noise are added; each is looked at on its own. Chosen.
const noiseRounds = 2

// noiseOf is the standard deviation of a series' noise, white: the density in the highest
// quarter of the spectrum, where no car moves [SI].
func noiseOf(values []float64, rate float64) float64 {
	s := Welch(values, rate, 512)
	sum, n := 0.0, 0
	for k := range s.Density {
		if f := s.Frequency[k] / rate; f > 0.375 && f < 0.49 {
			sum += s.Density[k]
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(n) * rate / 2)
}

// noisy is a piece with as much noise again on its travels.
func (p *piece) noisy(r *rand.Rand) *piece {
	out := *p
	out.bases = [4]*basis{}
	times := int(math.Round(p.rate / p.logged))
	for i := range 4 {
		sigma := noiseOf(p.raw[i], p.logged)
		values := append([]float64(nil), p.raw[i]...)
		for k := range values {
			values[k] += sigma * r.NormFloat64()
		}
		out.travel[i] = finer(values, p.logged, times)
		out.rates[i] = slopes(out.travel[i], p.rate)
	}
	return &out
}

// unbias takes what the sensors' noise did back, and widens the covariance by how well
// that is known.
func (s *solver) unbias(cov *mat.SymDense) {
	clean := s.pieces
	n := len(s.priors)
	moves := make([][]float64, 0, noiseRounds)
	for k := range noiseRounds {
		r := rand.New(rand.NewPCG(uint64(k), 17))
		s.pieces = nil
		for _, p := range clean {
			s.pieces = append(s.pieces, p.noisy(r))
		}
		if step, _, ok := s.round(); ok {
			moves = append(moves, step)
		}
	}
	s.pieces = clean
	if len(moves) < noiseRounds {
		return
	}
	for a := range n {
		mean, off := 0.0, 0.0
		for _, m := range moves {
			mean += m[a] / noiseRounds
		}
		for _, m := range moves {
			off += (m[a] - mean) * (m[a] - mean) / (noiseRounds - 1)
		}
		*s.at.of(s.priors[a].Input) -= mean
		// A quarter of the move itself: a straight line is not the law of it. Chosen.
		cov.SetSym(a, a, cov.At(a, a)+off/noiseRounds+mean*mean/16)
	}
}
