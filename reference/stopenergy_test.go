package reference

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/reference/validation"
)

// onStops is a mass of 350 kg a corner, its weight carried by a spring without rate, 10 mm above a stop, on wheels too
// heavy and tyres too stiff to give way.
func onStops(stop ride.Curve, loss float64) ride.Car {
	car := quarterCar{ms: 350, mu: 1e8, ks: 1e-3, kt: 1e12}.car()
	for i := range car.Corners {
		c := &car.Corners[i]
		c.Damper, c.DamperSlope = nil, nil
		c.Stop = ride.Stop{TouchTravel: 0.010, Force: stop, Loss: loss, Dynamic: 1}
	}
	return car
}

// Landing on a stop, in time.
//
//	linear stop k, mass m, speed v, weight carried by the spring: x = v·√(m/k), F = v·√(k·m):
//	350 kg, 0.6 m/s, 150 kN/m: 28.9827535 mm, 4347.41302 N
//	exponential stop F = A·(e^{x/x0} − 1), energy A·(x0·e^{x/x0} − x0 − x): A 200 N, x0 10 mm, x 35 mm:
//	6423.09039 N, 57.2309039 J
//
// Derived here (closed forms to 1e-8). The engine lands in time on tables of 1 mm: 2e-6 for crush, force and energy is
// its own error at a step of 10 µs.
func TestStopEnergy(t *testing.T) {
	validation.Against(t, "Ride engine: energy of a bump stop", validation.Derived, "closed forms", "stop-force-peak", "catch-speed")
	linear := func(x float64) (float64, float64) { return 150e3 * x, 150e3 }
	exponential := func(x float64) (float64, float64) {
		e := math.Exp(x / 0.010)
		return 200 * (e - 1), 200 / 0.010 * e
	}
	if f, slope := exponential(0.035); validation.Share(t, f, 6423.09039, 1e-8) || validation.Share(t, slope, 662.309039e3, 1e-8) {
		t.Errorf("exponential stop at 35 mm: %.5f N, %.3f N/m", f, slope)
	}
	for _, r := range []struct {
		name                 string
		stop                 ride.Curve
		speed                float64
		crush, force, energy float64
	}{
		{"linear", linear, 0.6, 28.9827535e-3, 4347.41302, 0.5 * 350 * 0.36},
		{"exponential", exponential, math.Sqrt(2 * 57.2309039 / 350), 35e-3, 6423.09039, 57.2309039},
	} {
		for _, loss := range []float64{0, 0.25, 0.5} {
			m := compiled(t, onStops(r.stop, loss))
			var last float64
			var back, before float64
			var res ride.Result
			run := ride.Run{
				Speed: 10, Duration: 0.25, Step: 1e-5, HeaveSpeed: -r.speed,
				Each: func(o *ride.Moment) {
					if o.Time > 0.2 {
						back = (o.Heave - last) / 1e-5
					}
					if o.Time < 0.005 && o.Time > 0.001 {
						before = (o.Heave - last) / 1e-5
					}
					last = o.Heave
				},
			}
			if err := m.Simulate(context.Background(), run, &res); err != nil {
				t.Fatal(err)
			}
			c := &res.Corners[0]
			if validation.Share(t, before, -r.speed, 1e-6) {
				t.Errorf("%s: falls at %.7f m/s; want %.7f", r.name, -before, r.speed)
			}
			crush := c.TravelMax - 0.010
			if validation.Share(t, crush, r.crush, 2e-6) || validation.Share(t, c.StopPeak, r.force, 2e-6) || validation.Share(t, c.StopEnergy, r.energy, 2e-6) {
				t.Errorf("%s, loss %g: %.6f mm, %.5f N, %.6f J; want %.6f, %.5f, %.6f", r.name, loss, 1e3*crush, c.StopPeak, c.StopEnergy, 1e3*r.crush, r.force, r.energy)
			}
			// What a complete hit keeps: loss·E exactly, whatever the curve; it comes back with v·√(1 − loss).
			if got := c.StopLost / r.energy; validation.Off(t, got, loss, 2e-5) {
				t.Errorf("%s: stop keeps %.6f of the energy; want %g", r.name, got, loss)
			}
			if want := r.speed * math.Sqrt(1-loss); validation.Share(t, back, want, 2e-5) {
				t.Errorf("%s, loss %g: comes back with %.7f m/s; want %.7f", r.name, loss, back, want)
			}
		}
	}
}
