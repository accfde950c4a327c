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
	Free     int       // readings less coefficients; at 0 nothing is left to judge the fit by [-]
	Misread  int       // index of a reading that the others contradict, or −1
	Curved   bool      // the fit holds a curvature; false when the readings cannot show one
}

// accepted is the share of sound tables that the χ² and F tests let pass.
const accepted = 0.95

// misreadLimit is how many standard errors a reading must lie from the curve of
// the others to be called misread. Common practice, no source.
const misreadLimit = 3

// readings are the rows away from the origin, which is on the curve by
// definition.
type readings struct {
	x, y  []float64
	from  []int   // row of the table
	sigma float64 // standard error of one reading
	scale float64 // greatest |x|, by which x is divided for the sake of rounding
	most  int     // highest degree that can be fitted
}

// FitThroughZero fits y = c₁x + c₂x² + … to readings with a standard error
// sigma each, in the unit of y, by least squares.
//
// The degree is the lowest at which the scatter is what the reading error
// explains (χ² at 95 %), at most maxDegree and at most the number of different
// places away from the origin. When none is, the degrees that do not better the
// fit (F test at 95 %) are given up again and the band is widened by the scatter
// that was seen. Readings known exactly are thus reproduced; sigma 0 stands for
// exact to 12 digits. With as many coefficients as readings (Free = 0) there is
// no scatter to see and sigma is believed.
//
// Three or more readings that a straight line explains still get a second
// degree: straight within the reading error is not known to be straight, and the
// band must hold the curvature that they leave open.
//
// A reading is misread when the others agree on a curve of degree 1 or 2, with
// at least two readings to spare, from which it alone lies more than 3 standard
// errors away (its own error and that of the curve together), and following it
// would take at least two more degrees. It stays in the fit, but does not bend
// it: the degree of the others is kept and the band widened by the scatter. A
// reading at the origin is misread when it is not 0 within 3 sigma.
//
// Source: weighted linear least squares with the χ² test of fit and the F test
// of an added term, e.g. P. R. Bevington, Data Reduction and Error Analysis (from
// memory); the rule for a misread one derived here.
func FitThroughZero(x, y []float64, sigma float64, maxDegree int) (Fit, error) {
	r, err := collect(x, y, sigma, maxDegree)
	if err != nil {
		return Fit{}, err
	}
	degree, err := r.degree()
	if err != nil {
		return Fit{}, err
	}
	misread := -1
	if at, n := r.misread(degree); at >= 0 {
		misread, degree = r.from[at], n
	}
	if degree == 1 && r.most >= 2 && len(r.x) >= 3 {
		degree = 2
	}
	f, chi2, err := r.fit(degree)
	if err != nil {
		return Fit{}, err
	}
	if !explained(chi2, f.Free) {
		f.widen(math.Sqrt(chi2 / float64(f.Free)))
	}
	f.Curved = f.N >= 2
	f.Residual = make([]float64, len(x))
	for i := range x {
		v, _, _ := f.At(x[i])
		f.Residual[i] = y[i] - v
		if misread < 0 && x[i] == 0 && math.Abs(y[i]) > misreadLimit*r.sigma {
			misread = i
		}
	}
	f.Misread = misread
	return f, nil
}

// collect checks the table and takes out the rows at the origin.
func collect(x, y []float64, sigma float64, maxDegree int) (*readings, error) {
	if len(x) != len(y) {
		return nil, fmt.Errorf("%w: %d places and %d values", ErrTable, len(x), len(y))
	}
	if !finite(sigma) || maxDegree < 1 {
		return nil, fmt.Errorf("%w: reading error %g, highest power %d", ErrTable, sigma, maxDegree)
	}
	r := &readings{sigma: sigma}
	places := make(map[float64]bool)
	high := 0.0
	for i := range x {
		if !finite(x[i]) || !finite(y[i]) {
			return nil, fmt.Errorf("%w: reading %d is not a number", ErrTable, i+1)
		}
		high = math.Max(high, math.Abs(y[i]))
		if x[i] == 0 {
			continue
		}
		r.scale = math.Max(r.scale, math.Abs(x[i]))
		r.x, r.y, r.from = append(r.x, x[i]), append(r.y, y[i]), append(r.from, i)
		places[x[i]] = true
	}
	if len(places) == 0 {
		return nil, fmt.Errorf("%w: no reading away from zero", ErrTable)
	}
	if sigma <= 0 {
		r.sigma = math.Max(1e-12*high, math.SmallestNonzeroFloat64*0x1p60)
	}
	r.most = min(maxDegree, PolyDegree, len(places))
	return r, nil
}

