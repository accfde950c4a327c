package reference

import (
	"math"
	"testing"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/stability"
	"trunnion/reference/validation"
)

// abe is the car of M. Abe, Vehicle Handling Dynamics, ch. 3: parameters from
// there, results computed here by its equations.
var abe = stability.Bicycle{Mass: 1500, YawInertia: 2500, ToFront: 1.1, ToRear: 1.6, Front: 2 * 55e3, Rear: 2 * 60e3}

func TestYawAbe(t *testing.T) {
	validation.Against(t, "Yaw: understeer, natural frequency, damping", validation.Derived, "M. Abe, Vehicle Handling Dynamics, ch. 3", "understeer-gradient", "yaw-damping", "yaw-frequency", "yaw-settling")
	nearly(t, "stability factor", abe.StabilityFactor(), 1.10674648e-3, 1e-8, "s2/m2")
	nearly(t, "understeer gradient", abe.Gradient(), 2.98821549e-3, 1e-8, "rad/(m/s2)")
	nearly(t, "understeer gradient", abe.Gradient()*toDegrees*equilibrium.Gravity, 1.67901749, 1e-8, "deg/g")
	nearly(t, "characteristic speed", abe.Characteristic(), 30.0590967, 1e-8, "m/s")
	nearly(t, "characteristic speed", abe.Characteristic()*3.6, 108.212748, 1e-8, "km/h")
	nearly(t, "static margin", abe.StaticMargin(), 0.114331723, 1e-8, "")
	if !math.IsInf(abe.Critical(), 1) {
		t.Errorf("an understeering car has a critical speed, %g m/s", abe.Critical())
	}
	for _, r := range []struct{ kmh, omega, zeta, yaw, side, slip float64 }{
		{40, 15.3705068, 0.964535534, 3.62053342, 0.0715956677, 0.316491239},
		{80, 8.96454795, 0.826890551, 5.32184415, 0.210477817, -0.219093534},
		{100, 7.85215874, 0.755226709, 5.54920524, 0.274337375, -0.465361375},
		{140, 6.73554373, 0.628877005, 5.38685855, 0.372835965, -0.845211091},
		{200, 6.05921605, 0.489350433, 4.65957231, 0.460712762, -1.18409895},
	} {
		v := r.kmh / 3.6
		got := abe.At(v)
		nearly(t, "yaw frequency", got.Frequency*2*math.Pi, r.omega, 1e-8, "rad/s")
		nearly(t, "yaw damping", got.Damping, r.zeta, 1e-8, "")
		nearly(t, "yaw gain", got.YawGain, r.yaw, 1e-8, "1/s")
		nearly(t, "lateral acceleration gain", got.SideGain/equilibrium.Gravity/toDegrees, r.side, 1e-8, "g/deg")
		nearly(t, "slip gain", got.SlipGain, r.slip, 1e-8, "")
		// Abe's own form of the frequency, with the stiffness of one tyre.
		form := 2 * abe.Wheelbase() / v * math.Sqrt(55e3*60e3/(abe.Mass*abe.YawInertia)) * math.Sqrt(1+abe.StabilityFactor()*v*v)
		nearly(t, "yaw frequency by Abe's form", got.Frequency*2*math.Pi, form, 1e-12, "rad/s")
	}
	// The yaw gain is greatest at the characteristic speed, and there V/(2·L).
	v := abe.Characteristic()
	nearly(t, "greatest yaw gain", abe.At(v).YawGain, v/(2*abe.Wheelbase()), 1e-12, "1/s")
	for _, off := range []float64{-1, 1} {
		if abe.At(v+off).YawGain >= abe.At(v).YawGain {
			t.Errorf("the yaw gain is greater %g m/s away from the characteristic speed", off)
		}
	}
}

