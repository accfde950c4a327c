package roadtest

import (
	"context"
	"math"
	"math/rand/v2"

	"trunnion/chassis/ride"
	"trunnion/chassis/road"
)

// driveRate is how many steps a second a build is driven with at least, as many as the engine takes over an obstacle. [Hz]
const driveRate = 1600.0

// flats are heights along one track.
type flats struct {
	z    []float64
	step float64
}

// Sample reads heights by straight lines; off the ends the road is level.
func (f flats) Sample(dst []float64, x0, dx float64) {
	for k := range dst {
		dst[k] = at(f.z, math.Min(math.Max((x0+float64(k)*dx)/f.step, 0), float64(len(f.z)-1)))
	}
}

// tracks are the heights of both tracks of a piece, by front and rear wheels together.
func (f *Fit) tracks(p *piece) (left, right flats, mean float64) {
	s := &solver{build: f.build, legs: *f.legs, at: f.shift}
	return s.tracks(p)
}

func (s *solver) tracks(p *piece) (left, right flats, mean float64) {
	g := geometryOf(&s.build.Car, &s.at)
	r := p.recover(&g, s.moved(p, &s.at))
	for _, v := range p.slow {
		mean += v / float64(len(p.slow))
	}
	var out [2]flats
	for side := range 2 {
		front, rear := p.series(r.road[side]), p.series(r.road[2+side])
		z := make([]float64, len(front))
		for k := range z {
			lag := (p.behind[min(k, len(p.behind)-1)] + s.at.delay) * p.coarse
			z[k] = (front[k] + at(rear, float64(k)+lag)) / 2
			if float64(k)+lag > float64(len(rear)-3) {
				z[k] = front[k]
			}
		}
		out[side] = flats{z, mean / p.coarse}
	}
	return out[0], out[1], mean
}

// shifted is the car with what a fit says of its parts. What it says of masses is left
// out: they decide where the car stands, and that was measured.
func shifted(c ride.Car, s *shift) ride.Car {
	c.InertiaRoll *= 1 + s.roll
	c.InertiaPitch *= 1 + s.pitch
	for i := range c.Corners {
		k := &c.Corners[i]
		spring, damper := k.Spring, k.Damper
		rest := 0.0
		if c.Rest != nil {
			rest = c.Rest[i]
		}
		base, _ := spring(rest)
		more, bump, rebound := s.spring[i], s.bump[i], s.rebound[i]
		k.Spring = func(w float64) (float64, float64) {
			f, d := spring(w)
			return base + (f-base)*(1+more), d * (1 + more)
		}
		if damper != nil {
			k.Damper = func(v float64) float64 {
				if v > 0 {
					return damper(v) * (1 + bump)
				}
				return damper(v) * (1 + rebound)
			}
			k.DamperSlope = nil
		}
		k.Friction = math.Max(k.Friction+s.friction[i], 0)
		k.Stop.TouchTravel += s.gap[i]
		k.Tyre.Rate *= 1 + s.tyre[i/2]
		k.UnsprungMass *= 1 + s.unsprung[i/2]
	}
	return c
}

// laid is a piece with its road.
type laid struct {
	p           *piece
	left, right flats
	mean        float64
	noise       [4]float64 // of the travel channels [m]
}

// inner are the samples of a fine series that are looked at.
func (l *laid) inner() (from, to int) { return l.p.inner[0] * l.p.thin, l.p.inner[1] * l.p.thin }

// over takes a car over a piece and logs damper travel from rest at the log's rate, without noise.
func (l *laid) over(ctx context.Context, m *ride.Model, c *ride.Car) (out [4][]float64, err error) {
	p := l.p
	rest := m.Rest().Travel
	every := int(math.Ceil(driveRate / p.logged))
	step := 1 / (p.logged * float64(every))
	way := make([][4]float64, 0, len(p.raw[0]))
	run := ride.Run{
		Left: l.left, Right: l.right, Speed: l.mean, Duration: float64(len(p.raw[0])) / p.logged, Settle: 1, Step: step, Every: every,
		Each: func(now *ride.Moment) { way = append(way, now.Travel) },
	}
	var res ride.Result
	if err := m.Simulate(ctx, run, &res); err != nil {
		return out, err
	}
	for i := range 4 {
		travel := c.Corners[i].DamperTravel
		if travel == nil {
			travel = func(w float64) (float64, float64, float64) { return w, 1, 0 }
		}
		x0, _, _ := travel(rest[i])
		out[i] = make([]float64, len(way))
		for j := range way {
			x, _, _ := travel(way[j][i])
			out[i][j] = x - x0
		}
	}
	return out, nil
}

