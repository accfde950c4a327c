package road

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// A road's class and roughness from its profile, here and in iri.go, are for the road test, which estimates the road back
// from what was logged (issue 16) and does not ask yet.

// Line is the displacement spectral density of a road at one wave number.
type Line struct {
	WaveNumber float64 // n [cycle/m]
	Density    float64 // Gd(n), one-sided [m³]
}

// Band is a range of wave numbers that is averaged into one figure.
type Band struct {
	Lower  float64 // [cycle/m]
	Centre float64 // geometric mean of the limits [cycle/m]
	Upper  float64 // [cycle/m]
}

// The range of wave numbers over which ISO 8608 fits a straight line to a
// spectrum.
//
// Source: ISO 8608:2016 annex B, from memory.
const (
	FitFrom = 0.011 // [cycle/m]
	FitTo   = 2.83  // [cycle/m]
)

// Bands returns the smoothing bands of ISO 8608 that hold any of the wave
// numbers between two limits [cycle/m]: octaves up to the centre 0.0312
// cycle/m, thirds of octaves up to 0.25, twelfths above. Limits are the
// geometric middle between centres, so that the mean of n⁻² over a band is
// exactly that at its centre.
//
// Source: ISO 8608:2016, clause on smoothing, from memory.
func Bands(from, to float64) []Band {
	if !(from > 1e-5) || !(to > from) || to > 1e4 {
		return nil
	}
	var out []Band
	// Exponents of two, in 24ths, so that all limits are whole numbers:
	// octaves end at 2^(−4.5), thirds at 2^(−11/6).
	const octaveEnd, thirdEnd = -108, -44
	at := octaveEnd
	for math.Exp2(float64(at)/24) > from {
		at -= 24
	}
	for lower := at; ; {
		width := 2
		switch {
		case lower < octaveEnd:
			width = 24
		case lower < thirdEnd:
			width = 8
		}
		b := Band{
			Lower: math.Exp2(float64(lower) / 24), Upper: math.Exp2(float64(lower+width) / 24),
			Centre: math.Exp2(float64(2*lower+width) / 48),
		}
		if b.Lower >= to {
			return out
		}
		if b.Upper > from {
			out = append(out, b)
		}
		lower += width
	}
}

// Mean returns the mean over the band of n^−w divided by its value at the
// centre [-]: what smoothing does to a straight spectrum of waviness w.
//
// Source: integral, derived here.
func (b Band) Mean(w float64) float64 {
	if !(b.Lower > 0) || !(b.Upper > b.Lower) || !(b.Centre > 0) {
		return 0
	}
	return powerIntegral(b.Lower/b.Centre, b.Upper/b.Centre, w) * b.Centre / (b.Upper - b.Lower)
}

// Density estimates the spectral density of equally spaced heights [m], step
// [m] apart: the mean line is taken off, a Hann window laid over, the whole
// length transformed at once. Single lines scatter by their own size; use
// Smoothed.
//
// Source: periodogram with a Hann window, common practice.
func Density(heights []float64, step float64) ([]Line, error) {
	if err := need("grid step", step, 1e-4, 10, "m"); err != nil {
		return nil, err
	}
	n := len(heights)
	if n < 16 || n > LongestGrid {
		return nil, &InputError{"number of heights", float64(n), "between 16 and 50 million"}
	}
	middle := float64(n-1) / 2
	var mean, tilt, square float64
	for i, z := range heights {
		if !(math.Abs(z) <= HighestHeight) {
			return nil, &InputError{"height", z, "between -10000 and 10000 m"}
		}
		u := float64(i) - middle
		mean += z / float64(n)
		tilt += z * u
		square += u * u
	}
	tilt /= square
	// Zeros behind the end bring the length to one whose transform is quick;
	// they only put the lines a little closer.
	whole := quickLength(n)
	x := make([]float64, whole)
	power := 0.0
	for i, z := range heights {
		s := math.Sin(math.Pi * (float64(i) + 0.5) / float64(n))
		w := s * s
		x[i] = w * (z - mean - tilt*(float64(i)-middle))
		power += w * w
	}
	c := fourier.NewFFT(whole).Coefficients(nil, x)
	out := make([]Line, 0, len(c)-1)
	for k := 1; k < len(c); k++ {
		re, im := real(c[k]), imag(c[k])
		out = append(out, Line{
			WaveNumber: float64(k) / (float64(whole) * step),
			Density:    2 * (re*re + im*im) * step / power,
		})
	}
	return out, nil
}

// Smoothed averages spectral lines over the bands of ISO 8608. A band without
// a line is left out.
func Smoothed(lines []Line) []Line {
	if len(lines) == 0 {
		return nil
	}
	var out []Line
	next := 0
	for _, b := range Bands(lines[0].WaveNumber, lines[len(lines)-1].WaveNumber) {
		sum, count := 0.0, 0
		for next < len(lines) && lines[next].WaveNumber < b.Upper {
			if lines[next].WaveNumber >= b.Lower {
				sum += lines[next].Density
				count++
			}
			next++
		}
		if count > 0 {
			out = append(out, Line{b.Centre, sum / float64(count)})
		}
	}
	return out
}

// Fit finds the straight spectrum of a profile between 0.011 and 2.83 cycle/m,
// as far as its length and step reach: Gd(n0) and w by least squares of the
// logarithms of the smoothed density, and Gd(n0) alone with w held at 2, by
// which the class is read.
//
// Source: ISO 8608:2016 annex B, from memory.
func Fit(heights []float64, step float64) (free, class Spectrum, err error) {
	lines, err := Density(heights, step)
	if err != nil {
		return Spectrum{}, Spectrum{}, err
	}
	var n, x, y, xx, xy, held float64
	top := math.Min(FitTo, 0.25/step)
	for _, l := range Smoothed(lines) {
		// The window leaks the longest two waves of the length.
		if l.WaveNumber < math.Max(FitFrom, 2.5/(float64(len(heights))*step)) || l.WaveNumber > top || !(l.Density > 0) {
			continue
		}
		u, v := math.Log(l.WaveNumber/ReferenceWaveNumber), math.Log(l.Density)
		n++
		x += u
		y += v
		xx += u * u
		xy += u * v
		held += v + 2*u
	}
	if n < 4 {
		return Spectrum{}, Spectrum{}, &InputError{"number of bands between 0.011 and 2.83 cycle/m", n, "at least 4: a longer profile that is not flat"}
	}
	slope := (n*xy - x*y) / (n*xx - x*x)
	free = Spectrum{Roughness: math.Exp((y - slope*x) / n), Waviness: -slope}
	return free, Spectrum{Roughness: math.Exp(held / n), Waviness: 2}, nil
}
