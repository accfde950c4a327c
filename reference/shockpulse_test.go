package reference

import (
	"context"
	"math"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/reference/validation"
)

// halfSine is a pulse of the road, one half wave high.
type halfSine struct{ start, length, height float64 }

func (p halfSine) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		dst[k] = 0
		if x := (x0 + float64(k)*dx - p.start) / p.length; x > 0 && x < 1 {
			dst[k] = p.height * math.Sin(math.Pi*x)
		}
	}
}

// Half-sine pulse of duration td on an undamped mass of period Tn = 1 s: greatest motion and what is left afterwards, over
// the height of the pulse. Residual |(Tn/td)·cos(π·td/Tn)/((Tn/2td)² − 1)|.
//
// Source: A.K. Chopra, Dynamics of Structures, ch. 4 (from memory); numbers derived here by closed form and by a solver.
//
// The engine has a tyre: here it hops at 1.6 kHz (1e10 N/m under 100 kg), so that the spring sees the road itself
// to 4e-7, and the pulse is 0.01 mm high so that the wheel stays down. Tolerance 1e-6 of the pulse for the 1e-6 of the
// check, at a step of 10 µs.
func TestShockPulse(t *testing.T) {
	validation.Against(t, "Ride engine: half-sine pulse", validation.Derived, "A. K. Chopra, Dynamics of Structures, ch. 4", "body-acceleration-peak", "travel-peak-bump")
	const mass, tyre, height, speed, h = 100.0, 1e10, 1e-5, 1.0, 1e-5
	car := quarterCar{ms: mass, mu: 100, ks: 4 * math.Pi * math.Pi * mass, kt: tyre}.car()
	for i := range car.Corners {
		car.Corners[i].Damper, car.Corners[i].DamperSlope = nil, nil
	}
	m := compiled(t, car)
	for _, r := range []struct{ duration, residual, greatest float64 }{
		{0.1, 0.396273548, math.NaN()},
		{0.25, 0.942809042, math.NaN()},
		{0.5, 1.570796327, math.NaN()},
		{0.75, 1.697056275, 1.763355757},
		{1.0, 1.333333333, 1.732050803},
		{1.5, 0, 1.5},
		{2.0, 0.533333333, 1.268075355},
	} {
		pulse := halfSine{0.2, r.duration * speed, height}
		var most, after float64
		var res ride.Result
		run := ride.Run{
			Left: pulse, Right: pulse, Speed: speed, Duration: 0.2 + r.duration + 1.1, Step: h, Event: true,
			Each: func(o *ride.Moment) {
				// The front axle is a quarter car of its own; the rear has not met the pulse yet.
				z := o.Heave - quarterBase/2*o.Pitch
				most = math.Max(most, math.Abs(z))
				if o.Time > 0.2+r.duration {
					after = math.Max(after, math.Abs(z))
				}
			},
		}
		if err := m.Simulate(context.Background(), run, &res); err != nil {
			t.Fatal(err)
		}
		if got := after / height; validation.Off(t, got, r.residual, 1e-6) {
			t.Errorf("td/Tn = %g: %.8f of the pulse is left; want %.8f", r.duration, got, r.residual)
		}
		if got := most / height; !math.IsNaN(r.greatest) && validation.Off(t, got, r.greatest, 1e-6) {
			t.Errorf("td/Tn = %g: greatest %.8f of the pulse; want %.8f", r.duration, got, r.greatest)
		}
	}
}
