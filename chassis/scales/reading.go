package scales

import "math"

// Reading is what scales and tape say at one moment. NaN was not read.
type Reading struct {
	Load   [4]float64 // on each pad [kg]
	Height [4]float64 // hub to arch [m]
}

// Unread is a reading of nothing.
func Unread() Reading {
	n := math.NaN()
	return Reading{Load: [4]float64{n, n, n, n}, Height: [4]float64{n, n, n, n}}
}

// Complete reports whether all four loads and heights were read.
func (r *Reading) Complete() bool {
	for i := range 4 {
		if math.IsNaN(r.Load[i]) || math.IsNaN(r.Height[i]) {
			return false
		}
	}
	return true
}

// Total is the weight on the four pads [kg].
func (r *Reading) Total() float64 { return r.Load[0] + r.Load[1] + r.Load[2] + r.Load[3] }

// FrontShare is the share of the total on the front tyres [-].
func (r *Reading) FrontShare() float64 { return (r.Load[0] + r.Load[1]) / r.Total() }

// LeftShare is the share of the total on the left tyres [-].
func (r *Reading) LeftShare() float64 { return (r.Load[0] + r.Load[2]) / r.Total() }

// Diagonal is which pair of corners the cross weight counts: trades differ.
type Diagonal string

// The two conventions.
const (
	FrontRightRearLeft Diagonal = "front-right-rear-left"
	FrontLeftRearRight Diagonal = "front-left-rear-right"
)

// Cross is the share of the total on a diagonal [-].
//
//	(FR + RL)/total   or   (FL + RR)/total
//
// One diagonal over the other is another figure, and not this one.
//
// Source: common practice, no source.
func (r *Reading) Cross(d Diagonal) float64 {
	if d == FrontLeftRearRight {
		return (r.Load[0] + r.Load[3]) / r.Total()
	}
	return (r.Load[1] + r.Load[2]) / r.Total()
}

// sign is +1 where a corner is on the diagonal, −1 elsewhere.
func (d Diagonal) sign(i int) float64 {
	if (i == 1 || i == 2) == (d != FrontLeftRearRight) {
		return 1
	}
	return -1
}

// Wedge is the first diagonal less the second, in the order of the convention
// [kg].
func (r *Reading) Wedge(d Diagonal) float64 { return (2*r.Cross(d) - 1) * r.Total() }

// Level is by how much the left side of an axle stands higher than the right
// [m].
func (r *Reading) Level(axle int) float64 { return r.Height[2*axle] - r.Height[2*axle+1] }

// Mean is an axle's mean height [m].
func (r *Reading) Mean(axle int) float64 { return 0.5 * (r.Height[2*axle] + r.Height[2*axle+1]) }

// Rake is by how much the rear axle's mean height exceeds the front's, hub to
// arch: it changes with the body's pitch, and is not it [m].
func (r *Reading) Rake() float64 { return r.Mean(1) - r.Mean(0) }

// mean averages readings; what was not read in one is left out of its mean.
func mean(list []Reading) Reading {
	out := Unread()
	for i := range 4 {
		out.Load[i] = meanOf(list, func(r *Reading) float64 { return r.Load[i] })
		out.Height[i] = meanOf(list, func(r *Reading) float64 { return r.Height[i] })
	}
	return out
}

func meanOf(list []Reading, of func(*Reading) float64) float64 {
	sum, n := 0.0, 0
	for k := range list {
		if v := of(&list[k]); !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return math.NaN()
	}
	return sum / float64(n)
}
