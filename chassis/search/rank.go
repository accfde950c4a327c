package search

import (
	"math"
	"sort"
)

// RankCorrelation is how well one list orders as another does: 1 the same order, 0 none,
// −1 the reverse; places that are shared are given their mean. [-]
//
//	ρ = cov(R_x, R_y)/(s(R_x)·s(R_y))
//
// Source: C. Spearman, The proof and measurement of association between two things,
// American Journal of Psychology 15 (1904).
func RankCorrelation(x, y []float64) float64 {
	a, b := ranks(x), ranks(y)
	middle := 0.5 * float64(len(a)-1)
	var ab, aa, bb float64
	for k := range a {
		p, q := a[k]-middle, b[k]-middle
		ab, aa, bb = ab+p*q, aa+p*p, bb+q*q
	}
	if !(aa*bb > 0) {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}

func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(i, j int) bool { return x[order[i]] < x[order[j]] })
	out := make([]float64, len(x))
	for from := 0; from < len(order); {
		to := from
		for to+1 < len(order) && x[order[to+1]] == x[order[from]] { //nolint:floateq // the same place
			to++
		}
		for k := from; k <= to; k++ {
			out[order[k]] = 0.5 * float64(from+to)
		}
		from = to + 1
	}
	return out
}
