package roadtest

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"

	"trunnion/chassis/ride"
)

// What the road is recovered at. Chosen: below, doubled integration of what the model
// does not know runs away; above, the tyre's spring carries more noise than road.
const (
	fineRate = 400.0 // at least; forces are taken at it, because friction turns faster than a log is sampled [Hz]
	lowest   = 0.5   // [Hz]
	easing   = 0.3   // below it nothing is kept [Hz]
	topmost  = 20.0  // [Hz]
	edge     = 3.0   // left out at both ends of a piece, where the filter has not settled [s]
	smoothAt = 60.0  // travel is smoothed above it before its speed is taken [Hz]
)

// piece is a part of a log without gaps, at nearly one speed.
type piece struct {
	start  float64 // in the log [s]
	rate   float64 // [Hz]
	n      int
	travel [4][]float64 // of the damper from rest [m]
	rates  [4][]float64 // its speed [m/s]
	speed  []float64    // of the car [m/s]
	slow   []float64    // the same at coarse [m/s]
	behind []float64    // how far the rear axle is behind the front [s]
	more   []sensed
	logged float64      // rate of the log [Hz]
	raw    [4][]float64 // travel as logged [m]
	lost   [4][]bool    // samples that were not logged

	fft    *fourier.FFT
	size   int
	back   *fourier.FFT // to series at coarse
	thin   int          // samples to one of a series
	coarse float64      // [Hz]
	inner  [2]int       // samples that are looked at
	bases  [4]*basis
	gains  [4]float64
	zeros  [4]float64
	taper  []float64    // of the looked-at samples
	sides  [2][]float64 // the same with what was in the air left out, left and right
	eft    *fourier.FFT
	work   []float64        // of a transform
	loads  []float64        // of a corner
	slopes [][][]complex128 // of the errors by every input, whitened
	errors [][]complex128   // whitened
	from   int              // bins of the residual's transform that are looked at
	to     int
}

// sensed is an acceleration beside the travels.
type sensed struct {
	role   Role
	corner int
	values []float64 // [m/s²]
}

// geometry is where forces act on the body, and how heavy it all is.
type geometry struct {
	x, y      [4]float64 // of the wheels from the centre of gravity [m]
	mass      float64    // [kg]
	roll      float64    // [kg m²]
	pitch     float64    // [kg m²]
	topple    [2]float64 // what a lean adds to itself, roll and pitch [N m/rad]
	wheel     [4]float64 // [kg]
	tyre      [4]float64 // [N/m]
	damped    [4]float64 // [N s/m]
	bars      [2]float64 // [N/m]
	wheelbase float64    // [m]
}

func geometryOf(c *ride.Car, s *shift) geometry {
	g := geometry{mass: c.SprungMass * (1 + s.mass), roll: c.InertiaRoll * (1 + s.roll), pitch: c.InertiaPitch * (1 + s.pitch), bars: c.Bars, wheelbase: c.Wheelbase}
	ahead := c.CGToFront + s.balance
	track := [2]float64{c.TrackFront, c.TrackRear}
	for i := range 4 {
		a := i / 2
		g.x[i] = ahead - float64(a)*c.Wheelbase
		g.y[i] = track[a]/2 + c.TrackCentre[a] - c.CGOffset - float64(i%2)*track[a]
		g.wheel[i] = c.Corners[i].UnsprungMass * (1 + s.unsprung[a])
		g.tyre[i] = c.Corners[i].Tyre.Rate * (1 + s.tyre[a])
		g.damped[i] = c.Corners[i].Tyre.Damping
	}
	gravity := c.Gravity
	if gravity == 0 {
		gravity = 9.80665
	}
	g.topple = [2]float64{c.RollArm * g.mass * gravity, c.PitchArm * g.mass * gravity}
	return g
}

// smooth5 is the largest number up to n without a prime factor over five.
func smooth5(n int) int {
	for ; n > 1; n-- {
		k := n
		for _, p := range []int{2, 3, 5} {
			for k%p == 0 {
				k /= p
			}
		}
		if k == 1 && n%2 == 0 {
			return n
		}
	}
	return 2
}

// ready makes what every recovery of the piece needs.
func (p *piece) ready(wheelbase float64) {
	p.size = 1
	for p.size < p.n {
		p.size *= 2
	}
	p.fft = fourier.NewFFT(p.size)
	p.thin = 1
	if p.rate >= fineRate {
		p.thin = 2
	}
	p.back, p.coarse = fourier.NewFFT(p.size/p.thin), p.rate/float64(p.thin)
	for k := 0; k < p.n; k += p.thin {
		p.slow = append(p.slow, p.speed[k])
	}
	p.behind = delays(p.slow, p.coarse, wheelbase)
	longest := 0.0
	for _, d := range p.behind {
		longest = math.Max(longest, d)
	}
	first, last := int((edge+longest)*p.coarse)+2, len(p.slow)-int(edge*p.coarse)-2
	m := smooth5(max(last-first, 2))
	p.inner = [2]int{first, first + m}
	p.eft = fourier.NewFFT(m)
	p.taper = make([]float64, m)
	ease := max(m/20, 1)
	for k := range p.taper {
		d := min(k, m-1-k)
		p.taper[k] = 1
		if d < ease {
			p.taper[k] = 0.5 - 0.5*math.Cos(math.Pi*(float64(d)+0.5)/float64(ease))
		}
	}
	p.sides = [2][]float64{p.taper, p.taper}
	p.from = int(math.Ceil(lowest * float64(m) / p.coarse))
	p.to = int(math.Min(topmost, 0.35*p.coarse) * float64(m) / p.coarse)
}

