package road

import "math"

// Averaged returns the profile as a tyre's contact length [m] feels it: at each
// distance the mean height over half the length before and half behind.
// Obstacles are laid into the grid. The grid heights count as joined by
// straight lines and are integrated exactly, so the length need not be a
// multiple of the step.
//
// A wave of length λ keeps the share sin(π·l/λ)/(π·l/λ) of its height.
//
// Source: moving average over the contact, common practice, no source; response
// derived here.
func (p *Profile) Averaged(length float64) (Profile, error) {
	if err := need("contact length", length, 0, 5, "m"); err != nil {
		return Profile{}, err
	}
	out, err := p.laidForFilter(length / 2)
	if err != nil || length == 0 {
		return out, err
	}
	for _, z := range []*[]float64{&out.Left, &out.Right} {
		*z = averaged(*z, length/out.Step)
	}
	return out, nil
}

// laidForFilter lays the obstacles into the grid, with room for a filter that
// reaches ahead and behind [m] where obstacles lie beyond the grid.
func (p *Profile) laidForFilter(reach float64) (Profile, error) {
	if err := p.Check(); err != nil {
		return Profile{}, err
	}
	step := p.Step
	if len(p.Left) == 0 {
		if len(p.Events) == 0 {
			return Profile{}, nil
		}
		// Obstacles on a flat road bring no grid of their own.
		if step == 0 {
			step = 0.005
		}
	}
	if len(p.Events) == 0 {
		return p.Laid(step, p.Start, p.Start+float64(len(p.Left)-1)*step)
	}
	from, to := p.Extent()
	before, after := 0.0, 0.0
	for _, e := range p.Events {
		before = math.Max(before, from+reach-e.At)
		after = math.Max(after, e.At+e.Event.Length+reach-to)
	}
	// The old grid points stay grid points.
	origin := p.Start
	if len(p.Left) == 0 {
		origin = from
	}
	first := origin - math.Ceil((origin-from+before)/step+1)*step
	return p.Laid(step, first, to+after+2*step)
}

// averaged is the mean of a chain of straight lines over width grid steps.
func averaged(z []float64, width float64) []float64 {
	n := len(z)
	if n == 0 {
		return z
	}
	// area[i] is the integral from grid point 0 to i.
	area := make([]float64, n)
	for i := 1; i < n; i++ {
		area[i] = area[i-1] + 0.5*(z[i-1]+z[i])
	}
	integral := func(at float64) float64 {
		if at <= 0 {
			return at * z[0]
		}
		if at >= float64(n-1) {
			return area[n-1] + (at-float64(n-1))*z[n-1]
		}
		k := int(at)
		u := at - float64(k)
		return area[k] + u*(z[k]+0.5*u*(z[k+1]-z[k]))
	}
	out := make([]float64, n)
	for i := range out {
		at := float64(i)
		out[i] = (integral(at+width/2) - integral(at-width/2)) / width
	}
	return out
}

// Enveloped returns the path of the bottom of a rigid wheel of a radius [m]
// rolled over the profile: the wheel bridges gaps it does not fit into and
// climbs a step before it reaches it. Obstacles are laid into the grid, whose
// points count as joined by straight lines; for those the path is exact at the
// grid points.
//
//	z_e(x) = max_s (z(x + s) + √(r² − s²)) − r,  |s| ≤ r
//
// A step h is met √(2·r·h − h²) ahead of it; over a gap g the wheel drops
// r − √(r² − g²/4). The time taken grows with r/step.
//
// Source: dilation of the profile by a disc, derived here.
func (p *Profile) Enveloped(radius float64) (Profile, error) {
	if err := need("wheel radius", radius, 0.01, 2, "m"); err != nil {
		return Profile{}, err
	}
	out, err := p.laidForFilter(radius)
	if err != nil {
		return out, err
	}
	for _, z := range []*[]float64{&out.Left, &out.Right} {
		*z = enveloped(*z, radius, out.Step)
	}
	return out, nil
}

func enveloped(z []float64, radius, step float64) []float64 {
	n := len(z)
	if n == 0 {
		return z
	}
	// No point further than the one where the rim stands higher than the
	// whole range of heights can touch.
	low, high := z[0], z[0]
	for _, v := range z {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	reach := radius
	if rise := high - low; rise < radius {
		reach = math.Sqrt(rise * (2*radius - rise))
	}
	width := min(int(reach/step), n)
	drop := make([]float64, width+1)
	for k := range drop {
		s := float64(k) * step
		drop[k] = s * s / (radius + math.Sqrt(math.Max(radius*radius-s*s, 0)))
	}
	out := make([]float64, n)
	for i := range out {
		top := z[i]
		// Plain comparisons: heights are finite here, and math.Max is several
		// times slower in this loop.
		behind, ahead := z[max(i-width, 0):i], z[i+1:min(i+1+width, n)]
		for k, v := range ahead {
			if c := v - drop[k+1]; c > top {
				top = c
			}
		}
		for k := range behind {
			if c := behind[len(behind)-1-k] - drop[k+1]; c > top {
				top = c
			}
		}
		out[i] = top
	}
	// A straight line of slope m touches at s = r·m/√(1 + m²) ahead of the
	// axle. Each line is one step long, so at most two grid points (in
	// practice one) have their touching point on it.
	for j := range n - 1 {
		m := (z[j+1] - z[j]) / step
		root := math.Sqrt(1 + m*m)
		ahead := radius * m / root
		lift := radius * (1/root - 1)
		for i := int(math.Ceil(float64(j) - ahead/step)); i >= 0 && i < n; i++ {
			u := float64(i) + ahead/step - float64(j)
			if u > 1 {
				break
			}
			if c := z[j] + u*(z[j+1]-z[j]) + lift; c > out[i] {
				out[i] = c
			}
		}
	}
	return out
}
