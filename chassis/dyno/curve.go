package dyno

import (
	"fmt"
	"math"

	"trunnion/chassis/numeric"
)

// Branch is force over speed in one stroke, gas and friction taken off, positive,
// through the origin.
type Branch struct {
	Speed []float64 // measured, rising [m/s]
	Force []float64 // [N]
	Half  []float64 // half-width of the 95 % range [N]

	mean, half *numeric.Curve
}

// NewBranch makes a branch of measured points, speeds rising and above 0 [m/s],
// forces and half-widths [N].
func NewBranch(speed, force, half []float64) (Branch, error) {
	b := Branch{Speed: speed, Force: force, Half: half}
	x := append([]float64{0}, speed...)
	mean, err := numeric.NewCurve(x, append([]float64{0}, force...))
	if err != nil {
		return Branch{}, fmt.Errorf("force over speed: %w", err)
	}
	wide, err := numeric.NewCurve(x, append([]float64{0}, half...))
	if err != nil {
		return Branch{}, fmt.Errorf("band over speed: %w", err)
	}
	b.mean, b.half = &mean, &wide
	return b, nil
}

// At returns the force with its band at a speed [m/s]; between the points by
// monotone cubic pieces. Past the last point the end line is carried on and outside
// is true.
func (b *Branch) At(speed float64) (force Band, outside bool) {
	if b.mean == nil {
		return Band{math.NaN(), math.NaN()}, true
	}
	f, _ := b.mean.At(speed)
	h, _ := b.half.At(speed)
	return Band{f, math.Max(h, 0)}, speed > b.Top()
}

// Mean is the force [N] over speed [m/s], from the origin.
func (b *Branch) Mean() *numeric.Curve { return b.mean }

// Slope is that of the mean at a speed [N s/m].
func (b *Branch) Slope(speed float64) float64 {
	_, s := b.mean.At(speed)
	return s
}

// Top is the highest speed measured [m/s].
func (b *Branch) Top() float64 {
	if len(b.Speed) == 0 {
		return 0
	}
	return b.Speed[len(b.Speed)-1]
}

// Curve is what one setting gives.
type Curve struct {
	Setting       Setting
	Bump, Rebound Branch
	Temperature   float64 // mean of the runs it is made of; NaN: not known [K]
	Runs          int
}

// Stroke says bump or rebound.
type Stroke string

// The two strokes.
const (
	Bump    Stroke = "bump"
	Rebound Stroke = "rebound"
)

// Strokes are both, in the order of every table.
var Strokes = [2]Stroke{Bump, Rebound}

// Of is the branch of a stroke.
func (c *Curve) Of(s Stroke) *Branch {
	if s == Rebound {
		return &c.Rebound
	}
	return &c.Bump
}
