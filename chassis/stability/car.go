package stability

import "math"

// AirDensity is that of the standard atmosphere at sea level [kg/m3]. Source: ISO
// 2533:1975.
const AirDensity = 1.225

// Car is a car whose tyres' stiffness follows their loads.
type Car struct {
	Mass       float64 // of the whole car [kg]
	YawInertia float64 // [kg m2]
	ToFront    float64 // centre of gravity to front axle [m]
	ToRear     float64 // centre of gravity to rear axle [m]
	Axle       [2]Axle
}

// Axle is the two tyres of an axle.
type Axle struct {
	Load [2]float64 // of left and right tyre, at no speed [N]
	Tyre Tyre
	// Right is the right tyre where it is another than the left; nil: it is alike.
	Right *Tyre
	Lift  float64 // lift coefficient times area on this axle, up positive; 0 when not known [m2]
}

// Stiffness is the cornering stiffness of an axle at a speed [N/rad].
func (a *Axle) Stiffness(speed float64) float64 {
	up := 0.5 * AirDensity * speed * speed * a.Lift / 2 // of one wheel
	return a.Tyre.Stiffness(a.Load[0]-up) + a.Of(1).Stiffness(a.Load[1]-up)
}

// Of is the tyre of a side, 0 left.
func (a *Axle) Of(side int) Tyre {
	if side == 1 && a.Right != nil {
		return *a.Right
	}
	return a.Tyre
}

// At is the car with two degrees of freedom at a speed [m/s].
func (c *Car) At(speed float64) Bicycle {
	return Bicycle{
		Mass: c.Mass, YawInertia: c.YawInertia, ToFront: c.ToFront, ToRear: c.ToRear,
		Front: c.Axle[0].Stiffness(speed), Rear: c.Axle[1].Stiffness(speed),
	}
}

// Response is how the car answers at a speed [m/s].
func (c *Car) Response(speed float64) Response {
	b := c.At(speed)
	return b.At(speed)
}

// Critical is the lowest speed up to an end at which the car is unstable [m/s];
// infinite when it is stable up to there. Without lift it is that of the car with
// two degrees of freedom.
func (c *Car) Critical(end float64) float64 {
	return lowest(end, func(v float64) bool {
		b := c.At(v)
		return b.Front > 0 && b.Rear > 0 && 1+b.Gradient()*v*v/b.Wheelbase() > 0
	})
}

// lowest is the lowest speed up to an end that is not stable [m/s]; infinite when
// all are.
//
// Method: steps of a thirty-second part of the end, then halving.
func lowest(end float64, stable func(speed float64) bool) float64 {
	const steps = 32
	for k := 1; k <= steps; k++ {
		high := end * float64(k) / steps
		if stable(high) {
			continue
		}
		low := end * float64(k-1) / steps
		for high-low > 1e-13*end {
			if middle := 0.5 * (low + high); middle > 0 && stable(middle) {
				low = middle
			} else {
				high = middle
			}
		}
		return high
	}
	return math.Inf(1)
}

// SteadyGradient is the understeer gradient in a steady bend, as the front axle's
// slip angle less the rear's per lateral acceleration [rad/(m/s2)]: with the loads
// of the tyres in that bend and the lateral forces of the axles [N].
//
//	K = (F_f/(C_fl + C_fr) − F_r/(C_rl + C_rr))/a_y
//
// Each tyre is taken as linear at its load: the loss of stiffness that load
// transfer brings is in, the bending of the curve is not.
func SteadyGradient(axles [2]Axle, side [2]float64, lateral float64) float64 {
	return (side[0]/axles[0].Stiffness(0) - side[1]/axles[1].Stiffness(0)) / lateral
}
