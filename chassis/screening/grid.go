package screening

import (
	"fmt"
	"math"
	"math/cmplx"

	"trunnion/chassis/comfort"
	"trunnion/chassis/road"
)

// Lines that a Grid takes where nothing else is asked: 60, spaced evenly in the logarithm from 0.15 to 60 Hz, are within
// 0.03 % of 6,000 for a road car (measured on the prototype of this engine).
const (
	defaultLines = 60
	defaultLow   = 0.15 // [Hz]
	defaultHigh  = 60.0 // [Hz]
)

// Road is a random road and how it is driven.
type Road struct {
	Spectrum  road.Spectrum
	Speed     float64 // [m/s]
	Wheelbase float64 // [m]
	Track     float64 // distance of the two tracks, for their coherence [m]
	// Coherent makes both tracks the same in place of the isotropic coherence.
	Coherent bool
	Contact  float64 // length of the tyre's contact over which heights are averaged; 0 is none [m]

	Lines int     // 0 means 60 [-]
	Low   float64 // 0 means 0.15 [Hz]
	High  float64 // 0 means 60 [Hz]
}

// line is one spectral line. Heights enter as s = (left + right)/2 and d = (left − right)/2, which are uncorrelated for
// tracks of equal spectra with a real coherence γ: G_s = G·(1 + γ)/2, G_d = G·(1 − γ)/2.
type line struct {
	omega    float64    // [rad/s]
	same     float64    // G_s·Δf [m²]
	opposite float64    // G_d·Δf [m²]
	weight   float64    // |Wk|² [-]
	delay    complex128 // e^{−jω·wheelbase/speed}, the rear wheels' share
}

// Grid is the road as the car meets it, line by line; made once for many cars.
type Grid struct {
	lines []line
	speed float64
}

// InputError names what cannot be computed with.
type InputError struct {
	Field  string
	Value  float64 // in the field's unit [unit of the field]
	Reason string
}

func (e *InputError) Error() string { return fmt.Sprintf("%s is %g: %s", e.Field, e.Value, e.Reason) }

// NewGrid lays the lines. Each stands for the strip of equal width in the logarithm of frequency about it (trapezoid
// rule in ln f).
func NewGrid(r Road) (*Grid, error) {
	if r.Lines == 0 {
		r.Lines = defaultLines
	}
	if r.Low == 0 {
		r.Low = defaultLow
	}
	if r.High == 0 {
		r.High = defaultHigh
	}
	for _, f := range []struct {
		name  string
		v     float64
		limit float64
	}{{"Speed", r.Speed, 125}, {"Wheelbase", r.Wheelbase, 20}, {"Track", r.Track, 5}, {"Spectrum.Roughness", r.Spectrum.Roughness, 1}, {"High", r.High, 1e7}} {
		if !(f.v > 0 && f.v <= f.limit) {
			return nil, &InputError{f.name, f.v, fmt.Sprintf("must be greater than 0 and not above %g", f.limit)}
		}
	}
	if !(r.Contact >= 0 && r.Contact < 1) {
		return nil, &InputError{"Contact", r.Contact, "must lie between 0 and 1 m"}
	}
	if !(r.Low > 0 && r.Low < r.High) || r.Lines < 8 || r.Lines > 1e6 {
		return nil, &InputError{"Lines", float64(r.Lines), "must be at least 8 between rising frequencies"}
	}
	g := &Grid{speed: r.Speed}
	step := math.Log(r.High/r.Low) / float64(r.Lines-1)
	for i := range r.Lines {
		f := r.Low * math.Exp(float64(i)*step)
		width := f * step
		if i == 0 || i == r.Lines-1 {
			width /= 2
		}
		n := f / r.Speed
		gamma := 1.0
		if !r.Coherent {
			gamma = road.Coherence(n, r.Track, r.Spectrum.Waviness)
		}
		density := r.Spectrum.Displacement(f, r.Speed) * width
		if x := math.Pi * n * r.Contact; x > 0 {
			sinc := math.Sin(x) / x
			density *= sinc * sinc
		}
		omega := 2 * math.Pi * f
		wk := comfort.Wk.Gain(f)
		g.lines = append(g.lines, line{
			omega: omega, same: density * (1 + gamma) / 2, opposite: density * (1 - gamma) / 2, weight: wk * wk,
			delay: cmplx.Exp(complex(0, -omega*r.Wheelbase/r.Speed)),
		})
	}
	return g, nil
}