// R. Rajamani, Vehicle Dynamics and Control, ch. 3: parameters from there, results
// computed here by its equations.
func TestYawRajamani(t *testing.T) {
	validation.Against(t, "Yaw: eigenvalues of the single-track car", validation.Derived, "R. Rajamani, Vehicle Dynamics and Control, ch. 3", "yaw-damping", "yaw-frequency")
	car := stability.Bicycle{Mass: 1573, YawInertia: 2873, ToFront: 1.1, ToRear: 1.58, Front: 160e3, Rear: 160e3}
	nearly(t, "understeer gradient", car.Gradient(), 1.76082090e-3, 1e-8, "rad/(m/s2)")
	nearly(t, "understeer gradient", car.Gradient()*toDegrees*equilibrium.Gravity, 0.989369439, 1e-8, "deg/g")
	nearly(t, "characteristic speed", car.Characteristic(), 39.0130411, 1e-8, "m/s")
	nearly(t, "characteristic speed", car.Characteristic()*3.6, 140.446948, 1e-8, "km/h")
	fast, slow := car.At(30), car.At(20)
	nearly(t, "frequency at 30 m/s", fast.Frequency*2*math.Pi, 8.48164653, 1e-8, "rad/s")
	nearly(t, "damping at 30 m/s", fast.Damping, 0.805358052, 1e-8, "")
	nearly(t, "yaw gain at 30 m/s", fast.YawGain, 7.03442845, 1e-8, "1/s")
	nearly(t, "pole at 30 m/s, real", fast.Poles[0], -6.83076233, 1e-8, "1/s")
	nearly(t, "pole at 30 m/s, imaginary", fast.Poles[1], 5.02782398, 1e-8, "1/s")
	nearly(t, "frequency at 20 m/s", slow.Frequency*2*math.Pi, 11.3334323, 1e-8, "rad/s")
	nearly(t, "damping at 20 m/s", slow.Damping, 0.904063587, 1e-8, "")
	nearly(t, "yaw gain at 20 m/s", slow.YawGain, 5.90959206, 1e-8, "1/s")
}

// Abe's car with its centre of gravity as far back as it was forward: it
// oversteers. Computed here, 1e-8; and what the equations of motion do about the
// critical speed.
func TestYawOversteering(t *testing.T) {
	validation.Against(t, "Yaw: critical speed of an oversteering car", validation.Derived, "M. Abe, ch. 3, and the equations of motion integrated", "critical-speed", "yaw-settling")
	car := abe
	car.ToFront, car.ToRear = abe.ToRear, abe.ToFront
	nearly(t, "understeer gradient", car.Gradient(), -1.85185185e-3, 1e-8, "rad/(m/s2)")
	nearly(t, "understeer gradient", car.Gradient()*toDegrees*equilibrium.Gravity, -1.04051788, 1e-8, "deg/g")
	nearly(t, "critical speed", car.Critical(), 38.1837662, 1e-8, "m/s")
	nearly(t, "critical speed", car.Critical()*3.6, 137.461558, 1e-8, "km/h")
	at := car.At(30)
	if at.Swings {
		t.Error("the poles at 30 m/s are a pair")
	}
	nearly(t, "slow pole at 30 m/s", at.Poles[0], -1.1279975, 1e-7, "1/s")
	nearly(t, "settling at 30 m/s", at.Settling(), 1.1279975, 1e-7, "1/s")
	nearly(t, "fast pole at 30 m/s", at.Poles[1], -9.6737803, 1e-8, "1/s")
	near(t, "slow pole at the critical speed", car.At(car.Critical()).Poles[0], 0, 1e-9, "1/s")
	for _, r := range []struct {
		share  float64
		stable bool
	}{{0.99, true}, {1.01, false}} {
		v := r.share * car.Critical()
		if past := car.At(v); (past.Poles[0] < 0) != r.stable || math.IsNaN(past.Damping) == r.stable {
			t.Errorf("at %.2f of the critical speed the slow pole is %g 1/s, the damping %g", r.share, past.Poles[0], past.Damping)
		}
		// Driven straight on after a push: Runge and Kutta, a thousandth of a second.
		slip, yaw := 0.01, 0.02
		const dt = 1e-3
		early := 0.0
		for k := range 60_000 {
			if k == 30_000 {
				early = math.Abs(yaw)
			}
			k1s, k1y := car.Slopes(v, slip, yaw, 0)
			k2s, k2y := car.Slopes(v, slip+dt/2*k1s, yaw+dt/2*k1y, 0)
			k3s, k3y := car.Slopes(v, slip+dt/2*k2s, yaw+dt/2*k2y, 0)
			k4s, k4y := car.Slopes(v, slip+dt*k3s, yaw+dt*k3y, 0)
			slip += dt / 6 * (k1s + 2*k2s + 2*k3s + k4s)
			yaw += dt / 6 * (k1y + 2*k2y + 2*k3y + k4y)
		}
		if (math.Abs(yaw) < early) != r.stable {
			t.Errorf("at %.2f of the critical speed the yaw rate goes from %.3g to %.3g rad/s in half a minute", r.share, early, math.Abs(yaw))
		}
		// It grows or decays as the slow pole says.
		nearly(t, "pole by driving", math.Log(math.Abs(yaw)/early)/30, car.At(v).Poles[0], 1e-4, "1/s")
	}
}
