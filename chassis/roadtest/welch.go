package roadtest

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Spectrum is a power spectral density on one side.
type Spectrum struct {
	Frequency []float64 // [Hz]
	Density   []float64 // per hertz [SI]
	Averages  int       // segments, overlapping by half [-]
}

// Welch returns the power spectral density of values sampled at a rate [Hz]: periodograms
// of segments that overlap by half, each less its mean, under a Hann window, averaged.
//
//	S(f_k) = 2·Σ_segments |X_k|² / (K·rate·Σ w²),   w_j = ½ − ½·cos(2πj/n)
//
// once at nothing and at half the rate. Source: P. D. Welch, IEEE Trans. Audio
// Electroacoust. AU-15 (1967), 70–73; window and scaling as those of the density that
// scipy.signal.welch returns by default.
func Welch(values []float64, rate float64, segment int) Spectrum {
	var out Spectrum
	cross(values, values, rate, segment, &out, func(k int, x, _ complex128) {
		out.Density[k] += real(x)*real(x) + imag(x)*imag(x)
	})
	scale(&out, rate)
	return out
}

// window is the periodic Hann window.
func window(n int) []float64 {
	w := make([]float64, n)
	for j := range w {
		w[j] = 0.5 - 0.5*math.Cos(2*math.Pi*float64(j)/float64(n))
	}
	return w
}

// cross hands over the transforms of both signals, segment by segment.
func cross(a, b []float64, rate float64, segment int, out *Spectrum, each func(k int, x, y complex128)) {
	segment = min(segment, len(a), len(b)) &^ 1
	if segment < 4 {
		return
	}
	fft, w := fourier.NewFFT(segment), window(segment)
	out.Frequency, out.Density = make([]float64, segment/2+1), make([]float64, segment/2+1)
	for k := range out.Frequency {
		out.Frequency[k] = float64(k) * rate / float64(segment)
	}
	part := make([]float64, segment)
	of := func(values []float64) []complex128 {
		mean := 0.0
		for _, v := range values {
			mean += v
		}
		mean /= float64(segment)
		if math.IsNaN(mean) {
			return nil // a gap
		}
		for j, v := range values {
			part[j] = (v - mean) * w[j]
		}
		return fft.Coefficients(nil, part)
	}
	for from := 0; from+segment <= min(len(a), len(b)); from += segment - segment/2 {
		x, y := of(a[from:from+segment]), of(b[from:from+segment])
		if x == nil || y == nil {
			continue
		}
		out.Averages++
		for k := range x {
			each(k, x[k], y[k])
		}
	}
}

func scale(s *Spectrum, rate float64) {
	if s.Averages == 0 {
		return
	}
	segment := (len(s.Frequency) - 1) * 2
	power := 0.0
	for _, w := range window(segment) {
		power += w * w
	}
	for k := range s.Density {
		f := 2.0
		if k == 0 || k == len(s.Density)-1 {
			f = 1
		}
		s.Density[k] *= f / (float64(s.Averages) * rate * power)
	}
}

// Transfer is how one channel answers another, over frequency.
type Transfer struct {
	Frequency []float64 // [Hz]
	Gain      []float64 // of the answer over what it answers [SI]
	Coherence []float64 // 0 to 1 [-]
	Averages  int       // [-]
}

// TransferOf estimates H = S_xy/S_xx and the coherence |S_xy|²/(S_xx·S_yy) of an answer y to x.
//
// Source: J. S. Bendat, A. G. Piersol, Random Data, the H₁ estimator; from memory of it.
func TransferOf(x, y []float64, rate float64, segment int) Transfer {
	var s Spectrum
	var xx, yy []float64
	var xy []complex128
	cross(x, y, rate, segment, &s, func(k int, a, b complex128) {
		if xx == nil {
			xx, yy, xy = make([]float64, len(s.Frequency)), make([]float64, len(s.Frequency)), make([]complex128, len(s.Frequency))
		}
		xx[k] += real(a)*real(a) + imag(a)*imag(a)
		yy[k] += real(b)*real(b) + imag(b)*imag(b)
		xy[k] += cmplx.Conj(a) * b
	})
	out := Transfer{Frequency: s.Frequency, Averages: s.Averages}
	for k := range xx {
		g, c := 0.0, 0.0
		if xx[k] > 0 {
			g = cmplx.Abs(xy[k]) / xx[k]
			if yy[k] > 0 {
				c = cmplx.Abs(xy[k]) * cmplx.Abs(xy[k]) / (xx[k] * yy[k])
			}
		}
		out.Gain, out.Coherence = append(out.Gain, g), append(out.Coherence, c)
	}
	return out
}