// kept is the share of the information that stays behind the tapers: (Σw²)²/(n·Σw⁴).
func (p *piece) kept() float64 {
	two, four := 0.0, 0.0
	for _, taper := range p.sides {
		for _, w := range taper {
			two, four = two+w*w, four+w*w*w*w
		}
	}
	if four == 0 {
		return 0
	}
	return two * two / four / float64(2*len(p.taper))
}

// long reports a piece that is long enough to be looked at.
func (p *piece) long() bool { return p.inner[1]-p.inner[0] > int(4*p.coarse) }

// delays are how long ago the front axle was where the rear is [s].
func delays(speed []float64, rate, wheelbase float64) []float64 {
	out := make([]float64, len(speed))
	way := make([]float64, len(speed))
	for k := 1; k < len(way); k++ {
		way[k] = way[k-1] + (speed[k]+speed[k-1])/2/rate
	}
	i := 0
	for k := range out {
		want := way[k] - wheelbase
		if want < 0 {
			out[k] = wheelbase / math.Max(speed[k], 1)
			continue
		}
		for i+1 < k && way[i+1] <= want {
			i++
		}
		f := 0.0
		if d := way[i+1] - way[i]; d > 0 {
			f = (want - way[i]) / d
		}
		out[k] = (float64(k) - float64(i) - f) / rate
	}
	return out
}

// eased is the high-pass of the recovery: nothing below easing, all above lowest.
func eased(f float64) float64 {
	switch {
	case f <= easing:
		return 0
	case f >= lowest:
		return 1
	}
	return 0.5 - 0.5*math.Cos(math.Pi*(f-easing)/(lowest-easing))
}

// transform takes a series with tapered ends to its spectrum.
func (p *piece) transform(values []float64, work []float64) []complex128 {
	mean := 0.0
	for _, v := range values {
		mean += v
	}
	mean /= float64(len(values))
	ease := int(p.rate)
	for k := range work {
		work[k] = 0
		if k < len(values) {
			d := min(k, len(values)-1-k)
			t := 1.0
			if d < ease {
				t = 0.5 - 0.5*math.Cos(math.Pi*(float64(d)+0.5)/float64(ease))
			}
			work[k] = (values[k] - mean) * t
		}
	}
	return p.fft.Coefficients(nil, work)
}

// moved is a piece put through the model: spectra of wheel travel and force, corner by corner.
type moved struct {
	travel, force [4][]complex128
}

// basisAt returns a corner's basis for a gain and a zero.
func (p *piece) basisAt(legs *[4]leg, i int, s *shift) *basis {
	if p.bases[i] == nil || p.gains[i] != s.gain[i] || p.zeros[i] != s.zero[i] {
		p.bases[i] = legs[i].basisOf(p.travel[i], p.rates[i], s.gain[i], s.zero[i], p.rate)
		p.gains[i], p.zeros[i] = s.gain[i], s.zero[i]
	}
	return p.bases[i]
}

// spectra puts corner i of a piece through the model.
func (p *piece) spectra(legs *[4]leg, s *shift, i int, keep bool) (travel, force []complex128) {
	var b *basis
	if keep {
		b = p.basisAt(legs, i, s)
	} else if b = p.bases[i]; b == nil || p.gains[i] != s.gain[i] || p.zeros[i] != s.zero[i] {
		b = legs[i].basisOf(p.travel[i], p.rates[i], s.gain[i], s.zero[i], p.rate)
	}
	p.room()
	travel = p.transform(b.w, p.work)
	force = p.transform(legs[i].force(b, s, i, p.loads), p.work)
	return travel, force
}

// forces puts the force of corner i through the model, whose travel is as it was.
func (p *piece) forces(legs *[4]leg, s *shift, i int) []complex128 {
	p.room()
	return p.transform(legs[i].force(p.basisAt(legs, i, s), s, i, p.loads), p.work)
}

// room makes what is written over again and again.
func (p *piece) room() {
	if len(p.work) != p.size {
		p.work, p.loads = make([]float64, p.size), make([]float64, p.n)
	}
}

// recovered is the road under the four wheels and what the body does, as spectra.
type recovered struct {
	road [4][]complex128 // [m]
	body [4][]complex128 // over each wheel [m]
	hub  [4][]complex128 // [m]
}

