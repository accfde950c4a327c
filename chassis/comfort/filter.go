package comfort

import (
	"math"
	"math/cmplx"
)

// Limits of the time step of a digital weighting.
const (
	// ShortestStep is the shortest time step [s] a filter is made for; below
	// it the coefficients lose their digits to cancellation.
	ShortestStep = 1e-5
	// LongestStep is the longest time step [s] a filter is made for: the band
	// of the weightings ends at 100 Hz, and half of that again is needed
	// below the Nyquist frequency.
	LongestStep = 1.0 / 300
)

// Filter is a weighting as a digital filter for one time step. It is a value:
// a copy goes on from where the original stood. Nothing is allocated while it
// runs.
//
// Poles are those of the analogue filter, z = exp(p·T). Zeros are chosen so
// that the magnitude of each second-order section is that of the analogue one
// at standstill, at its corner and at the Nyquist frequency. A bilinear filter
// would squeeze everything above the Nyquist frequency into the band; this one
// does not, so it may run at the step of a ride simulation. Measured against
// the analogue weighting (the tests hold it there): at 1 ms the gain is within
// 0.13 % up to 31.5 Hz and 0.8 % up to 80 Hz; at 2 ms 0.4 % and 2.9 %; at 0.1 ms
// 0.01 %. GainError gives the figure of any filter.
//
// Source: magnitude matching by three frequencies after M. Vicanek, "Matched
// second order digital filters" (2016), from memory; the algebra is derived
// again in matched below.
type Filter struct {
	weighting Weighting
	step      float64
	sections  [4]section
	count     int
	gain      float64
}

// section is a second-order filter in transposed direct form II.
type section struct {
	b0, b1, b2, a1, a2 float64
	s1, s2             float64
}

// NewFilter makes the filter of a weighting for a time step [s] between
// ShortestStep and LongestStep. Otherwise, or for a weighting that makes no
// filter, it returns an *InputError.
func NewFilter(w Weighting, step float64) (Filter, error) {
	if !(step >= ShortestStep) || step > LongestStep {
		return Filter{}, &InputError{"time step", step, "between 0.00001 and 0.00333 s"}
	}
	if err := w.check(); err != nil {
		return Filter{}, err
	}
	f := Filter{weighting: w, step: step, gain: 1}
	if w.HighPass > 0 {
		if err := f.highPass(w.HighPass); err != nil {
			return Filter{}, err
		}
	}
	if w.LowPass > 0 {
		err := f.matched(w.LowPass, math.Sqrt2/2, func(freq float64) float64 {
			r := freq / w.LowPass
			return 1 / cmplx.Abs(complex(1-r*r, math.Sqrt2*r))
		})
		if err != nil {
			return Filter{}, err
		}
	}
	if w.Transition > 0 && w.Zero > 0 {
		err := f.matched(w.Transition, w.QuTrans, func(freq float64) float64 {
			return math.Hypot(1, freq/w.Zero) / cmplx.Abs(second(freq/w.Transition, w.QuTrans))
		})
		if err != nil {
			return Filter{}, err
		}
	}
	if w.StepLow > 0 && w.StepHigh > 0 {
		ratio := w.StepLow / w.StepHigh
		f.gain *= ratio * ratio
		err := f.matched(w.StepHigh, w.QuStepHigh, func(freq float64) float64 {
			return cmplx.Abs(second(freq/w.StepLow, w.QuStepLow)) / cmplx.Abs(second(freq/w.StepHigh, w.QuStepHigh))
		})
		if err != nil {
			return Filter{}, err
		}
	}
	return f, nil
}

// poles returns a1, a2 of (1 + a1·z⁻¹ + a2·z⁻²) whose roots are exp(p·T), p
// being the roots of 1 + s/(Q·w) + (s/w)².
func poles(corner, quality, step float64) (a1, a2 float64) {
	w := 2 * math.Pi * corner * step
	d := 1 / (2 * quality)
	decay := math.Exp(-d * w)
	if d <= 1 {
		a1 = -2 * decay * math.Cos(math.Sqrt(1-d*d)*w)
	} else {
		a1 = -2 * decay * math.Cosh(math.Sqrt(d*d-1)*w)
	}
	return a1, decay * decay
}

func (f *Filter) highPass(corner float64) error {
	if corner > 0.1/f.step {
		return &InputError{"high-pass corner", corner, "below a tenth of the sampling rate"}
	}
	a1, a2 := poles(corner, math.Sqrt2/2, f.step)
	// Both zeros at z = 1, as the analogue ones at s = 0; gain one at Nyquist.
	b := (1 - a1 + a2) / 4
	f.sections[f.count] = section{b0: b, b1: -2 * b, b2: b, a1: a1, a2: a2}
	f.count++
	return nil
}

