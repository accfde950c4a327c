package roadtest

import (
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"sync"

	"trunnion/chassis/ride"
)

// What reading a log costs the answer is found by logs whose truth is known: the car that
// was found is driven over the road that was found, logged at the log's rate with its
// noise and its gaps, and fitted again. Noise goes into the very forces that explain the
// motion, smoothing rounds friction off, a gap is bridged by a line: each pulls the
// answer, and so far as it pulls the known one, it is taken back from the other.
//
// Noise is drawn in pairs, once with each sign: the mean of a pair is free of what is
// in proportion to the noise and leaves the pull; the difference of a pair is that
// proportion, held against the covariance.
//
// Source: B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap (1993), chapters
// 6 (parametric) and 10 (bias); antithetic pairs as in any text on simulation.

// How often the log is made again. Chosen.
const (
	pairs       = 2
	againRounds = 2 // of Gauss and Newton from the known answer
)

// noiseOf is the standard deviation of a series' noise, white: the density in the highest
// quarter of the spectrum, where no car moves [SI].
func noiseOf(values []float64, rate float64) float64 {
	s := Welch(values, rate, 512)
	sum, n := 0.0, 0
	for k := range s.Density {
		if f := s.Frequency[k] / rate; f > 0.375 && f < 0.49 {
			sum += s.Density[k]
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / float64(n) * rate / 2)
}

// again is a piece of the log made anew by a car of known inputs: noise is of a sign, so
// that two pieces of one draw have all of it but the sign in common.
func (l *laid) again(way *[4][]float64, at *shift, wheelbase float64, draw uint64, sign float64) *piece {
	p := l.p
	times := int(math.Round(p.rate / p.logged))
	n := len(way[0])
	out := &piece{start: p.start, rate: p.rate, n: n * times, logged: p.logged, lost: p.lost}
	out.speed = make([]float64, out.n)
	for k := range out.speed {
		out.speed[k] = l.mean
	}
	for i := range 4 {
		r := rand.New(rand.NewPCG(draw, uint64(i)))
		values := make([]float64, n)
		for k, x := range way[i] {
			values[k] = (x-at.zero[i])/(1+at.gain[i]) + sign*l.noise[i]*r.NormFloat64()
			if k < len(p.lost[i]) && p.lost[i][k] {
				values[k] = math.NaN()
			}
		}
		out.raw[i] = bridged(values, int(bridging*p.logged))
		out.travel[i] = finer(out.raw[i], p.logged, times)
		out.rates[i] = slopes(out.travel[i], p.rate)
	}
	out.ready(wheelbase)
	return out
}

// Where the road that was taken out is looked at to say how rough it goes on. Chosen. [Hz]
const (
	onFrom = 10.0
	onTo   = 18.0
)

// shorter is the road shorter than what was taken out of the log, one of many with its
// roughness and waviness 2, as a random road has: without it friction would be driven
// over a road that is too smooth for it. [m]
func (p *piece) shorter(road []complex128, r *rand.Rand) []float64 {
	per := p.rate / float64(p.size)
	level, n := 0.0, 0.0
	for k := int(onFrom / per); k <= int(onTo/per); k++ {
		f := float64(k) * per
		level += (real(road[k])*real(road[k]) + imag(road[k])*imag(road[k])) * f * f
		n++
	}
	out := make([]complex128, p.size/p.thin/2+1)
	for k := int(topmost / per); k < len(out)-1; k++ {
		f := float64(k) * per
		size := math.Sqrt(level/n) / f * (1 - math.Max(0, 1-(f-topmost)/(topmost*0.5)))
		out[k] = cmplx.Rect(size, 2*math.Pi*r.Float64())
	}
	return p.series(out)
}

// roughened are the tracks of a piece with the road shorter than what was taken out.
func (s *solver) roughened(p *piece) (left, right flats, mean float64) {
	left, right, mean = s.tracks(p)
	g := geometryOf(&s.build.Car, &s.at)
	r := p.recover(&g, s.moved(p, &s.at))
	for side, track := range []flats{left, right} {
		for k, z := range p.shorter(r.road[side], rand.New(rand.NewPCG(uint64(side), 23))) {
			track.z[k] += z
		}
	}
	return left, right, mean
}

// known is the car that was found, as far as it can be driven, and how far it is from what was entered.
func (s *solver) known() (ride.Car, shift) {
	at := s.at
	at.mass, at.balance, at.delay = 0, 0, 0 // they decide where the car stands, and when
	return shifted(s.build.Car, &at), at
}

// fromKnown fits from a known answer, and returns how far from it the fit comes to rest,
// and the variance that the log alone gives to that.
func (s *solver) fromKnown(ctx context.Context, truth *shift) (moves, variance []float64) {
	s.ground()
	var cov *variances
	for range againRounds {
		step, c, ok := s.round()
		if !ok || ctx.Err() != nil {
			return nil, nil
		}
		s.step(step)
		cov = c
	}
	for a, in := range s.priors {
		moves = append(moves, *s.at.of(in.Input)-*truth.of(in.Input))
		variance = append(variance, cov.log.At(a, a))
	}
	return moves, variance
}

// unbias takes what reading the log did back, and widens the covariance by how well that is known.
func (s *solver) unbias(ctx context.Context, cov *variances) {
	car, truth := s.known()
	m, err := ride.Compile(car)
	if err != nil {
		return
	}
	roads := make([]laid, len(s.pieces))
	ways := make([][4][]float64, len(s.pieces))
	for k, p := range s.pieces {
		roads[k].p = p
		roads[k].left, roads[k].right, roads[k].mean = s.roughened(p)
		for i := range 4 {
			roads[k].noise[i] = noiseOf(p.raw[i], p.logged)
		}
		if ways[k], err = roads[k].over(ctx, m, &car); err != nil {
			return
		}
	}
	n := len(s.priors)
	pull, off := make([]float64, n), make([]float64, n)
	ratio, counted := 0.0, 0.0
	var moves, own [pairs][2][]float64 // how far the answer moved, and the variance it gave for that
	var all sync.WaitGroup
	for k := range pairs {
		for h, sign := range []float64{1, -1} {
			all.Go(func() {
				t := &solver{build: s.build, legs: s.legs, priors: s.priors, at: truth, centre: truth}
				for j := range roads {
					t.pieces = append(t.pieces, roads[j].again(&ways[j], &truth, s.build.Car.Wheelbase, uint64(8*j+k), sign))
				}
				moves[k][h], own[k][h] = t.fromKnown(ctx, &truth)
			})
		}
	}
	all.Wait()
	for k := range pairs {
		if moves[k][0] == nil || moves[k][1] == nil {
			return
		}
		for a, v := range own[k][1] {
			if d := (moves[k][0][a] - moves[k][1][a]) / 2; v > 0 { // the log moves it
				ratio, counted = ratio+d*d/v, counted+1
			}
		}
	}
	for a := range n {
		for k := range pairs {
			pull[a] += (moves[k][0][a] + moves[k][1][a]) / 2 / pairs
		}
		for k := range pairs {
			d := (moves[k][0][a]+moves[k][1][a])/2 - pull[a]
			off[a] += d * d / (pairs - 1) / pairs
		}
		*s.at.of(s.priors[a].Input) -= pull[a]
	}
	wider := math.Max(ratio/math.Max(counted, 1), 1)
	for a := range n {
		for b := a; b < n; b++ {
			cov.log.SetSym(a, b, cov.log.At(a, b)*wider)
		}
		cov.log.SetSym(a, a, cov.log.At(a, a)+off[a])
	}
}
