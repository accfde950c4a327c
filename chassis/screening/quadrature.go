package screening

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// Means over a Gaussian: 20 points of Gauss-Hermite for forces over travel; for dampers, whose law has a kink or a step
// at zero speed, 10 points of the half-range rule on each side.
const (
	wholePoints = 20
	halfPoints  = 10
)

// node is one point ξ of a standard Gaussian with its weight; weights add up to 1.
type node struct{ x, weight float64 }

var (
	whole = hermiteNodes()
	half  = halfNodes()
)

func hermiteNodes() (out [wholePoints]node) {
	x, w := make([]float64, wholePoints), make([]float64, wholePoints)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	for i := range out {
		out[i] = node{math.Sqrt2 * x[i], w[i] / math.Sqrt(math.Pi)}
	}
	return out
}

// halfNodes builds the Gauss rule for the weight √(2/π)·exp(−x²/2) on x > 0: recurrence of the orthogonal polynomials by
// the discretised Stieltjes procedure, nodes as eigenvalues of the Jacobi matrix (Golub and Welsch 1969). The weights of
// one side add up to 1/2.
//
// Source: W. Gautschi, Orthogonal Polynomials: Computation and Approximation, sections 2.2 and 3.1, from memory.
func halfNodes() (out [halfPoints]node) {
	const fine, end = 400, 14.0
	xs, ws := make([]float64, fine), make([]float64, fine)
	quad.Legendre{}.FixedLocations(xs, ws, 0, end)
	for i, x := range xs {
		ws[i] *= math.Exp(-x * x / 2)
	}
	last, now := make([]float64, fine), make([]float64, fine)
	for i := range now {
		now[i] = 1
	}
	jacobi := mat.NewSymDense(halfPoints, nil)
	before := 0.0
	for k := range halfPoints {
		var norm, mean float64
		for i, x := range xs {
			p := ws[i] * now[i] * now[i]
			norm += p
			mean += p * x
		}
		alpha, beta := mean/norm, 0.0
		if k > 0 {
			beta = norm / before
			jacobi.SetSym(k-1, k, math.Sqrt(beta))
		}
		jacobi.SetSym(k, k, alpha)
		before = norm
		for i, x := range xs {
			last[i], now[i] = now[i], (x-alpha)*now[i]-beta*last[i]
		}
	}
	var eigen mat.EigenSym
	eigen.Factorize(jacobi, true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	for i, x := range eigen.Values(nil) {
		v := vectors.At(0, i)
		out[i] = node{x, v * v / 2}
	}
	return out
}
