package ride

import (
	"math"
	"math/rand/v2"
)

// linearSpring carries load at w = 0.
func linearSpring(load, rate float64) Curve {
	return func(w float64) (float64, float64) { return load + rate*w, rate }
}

// quarter is a car whose front and rear are two independent quarter cars as long as left and right do the same: the
// pitch radius is half the wheelbase (dynamic index 1) and the axles share the mass equally.
type quarter struct{ sprung, unsprung, spring, tyre, damper float64 }

var (
	setA = quarter{250, 45, 16000, 160000, 1000}
	setC = quarter{350, 40, 40000, 220000, 2500}
)

func (q quarter) car() Car {
	const base, track = 2.6, 1.5
	c := Car{
		SprungMass: 4 * q.sprung, InertiaPitch: 4 * q.sprung * base * base / 4, InertiaRoll: 4 * q.sprung * track * track / 4,
		CGToFront: base / 2, Wheelbase: base, TrackFront: track, TrackRear: track,
		Points: []FloorPoint{{"front axle", 0, 0}},
	}
	for i := range c.Corners {
		c.Corners[i] = Corner{
			UnsprungMass: q.unsprung,
			Spring:       linearSpring(q.sprung*standardGravity, q.spring),
			Damper:       func(v float64) float64 { return q.damper * v },
			DamperSlope:  func(float64) float64 { return q.damper },
			Tyre:         Tyre{Rate: q.tyre},
		}
	}
	return c
}

// estate is an uneven road car with everything nonlinear in it: digressive dampers, friction, stops, top-outs, motion
// ratios that change, bars, a mass that sits to one side. All numbers are invented.
func estate() Car {
	c := Car{
		SprungMass: 1460, InertiaRoll: 470, InertiaPitch: 2140, CGToFront: 1.15, CGOffset: -0.03, RollArm: 0.47, PitchArm: 0.26,
		Wheelbase: 2.7, TrackFront: 1.556, TrackRear: 1.544,
		Bars:   [2]float64{8400, 4400},
		Points: []FloorPoint{{"driver", -1.3, -0.37}, {"rear left", -2.15, 0.37}},
	}
	for i := range c.Corners {
		front := i < RearLeft
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
		c.Corners[i] = Corner{
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
			Stop: Stop{
				TouchTravel: 0.044, TableEnd: 0.040, Loss: 0.25, Dynamic: 1.3,
				Force: func(x float64) (float64, float64) {
					e := math.Exp(x / 0.0105)
					return 150 * (e - 1), 150 / 0.0105 * e
				},
			},
			TopOut:      TopOut{OpenTravel: -0.080, Stiffness: 400e3},
			MetalTravel: 0.086, MetalStiffness: 5e6,
			Tyre: Tyre{Rate: 225e3, RimTravel: 0.055},
		}
	}
	return c
}

// wavy is a random road of sines with the −2 slope of a spectrum: coarse enough for tests, repeatable.
type wavy struct {
	amplitude, wave, phase []float64
}

// newWavy gives a road with about the roughness gd [m³] at 0.1 cycle/m between 0.02 and 3 cycle/m.
func newWavy(seed uint64, gd float64, lines int) *wavy {
	r := rand.New(rand.NewPCG(seed, 7))
	w := new(wavy)
	low, high := 0.02, 3.0
	for i := range lines {
		a, b := low*math.Pow(high/low, float64(i)/float64(lines)), low*math.Pow(high/low, float64(i+1)/float64(lines))
		n := a + (b-a)*r.Float64()
		w.amplitude = append(w.amplitude, math.Sqrt(2*gd*0.01/(n*n)*(b-a)))
		w.wave = append(w.wave, 2*math.Pi*n)
		w.phase = append(w.phase, 2*math.Pi*r.Float64())
	}
	return w
}

func (w *wavy) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		x, z := x0+float64(k)*dx, 0.0
		for i, a := range w.amplitude {
			z += a * math.Sin(w.wave[i]*x+w.phase[i])
		}
		dst[k] = z
	}
}

// pit is a smooth dip (depth > 0) or hump (depth < 0) of a given length starting at x = start.
type pit struct{ start, length, depth float64 }

func (p pit) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		x := (x0 + float64(k)*dx - p.start) / p.length
		dst[k] = 0
		if x > 0 && x < 1 {
			dst[k] = -p.depth / 2 * (1 - math.Cos(2*math.Pi*x))
		}
	}
}

// quick is wavy sampled finely once, read back by straight lines and repeated for ever: for benchmarks.
type quick struct {
	step float64
	z    []float64
}

func newQuick(w Track, length, step float64) *quick {
	q := &quick{step, make([]float64, int(length/step)+2)}
	w.Sample(q.z, -5, step)
	return q
}

func (q *quick) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		u := math.Mod((x0+5+float64(k)*dx)/q.step, float64(len(q.z)-1))
		i := int(u)
		u -= float64(i)
		dst[k] = q.z[i] + u*(q.z[i+1]-q.z[i])
	}
}
