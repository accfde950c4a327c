package numeric

import (
	"fmt"
	"math"
)

// Pieces is a curve whose value, slope and curvature are known exactly at even
// places: pieces of the fifth degree that meet all three at either end. Past its
// ends it goes on as a straight line with the end slope.
//
//	|f − p| ≤ h⁶·max|f⁽⁶⁾|/46080
//
// Source: two-point Hermite interpolation with its error, e.g. P. J. Davis,
// Interpolation and Approximation, 1963, § 3.5 (from memory).
type Pieces struct {
	low, step float64
	rows      []pieceRow
	end       [2]float64 // value and slope of the last row
}

// pieceRow is c0 + t·(c1 + …) over t = 0…1 along one piece.
type pieceRow [6]float64

// NewPieces makes the curve of at least two rows, the first at low and one every
// step; y, slope and bend are the value with its first two derivatives at each.
func NewPieces(low, step float64, y, slope, bend []float64) (*Pieces, error) {
	if len(y) < 2 || len(slope) != len(y) || len(bend) != len(y) || !(step > 0) || !finite(low) || !finite(step) {
		return nil, fmt.Errorf("%w: %d values, %d slopes, %d curvatures every %g", ErrTable, len(y), len(slope), len(bend), step)
	}
	for i := range y {
		if !finite(y[i]) || !finite(slope[i]) || !finite(bend[i]) {
			return nil, fmt.Errorf("%w: row %d is not a number", ErrTable, i+1)
		}
	}
	p := &Pieces{low: low, step: step, rows: make([]pieceRow, len(y)-1)}
	for i := range p.rows {
		rise := y[i+1] - y[i]
		v0, v1 := step*slope[i], step*slope[i+1]
		a0, a1 := step*step*bend[i], step*step*bend[i+1]
		p.rows[i] = pieceRow{
			y[i], v0, a0 / 2,
			10*rise - 6*v0 - 4*v1 - 1.5*a0 + 0.5*a1,
			-15*rise + 8*v0 + 7*v1 + 1.5*a0 - a1,
			6*rise - 3*(v0+v1) - 0.5*(a0-a1),
		}
	}
	last := len(y) - 1
	p.end = [2]float64{y[last], slope[last]}
	return p, nil
}

// At returns the value and the first two derivatives at x.
func (p *Pieces) At(x float64) (y, dy, d2y float64) {
	u := (x - p.low) / p.step
	switch n := float64(len(p.rows)); {
	case u < 0:
		dy = p.rows[0][1] / p.step
		return p.rows[0][0] + dy*(x-p.low), dy, 0
	case u > n:
		return p.end[0] + p.end[1]*(x-p.Last()), p.end[1], 0
	case math.IsNaN(u):
		return u, u, u
	}
	i := min(int(u), len(p.rows)-1)
	t, c := u-float64(i), &p.rows[i]
	y = c[0] + t*(c[1]+t*(c[2]+t*(c[3]+t*(c[4]+t*c[5]))))
	dy = c[1] + t*(2*c[2]+t*(3*c[3]+t*(4*c[4]+t*5*c[5])))
	d2y = 2*c[2] + t*(6*c[3]+t*(12*c[4]+t*20*c[5]))
	return y, dy / p.step, d2y / (p.step * p.step)
}

// First returns the first row's place.
func (p *Pieces) First() float64 { return p.low }

// Last returns the last row's place.
func (p *Pieces) Last() float64 { return p.low + p.step*float64(len(p.rows)) }

// PieceAt returns where the piece that holds x begins, its length and its
// coefficients over t = 0…1 along it; past an end those of the straight line there.
func (p *Pieces) PieceAt(x float64) (low, step float64, c [6]float64) {
	u := (x - p.low) / p.step
	switch n := float64(len(p.rows)); {
	case u < 0:
		return p.low, p.step, [6]float64{p.rows[0][0], p.rows[0][1]}
	case u > n:
		return p.Last(), p.step, [6]float64{p.end[0], p.end[1] * p.step}
	}
	i := min(int(u), len(p.rows)-1)
	return p.low + float64(i)*p.step, p.step, p.rows[i]
}
