package roadtest

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
)

// estate is an uneven road car with digressive dampers, friction, stops, changing motion
// ratios and bars. All its numbers are invented.
func estate() ride.Car {
	c := ride.Car{
		SprungMass: 1460, InertiaRoll: 470, InertiaPitch: 2140, CGToFront: 1.15, CGOffset: -0.03, RollArm: 0.47, PitchArm: 0.26,
		Wheelbase: 2.7, TrackFront: 1.556, TrackRear: 1.544, Bars: [2]float64{8400, 4400}, Rest: &[4]float64{},
	}
	for i := range c.Corners {
		mu, k, load, friction, r0, r1, low, slope := 44.0, 42e3, 4050.0, 90.0, 0.955, 0.4, 320.0, 900.0
		if i >= ride.RearLeft {
			mu, k, load, friction, r0, r1, low, slope = 41, 38e3, 3000, 60, 0.905, 0.2, 260, 800
		}
		travel := func(w float64) (x, r, drdw float64) { return w * (r0 + r1/2*w), r0 + r1*w, r1 }
		c.Corners[i] = ride.Corner{
			UnsprungMass: mu,
			Spring:       func(w float64) (float64, float64) { return load + k*w + 60e3*w*w, k + 120e3*w },
			DamperTravel: travel,
			Damper: func(v float64) float64 {
				f := slope*v + low*math.Tanh(v/0.09)
				if v < 0 {
					f *= 2
				}
				return f
			},
			Friction: friction,
			Stop: ride.Stop{
				TouchTravel: 0.030, TableEnd: 0.040, Loss: 0.25, Dynamic: 1.3,
				Force: func(x float64) (float64, float64) {
					e := math.Exp(x / 0.0105)
					return 150 * (e - 1), 150 / 0.0105 * e
				},
			},
			TopOut:      ride.TopOut{OpenTravel: -0.080, Stiffness: 400e3},
			MetalTravel: 0.086, MetalStiffness: 5e6,
			Tyre: ride.Tyre{Rate: 225e3},
		}
	}
	return stands(c)
}

// stands gives a car the rest that it has.
func stands(c ride.Car) ride.Car {
	c.Rest = nil
	m, err := ride.Compile(c)
	if err != nil {
		panic(err)
	}
	rest := m.Rest().Travel
	c.Rest = &rest
	return c
}

// with is a car with a shift of its inputs.
func with(c ride.Car, s *shift) ride.Car {
	c.SprungMass *= 1 + s.mass
	c.InertiaRoll *= 1 + s.roll
	c.InertiaPitch *= 1 + s.pitch
	c.CGToFront += s.balance
	for i := range c.Corners {
		k := &c.Corners[i]
		spring, damper := k.Spring, k.Damper
		more, bump, rebound := s.spring[i], s.bump[i], s.rebound[i]
		k.Spring = func(w float64) (float64, float64) {
			at, _ := spring(0)
			f, d := spring(w)
			return at + (f-at)*(1+more), d * (1 + more)
		}
		k.Damper = func(v float64) float64 {
			if v > 0 {
				return damper(v) * (1 + bump)
			}
			return damper(v) * (1 + rebound)
		}
		k.Friction += s.friction[i]
		k.Stop.TouchTravel += s.gap[i]
		k.Tyre.Rate *= 1 + s.tyre[i/2]
		k.UnsprungMass *= 1 + s.unsprung[i/2]
	}
	was := *c.Rest
	c = stands(c)
	for i := range c.Corners { // gaps are counted from where the car stands
		x, _, _ := c.Corners[i].DamperTravel(c.Rest[i])
		x0, _, _ := c.Corners[i].DamperTravel(was[i])
		c.Corners[i].Stop.TouchTravel += x - x0
	}
	return c
}

// drawn are draws of an estate's inputs as a workshop knows them.
func drawnEstates(n int) []ride.Car {
	r := rand.New(rand.NewPCG(5, 6))
	var out []ride.Car
	for range n {
		s := nuisance(r)
		out = append(out, with(estate(), &s))
	}
	return out
}

// nuisance draws what a log is not asked for: half-widths of 95 % as of a weighed car.
func nuisance(r *rand.Rand) shift {
	d := func(half float64) float64 { return half / 1.96 * r.NormFloat64() }
	return shift{
		mass: d(0.01), roll: d(0.2), pitch: d(0.15), balance: d(0.01),
		tyre: [2]float64{d(0.12), d(0.12)}, unsprung: [2]float64{d(0.1), d(0.1)},
	}
}

// sensor is how a travel channel is logged.
type sensor struct {
	rate, step, noise, drift float64
	dropped                  float64 // share
	gain                     [4]float64
	zero                     [4]float64 // how far off the zero is [m]
}

func usualSensor() sensor {
	return sensor{rate: 200, step: 0.150 / 4096, noise: 0.02e-3, gain: [4]float64{1, 1, 1, 1}}
}

// driven drives a car over a random road with humps and logs it.
func driven(t testing.TB, c ride.Car, roughness, speed, duration float64, seed uint64, by sensor) *Log {
	t.Helper()
	g, err := road.NewGenerator(road.UsualRoad(road.Spectrum{Roughness: roughness, Waviness: 2}, speed*duration+40))
	if err != nil {
		t.Fatal(err)
	}
	p := g.Generate(seed)
	hump, err := road.RoundHump(0.05, 3.7)
	if err != nil {
		t.Fatal(err)
	}
	p = p.With(hump, speed*duration*0.4).With(hump, speed*duration*0.7)
	p, err = p.Averaged(0.12)
	if err != nil {
		t.Fatal(err)
	}
	m, err := ride.Compile(c)
	if err != nil {
		t.Fatal(err)
	}
	left, right := ride.Tracks(&p)
	r := rand.New(rand.NewPCG(seed, 99))
	l := &Log{Zero: AtRest}
	for i := range 4 {
		l.Channels = append(l.Channels, Channel{Name: "travel", Role: Travel, Corner: i, Rate: by.rate})
	}
	l.Channels = append(l.Channels, Channel{Name: "speed", Role: Speed, Corner: -1, Rate: by.rate})
	rest := m.Rest().Travel
	gap := 0
	var res ride.Result
	run := ride.Run{Left: left, Right: right, Speed: speed, Duration: duration, Settle: 1, Step: 1 / by.rate / 5, Every: 5, Each: func(now *ride.Moment) {
		if gap == 0 && r.Float64() < by.dropped/4 {
			gap = 4
		}
		for i := range 4 {
			x, _, _ := c.Corners[i].DamperTravel(now.Travel[i])
			x0, _, _ := c.Corners[i].DamperTravel(rest[i])
			v := by.gain[i]*(x-x0) + by.zero[i] + by.noise*r.NormFloat64() + by.drift*now.Time/duration
			v = math.Round(v/by.step) * by.step
			if gap > 0 {
				v = math.NaN()
			}
			l.Channels[i].Values = append(l.Channels[i].Values, v)
		}
		gap = max(gap-1, 0)
		l.Channels[4].Values = append(l.Channels[4].Values, speed)
	}}
	if err := m.Simulate(context.Background(), run, &res); err != nil {
		t.Fatal(err)
	}
	return l
}
