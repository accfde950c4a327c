package numeric

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Fit is a polynomial through the origin fitted to readings.
type Fit struct {
	Poly
	// Root is a lower triangular factor of the coefficients' covariance: a draw
	// is C + Root·z with z standard normal.
	Root [PolyDegree][PolyDegree]float64 // [SI unit of y per power of x]

	Residual []float64 // reading less fit [SI unit of y]
	Spread   float64   // standard deviation taken for one reading [SI unit of y]
	Misread  int       // index of a reading that the others contradict, or −1
	Curved   bool      // the readings say something about curvature
}

// FitThroughZero fits y = c₁x + c₂x² + … to readings with a standard error
// sigma each, by least squares.
//
// The degree is the lowest at which the scatter is what the reading error
// explains (χ² at 95 %), at most maxDegree and less than the number of readings
// away from the origin; when none is, the highest is kept and the band widened
// by the scatter that was seen. Readings known exactly are thus reproduced.
//
// Source: weighted linear least squares with the χ² test of fit, e.g. P. R.
// Bevington, Data Reduction and Error Analysis (from memory).
func FitThroughZero(x, y []float64, sigma float64, maxDegree int) (Fit, error) {
	if len(x) != len(y) {
		return Fit{}, fmt.Errorf("%w: %d places and %d values", ErrTable, len(x), len(y))
	}
	var xs, ys []float64
	scale := 0.0
	for i := range x {
		if !finite(x[i]) || !finite(y[i]) {
			return Fit{}, fmt.Errorf("%w: reading %d is not a number", ErrTable, i+1)
		}
		scale = math.Max(scale, math.Abs(x[i]))
		if x[i] != 0 {
			xs, ys = append(xs, x[i]), append(ys, y[i])
		}
	}
	if len(xs) == 0 {
		return Fit{}, fmt.Errorf("%w: no reading away from zero", ErrTable)
	}
	if sigma <= 0 {
		sigma = 1e-12 * scale
	}
	most := min(maxDegree, PolyDegree, len(xs))
	var best Fit
	for n := 1; n <= most; n++ {
		f, chi2, err := fitDegree(xs, ys, sigma, n, scale)
		if err != nil {
			return Fit{}, err
		}
		best = f
		free := len(xs) - n
		if free == 0 || chi2 <= (distuv.ChiSquared{K: float64(free)}).Quantile(0.95) {
			break
		}
		if n == most {
			best.widen(math.Sqrt(chi2 / float64(free)))
		}
	}
	best.Curved = best.N >= 2 || len(xs) > 2
	best.Residual = make([]float64, len(x))
	for i := range x {
		v, _, _ := best.At(x[i])
		best.Residual[i] = y[i] - v
	}
	best.Misread = misread(xs, ys, x, sigma, best.N, scale)
	if best.N == 1 && len(xs) >= 3 {
		// Straight within the reading error is not known to be straight: keep
		// the curvature's own uncertainty.
		if two, _, err := fitDegree(xs, ys, sigma, 2, scale); err == nil {
			two.Residual, two.Misread, two.Curved = best.Residual, best.Misread, true
			best = two
		}
	}
	return best, nil
}

func (f *Fit) widen(by float64) {
	f.Spread *= by
	for i := range f.Root {
		for j := range f.Root[i] {
			f.Root[i][j] *= by
		}
	}
}

func fitDegree(x, y []float64, sigma float64, n int, scale float64) (Fit, float64, error) {
	a := mat.NewDense(len(x), n, nil)
	for i := range x {
		p := 1.0
		for j := range n {
			p *= x[i] / scale
			a.Set(i, j, p)
		}
	}
	b := mat.NewVecDense(len(y), append([]float64(nil), y...))
	var qr mat.QR
	qr.Factorize(a)
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, b); err != nil {
		return Fit{}, 0, fmt.Errorf("%w: readings do not fix %d coefficients: %w", ErrTable, n, err)
	}
	f := Fit{Spread: sigma, Misread: -1}
	f.N = n
	p := 1.0
	for j := range n {
		p *= scale
		f.C[j] = c.AtVec(j) / p
	}
	// Covariance σ²(AᵀA)⁻¹ = σ²R⁻¹R⁻ᵀ, then its Cholesky factor.
	var r mat.Dense
	qr.RTo(&r)
	inv := mat.NewDense(n, n, nil)
	if err := inv.Inverse(r.Slice(0, n, 0, n)); err != nil {
		return Fit{}, 0, fmt.Errorf("%w: %w", ErrTable, err)
	}
	var cov mat.Dense
	cov.Mul(inv, inv.T())
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, sigma*sigma*cov.At(i, j))
		}
	}
	var chol mat.Cholesky
	if chol.Factorize(sym) {
		var l mat.TriDense
		chol.LTo(&l)
		pi := 1.0
		for i := range n {
			pi *= scale
			for j := 0; j <= i; j++ {
				f.Root[i][j] = l.At(i, j) / pi
			}
		}
	}
	chi2 := 0.0
	for i := range x {
		v, _, _ := f.At(x[i])
		d := (y[i] - v) / sigma
		chi2 += d * d
	}
	return f, chi2, nil
}

// misread looks for the one reading without which all others fit: its distance
// from their fit must exceed four of its own standard errors.
func misread(xs, ys, all []float64, sigma float64, degree int, scale float64) int {
	if len(xs) < degree+3 {
		return -1
	}
	worst, at := 4.0, -1
	for k := range xs {
		x := append(append([]float64(nil), xs[:k]...), xs[k+1:]...)
		y := append(append([]float64(nil), ys[:k]...), ys[k+1:]...)
		n := min(degree, 2)
		f, chi2, err := fitDegree(x, y, sigma, n, scale)
		if err != nil || chi2 > (distuv.ChiSquared{K: float64(max(1, len(x)-n))}).Quantile(0.95) {
			continue
		}
		v, _, _ := f.At(xs[k])
		if d := math.Abs(ys[k]-v) / sigma; d > worst {
			worst, at = d, k
		}
	}
	if at < 0 {
		return -1
	}
	for i := range all {
		if all[i] == xs[at] {
			return i
		}
	}
	return -1
}
