package scales

import "math"

// size is the largest matrix here: the unknowns of the model.
const size = params

// square is a symmetric matrix of which n rows are in use.
type square [size][size]float64

// vector goes with it.
type vector [size]float64

// factor replaces the lower triangle by its Cholesky factor and returns the
// logarithm of the determinant; ok is false when the matrix is not positive
// definite.
func (a *square) factor(n int) (logDet float64, ok bool) {
	for j := range n {
		for k := range j {
			a[j][j] -= a[j][k] * a[j][k]
		}
		if !(a[j][j] > 0) {
			return 0, false
		}
		a[j][j] = math.Sqrt(a[j][j])
		logDet += 2 * math.Log(a[j][j])
		for i := j + 1; i < n; i++ {
			for k := range j {
				a[i][j] -= a[i][k] * a[j][k]
			}
			a[i][j] /= a[j][j]
		}
	}
	return logDet, true
}

// forward solves L·y = b in place.
func (a *square) forward(b *vector, n int) {
	for i := range n {
		for k := range i {
			b[i] -= a[i][k] * b[k]
		}
		b[i] /= a[i][i]
	}
}

// solve solves L·Lᵀ·x = b in place.
func (a *square) solve(b *vector, n int) {
	a.forward(b, n)
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			b[i] -= a[k][i] * b[k]
		}
		b[i] /= a[i][i]
	}
}

// The unknowns of the model, each in units of its prior standard deviation.
const (
	ofPitch  = 0  // front, rear
	ofRate   = 2  // front, rear
	ofRatio  = 4  // front, rear
	ofTyre   = 6  //
	ofSeat   = 7  // four corners
	ofMass   = 11 // aboard
	ofBehind = 12
	ofLeft   = 13
	ofArch   = 14 // four corners
	params   = 18
)
