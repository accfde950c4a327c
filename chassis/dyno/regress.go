package dyno

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"trunnion/chassis/spread"
)

// regression is a least-squares fit of a few columns.
type regression struct {
	coefficients []float64
	half         []float64 // of each coefficient, 95 % [SI unit of the coefficient]
	scatter      float64   // standard deviation of what is left [SI unit of the reading]
	dropped      int       // readings far out, left out of the fit
}

// mostSigmas is how far out a reading may lie before it is taken for a spike.
// Chosen: among a thousand readings of a normal scatter none is expected past 4.5.
const mostSigmas = 4.5

// regress fits y by columns, row by row, twice: readings further than mostSigmas of
// the first fit's robust scatter are left out of the second. ok is false when the
// rows cannot tell the columns apart.
//
// y has the sum of squares least; the scatter's robust estimate is 1.4826 of the
// median of the absolute residuals. Source: P. J. Rousseeuw and A. M. Leroy, Robust
// Regression and Outlier Detection, 1987 (from memory).
func regress(rows [][]float64, y []float64) (fit regression, ok bool) {
	fit, left, ok := solve(rows, y)
	if !ok {
		return fit, false
	}
	absolute := make([]float64, len(left))
	for i, v := range left {
		absolute[i] = math.Abs(v)
	}
	limit := mostSigmas * 1.4826 * median(absolute)
	if limit == 0 {
		return fit, true
	}
	var kept [][]float64
	var readings []float64
	for i := range rows {
		if math.Abs(left[i]) <= limit {
			kept, readings = append(kept, rows[i]), append(readings, y[i])
		}
	}
	dropped := len(rows) - len(kept)
	if dropped == 0 {
		return fit, true
	}
	again, _, ok := solve(kept, readings)
	if !ok {
		return fit, true
	}
	again.dropped = dropped
	return again, true
}

func solve(rows [][]float64, y []float64) (fit regression, left []float64, ok bool) {
	n := len(rows)
	if n == 0 || n <= len(rows[0]) {
		return fit, nil, false
	}
	p := len(rows[0])
	// Columns are scaled so that the condition number says something.
	scale := make([]float64, p)
	for _, row := range rows {
		for j, v := range row {
			scale[j] = math.Max(scale[j], math.Abs(v))
		}
	}
	normal, right := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for j, s := range scale {
		if s == 0 {
			return fit, nil, false
		}
		for k := j; k < p; k++ {
			sum := 0.0
			for _, row := range rows {
				sum += row[j] / s * (row[k] / scale[k])
			}
			normal.SetSym(j, k, sum)
		}
		sum := 0.0
		for i, row := range rows {
			sum += row[j] / s * y[i]
		}
		right.SetVec(j, sum)
	}
	var c mat.Cholesky
	if !c.Factorize(normal) || c.Cond() > 1e10 {
		return fit, nil, false
	}
	var b mat.VecDense
	if c.SolveVecTo(&b, right) != nil {
		return fit, nil, false
	}
	left = make([]float64, n)
	squares := 0.0
	for i, row := range rows {
		sum := y[i]
		for j, v := range row {
			sum -= b.AtVec(j) * v / scale[j]
		}
		left[i] = sum
		squares += sum * sum
	}
	fit.scatter = math.Sqrt(squares / float64(n-p))
	var inverse mat.SymDense
	if c.InverseTo(&inverse) != nil {
		return fit, nil, false
	}
	t := student(n - p)
	for j := range p {
		fit.coefficients = append(fit.coefficients, b.AtVec(j)/scale[j])
		fit.half = append(fit.half, t*fit.scatter*math.Sqrt(inverse.At(j, j))/scale[j])
	}
	return fit, left, true
}

// student is the half-width of a 95 % range in standard deviations, with so many
// degrees of freedom [-].
func student(free int) float64 {
	if free > 200 {
		return spread.Normal95
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(max(free, 1))}.Quantile(0.975)
}

// median of a list, which it puts in order; NaN of an empty one.
func median(list []float64) float64 {
	if len(list) == 0 {
		return math.NaN()
	}
	slices.Sort(list)
	m := len(list) / 2
	if len(list)%2 == 1 {
		return list[m]
	}
	return 0.5 * (list[m-1] + list[m])
}