// recover takes the road out of travels and forces:
//
//	body    m·z″ = ΣF,  I_θ·θ″ = W·h_θ·θ − Σx·F,  I_φ·φ″ = W·h_φ·φ + Σy·F,   b_i = z − x_i·θ + y_i·φ
//	wheel   u_i = w_i + b_i,   T_i = F_i + m_u·u_i″
//	road    z_i = u_i + T_i/(k + iωc)
//
// with the bars in F. No road is needed for it, and no spring rate is assumed that the
// build does not have. Source: the equations of motion of package ride, solved for the
// road; derived here.
func (p *piece) recover(g *geometry, m *moved) recovered {
	var out recovered
	half := p.size/2 + 1
	for i := range 4 {
		out.road[i], out.body[i], out.hub[i] = make([]complex128, half), make([]complex128, half), make([]complex128, half)
	}
	last := int(math.Min(topmost*1.5, 0.5*p.coarse) * float64(p.size) / p.rate)
	for k := 1; k < min(half, last); k++ {
		f := float64(k) * p.rate / float64(p.size)
		pass := eased(f)
		if f > topmost { // eased out, so that no ripple stays
			pass *= math.Max(0, 1-(f-topmost)/(topmost*0.5))
		}
		if pass == 0 {
			continue
		}
		w := 2 * math.Pi * f
		w2 := complex(w*w, 0)
		var force [4]complex128
		for i := range 4 {
			bar := complex(g.bars[i/2], 0) * (m.travel[i][k] - m.travel[i^1][k])
			force[i] = m.force[i][k] + bar
		}
		var z, theta, phi complex128
		for i := range 4 {
			z += force[i]
			theta -= complex(g.x[i], 0) * force[i]
			phi += complex(g.y[i], 0) * force[i]
		}
		z /= -w2 * complex(g.mass, 0)
		theta /= complex(-w*w*g.pitch-g.topple[1], 0)
		phi /= complex(-w*w*g.roll-g.topple[0], 0)
		for i := range 4 {
			b := z - complex(g.x[i], 0)*theta + complex(g.y[i], 0)*phi
			u := m.travel[i][k] + b
			tyre := force[i] - w2*complex(g.wheel[i], 0)*u
			out.road[i][k] = (u + tyre/complex(g.tyre[i], w*g.damped[i])) * complex(pass, 0)
			out.body[i][k], out.hub[i][k] = b*complex(pass, 0), u*complex(pass, 0)
		}
	}
	return out
}

// series takes a spectrum back to time.
func (p *piece) series(spectrum []complex128) []float64 {
	out := p.back.Sequence(nil, spectrum[:p.size/p.thin/2+1])
	for k := range out {
		out[k] /= float64(p.size)
	}
	return out[:len(p.slow)]
}

// accelerated is the second derivative of a spectrum.
func (p *piece) accelerated(spectrum []complex128) []complex128 {
	out := make([]complex128, len(spectrum))
	for k := range out {
		w := 2 * math.Pi * float64(k) * p.rate / float64(p.size)
		out[k] = spectrum[k] * complex(-w*w, 0)
	}
	return out
}

// at reads a series between its samples by the cubic through four of them.
func at(values []float64, x float64) float64 {
	i := int(math.Floor(x))
	if i < 1 || i+2 >= len(values) {
		return values[min(max(i, 0), len(values)-1)]
	}
	t := x - float64(i)
	a, b, c, d := values[i-1], values[i], values[i+1], values[i+2]
	return -t*(t-1)*(t-2)/6*a + (t+1)*(t-1)*(t-2)/2*b - (t+1)*t*(t-2)/2*c + (t+1)*t*(t-1)/6*d
}

// residuals are what a right model leaves nothing of, each tapered and transformed: the
// road that the rear wheels meet less what the front wheels met there, left and right;
// measured accelerations less those of the model.
func (p *piece) residuals(r *recovered, s *shift) [][]complex128 {
	first, last := p.inner[0], p.inner[1]
	work := make([]float64, last-first)
	// A gain that makes all travel small makes its noise small too, which is no better model: errors of the road count
	// against the road.
	size := 1 + (s.gain[0]+s.gain[1]+s.gain[2]+s.gain[3])/4
	var out [][]complex128
	put := func(taper []float64, value func(k int) float64) {
		for k := first; k < last; k++ {
			work[k-first] = value(k) * taper[k-first]
		}
		all := p.eft.Coefficients(nil, work)
		out = append(out, all[p.from:p.to])
	}
	for side := range 2 {
		front, rear := p.series(r.road[side]), p.series(r.road[2+side])
		put(p.sides[side], func(k int) float64 {
			return (rear[k] - at(front, float64(k)-(p.behind[k]+s.delay)*p.coarse)) / size
		})
	}
	for _, c := range p.more {
		of := &r.body
		if c.role == Hub {
			of = &r.hub
		}
		model := p.series(p.accelerated(of[c.corner]))
		put(p.taper, func(k int) float64 { return c.values[k*p.thin] - model[k] })
	}
	return out
}
