package main

import (
	"math"

	"trunnion/chassis/ride"
)

// estate is an uneven road car with everything nonlinear in it, the one of the engine's own benchmarks; all numbers are
// invented. Its stops give back all they take, because a general solver has no place for a force that remembers.
func estate(mount float64) ride.Car {
	c := ride.Car{
		SprungMass: 1460, InertiaRoll: 470, InertiaPitch: 2140, CGToFront: 1.15, CGOffset: -0.03, RollArm: 0.47, PitchArm: 0.26,
		Wheelbase: 2.7, TrackFront: 1.556, TrackRear: 1.544,
		Bars:   [2]float64{8400, 4400},
		Points: []ride.FloorPoint{{Name: "driver", X: -1.3, Y: -0.37}, {Name: "rear left", X: -2.15, Y: 0.37}},
	}
	for i := range c.Corners {
		front := i < ride.RearLeft
		mu, k, load := 44.0, 26e3, 4050.0
		gas, friction := 150.0, 80.0
		r0, r1 := 0.955, 0.4
		low, knee, slope := 220.0, 0.09, 330.0
		if !front {
			mu, k, load = 41, 23e3, 3000
			gas, friction = 48, 45
			r0, r1 = 0.905, 0.2
			low, knee, slope = 150, 0.09, 270
		}
		travel := func(w float64) (x, r, drdw float64) { return w * (r0 + r1/2*w), r0 + r1*w, r1 }
		c.Corners[i] = ride.Corner{
			UnsprungMass: mu,
			Spring: func(w float64) (float64, float64) {
				x, r, drdw := travel(w)
				f := gas + 600*x
				return load + k*w + 60e3*w*w + r*f, k + 120e3*w + r*r*600 + drdw*f
			},
			DamperTravel: travel,
			Damper: func(v float64) float64 {
				if v < 0 {
					return 2.1 * (slope*v + low*math.Tanh(v/knee))
				}
				return slope*v + low*math.Tanh(v/knee)
			},
			DynoMin: -1.04, DynoMax: 1.04,
			Friction: friction,
			Stop: ride.Stop{
				TouchTravel: 0.044, TableEnd: 0.040, Loss: 0, Dynamic: 1.3,
				Force: func(x float64) (float64, float64) {
					e := math.Exp(x / 0.0105)
					return 150 * (e - 1), 150 / 0.0105 * e
				},
			},
			TopOut:         ride.TopOut{OpenTravel: -0.080, Stiffness: 400e3},
			MetalTravel:    0.086,
			MetalStiffness: 5e6,
			MountStiffness: mount,
			Tyre:           ride.Tyre{Rate: 225e3, RimTravel: 0.055},
		}
	}
	return c
}

// mountRate is the rubber mount of the car that has one. [N/m]
const mountRate = 500e3
