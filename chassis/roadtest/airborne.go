package roadtest

import "math"

// A tyre in the air carries nothing, whatever the road does under it: the road that is
// taken out there is none. So long nothing is compared.

// When a tyre counts as in the air, and how much around it is left out. Chosen.
const (
	inTheAir  = 0.1 // of its load at rest [-]
	airAround = 0.1 // either side [s]
	airEase   = 0.1 // over which what stays begins [s]
)

// ground leaves out of what is compared what was in the air, with the car as it is now taken to be.
func (s *solver) ground() {
	g := geometryOf(&s.build.Car, &s.at)
	for _, p := range s.pieces {
		r := p.recover(&g, s.moved(p, &s.at))
		var air [4][]bool
		for i := range 4 {
			air[i] = p.airborne(&r, i, g.tyre[i], s.build.loads[i])
		}
		for side := range 2 {
			p.sides[side] = p.grounded(air[side], air[2+side], s.at.delay)
		}
	}
}

// airborne reports at which samples the tyre of corner i is out of load.
func (p *piece) airborne(r *recovered, i int, rate, load float64) []bool {
	road, hub := p.series(r.road[i]), p.series(r.hub[i])
	out := make([]bool, len(road))
	for k := range out {
		out[k] = load+rate*(road[k]-hub[k]) < inTheAir*load
	}
	return out
}

// grounded is the taper of a side with both wheels' flights left out: the front wheel's
// when the rear wheel comes to the same place.
func (p *piece) grounded(front, rear []bool, delay float64) []float64 {
	n := len(p.taper)
	far := make([]float64, n) // samples to the nearest flight
	for k := range far {
		at := p.inner[0] + k
		there := int(math.Round(float64(at) - (p.behind[at]+delay)*p.coarse))
		far[k] = math.Inf(1)
		if rear[at] || there >= 0 && front[there] {
			far[k] = 0
		}
	}
	for k := 1; k < n; k++ {
		far[k] = math.Min(far[k], far[k-1]+1)
	}
	for k := n - 2; k >= 0; k-- {
		far[k] = math.Min(far[k], far[k+1]+1)
	}
	out := make([]float64, n)
	for k, d := range far {
		t := math.Min(math.Max((d/p.coarse-airAround)/airEase, 0), 1)
		out[k] = p.taper[k] * (0.5 - 0.5*math.Cos(math.Pi*t))
	}
	return out
}