// matched adds a section with exact poles and a numerator that meets the
// analogue magnitude at 0, the corner and Nyquist.
//
//	|B|² = B0·φ0 + B1·φ1 + B2·φ2,  φ1 = sin²(ω/2), φ0 = 1 − φ1, φ2 = 4·φ0·φ1
//	B0 = (b0 + b1 + b2)², B1 = (b0 − b1 + b2)², B2 = −4·b0·b2
//
// and the same for A. B0, B1 follow from standstill and Nyquist, B2 from the
// corner; then b0 + b2 = (√B0 + √B1)/2 = W gives b0 = (W + √(W² + B2))/2.
func (f *Filter) matched(corner, quality float64, magnitude func(frequency float64) float64) error {
	nyquist := 0.5 / f.step
	if corner > 0.8*nyquist {
		return &InputError{"corner frequency", corner, "below 0.8 of half the sampling rate"}
	}
	a1, a2 := poles(corner, quality, f.step)
	square := func(x float64) float64 { return x * x }
	A0, A1, A2 := square(1+a1+a2), square(1-a1+a2), -4*a2
	sin := math.Sin(math.Pi * corner * f.step)
	p1 := sin * sin
	p0 := 1 - p1
	p2 := 4 * p0 * p1
	B0 := A0 * square(magnitude(0))
	B1 := A1 * square(magnitude(nyquist))
	B2 := ((A0*p0+A1*p1+A2*p2)*square(magnitude(corner)) - B0*p0 - B1*p1) / p2
	w := (math.Sqrt(B0) + math.Sqrt(B1)) / 2
	under := w*w + B2
	if !(under >= 0) || w <= 0 {
		return &InputError{"corner frequency", corner, "far enough below half the sampling rate for a filter to exist"}
	}
	b0 := (w + math.Sqrt(under)) / 2
	f.sections[f.count] = section{
		b0: b0, b1: (math.Sqrt(B0) - math.Sqrt(B1)) / 2, b2: -B2 / (4 * b0), a1: a1, a2: a2,
	}
	f.count++
	return nil
}

// Coefficients returns the filter's gain [-] and its sections b0, b1, b2, a1, a2 [-]: for each y = b0·x + s1, then
// s1 = b1·x − a1·y + s2 and s2 = b2·x − a2·y.
func (f *Filter) Coefficients() (gain float64, sections [][5]float64) {
	for _, s := range f.sections[:f.count] {
		sections = append(sections, [5]float64{s.b0, s.b1, s.b2, s.a1, s.a2})
	}
	return f.gain, sections
}

// Next takes the next sample and returns the weighted one, both in the same
// unit. Filters start from rest.
func (f *Filter) Next(sample float64) float64 {
	x := sample * f.gain
	for i := range f.sections[:f.count] {
		s := &f.sections[i]
		y := s.b0*x + s.s1
		s.s1 = s.b1*x - s.a1*y + s.s2
		s.s2 = s.b2*x - s.a2*y
		x = y
	}
	return x
}

// Reset puts the filter back to rest.
func (f *Filter) Reset() {
	for i := range f.sections {
		f.sections[i].s1, f.sections[i].s2 = 0, 0
	}
}

// Step returns the time step [s] the filter was made for.
func (f *Filter) Step() float64 { return f.step }

// Response returns the complex response [-] of the digital filter at a
// frequency [Hz] below half the sampling rate; zero outside.
func (f *Filter) Response(frequency float64) complex128 {
	if !(frequency >= 0) || frequency > 0.5/f.step {
		return 0
	}
	h := complex(f.gain, 0)
	z := cmplx.Exp(complex(0, -2*math.Pi*frequency*f.step))
	for _, s := range f.sections[:f.count] {
		h *= (complex(s.b0, 0) + z*(complex(s.b1, 0)+z*complex(s.b2, 0))) /
			(1 + z*(complex(s.a1, 0)+z*complex(s.a2, 0)))
	}
	return h
}

// GainError returns the greatest relative difference [-] between the magnitude
// of this digital filter and the analogue weighting, between two frequencies
// [Hz], on 400 log-spaced points. It is the filter's own error at its time
// step, to be printed beside a result.
func (f *Filter) GainError(from, to float64) float64 {
	to = math.Min(to, 0.5/f.step)
	if !(from > 0) || !(to > from) {
		return 0
	}
	worst := 0.0
	const points = 400
	for i := range points + 1 {
		at := from * math.Pow(to/from, float64(i)/points)
		if want := f.weighting.Gain(at); want > 0 {
			worst = math.Max(worst, math.Abs(cmplx.Abs(f.Response(at))/want-1))
		}
	}
	return worst
}
