package stability

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"trunnion/reference/validation"
)

// caravan is an invented pair: a middling estate and a single-axle caravan.
func caravan() Pair {
	p := Pair{Car: loaded([2]float64{0.55}, [2]float64{})}
	p.Coupling = p.Car.ToRear + 1.1
	p.Trailer = Trailer{Mass: 1200, YawInertia: 2600, ToCG: 3.35, ToAxle: 3.6, Stiffness: 75e3}
	return p
}

// body is a rigid body in the plane: place, heading and their rates.
type body struct{ x, y, turn, vx, vy, rate float64 }

// twoBodies are car and trailer as two bodies in the plane with a pin between
// them: the accelerations of both and the pin's two forces are eight unknowns.
// Nothing is taken as small but the slip in the tyres' law. It is another
// statement of the same car, with none of the law's algebra.
func twoBodies(p *Pair, speed float64, car, trailer body) (a [6]float64) {
	b, t := p.Car.At(speed), &p.Trailer
	across := func(o *body, c, along float64) (fx, fy, moment float64) {
		// Velocity of the contact in the body's own directions; it rolls forward at
		// about the speed that is held.
		s, co := math.Sincos(o.turn)
		vx, vy := o.vx-o.rate*along*s, o.vy+o.rate*along*co
		side := -vx*s + vy*co
		f := -c * math.Atan2(side, vx*co+vy*s)
		return -f * s, f * co, f * along
	}
	var rhs [8]float64
	var m [8][8]float64
	add := func(row int, fx, fy, moment float64) {
		rhs[row] += fx
		rhs[row+1] += fy
		rhs[row+2] += moment
	}
	fx, fy, mo := across(&car, b.Front, b.ToFront)
	add(0, fx, fy, mo)
	fx, fy, mo = across(&car, b.Rear, -b.ToRear)
	add(0, fx, fy, mo)
	fx, fy, mo = across(&trailer, t.Stiffness, t.ToCG-t.ToAxle)
	add(3, fx, fy, mo)
	for i, mass := range [6]float64{b.Mass, b.Mass, b.YawInertia, t.Mass, t.Mass, t.YawInertia} {
		m[i][i] = mass
	}
	// The pin pushes the car with (X, Y), the trailer with the opposite.
	s1, c1 := math.Sincos(car.turn)
	s2, c2 := math.Sincos(trailer.turn)
	pin1x, pin1y := -p.Coupling*c1, -p.Coupling*s1 // from the car's centre
	pin2x, pin2y := t.ToCG*c2, t.ToCG*s2           // from the trailer's
	m[0][6], m[1][7] = -1, -1
	m[2][6], m[2][7] = pin1y, -pin1x
	m[3][6], m[4][7] = 1, 1
	m[5][6], m[5][7] = -pin2y, pin2x
	// Both ends of the pin have one acceleration.
	m[6][0], m[6][2], m[6][3], m[6][5] = 1, -pin1y, -1, pin2y
	m[7][1], m[7][2], m[7][4], m[7][5] = 1, pin1x, -1, -pin2x
	rhs[6] = car.rate*car.rate*pin1x - trailer.rate*trailer.rate*pin2x
	rhs[7] = car.rate*car.rate*pin1y - trailer.rate*trailer.rate*pin2y
	for k := range 8 { // elimination with pivots
		best := k
		for i := k; i < 8; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[best][k]) {
				best = i
			}
		}
		m[k], m[best], rhs[k], rhs[best] = m[best], m[k], rhs[best], rhs[k]
		for i := k + 1; i < 8; i++ {
			f := m[i][k] / m[k][k]
			for j := k; j < 8; j++ {
				m[i][j] -= f * m[k][j]
			}
			rhs[i] -= f * rhs[k]
		}
	}
	var x [8]float64
	for i := 7; i >= 0; i-- {
		x[i] = rhs[i]
		for j := i + 1; j < 8; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return [6]float64(x[:6])
}

// drive pushes the pair and returns the greatest angle of the trailer to the car
// of each half swing with its time.
func drive(p *Pair, speed, seconds float64) (peaks, times []float64) {
	const dt = 5e-4
	car := body{vx: speed, rate: 1e-3, vy: 1e-3}
	trailer := body{x: -p.Coupling - p.Trailer.ToCG, vx: speed, vy: 1e-3 - 1e-3*p.Coupling}
	step := func(b body, a []float64, h float64) body {
		return body{b.x + h*b.vx, b.y + h*b.vy, b.turn + h*b.rate, b.vx + h*a[0], b.vy + h*a[1], b.rate + h*a[2]}
	}
	last, before := 0.0, 0.0
	for k := range int(seconds / dt) {
		// The midpoint rule keeps a swing of a hertz to 1e-7 a cycle here.
		a := twoBodies(p, speed, car, trailer)
		mc, mt := step(car, a[:3], dt/2), step(trailer, a[3:], dt/2)
		a = twoBodies(p, speed, mc, mt)
		move := func(b, m body, a []float64) body {
			return body{b.x + dt*m.vx, b.y + dt*m.vy, b.turn + dt*m.rate, b.vx + dt*a[0], b.vy + dt*a[1], b.rate + dt*a[2]}
		}
		car, trailer = move(car, mc, a[:3]), move(trailer, mt, a[3:])
		now := trailer.turn - car.turn
		if (last-before)*(now-last) < 0 {
			// The top of the parabola through three points.
			curve := now - 2*last + before
			off := -0.5 * (now - before) / curve
			peaks = append(peaks, last-0.25*(now-before)*(now-before)/(2*curve))
			times = append(times, (float64(k)+off)*dt)
		}
		before, last = last, now
	}
	return peaks, times
}

