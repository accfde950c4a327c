package scales

import "math"

// boxed returns the step of four collars that brings the residuals nearest to
// nothing while each collar stays between its ends:
//
//	min ½·|r + J·d|² + ½·ρ²·|d|²,   low ≤ d ≤ high
//
// The problem is strictly convex, so that its one minimum is the best of the
// minima with some collars held at an end: with four collars there are 81 ways
// to hold them, and every one is looked at.
//
// Source: Karush, Kuhn and Tucker's conditions; own derivation.
func boxed(j *[rows][4]float64, r *[rows]float64, low, high [4]float64) [4]float64 {
	var gram [4][4]float64
	var grad [4]float64
	for a := range 4 {
		for b := range 4 {
			for k := range rows {
				gram[a][b] += j[k][a] * j[k][b]
			}
		}
		gram[a][a] += reluctance * reluctance
		for k := range rows {
			grad[a] += j[k][a] * r[k]
		}
	}
	best, found := [4]float64{}, math.Inf(1)
	for way := range 81 {
		d, ok := held(&gram, &grad, &low, &high, way)
		if !ok {
			continue
		}
		cost := 0.0
		for a := range 4 {
			cost += grad[a] * d[a]
			for b := range 4 {
				cost += 0.5 * d[a] * gram[a][b] * d[b]
			}
		}
		if cost < found {
			best, found = d, cost
		}
	}
	return best
}

// reluctance is what a metre of collar costs against a metre of height: enough
// to settle what nobody asked for, too little to be seen.
const reluctance = 1e-4

// held solves with each collar free, at its lower or at its upper end, as the
// digits of way to the base 3 say; ok is false when a free one leaves its ends.
func held(gram *[4][4]float64, grad *[4]float64, low, high *[4]float64, way int) (d [4]float64, ok bool) {
	var free [4]int
	n := 0
	for a := range 4 {
		switch way % 3 {
		case 0:
			free[n] = a
			n++
		case 1:
			d[a] = low[a]
		case 2:
			d[a] = high[a]
		}
		way /= 3
	}
	var m [4][5]float64
	for k := range n {
		a := free[k]
		m[k][n] = -grad[a]
		for b := range 4 {
			m[k][n] -= gram[a][b] * d[b] // the free ones are still 0
		}
		for q := range n {
			m[k][q] = gram[a][free[q]]
		}
	}
	for k := range n { // positive definite: no pivoting is needed
		for q := k + 1; q < n; q++ {
			f := m[q][k] / m[k][k]
			for c := k; c <= n; c++ {
				m[q][c] -= f * m[k][c]
			}
		}
	}
	for k := n - 1; k >= 0; k-- {
		v := m[k][n]
		for q := k + 1; q < n; q++ {
			v -= m[k][q] * d[free[q]]
		}
		v /= m[k][k]
		a := free[k]
		const slack = 1e-12
		if v < low[a]-slack || v > high[a]+slack || math.IsNaN(v) {
			return d, false
		}
		d[a] = v
	}
	return d, true
}
