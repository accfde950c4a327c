package road

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Random describes a random road of two tracks.
type Random struct {
	Spectrum      Spectrum
	Length        float64 // how long the road is [m]
	Step          float64 // distance between grid points [m]
	TrackDistance float64 // between the two tracks, b [m]; 0 makes them one
	Longest       float64 // n1, lowest wave number put in [cycle/m]
	Shortest      float64 // n2, highest wave number put in [cycle/m]
}

// Usual figures of a random road.
const (
	// UsualStep resolves the shortest usual wave with four points [m].
	UsualStep = 0.025
	// UsualTrack is the distance between the wheels of a car [m]; common
	// practice, no source.
	UsualTrack = 1.5
	// UsualLongest keeps waves up to 100 m [cycle/m]; longer ones move the car
	// as a whole. Common practice, no source; ISO 8608 fits from 0.011.
	UsualLongest = 0.01
	// UsualShortest keeps waves down to 0.1 m [cycle/m], below the length of a
	// tyre's contact. Common practice, no source; ISO 8608 fits to 2.83.
	UsualShortest = 10
)

// UsualRoad returns a random road of a spectrum and a length [m] with the usual
// step, band and distance between the tracks.
func UsualRoad(s Spectrum, length float64) Random {
	return Random{
		Spectrum: s, Length: length, Step: UsualStep, TrackDistance: UsualTrack,
		Longest: UsualLongest, Shortest: UsualShortest,
	}
}

// Generator makes roads of one description, one for each seed. It keeps its
// tables and the plan of its transform; it belongs to one goroutine (make one
// for each worker: the roads depend on the seed alone).
type Generator struct {
	road   Random
	points int // grid points of the road asked for
	period int // grid points after which the road repeats
	first  int // lowest harmonic put in

	amplitude []float64 // half amplitude of harmonic first+i [m]
	half      []float64 // cos(δ/2) of harmonic first+i
	other     []float64 // sin(δ/2)

	plan *fourier.FFT
	left []complex128
	back []complex128
}

// NewGenerator prepares roads of one description.
//
// A road is a sum of harmonics n_k = k/L of one period L, with amplitudes fixed
// by the spectrum and random phases:
//
//	z(x) = Σ √(2·Gd(n_k)/L)·cos(2·π·n_k·x + φ_k),  n1 ≤ n_k ≤ n2
//
// so that the mean square over a period is exactly Σ Gd(n_k)/L whatever the
// seed. L is the length asked for, or a little longer (the next length whose
// transform is quick); never shorter than four times the longest wave.
//
// The right track has the same amplitudes and the phases φ_k ± δ_k, sign by
// chance, with cos δ_k = γ(n_k), the isotropic coherence: then the expected
// cross spectrum is γ·Gd, each track has exactly the wanted spectrum, and so
// have the mean of both (Gd·(1+γ)/2, heave) and half their difference
// (Gd·(1−γ)/2, roll).
//
// It returns an *InputError for a description that makes no road, among them
// a highest wave number above half the sampling of the grid.
//
// Source: sum of harmonics with random phase, M. Shinozuka and C.-M. Jan,
// "Digital simulation of random processes and its applications", J. Sound Vib.
// 25 (1972), from memory; the two tracks derived here.
func NewGenerator(r Random) (*Generator, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	g := &Generator{road: r}
	g.points = int(math.Ceil(r.Length/r.Step-1e-9)) + 1
	g.period = quickLength(max(g.points-1, int(math.Ceil(4/(r.Longest*r.Step)-1e-9))))
	length := float64(g.period) * r.Step
	// A band limit that is a whole harmonic counts as inside.
	g.first = max(1, int(math.Ceil(r.Longest*length-1e-6)))
	last := min(int(math.Floor(r.Shortest*length+1e-6)), (g.period-1)/2)
	count := last - g.first + 1
	if count < 1 {
		return nil, &InputError{"band of wave numbers", r.Shortest - r.Longest, "wide enough to hold one harmonic"}
	}
	g.amplitude = make([]float64, count)
	g.half = make([]float64, count)
	g.other = make([]float64, count)
	for i := range count {
		n := float64(g.first+i) / length
		g.amplitude[i] = 0.5 * math.Sqrt(2*r.Spectrum.At(n)/length)
		gamma := math.Min(1, Coherence(n, r.TrackDistance, r.Spectrum.Waviness))
		g.half[i] = math.Sqrt((1 + gamma) / 2)
		g.other[i] = math.Sqrt((1 - gamma) / 2)
	}
	g.plan = fourier.NewFFT(g.period)
	g.left = make([]complex128, g.period/2+1)
	g.back = make([]complex128, g.period/2+1)
	return g, nil
}

