package stability

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Trailer is for a caravan or trailer as a load state (issue 12), which does not ask yet. It is what is towed, on one axle or several close together that count as
// one.
type Trailer struct {
	Mass       float64 // [kg]
	YawInertia float64 // about its centre of gravity [kg m2]
	ToCG       float64 // e, coupling to centre of gravity [m]
	ToAxle     float64 // d, coupling to the middle of its axles [m]
	Stiffness  float64 // C_t, cornering stiffness of all its tyres [N/rad]
}

// Pair is a car with a trailer behind it, the coupling free to turn.
type Pair struct {
	Car      Car
	Coupling float64 // h, behind the car's centre of gravity [m]
	Trailer  Trailer
}

// CouplingLoad is what a trailer on level ground puts on the coupling, as a mass
// [kg]; less than nothing lifts it.
//
//	S = m_t·(d − e)/d
func (t *Trailer) CouplingLoad() float64 { return t.Mass * (t.ToAxle - t.ToCG) / t.ToAxle }

// Swing is how car and trailer move by themselves, steering held.
type Swing struct {
	// Settling is how fast what lasts longest dies away, be it a swing or not; less
	// than nothing grows. [1/s]
	Settling float64
	// Weaves says that there is a swing at all; Damping and Frequency are those of
	// the least damped one, NaN where nothing swings.
	Weaves    bool
	Damping   float64 // damping ratio, less than nothing grows [-]
	Frequency float64 // undamped [Hz]
}

// matrix is the matrix of the pair's equations of motion at a speed [m/s], over
// lateral velocity v of the car's centre of gravity, its yaw rate r, the angle γ
// of the trailer to the car and its rate.
//
//	m·a + m_t·a_t                        = F_f + F_r + F_t
//	I·r' + I_t·(r' + γ'') − m_t·(h + e)·a_t = a·F_f − b·F_r − (h + d)·F_t
//	I_t·(r' + γ'') − m_t·e·a_t           = −d·F_t
//	a = v' + V·r,   a_t = a − (h + e)·r' − e·γ''
//	F_f = −C_f·(v + a·r)/V,   F_r = −C_r·(v − b·r)/V
//	F_t = −C_t·((v − (h + d)·r − d·γ')/V − γ)
//
// Small angles, constant speed, tyres linear, no friction in the coupling; what
// pulls the trailer is left out.
//
// Source: own derivation by Lagrange's equations.
func (p *Pair) matrix(speed float64) (a [4][4]float64, ok bool) {
	b, t := p.Car.At(speed), &p.Trailer
	h, e, d := p.Coupling, t.ToCG, t.ToAxle
	mass := [9]float64{
		b.Mass + t.Mass, -t.Mass * (h + e), -t.Mass * e,
		-t.Mass * (h + e), b.YawInertia + t.YawInertia + t.Mass*(h+e)*(h+e), t.YawInertia + t.Mass*e*(h+e),
		-t.Mass * e, t.YawInertia + t.Mass*e*(h+e), t.YawInertia + t.Mass*e*e,
	}
	// Forces over v, r, γ and γ', at each of the three places.
	front := [4]float64{-b.Front / speed, -b.Front * b.ToFront / speed, 0, 0}
	rear := [4]float64{-b.Rear / speed, b.Rear * b.ToRear / speed, 0, 0}
	towed := [4]float64{-t.Stiffness / speed, t.Stiffness * (h + d) / speed, t.Stiffness, t.Stiffness * d / speed}
	var right mat.Dense
	right.ReuseAs(3, 4)
	for k := range 4 {
		right.Set(0, k, front[k]+rear[k]+towed[k])
		right.Set(1, k, b.ToFront*front[k]-b.ToRear*rear[k]-(h+d)*towed[k])
		right.Set(2, k, -d*towed[k])
	}
	// What V·r is worth in the accelerations.
	right.Set(0, 1, right.At(0, 1)-speed*(b.Mass+t.Mass))
	right.Set(1, 1, right.At(1, 1)+speed*t.Mass*(h+e))
	right.Set(2, 1, right.At(2, 1)+speed*t.Mass*e)
	var slopes mat.Dense
	if slopes.Solve(mat.NewDense(3, 3, mass[:]), &right) != nil {
		return a, false
	}
	for k := range 4 {
		a[0][k], a[1][k], a[3][k] = slopes.At(0, k), slopes.At(1, k), slopes.At(2, k)
	}
	a[2][3] = 1
	return a, true
}

// poles are the four eigenvalues of the pair at a speed [1/s]; nil where they
// cannot be found.
func (p *Pair) poles(speed float64) []complex128 {
	a, ok := p.matrix(speed)
	if !ok {
		return nil
	}
	flat := make([]float64, 0, 16)
	for i := range a {
		flat = append(flat, a[i][:]...)
	}
	var eig mat.Eigen
	if !eig.Factorize(mat.NewDense(4, 4, flat), mat.EigenNone) {
		return nil
	}
	return eig.Values(nil)
}

// At is how the pair moves by itself at a speed above 0 [m/s]; all NaN where it
// cannot be said.
func (p *Pair) At(speed float64) Swing {
	out := Swing{Settling: math.NaN(), Damping: math.NaN(), Frequency: math.NaN()}
	poles := p.poles(speed)
	if poles == nil {
		return out
	}
	slowest := math.Inf(-1)
	for _, pole := range poles {
		slowest = math.Max(slowest, real(pole))
		if imag(pole) <= 0 {
			continue
		}
		size := math.Hypot(real(pole), imag(pole))
		if ratio := -real(pole) / size; !out.Weaves || ratio < out.Damping {
			out.Weaves, out.Damping, out.Frequency = true, ratio, size/(2*math.Pi)
		}
	}
	out.Settling = -slowest
	return out
}

// Unstable is the lowest speed up to an end from which the pair is unstable [m/s];
// infinite when it is stable up to there.
func (p *Pair) Unstable(end float64) float64 {
	return lowest(end, func(v float64) bool { s := p.At(v); return s.Settling > 0 })
}
