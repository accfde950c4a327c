package numeric

import "math"

// Solve7 solves a·x = b in place by elimination with partial pivoting: b
// becomes x and a is destroyed. It reports false for a singular
// matrix and when an unknown is not a finite number.
func Solve7(a *[7][7]float64, b *[7]float64) bool {
	for c := range 7 {
		p, big := c, math.Abs(a[c][c])
		for r := c + 1; r < 7; r++ {
			if v := math.Abs(a[r][c]); v > big {
				p, big = r, v
			}
		}
		if big == 0 || math.IsNaN(big) {
			return false
		}
		if p != c {
			a[c], a[p] = a[p], a[c]
			b[c], b[p] = b[p], b[c]
		}
		inv := 1 / a[c][c]
		for r := c + 1; r < 7; r++ {
			f := a[r][c] * inv
			if f == 0 {
				continue
			}
			for k := c + 1; k < 7; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for r := 6; r >= 0; r-- {
		v := b[r]
		for k := r + 1; k < 7; k++ {
			v -= a[r][k] * b[k]
		}
		b[r] = v / a[r][r]
		if !finite(b[r]) {
			return false
		}
	}
	return true
}

// Solve3 is Solve7 for three unknowns.
func Solve3(a *[3][3]float64, b *[3]float64) bool {
	for c := range 3 {
		p, big := c, math.Abs(a[c][c])
		for r := c + 1; r < 3; r++ {
			if v := math.Abs(a[r][c]); v > big {
				p, big = r, v
			}
		}
		if big == 0 || math.IsNaN(big) {
			return false
		}
		if p != c {
			a[c], a[p] = a[p], a[c]
			b[c], b[p] = b[p], b[c]
		}
		for r := c + 1; r < 3; r++ {
			f := a[r][c] / a[c][c]
			for k := c + 1; k < 3; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for r := 2; r >= 0; r-- {
		v := b[r]
		for k := r + 1; k < 3; k++ {
			v -= a[r][k] * b[k]
		}
		b[r] = v / a[r][r]
		if !finite(b[r]) {
			return false
		}
	}
	return true
}
