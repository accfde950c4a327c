package road

import "math"

// Track is one of the two wheel tracks, seen in the direction of travel.
type Track int

// The two tracks.
const (
	LeftTrack Track = iota
	RightTrack
)

// Interpolation is how heights between grid points are found.
type Interpolation int

const (
	// Cubic passes a cubic through each pair of grid points with slopes taken
	// from their neighbours (Catmull and Rom): height and slope are
	// continuous, so a wheel feels no corner at a grid point. Beside a
	// vertical step it overshoots by up to 7 % of the step.
	Cubic Interpolation = iota
	// Linear joins the grid points by straight lines: no overshoot, but the
	// slope jumps at every grid point and short waves lose height.
	Linear
)

// Profile is a road under two tracks: heights on an equally spaced grid with
// obstacles laid over them. The zero value is a flat road. Before its first
// grid point and after its last the grid keeps its end height. A Profile is
// read only once made and may be shared by any number of readers.
type Profile struct {
	Start float64   // distance of the first grid point [m]
	Step  float64   // distance between grid points [m]
	Left  []float64 // heights of the left track, upwards [m]
	Right []float64 // heights of the right track, upwards [m]

	Interpolation Interpolation
	Events        []Placed // obstacles, added to the grid heights
}

// Placed is an obstacle at a distance along the road.
type Placed struct {
	Event Event
	At    float64 // where it begins [m]
}

// LongestGrid is the greatest number of grid points a profile may have.
const LongestGrid = 50_000_000

// Check returns an *InputError for a profile put together by hand that cannot
// be used.
func (p *Profile) Check() error {
	if len(p.Left) != len(p.Right) {
		return &InputError{"number of right heights", float64(len(p.Right)), "that of the left heights"}
	}
	if len(p.Left) > LongestGrid {
		return &InputError{"number of grid points", float64(len(p.Left)), "at most 50 million"}
	}
	if len(p.Left) > 0 {
		if err := need("grid step", p.Step, 1e-4, 10, "m"); err != nil {
			return err
		}
	}
	if err := need("start of the profile", p.Start, -1e7, 1e7, "m"); err != nil {
		return err
	}
	for _, side := range [][]float64{p.Left, p.Right} {
		for _, z := range side {
			if !(math.Abs(z) <= HighestHeight) {
				return &InputError{"height", z, "between -10000 and 10000 m"}
			}
		}
	}
	for _, e := range p.Events {
		if err := need("place of an obstacle", e.At, -1e7, 1e7, "m"); err != nil {
			return err
		}
	}
	return nil
}

// HighestHeight is the greatest height or depth a road may have [m]: no road
// is higher, and beyond it millimetres begin to drown in rounding.
const HighestHeight = 1e4

// Extent returns where the profile begins and ends [m], obstacles included.
func (p *Profile) Extent() (from, to float64) {
	if n := len(p.Left); n > 0 {
		from, to = p.Start, p.Start+float64(n-1)*p.Step
	}
	for i, e := range p.Events {
		if i == 0 && len(p.Left) == 0 {
			from, to = e.At, e.At
		}
		from, to = math.Min(from, e.At), math.Max(to, e.At+e.Event.Length)
	}
	return from, to
}

// With returns the profile with one more obstacle, which begins at a distance
// [m]. The receiver is unchanged.
func (p Profile) With(e Event, at float64) Profile {
	events := make([]Placed, 0, len(p.Events)+1)
	p.Events = append(append(events, p.Events...), Placed{e, at})
	return p
}

func (p *Profile) grid(track Track) []float64 {
	if track == RightTrack {
		return p.Right
	}
	return p.Left
}

// Height returns the height [m] of a track at a distance [m].
func (p *Profile) Height(track Track, distance float64) float64 {
	var one [1]float64
	p.Sample(track, one[:], distance, 0)
	return one[0]
}

// Slope returns dz/dx [-] of a track at a distance [m], rising forwards
// positive.
func (p *Profile) Slope(track Track, distance float64) float64 {
	var one [1]float64
	p.SampleSlope(track, one[:], distance, 0)
	return one[0]
}