// overRoads takes a car over the pieces and logs it as the log was: at its rate, with its noise.
func overRoads(ctx context.Context, c ride.Car, roads []laid) ([][4]watched, error) {
	m, err := ride.Compile(c)
	if err != nil {
		return nil, err
	}
	out := make([][4]watched, len(roads))
	for k := range roads {
		l := &roads[k]
		p := l.p
		way, err := l.over(ctx, m, &c)
		if err != nil {
			return nil, err
		}
		times := int(math.Round(p.rate / p.logged))
		from, to := l.inner()
		for i, x := range way {
			r := rand.New(rand.NewPCG(uint64(i), uint64(k)))
			for j := range x {
				x[j] += l.noise[i] * r.NormFloat64()
			}
			fine := finer(x, p.logged, times)
			speed := slopes(fine, p.rate)
			to := min(to, len(fine))
			out[k][i] = watched{fine[from:to], speed[from:to], p.rate, p.start + float64(from)/p.rate}
		}
	}
	return out, nil
}

// measured are the log's own series of the pieces.
func measured(roads []laid) [][4]watched {
	out := make([][4]watched, len(roads))
	for k := range roads {
		p := roads[k].p
		from, to := roads[k].inner()
		for i := range 4 {
			out[k][i] = watched{p.travel[i][from:to], p.rates[i][from:to], p.rate, p.start + float64(from)/p.rate}
		}
	}
	return out
}

// tallied are the figures of a set of series, corner by corner.
func tallied(legs *[4]leg, list [][4]watched, gap [4]float64, distance float64, m Marks) (out [4]map[Code]float64, strikes []Strike) {
	for i := range 4 {
		var c counted
		for k := range list {
			c.add(&legs[i], i, &list[k][i], gap[i], m)
		}
		out[i] = c.figures(distance)
		strikes = append(strikes, c.strikes...)
	}
	return out, byTime(strikes)
}

// stretch is what a piece says of its road.
func (l *laid) stretch() Stretch {
	first, last := l.p.inner[0], l.p.inner[1]
	out := Stretch{Start: l.p.start + float64(first)/l.p.coarse, Speed: l.mean}
	step := l.mean / l.p.coarse
	out.Length = float64(last-first) * step
	var logs []float64
	for _, t := range []flats{l.left, l.right} {
		z := t.z[first:min(last, len(t.z))]
		lines, err := road.Density(z, step)
		if err != nil {
			continue
		}
		// Only what the recovery passes: from 0.7 to 15 Hz at this speed.
		for _, line := range road.Smoothed(lines) {
			if n := line.WaveNumber; n > 0.7/l.mean && n < 15/l.mean && line.Density > 0 {
				logs = append(logs, math.Log(line.Density*(n/road.ReferenceWaveNumber)*(n/road.ReferenceWaveNumber)))
			}
		}
	}
	if len(logs) < 4 {
		return out
	}
	mean, off := 0.0, 0.0
	for _, v := range logs {
		mean += v / float64(len(logs))
	}
	for _, v := range logs {
		off += (v - mean) * (v - mean)
	}
	half := 1.96 * math.Sqrt(off/float64(len(logs)-1)/float64(len(logs))*4) // neighbouring bands go together: four count as one, chosen
	out.Roughness, out.Low, out.High = math.Exp(mean), math.Exp(mean-half), math.Exp(mean+half)
	out.Class, _ = road.ClassOf(out.Roughness)
	if i, err := road.Index(l.left.z[first:min(last, len(l.left.z))], step, true); err == nil {
		out.Index = i
	}
	return out
}