// explained reports whether χ² is what the reading error alone gives in 95 of
// 100 tables.
func explained(chi2 float64, free int) bool {
	return free <= 0 || chi2 <= distuv.ChiSquared{K: float64(free)}.Quantile(accepted)
}

// degree chooses how many coefficients the readings ask for.
func (r *readings) degree() (int, error) {
	chi2 := make([]float64, r.most+1)
	for n := 1; n <= r.most; n++ {
		f, c, err := r.fit(n)
		if err != nil {
			return 0, err
		}
		if explained(c, f.Free) {
			return n, nil
		}
		chi2[n] = c
	}
	n := r.most
	for n > 1 {
		free := float64(len(r.x) - n)
		gain := (chi2[n-1] - chi2[n]) / (chi2[n] / free)
		if gain > (distuv.F{D1: 1, D2: free}).Quantile(accepted) {
			break
		}
		n--
	}
	return n, nil
}

// without returns the readings but one.
func (r *readings) without(k int) *readings {
	o := *r
	o.x = append(append([]float64(nil), r.x[:k]...), r.x[k+1:]...)
	o.y = append(append([]float64(nil), r.y[:k]...), r.y[k+1:]...)
	return &o
}

// misread returns the one reading that the others contradict and the degree
// they agree on; −1 when there is none or more than one could be it.
func (r *readings) misread(degree int) (at, n int) {
	if f, chi2, err := r.fit(degree); err != nil {
		return -1, 0
	} else if !explained(chi2, f.Free) {
		// No degree follows all the readings: any degree may be the others'.
		degree = PolyDegree + 1
	}
	for n = 1; n <= min(2, r.most) && n+2 <= degree && len(r.x) >= n+3; n++ {
		at = -1
		for k := range r.x {
			f, chi2, err := r.without(k).fit(n)
			if err != nil || !explained(chi2, f.Free) {
				continue
			}
			v, _, _ := f.At(r.x[k])
			if math.Abs(r.y[k]-v) <= misreadLimit*math.Hypot(r.sigma, f.deviation(r.x[k])) {
				continue
			}
			if at >= 0 {
				return -1, 0
			}
			at = k
		}
		if at >= 0 {
			return at, n
		}
	}
	return -1, 0
}

// deviation returns the standard deviation of the curve at x.
func (f *Fit) deviation(x float64) float64 {
	sum := 0.0
	for j := range f.N {
		p, s := 1.0, 0.0
		for i := range f.N {
			p *= x
			s += f.Root[i][j] * p
		}
		sum += s * s
	}
	return math.Sqrt(sum)
}

func (f *Fit) widen(by float64) {
	f.Spread *= by
	for i := range f.Root {
		for j := range f.Root[i] {
			f.Root[i][j] *= by
		}
	}
}

// fit returns the least-squares polynomial of degree n and its χ².
func (r *readings) fit(n int) (Fit, float64, error) {
	a := mat.NewDense(len(r.x), n, nil)
	for i, x := range r.x {
		p := 1.0
		for j := range n {
			p *= x / r.scale
			a.Set(i, j, p)
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, mat.NewVecDense(len(r.y), append([]float64(nil), r.y...))); err != nil {
		return Fit{}, 0, fmt.Errorf("%w: readings do not fix %d coefficients: %w", ErrTable, n, err)
	}
	// The covariance is σ²(AᵀA)⁻¹ = σ²·R⁻¹R⁻ᵀ. With R⁻ᵀ = Q·T its lower factor
	// is σ·Tᵀ: found without ever forming the covariance, whose condition is the
	// square of R's and would not always let itself be factorised.
	var tri, inv, upper mat.Dense
	qr.RTo(&tri)
	if err := inv.Inverse(tri.Slice(0, n, 0, n)); err != nil {
		return Fit{}, 0, fmt.Errorf("%w: readings do not fix %d coefficients: %w", ErrTable, n, err)
	}
	var root mat.QR
	root.Factorize(inv.T())
	root.RTo(&upper)
	f := Fit{Spread: r.sigma, Misread: -1, Free: len(r.x) - n}
	f.N = n
	p := 1.0
	for i := range n {
		p *= r.scale
		f.C[i] = c.AtVec(i) / p
		for j := 0; j <= i; j++ {
			f.Root[i][j] = r.sigma * math.Copysign(1, upper.At(j, j)) * upper.At(j, i) / p
		}
	}
	chi2 := 0.0
	for i := range r.x {
		v, _, _ := f.At(r.x[i])
		d := (r.y[i] - v) / r.sigma
		chi2 += d * d
	}
	return f, chi2, nil
}