// Sample fills dst with the heights [m] of a track at from, from+by,
// from+2·by, … [m]. Nothing is allocated. Distances that are not numbers find
// the first height.
//
//	z(u) = z1 + u/2·((z2 − z0) + u·((2·z0 − 5·z1 + 4·z2 − z3) + u·(3·(z1 − z2) + z3 − z0)))
//
// with u the part of the step past grid point 1 (Cubic).
//
// Source: E. Catmull, R. Rom, "A class of local interpolating splines" (1974),
// from memory.
func (p *Profile) Sample(track Track, dst []float64, from, by float64) {
	z := p.grid(track)
	switch last := len(z) - 1; {
	case last < 0:
		clear(dst)
	case last == 0 || !(p.Step > 0):
		for i := range dst {
			dst[i] = z[0]
		}
	default:
		inverse := 1 / p.Step
		start, rate := (from-p.Start)*inverse, by*inverse
		end := float64(last)
		cubic := p.Interpolation == Cubic
		for i := range dst {
			at := start + float64(i)*rate
			if !(at > 0) {
				dst[i] = z[0]
				continue
			}
			if at >= end {
				dst[i] = z[last]
				continue
			}
			k := int(at)
			u := at - float64(k)
			z1, z2 := z[k], z[k+1]
			if !cubic {
				dst[i] = z1 + u*(z2-z1)
				continue
			}
			z0, z3 := z[max(k-1, 0)], z[min(k+2, last)]
			dst[i] = z1 + 0.5*u*((z2-z0)+u*((2*z0-5*z1+4*z2-z3)+u*(3*(z1-z2)+z3-z0)))
		}
	}
	for k := range p.Events {
		e := &p.Events[k]
		if !e.Event.on(track) {
			continue
		}
		first, past := reached(e, from, by, len(dst))
		for i := first; i < past; i++ {
			dst[i] += e.Event.Height(from + float64(i)*by - e.At)
		}
	}
}

// reached returns the part of a run of samples that can lie on an obstacle.
func reached(e *Placed, from, by float64, n int) (first, past int) {
	if !(by > 0) {
		return 0, n
	}
	if lead := (e.At-from)/by - 1; lead > 0 {
		first = int(math.Min(lead, float64(n)))
	}
	past = n
	if e.Event.after == 0 {
		if end := (e.At+e.Event.Length-from)/by + 2; end < float64(n) {
			past = max(int(end), 0)
		}
	}
	return first, past
}

// SampleSlope fills dst with the slopes dz/dx [-] of a track at from,
// from+by, … [m]; zero before and after the grid. It is the derivative of what
// Sample gives. On a profile that a wheel has been rolled over it is the
// effective slope: multiplied by the wheel load it gives the force along the
// road.
func (p *Profile) SampleSlope(track Track, dst []float64, from, by float64) {
	z := p.grid(track)
	last := len(z) - 1
	if last < 1 || !(p.Step > 0) {
		clear(dst)
	} else {
		inverse := 1 / p.Step
		start, rate := (from-p.Start)*inverse, by*inverse
		end := float64(last)
		for i := range dst {
			at := start + float64(i)*rate
			if !(at >= 0) || at >= end {
				dst[i] = 0
				continue
			}
			k := int(at)
			u := at - float64(k)
			z1, z2 := z[k], z[k+1]
			if p.Interpolation != Cubic {
				dst[i] = (z2 - z1) * inverse
				continue
			}
			z0, z3 := z[max(k-1, 0)], z[min(k+2, last)]
			dst[i] = 0.5 * inverse * ((z2 - z0) + u*(2*(2*z0-5*z1+4*z2-z3)+3*u*(3*(z1-z2)+z3-z0)))
		}
	}
	for k := range p.Events {
		e := &p.Events[k]
		if !e.Event.on(track) {
			continue
		}
		first, past := reached(e, from, by, len(dst))
		for i := first; i < past; i++ {
			dst[i] += e.Event.Slope(from + float64(i)*by - e.At)
		}
	}
}

// Laid returns the profile with its obstacles laid into the grid, on a step
// [m] of choice (0 keeps the step of the grid), between two distances [m].
func (p *Profile) Laid(step, from, to float64) (Profile, error) {
	if step == 0 {
		step = p.Step
	}
	if err := need("grid step", step, 1e-4, 10, "m"); err != nil {
		return Profile{}, err
	}
	if err := need("start of the profile", from, -1e7, 1e7, "m"); err != nil {
		return Profile{}, err
	}
	if err := need("end of the profile", to, from, 1e7, "m"); err != nil {
		return Profile{}, err
	}
	points := math.Ceil((to-from)/step-1e-9) + 1
	if points > LongestGrid {
		return Profile{}, &InputError{"number of grid points", points, "at most 50 million"}
	}
	n := int(points)
	out := Profile{Start: from, Step: step, Left: make([]float64, n), Right: make([]float64, n), Interpolation: p.Interpolation}
	p.Sample(LeftTrack, out.Left, from, step)
	p.Sample(RightTrack, out.Right, from, step)
	return out, nil
}

// Eased returns the profile with its grid heights growing from nothing over a
// distance [m] from its start, as half a cosine, so that a car at rest on the
// level can run onto it. What is ridden over on the way does not belong into a
// result. Obstacles are left as they are.
func (p *Profile) Eased(over float64) (Profile, error) {
	if err := p.Check(); err != nil {
		return Profile{}, err
	}
	if err := need("distance to ease in", over, 0, 1e6, "m"); err != nil {
		return Profile{}, err
	}
	out := *p
	out.Left, out.Right = append([]float64(nil), p.Left...), append([]float64(nil), p.Right...)
	for i := range out.Left {
		x := float64(i) * p.Step
		if x >= over {
			break
		}
		share := soft(x, over)
		out.Left[i] *= share
		out.Right[i] *= share
	}
	return out, nil
}
