package reference

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/chassis/screening"
	"trunnion/reference/validation"
)

// Damper to wheel: c_wheel = c·r², 2800 N s/m at a ratio of 0.95 are 2527 N s/m at the wheel; 2500 N s/m on 350 kg and
// 40 kN/m are 0.334076553 of critical. Derived here.
//
// The car with the first damper on its linkage must answer as the one with the second at the wheel.
func TestDamperOnItsLinkage(t *testing.T) {
	validation.Against(t, "A damper on its linkage is one at the wheel", validation.Derived, "c·r²", "damping-ratio")
	const want = 2527.0
	onLink := quarterC.car()
	for i := range onLink.Corners {
		c := &onLink.Corners[i]
		c.DamperTravel = func(w float64) (float64, float64, float64) { return 0.95 * w, 0.95, 0 }
		c.Damper = func(v float64) float64 { return 2800 * v }
		c.DamperSlope = func(float64) float64 { return 2800 }
	}
	atWheel := quarterC
	atWheel.c = want
	link, err := screening.Linearised(compiled(t, onLink), 0.01, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []float64{0.7, 1.6, 4.3, 11.9} {
		got := cmplx.Abs(link.Body(link.Response(f, [4]complex128{1, 1, 1, 1}), 0))
		body, _, _ := atWheel.gains(t, f)
		if validation.Share(t, got, body, 1e-10) {
			t.Errorf("%g Hz: body gain %.9f with the damper on its linkage, %.9f with 2527 N s/m at the wheel", f, got, body)
		}
	}
	if critical := 2 * math.Sqrt(350*40000); validation.Share(t, quarterC.c/critical, 0.334076553, 1e-8) {
		t.Errorf("%.9f of critical", quarterC.c/critical)
	}
}

// Energy a damper takes in one cycle of a sine of amplitude X at ω:
//
//	viscous π·c·ω·X²: 2000 N s/m, 1.6667 Hz, 25 mm: 41.1233517 J
//	Coulomb as viscous 4·F/(π·ω·X): 50 N, 1.5 Hz, 10 mm: 675.474558 N s/m
//	quadratic F = a·v·|v| as viscous 8·a·ω·X/(3π): a = 2000, 1.5 Hz, 30 mm: 480.000 N s/m
//	bilinear as viscous (c_bump + c_rebound)/2
//
// Derived here. In time: the damper stands between a road wheel on a tyre that does not give and a body that does not
// move. Tolerance 1e-5 for the body's motion and the tyre; friction is rounded off over 2 mm/s and falls short by up to
// 1e-3.
func TestDamperEnergyOfACycle(t *testing.T) {
	validation.Against(t, "Ride engine: energy that a damper takes", validation.Derived, "energy of a cycle in closed form", "damper-power")
	for _, r := range []struct {
		name                 string
		law                  func(v float64) float64
		friction             float64
		frequency, amplitude float64
		viscous, tol         float64
	}{
		{"viscous", func(v float64) float64 { return 2000 * v }, 0, 5.0 / 3, 0.025, 2000, 1e-5},
		{"Coulomb", nil, 50, 1.5, 0.010, 675.474558, 1e-3},
		{"quadratic", func(v float64) float64 { return 2000 * v * math.Abs(v) }, 0, 1.5, 0.030, 480, 1e-5},
		{"bilinear", func(v float64) float64 { return (1500 - math.Copysign(700, v)) * v }, 0, 1.5, 0.020, 1500, 1e-5},
	} {
		omega := 2 * math.Pi * r.frequency
		want := math.Pi * r.viscous * omega * r.amplitude * r.amplitude
		if r.name == "viscous" && validation.Share(t, want, 41.1233517, 1e-5) {
			t.Errorf("%s: %.7f J a cycle", r.name, want) // the row's 1.6667 Hz is rounded
		}
		car := quarterCar{ms: 1e9, mu: 1e4, ks: 1, kt: 1e12}.car()
		for i := range car.Corners {
			c := &car.Corners[i]
			c.Damper, c.DamperSlope = r.law, nil
			c.Friction, c.FrictionSpeed = r.friction, 0.002
		}
		m := compiled(t, car)
		const cycles, settle, speed = 6.0, 2.0, 10.0
		wave := sine{r.amplitude, speed / r.frequency}
		var res ride.Result
		run := ride.Run{Left: wave, Right: wave, Speed: speed, Settle: settle, Duration: settle + cycles/r.frequency, Step: 2e-5}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		if got := res.Corners[0].Power * res.Time / cycles; validation.Share(t, got, want, r.tol) {
			t.Errorf("%s: %.7f J a cycle; want %.7f (off by %.2g)", r.name, got, want, relative(got, want))
		}
	}
}
