package clickmap

import (
	"math"
	"testing"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
	"trunnion/chassis/route"
)

// twin is a symmetric car of straight lines, with dampers of each side of an axle.
type twin struct {
	sprung, unsprung, roll, pitch, base, track, spring, tyre float64
	damper                                                   [4]float64
}

func plain() twin {
	return twin{sprung: 1200, unsprung: 40, roll: 450, pitch: 1900, base: 2.6, track: 1.5, spring: 25e3, tyre: 200e3, damper: [4]float64{1800, 1800, 1700, 1700}}
}

func (w *twin) car() ride.Car {
	c := ride.Car{
		SprungMass: w.sprung, InertiaRoll: w.roll, InertiaPitch: w.pitch, CGToFront: w.base / 2, Wheelbase: w.base, TrackFront: w.track, TrackRear: w.track,
		Points: []ride.FloorPoint{{Name: "middle", X: -w.base / 2}},
	}
	for i := range c.Corners {
		load, damper := w.sprung*9.80665/4, w.damper[i]
		c.Corners[i] = ride.Corner{
			UnsprungMass: w.unsprung, Tyre: ride.Tyre{Rate: w.tyre},
			Spring: func(x float64) (float64, float64) { return load + w.spring*x, w.spring },
			Damper: func(v float64) float64 { return damper * v },
		}
	}
	return c
}

// rates are the equations of motion about rest, written down here anew from Newton and
// Euler: body heave, pitch (nose down) and roll (left side up), four wheels; then their
// speeds.
func (w *twin) rates(x *[14]float64, height [4]float64) (d [14]float64, tyre [4]float64) {
	copy(d[:7], x[7:])
	half, arm := w.track/2, w.base/2
	for i := range 4 {
		front, left := 1.0, 1.0
		if i >= 2 {
			front = -1
		}
		if i&1 == 1 {
			left = -1
		}
		body := func(q []float64) float64 { return q[0] - front*arm*q[1] + left*half*q[2] }
		force := w.spring*(x[3+i]-body(x[:7])) + w.damper[i]*(x[10+i]-body(x[7:]))
		tyre[i] = w.tyre * (height[i] - x[3+i])
		d[7] += force / w.sprung
		d[8] -= front * arm * force / w.pitch
		d[9] += left * half * force / w.roll
		d[10+i] = (tyre[i] - force) / w.unsprung
	}
	return d, tyre
}

// leans drives the twin over an obstacle by Runge and Kutta's method of fourth order and
// returns its greatest lean and its greatest left less right tyre load at the rear.
func (w *twin) leans(t *testing.T, over *route.Obstacle) (lean, load float64) {
	t.Helper()
	const h = 2e-4
	p, err := over.Lay(1e-3)
	if err != nil {
		t.Fatal(err)
	}
	duration := over.Duration(&p, w.base)
	course := make([]float64, int(2*duration/h)+3) // in half steps, under the front axle
	left, _ := ride.Tracks(&p)
	left.Sample(course, 0, over.Speed*h/2)
	behind := int(math.Round(w.base / over.Speed / (h / 2)))
	at := func(k int) (out [4]float64) {
		out[0], out[1] = course[k], course[k]
		if k >= behind {
			out[2], out[3] = course[k-behind], course[k-behind]
		}
		return out
	}
	var x [14]float64
	move := func(d *[14]float64, by float64) *[14]float64 {
		y := x
		for i := range y {
			y[i] += by * d[i]
		}
		return &y
	}
	for k := 0; k+2 < len(course); k += 2 {
		a, tyre := w.rates(&x, at(k))
		lean, load = math.Max(lean, math.Abs(x[2])), math.Max(load, math.Abs(tyre[2]-tyre[3]))
		b, _ := w.rates(move(&a, h/2), at(k+1))
		c, _ := w.rates(move(&b, h/2), at(k+1))
		d, _ := w.rates(move(&c, h), at(k+2))
		for i := range x {
			x[i] += h / 6 * (a[i] + 2*b[i] + 2*c[i] + d[i])
		}
	}
	return lean, load
}

// A symmetric car does not lean over a hump that is the same under both sides; with the
// rear dampers 9 % apart it leans as the same equations solved here by another method say
// (Kutta 1901, fourth order, steps of 0.2 ms), and with both at their mean not at all.
func TestUnlikeDampersLeanTheCar(t *testing.T) {
	hump, err := road.RoundHump(0.02, 3)
	if err != nil {
		t.Fatal(err)
	}
	over := route.Obstacle{Name: "round-hump-20", Event: hump, Speed: 30 / 3.6}
	same := plain()
	got, err := parted(t.Context(), same.car(), 1, &over)
	if err != nil {
		t.Fatal(err)
	}
	if got.Roll > 1e-9 || got.ByDampers > 1e-9 || got.Load > 1e-3 {
		t.Errorf("a pair leans a symmetric car: %+v", got)
	}
	for _, apart := range []float64{0.09, -0.09, 0.4} {
		w := plain()
		w.damper[2] *= 1 + apart/2
		w.damper[3] *= 1 - apart/2
		got, err := parted(t.Context(), w.car(), 1, &over)
		if err != nil {
			t.Fatal(err)
		}
		lean, load := w.leans(t, &over)
		t.Logf("%+.0f %%: lean %.5f deg against %.5f, load %.2f N against %.2f", 100*apart, got.ByDampers*180/math.Pi, lean*180/math.Pi, got.Load, load)
		if math.Abs(got.ByDampers/lean-1) > 0.01 || math.Abs(got.Load/load-1) > 0.01 {
			t.Errorf("%+.0f %% apart: lean %.3g, load %.4g N; solved apart %.3g, %.4g N", 100*apart, got.ByDampers, got.Load, lean, load)
		}
		if got.Even > 1e-9 || math.Abs(got.Roll-got.ByDampers) > 1e-9 {
			t.Errorf("%+.0f %% apart: with both at their mean it leans: %+v", 100*apart, got)
		}
	}
}