func (r Random) check() error {
	if err := r.Spectrum.check(); err != nil {
		return err
	}
	if err := need("grid step", r.Step, 1e-3, 1, "m"); err != nil {
		return err
	}
	if err := need("length of the road", r.Length, r.Step, 1e6, "m"); err != nil {
		return err
	}
	if err := need("distance between the tracks", r.TrackDistance, 0, 10, "m"); err != nil {
		return err
	}
	if err := need("lowest wave number", r.Longest, 1e-4, 100, "cycle/m"); err != nil {
		return err
	}
	if err := need("highest wave number", r.Shortest, r.Longest, 0.5/r.Step, "cycle/m (half the sampling of the grid)"); err != nil {
		return err
	}
	if points := math.Max(r.Length, 4/r.Longest) / r.Step; points > LongestGrid {
		return &InputError{"number of grid points", points, "at most 50 million"}
	}
	return nil
}

// quickLength returns the next length from n on that has no prime factor
// above 5, for which the transform is quick.
func quickLength(n int) int {
	for ; ; n++ {
		rest := n
		for _, f := range [...]int{2, 3, 5} {
			for rest%f == 0 {
				rest /= f
			}
		}
		if rest == 1 {
			return n
		}
	}
}

// Period returns the distance after which the road would repeat [m].
func (g *Generator) Period() float64 { return float64(g.period) * g.road.Step }

// Generate makes the road of a seed, from distance 0 on. The same description
// and seed give the same road on every machine of one kind, whatever the
// number of workers. Harmonics keep their phases when only the band, the
// roughness or the distance between the tracks changes, so that two roads of
// one seed can be compared.
func (g *Generator) Generate(seed uint64) Profile {
	source := rand.NewPCG(seed, 0x9e3779b97f4a7c15)
	// Harmonics below the band are drawn and thrown away, so that a harmonic's
	// phase does not depend on where the band begins.
	for range g.first - 1 {
		direction(source)
	}
	for i, a := range g.amplitude {
		re, im, sign := direction(source)
		c, s := g.half[i], sign*g.other[i]
		// The mean phase goes to both tracks, turned back by δ/2 for the left
		// and on by δ/2 for the right.
		g.left[g.first+i] = complex(a*(re*c+im*s), a*(im*c-re*s))
		g.back[g.first+i] = complex(a*(re*c-im*s), a*(im*c+re*s))
	}
	p := Profile{Step: g.road.Step}
	p.Left, p.Right = g.track(g.left), g.track(g.back)
	return p
}

func (g *Generator) track(coefficients []complex128) []float64 {
	room := make([]float64, max(g.points, g.period))
	g.plan.Sequence(room[:g.period], coefficients)
	// The length may be one step more than a period.
	for i := g.period; i < g.points; i++ {
		room[i] = room[i-g.period]
	}
	return room[:g.points:g.points]
}

// direction draws a direction in the plane, even over the circle, and a sign.
// A point is drawn in the square until it lies in the disc; doubling its angle
// needs no sine.
func direction(source *rand.PCG) (re, im, sign float64) {
	for {
		bits := source.Uint64()
		u := float64(int32(bits)) * 0x1p-31
		v := float64(int32(bits>>32)) * 0x1p-31
		// The lowest bit of u doubles as the sign; its share of u is 5e-10.
		q := u*u + v*v
		if q > 1 || q < 1e-6 {
			continue
		}
		sign = 1
		if bits&1 != 0 {
			sign = -1
		}
		inverse := 1 / q
		return (u*u - v*v) * inverse, 2 * u * v * inverse, sign
	}
}
