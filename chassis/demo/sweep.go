package demo

import (
	"fmt"
	"math"
	"math/rand/v2"

	"trunnion/chassis/dyno"
	"trunnion/chassis/part"
)

// SweptDamper is an invented damper as a dynamometer meets it.
type SweptDamper struct {
	Knee, Tail [2]float64 // bump and rebound, fully open: force of the bleed [N], slope past the knee [N s/m]
	Corner     float64    // speed of the knee [m/s]
	Clicks     int        // from closed to open
	Stiffer    float64    // closed over open, less 1 [-]
	Dead       int        // click that is the same as the next softer one; 0: none
	Scale      float64    // on all forces; 0: 1 [-]
	Gas        part.Gas
	Friction   float64 // [N]
	Lag        float64 // of the force behind the speed, first order [s]
	Air        float64 // share of the stroke after each reversal without force [-]
	Fade       float64 // share of force lost each kelvin over 313 K [1/K]
}

// Machine is an invented crank machine with a sine.
type Machine struct {
	Stroke  float64 // end to end [m]
	Samples int     // each turn
	Noise   float64 // of the load cell, standard deviation [N]
}

// SweepSpeeds are the eight peak speeds of the invented sweeps [m/s].
var SweepSpeeds = [8]float64{0.025, 0.05, 0.13, 0.26, 0.39, 0.52, 0.78, 1.04}

// KitDampers are the four dampers of the invented kit in the order of the corners:
// click 8 of the front left does what click 9 does, and the rear left is 9 % firmer
// than the rear right.
func KitDampers() [4]SweptDamper {
	front := SweptDamper{
		Knee: [2]float64{150, 330}, Tail: [2]float64{760, 1160}, Corner: 0.07, Clicks: 15, Stiffer: 2.2, Friction: 118, Lag: 0.0006, Fade: 0.0022,
		Gas: part.Gas{Pressure: 19.2e5, Volume: 95e-6, Area: math.Pi / 4 * 0.016 * 0.016, Exponent: 1.25},
	}
	rear := SweptDamper{
		Knee: [2]float64{105, 265}, Tail: [2]float64{650, 1060}, Corner: 0.08, Clicks: 15, Stiffer: 2.3, Friction: 61, Lag: 0.0005, Fade: 0.0022,
		Gas: part.Gas{Pressure: 16.3e5, Volume: 90e-6, Area: math.Pi / 4 * 0.014 * 0.014, Exponent: 1.25},
	}
	list := [4]SweptDamper{front, front, rear, rear}
	list[0].Dead, list[1].Scale, list[2].Scale = 8, 1.012, 1.09
	return list
}

// Force is the damping force [N], positive in both strokes, at a speed [m/s], click and
// temperature [K]: a bleed that closes with the click, and a straight line past it.
//
//	F = A·(1 + s·((N−n)/N)^1.6)·(1 − exp(−v/v_0)) + c·v
func (d *SweptDamper) Force(stroke dyno.Stroke, speed float64, click int, temperature float64) float64 {
	k := 0
	if stroke == dyno.Rebound {
		k = 1
	}
	if d.Dead > 0 && click == d.Dead {
		click++
	}
	closing := math.Pow(float64(d.Clicks-click)/float64(max(d.Clicks, 1)), 1.6)
	scale := d.Scale
	if scale == 0 {
		scale = 1
	}
	return scale * (1 - d.Fade*(temperature-313.15)) * (d.Knee[k]*(1+d.Stiffer*closing)*(1-math.Exp(-speed/d.Corner)) + d.Tail[k]*speed)
}

// Loop is one turn of the machine at a peak speed [m/s], a click and a temperature [K].
func (d *SweptDamper) Loop(m Machine, speed float64, click int, temperature float64, draw *rand.Rand) dyno.Run {
	r := dyno.Run{Setting: dyno.Setting{click}, Temperature: temperature, From: fmt.Sprintf("click %d, %.3f m/s, %.0f K", click, speed, temperature)}
	w := 2 * speed / m.Stroke
	dt := 2 * math.Pi / w / float64(m.Samples)
	force, gone, last := 0.0, 0.0, -0.5*m.Stroke
	for i := range 2 * m.Samples { // the first turn lets the lag settle
		t := float64(i) * dt
		x, v := -0.5*m.Stroke*math.Cos(w*t), speed*math.Sin(w*t)
		if i%m.Samples == 0 {
			x, v = -0.5*m.Stroke, 0
		}
		stroke := dyno.Bump
		if v < 0 {
			stroke = dyno.Rebound
		}
		if was := x - last; was*v < 0 || v == 0 {
			gone = 0
		}
		gone += math.Abs(x - last)
		last = x
		want := math.Copysign(d.Force(stroke, math.Abs(v), click, temperature), v)
		if gone < d.Air*m.Stroke {
			want = 0
		}
		if d.Lag > 0 {
			force += (want - force) * (1 - math.Exp(-dt/d.Lag))
		} else {
			force = want
		}
		if i < m.Samples {
			continue
		}
		push, _ := d.Gas.At(x)
		r.Time, r.Position, r.Velocity = append(r.Time, t), append(r.Position, x), append(r.Velocity, v)
		r.Force = append(r.Force, force+push+math.Copysign(d.Friction, v)+m.Noise*draw.NormFloat64())
	}
	return r
}

// SlowRun is a triangle at a constant speed [m/s] at a click.
func (d *SweptDamper) SlowRun(m Machine, speed float64, click int, temperature float64, draw *rand.Rand) dyno.Run {
	r := dyno.Run{Setting: dyno.Setting{click}, Temperature: temperature, Slow: true, From: fmt.Sprintf("slow run, click %d", click)}
	dt := 2 * m.Stroke / speed / float64(m.Samples)
	for i := range m.Samples {
		share := float64(i) / float64(m.Samples)
		x, v, stroke := m.Stroke*(2*share-0.5), speed, dyno.Bump
		if share >= 0.5 {
			x, v, stroke = m.Stroke*(1.5-2*share), -speed, dyno.Rebound
		}
		push, _ := d.Gas.At(x)
		f := push + math.Copysign(d.Friction+d.Force(stroke, speed, click, temperature), v) + m.Noise*draw.NormFloat64()
		r.Time, r.Position, r.Velocity, r.Force = append(r.Time, float64(i)*dt), append(r.Position, x), append(r.Velocity, v), append(r.Force, f)
	}
	return r
}

// GasRun is the damper held still at places along the stroke.
func (d *SweptDamper) GasRun(m Machine, draw *rand.Rand) dyno.Run {
	r := dyno.Run{Temperature: math.NaN(), Gas: true, From: "gas run"}
	for i := range 21 {
		x := m.Stroke * (float64(i)/20 - 0.5)
		push, _ := d.Gas.At(x)
		r.Position, r.Force = append(r.Position, x), append(r.Force, push+m.Noise*draw.NormFloat64())
	}
	return r
}
