package numeric

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Curve is a table read by monotone cubic pieces: between rows it never rises
// or falls where the table does not. Past its ends it goes on as a straight
// line with the end slope.
//
// Source: F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
type Curve struct {
	x, y, slope []float64
	area        []float64 // integral from the first row to each row
}

// ErrTable is wrapped by what NewCurve finds wrong.
var ErrTable = errors.New("not a table")

// NewCurve makes a curve of at least two rows, x strictly increasing.
func NewCurve(x, y []float64) (Curve, error) {
	if len(x) != len(y) || len(x) < 2 {
		return Curve{}, fmt.Errorf("%w: %d places and %d values, at least two of each are needed", ErrTable, len(x), len(y))
	}
	for i := range x {
		if !finite(x[i]) || !finite(y[i]) {
			return Curve{}, fmt.Errorf("%w: row %d is not a number", ErrTable, i+1)
		}
		if i > 0 && x[i] <= x[i-1] {
			return Curve{}, fmt.Errorf("%w: row %d does not come after row %d", ErrTable, i+1, i)
		}
	}
	c := Curve{x: append([]float64(nil), x...), y: append([]float64(nil), y...)}
	c.slope = fritschButland(c.x, c.y)
	c.area = make([]float64, len(x))
	for i := 1; i < len(x); i++ {
		c.area[i] = c.area[i-1] + c.pieceArea(i-1, x[i]-x[i-1])
	}
	return c, nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// fritschButland returns the slope at each row.
func fritschButland(x, y []float64) []float64 {
	n := len(x)
	s := make([]float64, n)
	if n == 2 {
		s[0] = (y[1] - y[0]) / (x[1] - x[0])
		s[1] = s[0]
		return s
	}
	h, d := make([]float64, n-1), make([]float64, n-1)
	for i := range h {
		h[i] = x[i+1] - x[i]
		d[i] = (y[i+1] - y[i]) / h[i]
	}
	for i := 1; i < n-1; i++ {
		if d[i-1]*d[i] > 0 {
			w := h[i-1] + h[i]
			s[i] = 3 * w / ((h[i]+w)/d[i-1] + (w+h[i-1])/d[i])
		}
	}
	s[0] = endSlope(h[0], h[1], d[0], d[1])
	s[n-1] = endSlope(h[n-2], h[n-3], d[n-2], d[n-3])
	return s
}

// endSlope is the three-point slope at an end, held so that the piece stays
// monotone.
func endSlope(h0, h1, d0, d1 float64) float64 {
	s := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	switch {
	case s*d0 <= 0:
		return 0
	case d0*d1 <= 0 && math.Abs(s) > 3*math.Abs(d0):
		return 3 * d0
	}
	return s
}

// piece returns the piece that holds x.
func (c *Curve) piece(x float64) int {
	n := len(c.x)
	if n <= 12 {
		i := 0
		for i < n-2 && x >= c.x[i+1] {
			i++
		}
		return i
	}
	i := sort.SearchFloat64s(c.x, x) - 1
	return max(0, min(i, n-2))
}

// At returns the value and slope at x.
func (c *Curve) At(x float64) (y, slope float64) {
	n := len(c.x)
	if x <= c.x[0] {
		return c.y[0] + c.slope[0]*(x-c.x[0]), c.slope[0]
	}
	if x >= c.x[n-1] {
		return c.y[n-1] + c.slope[n-1]*(x-c.x[n-1]), c.slope[n-1]
	}
	i := c.piece(x)
	h := c.x[i+1] - c.x[i]
	t := (x - c.x[i]) / h
	b, q, p := c.cubic(i, h)
	return c.y[i] + t*(b+t*(q+t*p)), (b + t*(2*q+3*t*p)) / h
}

// cubic returns the coefficients of piece i in t = 0…1, the constant left out.
func (c *Curve) cubic(i int, h float64) (b, q, p float64) {
	dy := c.y[i+1] - c.y[i]
	b = c.slope[i] * h
	e := c.slope[i+1] * h
	return b, 3*dy - 2*b - e, b + e - 2*dy
}

func (c *Curve) pieceArea(i int, upTo float64) float64 {
	h := c.x[i+1] - c.x[i]
	t := upTo / h
	b, q, p := c.cubic(i, h)
	return h * t * (c.y[i] + t*(b/2+t*(q/3+t*p/4)))
}

// Integral returns the integral from the first row to x; past the last row the
// straight line is integrated.
func (c *Curve) Integral(x float64) float64 {
	n := len(c.x)
	if x <= c.x[0] {
		d := x - c.x[0]
		return d * (c.y[0] + 0.5*c.slope[0]*d)
	}
	if x >= c.x[n-1] {
		d := x - c.x[n-1]
		return c.area[n-1] + d*(c.y[n-1]+0.5*c.slope[n-1]*d)
	}
	i := c.piece(x)
	return c.area[i] + c.pieceArea(i, x-c.x[i])
}

// Inverse returns the x at which an increasing curve has the value y; ok is
// false when the curve is not increasing there, y lies before the first row or is
// not a number.
func (c *Curve) Inverse(y float64) (x float64, ok bool) {
	n := len(c.x)
	if y < c.y[0] || math.IsNaN(y) {
		return c.x[0], false
	}
	if y >= c.y[n-1] {
		if c.slope[n-1] <= 0 {
			return c.x[n-1], y == c.y[n-1]
		}
		return c.x[n-1] + (y-c.y[n-1])/c.slope[n-1], true
	}
	i := 0
	for i < n-2 && y >= c.y[i+1] {
		i++
	}
	if c.y[i+1] <= c.y[i] {
		return c.x[i], false
	}
	h := c.x[i+1] - c.x[i]
	b, q, p := c.cubic(i, h)
	want := y - c.y[i]
	lo, hi := 0.0, 1.0
	t := want / (c.y[i+1] - c.y[i])
	for range 60 {
		r := t*(b+t*(q+t*p)) - want
		if r > 0 {
			hi = t
		} else {
			lo = t
		}
		d := b + t*(2*q+3*t*p)
		next := t - r/d
		if d == 0 || next <= lo || next >= hi {
			next = 0.5 * (lo + hi)
		}
		if math.Abs(next-t) < 1e-15 {
			t = next
			break
		}
		t = next
	}
	return c.x[i] + t*h, true
}

// First and Last return the ends of the table.
func (c *Curve) First() float64 { return c.x[0] }

// Last returns the last row's place.
func (c *Curve) Last() float64 { return c.x[len(c.x)-1] }

// Outside reports whether x lies past an end of the table.
func (c *Curve) Outside(x float64) bool { return x < c.x[0] || x > c.x[len(c.x)-1] }

// Piece is the cubic between two rows of a curve, by its ends: places, values and
// slopes.
type Piece struct {
	X, Y, Slope [2]float64 // [SI]
}

// PieceAt returns the piece that holds x; ok is false past an end, where the curve
// is the line through that end with its slope, which both ends of the piece then
// are.
func (c *Curve) PieceAt(x float64) (p Piece, ok bool) {
	n := len(c.x)
	switch {
	case x <= c.x[0]:
		return Piece{[2]float64{c.x[0], c.x[0]}, [2]float64{c.y[0], c.y[0]}, [2]float64{c.slope[0], c.slope[0]}}, false
	case x >= c.x[n-1]:
		return Piece{[2]float64{c.x[n-1], c.x[n-1]}, [2]float64{c.y[n-1], c.y[n-1]}, [2]float64{c.slope[n-1], c.slope[n-1]}}, false
	}
	i := c.piece(x)
	return Piece{[2]float64{c.x[i], c.x[i+1]}, [2]float64{c.y[i], c.y[i+1]}, [2]float64{c.slope[i], c.slope[i+1]}}, true
}