// The least damped swing of the law is what two bodies with a pin between them do
// when they are driven: one that dies away, one near the speed where it is gone,
// one that grows.
func TestTrailerWeavesAsTwoBodiesDo(t *testing.T) {
	validation.Against(t, "Swing of car and trailer", validation.Derived, "two rigid bodies with a pin between them, driven", "weave-damping", "weave-frequency")
	p := caravan()
	for _, speed := range []float64{15, 25, 32, 38} {
		want := p.At(speed)
		peaks, times := drive(&p, speed, 14)
		if len(peaks) < 12 {
			t.Fatalf("only %d half swings at %.0f m/s", len(peaks), speed)
		}
		// The swings that the car's own yaw is out of.
		from, to := 6, min(len(peaks)-1, 12)
		growth := math.Log(math.Abs(peaks[to]/peaks[from])) / (times[to] - times[from])
		omega := math.Pi * float64(to-from) / (times[to] - times[from])
		damping, frequency := -growth/math.Hypot(growth, omega), math.Hypot(growth, omega)/(2*math.Pi)
		t.Logf("%.0f m/s: damping %.5f by the law, %.5f driven; %.5f and %.5f Hz", speed, want.Damping, damping, want.Frequency, frequency)
		loose := validation.Off(t, want.Damping, damping, 2e-5)
		if validation.Share(t, want.Frequency, frequency, 2e-5) || loose {
			t.Errorf("at %.0f m/s damping is %.5f and frequency %.5f Hz by the law, %.5f and %.5f Hz when driven", speed, want.Damping, want.Frequency, damping, frequency)
		}
	}
}

// A trailer behind a car that nothing moves is a pendulum on its tyres.
//
//	(I_t + m_t·e²)·γ'' + C_t·d²/V·γ' + C_t·d·γ = 0
//
// Source: moments about the coupling; D. Karnopp, Vehicle Stability, 2004, ch. 5,
// from memory.
func TestTrailerBehindAHeavyCar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := caravan()
		p.Car.Mass, p.Car.YawInertia = 1e9, 1e9
		p.Trailer.ToCG = rapid.Float64Range(2, 4).Draw(t, "centre of gravity")
		v := rapid.Float64Range(15, 40).Draw(t, "speed")
		tr := p.Trailer
		about := tr.YawInertia + tr.Mass*tr.ToCG*tr.ToCG
		omega := math.Sqrt(tr.Stiffness * tr.ToAxle / about)
		ratio := tr.Stiffness * tr.ToAxle * tr.ToAxle / v / (2 * about * omega)
		want := complex(-ratio*omega, omega*math.Sqrt(math.Abs(1-ratio*ratio)))
		if ratio > 1 {
			want = complex(-omega*(ratio-math.Sqrt(ratio*ratio-1)), 0)
		}
		if off := nearest(&p, v, want); off > 1e-4 {
			t.Errorf("no pole within %.2g 1/s of the pendulum's %.5g: %.5g", off, want, p.poles(v))
		}
	})
}

// nearest is how far the nearest pole of a pair is from one that is looked for.
func nearest(p *Pair, speed float64, want complex128) float64 {
	off := math.Inf(1)
	for _, pole := range p.poles(speed) {
		off = math.Min(off, cmplx.Abs(pole-want))
	}
	return off
}

// A trailer that weighs nothing leaves the car its own poles.
func TestTrailerOfNothing(t *testing.T) {
	p := caravan()
	p.Trailer.Mass, p.Trailer.YawInertia, p.Trailer.Stiffness = 1e-6, 1e-6, 1e-6
	b := p.Car.Response(30)
	if !b.Swings {
		t.Fatal("the car was to swing")
	}
	if off := nearest(&p, 30, complex(b.Poles[0], b.Poles[1])); off > 1e-5 {
		t.Errorf("the car's own pole %.6g and %.6g 1/s is %.2g off the nearest of the pair", b.Poles[0], b.Poles[1], off)
	}
}

// The speed at which the weave is gone: steady just below, growing just above;
// what every towing rule says moves it the right way: more weight on the coupling
// and less yaw inertia raise it.
func TestTrailerSpeed(t *testing.T) {
	p := caravan()
	v := p.Unstable(100)
	if math.IsInf(v, 1) {
		t.Fatal("the pair was to weave")
	}
	if low, high := p.At(0.999*v), p.At(1.001*v); !(low.Settling > 0 && high.Settling < 0) {
		t.Errorf("at 0.999 and 1.001 of %.2f m/s it settles at %.4g and %.4g 1/s", v, low.Settling, high.Settling)
	}
	nose, wide := p, p
	nose.Trailer.ToCG -= 0.15
	wide.Trailer.YawInertia *= 1.3
	if n, w := nose.Unstable(100), wide.Unstable(100); !(n > v && v > w) {
		t.Errorf("unstable from %.1f m/s; with more on the coupling %.1f, with more yaw inertia %.1f", v, n, w)
	}
	if s := p.Trailer.CouplingLoad(); math.Abs(s-1200*0.25/3.6) > 1e-9 {
		t.Errorf("%.3f kg on the coupling", s)
	}
}
