package stability

import "math"

// Bicycle is the car with two degrees of freedom, both wheels of an axle in one.
//
//	m·V·(β' + r) = −(C_f + C_r)·β − (a·C_f − b·C_r)/V·r + C_f·δ
//	I_z·r'       = −(a·C_f − b·C_r)·β − (a²·C_f + b²·C_r)/V·r + a·C_f·δ
//
// β slip angle at the centre of gravity, r yaw rate, δ steer of the front wheels,
// to the left positive.
//
// Source: M. Abe, Vehicle Handling Dynamics, ch. 3; R. Rajamani, Vehicle Dynamics
// and Control, ch. 3.
type Bicycle struct {
	Mass       float64 // of the whole car [kg]
	YawInertia float64 // about its centre of gravity [kg m2]
	ToFront    float64 // a, centre of gravity to front axle [m]
	ToRear     float64 // b, centre of gravity to rear axle [m]
	Front      float64 // C_f, cornering stiffness of the front axle, both tyres [N/rad]
	Rear       float64 // C_r, of the rear axle [N/rad]
}

// Wheelbase is a + b [m].
func (b *Bicycle) Wheelbase() float64 { return b.ToFront + b.ToRear }

// Gradient is the understeer gradient [rad/(m/s2)]: how much more the front
// wheels are steered than the bend's geometry asks, per lateral acceleration;
// negative is oversteer.
//
//	K = (m/L)·(b/C_f − a/C_r)
func (b *Bicycle) Gradient() float64 {
	return b.Mass / b.Wheelbase() * (b.ToRear/b.Front - b.ToFront/b.Rear)
}

// StabilityFactor is K/L [s2/m2].
func (b *Bicycle) StabilityFactor() float64 { return b.Gradient() / b.Wheelbase() }

// StaticMargin is how far behind the centre of gravity a side force turns the car
// no way, as a share of the wheelbase [-].
//
//	(b·C_r − a·C_f)/(L·(C_f + C_r))
func (b *Bicycle) StaticMargin() float64 {
	return (b.ToRear*b.Rear - b.ToFront*b.Front) / (b.Wheelbase() * (b.Front + b.Rear))
}

// Characteristic is the speed at which an understeering car answers to steer most
// [m/s]; infinite for a neutral car, NaN for one that oversteers.
//
//	V = √(L/K)
func (b *Bicycle) Characteristic() float64 { return math.Sqrt(b.Wheelbase() / b.Gradient()) }

// Critical is the speed above which an oversteering car is unstable [m/s];
// infinite for one that does not oversteer.
//
//	V = √(−L/K)
func (b *Bicycle) Critical() float64 {
	if k := b.Gradient(); k < 0 {
		return math.Sqrt(-b.Wheelbase() / k)
	}
	return math.Inf(1)
}

// Response is how the car answers at a speed.
type Response struct {
	// Square is ω², negative where the car is unstable. [1/s2]
	Square float64
	// Frequency is the undamped yaw frequency ω/2π; NaN where the car is unstable. [Hz]
	Frequency float64
	// Damping is the damping ratio of yaw: 1 or more does not swing at all; NaN
	// where the car is unstable. [-]
	Damping float64
	// Decay is the decay ζ·ω of what swings, half the sum of both poles' decays. [1/s]
	Decay float64
	// Poles are the real and imaginary part of a pair, or two real poles, the
	// slower one first.
	Poles    [2]float64 // [1/s]
	Swings   bool       // Poles are a pair
	YawGain  float64    // yaw rate per steer, steady [1/s]
	SideGain float64    // lateral acceleration per steer, steady [m/s2/rad]
	SlipGain float64    // slip angle per steer, steady [-]
}

// At returns how the car answers at a speed above 0 [m/s].
//
//	ω² = C_f·C_r·L²/(m·I_z·V²)·(1 + K·V²/L)
//	2·ζ·ω = (C_f + C_r)/(m·V) + (a²·C_f + b²·C_r)/(I_z·V)
//	r/δ = V/(L + K·V²)
func (b *Bicycle) At(speed float64) Response {
	l, k := b.Wheelbase(), b.Gradient()
	v2 := speed * speed
	stable := 1 + k*v2/l
	r := Response{
		Square: b.Front * b.Rear * l * l / (b.Mass * b.YawInertia * v2) * stable,
		Decay: 0.5 * ((b.Front+b.Rear)/(b.Mass*speed) +
			(b.ToFront*b.ToFront*b.Front+b.ToRear*b.ToRear*b.Rear)/(b.YawInertia*speed)),
		YawGain: speed / (l * stable),
	}
	r.SideGain = r.YawGain * speed
	r.SlipGain = b.ToRear / l * (1 - b.Mass*b.ToFront*v2/(l*b.ToRear*b.Rear)) / stable
	r.Frequency, r.Damping = math.NaN(), math.NaN()
	if r.Square > 0 {
		omega := math.Sqrt(r.Square)
		r.Frequency, r.Damping = omega/(2*math.Pi), r.Decay/omega
	}
	under := r.Decay*r.Decay - r.Square
	if under < 0 {
		r.Swings, r.Poles = true, [2]float64{-r.Decay, math.Sqrt(-under)}
		return r
	}
	root := math.Sqrt(under)
	r.Poles = [2]float64{-r.Decay + root, -r.Decay - root}
	return r
}

// Settling is how fast the yaw motion that lasts longest dies away: its slowest
// pole's real part, taken with the other sign [1/s]. Less than nothing grows.
func (r *Response) Settling() float64 { return -r.Poles[0] }

// Slopes returns the rates of change of slip angle [rad/s] and yaw rate [rad/s2]
// at a speed [m/s], a slip angle [rad], a yaw rate [rad/s] and a steer [rad].
func (b *Bicycle) Slopes(speed, slip, yaw, steer float64) (slipRate, yawRate float64) {
	turning := b.ToFront*b.Front - b.ToRear*b.Rear
	slipRate = (-(b.Front+b.Rear)*slip-turning/speed*yaw+b.Front*steer)/(b.Mass*speed) - yaw
	yawRate = (-turning*slip - (b.ToFront*b.ToFront*b.Front+b.ToRear*b.ToRear*b.Rear)/speed*yaw + b.ToFront*b.Front*steer) / b.YawInertia
	return slipRate, yawRate
}
